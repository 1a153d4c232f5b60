"""The propellers' wash: turbulent round jets that lie along the path the boat has run.

Decay   u_m / u_0 = 6.2 D / s beyond s = 6.2 D, u_0 before; across it u / u_m = exp(-r^2 / (2 (0.081 s)^2))
        (Albertson, Dai, Jensen and Rouse 1950, Diffusion of submerged jets, Trans. ASCE 115), s from the propeller.
Range   a jet into water at rest, far from surface and bottom. The boat's own wake, swirl and air in the water are left
        out: behind a fast boat treat the result as the order of magnitude.
Worked example: efflux 8 m/s, D 0.4 m: 8 m/s up to 2.5 m astern, 0.66 m/s on the axis at 30 m.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE

Floats = NDArray[np.float64]
WASH_ROWS = 4  # port [m], depth [m], diameter [m], efflux speed relative to the water [m/s]
PATH_ROWS = 5  # time [s], x, y [m], heading [rad], distance run [m]
DECAY = 6.2
WIDTH = 0.081


@njit(**COMPILE)
def _abreast(path: Floats, x: float, y: float, time: float) -> int:
    """The latest sample of the path, no later than `time`, from which a place lies abeam: the nearest one."""
    last = min(max(int((time - path[0, 0]) / (path[1, 0] - path[0, 0])), 0), path.shape[0] - 1)
    best, nearest = last, 1e300
    i = last
    while i >= 0:
        gap = (path[i, 1] - x) ** 2 + (path[i, 2] - y) ** 2
        if gap < nearest:
            best, nearest = i, gap
        elif gap > 4.0 * nearest + 100.0:
            break
        i -= 1
    return int(best)


@njit(**COMPILE)
def wash_velocity(jets: Floats, path: Floats, x: float, y: float, z: float, time: float) -> tuple[float, float, float]:
    """Water velocity [m/s] in the wash at a place and time; nothing ahead of the boat."""
    i = _abreast(path, x, y, time)
    last = min(max(int((time - path[0, 0]) / (path[1, 0] - path[0, 0])), 0), path.shape[0] - 1)
    cos, sin = math.cos(path[i, 3]), math.sin(path[i, 3])
    dx, dy = x - path[i, 1], y - path[i, 2]
    astern = path[last, 4] - path[i, 4] - (cos * dx + sin * dy)
    if astern <= 0.0:
        return 0.0, 0.0, 0.0
    beam = -sin * dx + cos * dy
    speed = 0.0
    for j in range(jets.shape[0]):
        reach = max(astern, DECAY * jets[j, 2])
        radius2 = (beam - jets[j, 0]) ** 2 + (z + jets[j, 1]) ** 2
        speed += jets[j, 3] * DECAY * jets[j, 2] / reach * math.exp(-radius2 / (2.0 * (WIDTH * reach) ** 2))
    return -cos * speed, -sin * speed, 0.0
