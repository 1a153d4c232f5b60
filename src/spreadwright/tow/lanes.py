"""How eight lines lie side by side in memory, so that one instruction moves all eight.

All that is known of a batch of eight lines is one flat array of records, a record a node: the node itself and the
segment that follows it. Within a record each row holds one quantity for all eight lines (lanes):
    index = node * RECORD + ROW + lane        (ROW constants below are already counted in array places)
With one array, a fixed lane count and constant distances between rows, the compiler can see that nothing overlaps
and turns every loop over lanes into vector instructions. With several arrays it would have to check at run time
that they do not overlap, which it refuses for loops this short (seen: 300 ns a segment against 40).
"""

from __future__ import annotations

from typing import Any

LANES = 8

# What numba may assume: sums may be reordered and fused, but NaN and infinity keep their meaning,
# because a diverging lane is found by them.
COMPILE: dict[str, Any] = {
    "cache": True,
    "nogil": True,
    "fastmath": {"contract", "reassoc", "nsz", "arcp"},
    "error_model": "numpy",
}


class _Rows:
    """Hand out rows of the record one after the other."""

    def __init__(self) -> None:
        self.used = 0

    def take(self, count: int = 1) -> int:
        """Place of the next `count` rows [array places]."""
        start = self.used * LANES
        self.used += count
        return start


_rows = _Rows()

# State of the node: place [m] and velocity [m/s].
X, Y, Z = _rows.take(), _rows.take(), _rows.take()
VX, VY, VZ = _rows.take(), _rows.take(), _rows.take()
# What the time rule carries over from earlier steps: place, and acceleration to subtract.
OLD_PLACE = _rows.take(3)
OLD_PUSH = _rows.take(3)
# The two steps before (place 3, velocity 3, each).
LAST = _rows.take(6)
BEFORE_LAST = _rows.take(6)
# The water's velocity at the middle of the segment, and at the node [m/s].
WATER_SEGMENT = _rows.take(3)
WATER_NODE = _rows.take(3)
# The height of the water's surface at the node [m].
LEVEL = _rows.take()
# The segment that follows the node.
PER_LENGTH = _rows.take()  # one over the unstretched length [1/m]
STIFFNESS = _rows.take()  # EA [N]
STIFFENING = _rows.take()  # cubic term of T = EA e (1 + k e^2) [-]
DAMPING = _rows.take()  # EA times the damping time [N s]
NORMAL = _rows.take()  # half Cn d L [m2]
TANGENTIAL = _rows.take()  # half Cf pi d L [m2]
SKIN = _rows.take()  # constant tangential force over water density [N m3/kg]
MASS = _rows.take()  # [kg]
VOLUME = _rows.take()  # [m3]
ADDED = _rows.take()  # added volume, Ca times volume [m3]
# The body at the node, where there is one.
BODY_MASS = _rows.take()  # [kg]
BODY_VOLUME = _rows.take()  # [m3]
BODY_ADDED = _rows.take()  # added volume [m3]
BODY_ROUND = _rows.take()  # half the drag area of a body that feels the same drag from all sides [m2]
BODY_AXIAL = _rows.take()  # half the drag area along the line, of a slender body [m2]
BODY_SIDE = _rows.take()  # half the drag area across the line, of a slender body [m2]
BODY_FORCE = _rows.take(3)  # force given from outside [N]
# What the segment hands on: its stiffness, how its share of fluid force changes with either end, and its forces.
STIFF = _rows.take(6)  # symmetric: xx yy zz xy xz yz
BY_START = _rows.take(9)  # row by row
BY_END = _rows.take(9)
PULL = _rows.take(3)  # tension on the start node [N]
SHARE = _rows.take(3)  # half of drag, weight and buoyancy [N]
BULK = _rows.take(6)  # half of the added mass, symmetric [kg]
TENSION = _rows.take()  # [N]
DRAG_RATE = _rows.take(6)  # derivative of drag by the water's velocity, symmetric
# The linear system of the node: coupling to the node before, its own, to the node after; right-hand side.
BEFORE = _rows.take(9)
OWN = _rows.take(9)
AFTER = _rows.take(9)
RIGHT = _rows.take(3)
# What the elimination keeps, and the correction found.
SOLVED = _rows.take(9)
CHANGE = _rows.take(3)

RECORD = _rows.used * LANES
ROW = LANES
