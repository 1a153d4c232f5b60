"""The exact smallest distance between two straight segments."""

from __future__ import annotations

import math

from numba import njit

from spreadwright.tow.lanes import COMPILE


@njit(**COMPILE)
def segment_distance2(
    ax: float, ay: float, az: float, bx: float, by: float, bz: float,
    cx: float, cy: float, cz: float, dx: float, dy: float, dz: float,
) -> float:  # fmt: skip
    """Square of the smallest distance [m2] between segments a-b and c-d [m]; either may be a point.

    The squared distance of two points on the segments is a convex quadratic of their two shares in [0, 1]; its
    minimum lies inside, or on an edge of that square, where it is found by clamping first one share, then the other.
    """
    ux, uy, uz = bx - ax, by - ay, bz - az
    vx, vy, vz = dx - cx, dy - cy, dz - cz
    wx, wy, wz = ax - cx, ay - cy, az - cz
    uu = ux * ux + uy * uy + uz * uz
    vv = vx * vx + vy * vy + vz * vz
    uv = ux * vx + uy * vy + uz * vz
    uw = ux * wx + uy * wy + uz * wz
    vw = vx * wx + vy * wy + vz * wz
    tiny = 1e-18
    s = 0.0
    determinant = uu * vv - uv * uv
    if determinant > 1e-12 * uu * vv:
        s = min(max((uv * vw - vv * uw) / determinant, 0.0), 1.0)
    t = (uv * s + vw) / vv if vv > tiny else 0.0
    if t < 0.0 or t > 1.0 or vv <= tiny:
        t = min(max(t, 0.0), 1.0)
        s = min(max((uv * t - uw) / uu, 0.0), 1.0) if uu > tiny else 0.0
    x = wx + s * ux - t * vx
    y = wy + s * uy - t * vy
    z = wz + s * uz - t * vz
    return x * x + y * y + z * z


@njit(**COMPILE)
def point_segment_distance(
    px: float, py: float, pz: float, ax: float, ay: float, az: float, bx: float, by: float, bz: float
) -> float:
    """Distance [m] from a point to the segment a-b [m]."""
    return math.sqrt(segment_distance2(px, py, pz, px, py, pz, ax, ay, az, bx, by, bz))
