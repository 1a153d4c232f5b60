"""The inputs of the check values, once: the trolling line of A3, A5, A8, A9 and the published cable of A6."""

from math import pi

KNOT = 1852 / 3600
DENSITY = 1025.0
GRAVITY = 9.81

# A3 inputs: 1 kg of lead, a blunt 35 mm face at 0.30, 1 mm line of 60 m
LEAD_MASS = 1.0
LEAD_VOLUME = 1.0 / 11340
LEAD_WET_WEIGHT = GRAVITY * (1 - DENSITY / 11340)
LEAD_DRAG_AREA = 0.30 * pi / 4 * 0.035**2
LINE_LENGTH = 60.0
LINE_DIAMETER = 0.001
LINE_AREA = pi / 4 * LINE_DIAMETER**2
LINE_NORMAL_DRAG = 1.2
# A5 adds these
LINE_WET_WEIGHT = 0.00086
LINE_TANGENTIAL_DRAG = 0.01
LINE_DENSITY = DENSITY + LINE_WET_WEIGHT / GRAVITY / LINE_AREA

# A6: Gobat, Grosenbaugh and Triantafyllou 1997, WHOI-97-15, Appendix E
SLED_MASS = 1135.0
SLED_BUOYANCY = 4448.0
SLED_WET_WEIGHT = SLED_MASS * GRAVITY - SLED_BUOYANCY
SLED_DRAG_AREA = 0.77 * pi / 4 * 0.736**2
CABLE_LENGTH = 1000.0
CABLE_DIAMETER = 0.0173
CABLE_WET_WEIGHT = 8.89
CABLE_NORMAL_DRAG = 1.5
CABLE_TANGENTIAL_DRAG = 0.01
CABLE_STIFFNESS = 1.2717e7


def broadside(speed: float, normal_drag: float = LINE_NORMAL_DRAG, diameter: float = LINE_DIAMETER) -> float:
    """Drag per length [N/m] of a line across the flow."""
    return 0.5 * DENSITY * normal_drag * diameter * speed**2


def body_drag(speed: float, area: float = LEAD_DRAG_AREA) -> float:
    """Drag [N] of a body."""
    return 0.5 * DENSITY * area * speed**2
