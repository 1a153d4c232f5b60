"""How far one rig's tail has gone round the other line: the signed angle, added up over the manoeuvre.

At each time the point of line B nearest to A's tail is found, and the direction from it to the tail in the plane across
B there, as an angle from the horizontal. Turning once around B adds a full turn, passing under and coming back adds
nothing. Where the tail lies beyond B's end it cannot go round it, and nothing is counted.
Half a turn or more left over at the end is a wrap.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.clearance.outline import Outline
from spreadwright.tow.lanes import COMPILE

Singles = NDArray[np.float32]

WRAP = math.pi


@njit(**COMPILE)
def tail_winding(tail: Singles, line: Singles) -> float:
    """Net angle [rad] that `tail` (T, 3) sweeps round `line` (T, V, 3), positive by the right hand along the line."""
    total = 0.0
    before = 0.0
    known = False
    for i in range(tail.shape[0]):
        best, seg, share = 1e300, -1, 0.0
        for k in range(line.shape[1] - 1):
            ux = line[i, k + 1, 0] - line[i, k, 0]
            uy = line[i, k + 1, 1] - line[i, k, 1]
            uz = line[i, k + 1, 2] - line[i, k, 2]
            wx = tail[i, 0] - line[i, k, 0]
            wy = tail[i, 1] - line[i, k, 1]
            wz = tail[i, 2] - line[i, k, 2]
            uu = ux * ux + uy * uy + uz * uz
            s = (ux * wx + uy * wy + uz * wz) / max(uu, 1e-12)
            cut = min(max(s, 0.0), 1.0)
            d2 = (wx - cut * ux) ** 2 + (wy - cut * uy) ** 2 + (wz - cut * uz) ** 2
            if d2 < best:
                best, seg, share = d2, k, s
        if seg == line.shape[1] - 2 and share > 1.0:
            known = False
            continue
        ux = line[i, seg + 1, 0] - line[i, seg, 0]
        uy = line[i, seg + 1, 1] - line[i, seg, 1]
        uz = line[i, seg + 1, 2] - line[i, seg, 2]
        length = math.sqrt(ux * ux + uy * uy + uz * uz)
        flat = math.sqrt(ux * ux + uy * uy)
        if length < 1e-9 or flat < 1e-6 * length:
            continue
        # across the line: level to its left, and upward; from their cross product the right hand goes along the line
        lx, ly = -uy / flat, ux / flat
        tx, ty, tz = ux / length, uy / length, uz / length
        hx, hy, hz = ty * 0.0 - tz * ly, tz * lx - tx * 0.0, tx * ly - ty * lx
        wx = tail[i, 0] - line[i, seg, 0]
        wy = tail[i, 1] - line[i, seg, 1]
        wz = tail[i, 2] - line[i, seg, 2]
        angle = math.atan2(wx * hx + wy * hy + wz * hz, wx * lx + wy * ly)
        if known:
            step = angle - before
            step -= 2.0 * math.pi * round(step / (2.0 * math.pi))
            total += step
        before = angle
        known = True
    return total


def pair_winding(a: Outline, b: Outline) -> float:
    """The larger of the two tails' windings round the other line [rad], with its sign."""
    first = float(tail_winding(np.ascontiguousarray(a.vertices[:, -1]), b.vertices))
    second = float(tail_winding(np.ascontiguousarray(b.vertices[:, -1]), a.vertices))
    return first if abs(first) >= abs(second) else second
