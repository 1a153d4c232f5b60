"""A uniform current with shear: the simplest moving water.

u(z) = u0 + shear * depth, down to `deepest`, constant below. Rows: u0x, u0y [m/s], shear x, y [1/s], deepest [m].
Worked example: 0.5 m/s at the surface, shear -0.02 1/s: 0.4 m/s at 5 m.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE

CURRENT_ROWS = 5


@njit(**COMPILE)
def current_velocity(current: NDArray[np.float64], z: float) -> tuple[float, float, float]:
    """Velocity [m/s] at height z [m]; above still water that of the surface."""
    depth = min(max(-z, 0.0), current[4])
    return current[0] + current[2] * depth, current[1] + current[3] * depth, 0.0
