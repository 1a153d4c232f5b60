"""What a towed line is made of: sections, the bodies they end in, and the sea around them (SI numbers only)."""

from __future__ import annotations

import math
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Section:
    """A stretch of one kind of line.

    length unstretched [m]; diameter [m]; density of the material [kg/m3]; stiffness EA [N], `math.inf` for a line
    that does not stretch; stiffening k [-] in T = EA e (1 + k e^2); damping_time [s] of the material;
    normal_drag on diameter times length, tangential_drag on the skin [-]; added_mass [-];
    tangential_force a constant drag along the line [N/m] (an older loading law, used by published tables).
    """

    length: float
    diameter: float
    density: float
    stiffness: float
    stiffening: float = 0.0
    damping_time: float = 0.0
    normal_drag: float = 1.2
    tangential_drag: float = 0.015
    added_mass: float = 1.0
    tangential_force: float = 0.0

    @property
    def area(self) -> float:
        """Cross-section [m2]."""
        return 0.25 * math.pi * self.diameter**2


@dataclass(frozen=True)
class Body:
    """A weight, swivel, lure or fish at the far end of a section.

    mass [kg]; volume [m3]; law "isotropic" (drag_area the same from all sides [m2]) or "slender" (axial_area along
    the line, normal_area across it [m2]; drag areas are coefficient times area); added_mass [-] on the volume;
    force given from outside, in the earth's frame [N].
    """

    mass: float
    volume: float = 0.0
    law: str = "isotropic"
    drag_area: float = 0.0
    axial_area: float = 0.0
    normal_area: float = 0.0
    added_mass: float = 0.5
    force: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Line:
    """One towed line: where its rod tip is in the boat, and its sections from the tip to the lure.

    tip (forward, port, up) in the boat's frame [m]; `bodies` holds one entry a section, None where nothing hangs.
    """

    name: str
    tip: tuple[float, float, float]
    sections: tuple[Section, ...]
    bodies: tuple[Body | None, ...]

    @property
    def length(self) -> float:
        """Unstretched length from tip to lure [m]."""
        return sum(section.length for section in self.sections)


@dataclass(frozen=True)
class Sea:
    """Density of water and air [kg/m3], gravity [m/s2], half the height of the ramp from wet to dry [m].

    surface=False puts everything under water, rod tip included (for comparison with published cases).
    """

    density: float = 1025.0
    gravity: float = 9.80665
    air_density: float = 1.2
    ramp: float = 0.05
    surface: bool = True

    @property
    def above(self) -> float:
        """Density of what is above the surface [kg/m3]: water too, where there is no surface."""
        return self.air_density if self.surface else self.density


@dataclass(frozen=True)
class Failure:
    """A line that has no result, and why: a value, so that a search can skip it and say so."""

    line: str
    reason: str
    place: str = field(default="")
