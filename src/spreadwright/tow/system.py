"""The linear system of one Newton step: put it together node by node and solve it, eight lines side by side.

Residual of a node: pull of its segments + its shares of their drag and weight - mass times acceleration = 0.
A node is coupled to its two neighbours only, so the matrix is block tridiagonal with 3 x 3 blocks and one sweep
down and one up solve it (Thomas's algorithm by blocks; no pivoting: the blocks are dominated by inertia, stiffness
and drag of the node itself).
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.bodies import body_forces
from spreadwright.tow.forces import segment_forces
from spreadwright.tow.lanes import (
    AFTER,
    BEFORE,
    BULK,
    BY_END,
    BY_START,
    CHANGE,
    COMPILE,
    DRAG_RATE,
    LANES,
    MASS,
    OLD_PUSH,
    OWN,
    PULL,
    RECORD,
    RIGHT,
    ROW,
    SHARE,
    SOLVED,
    STIFF,
    VX,
    VY,
    VZ,
    X,
    Y,
    Z,
)  # fmt: skip

Floats = NDArray[np.float64]


@njit(**COMPILE)
def assemble(count: int, t: Floats, by_place: float, push: float, turn: float, drop: float) -> None:
    """Build the system of nodes 1 to `count` from the segments' rows (`segment_forces` came before).

    by_place, push, turn [rad/s] and drop as in `body_forces`.

    The record after the last node must hold zeros in its segment's rows: it is the segment that is not there.
    """
    spin = turn * turn
    p_turn = 0.5 * turn * by_place
    for k in range(count):
        p = k * RECORD
        c = p + RECORD
        for w in range(LANES):
            px = t[c + X + w]
            py = t[c + Y + w]
            vx = t[c + VX + w]
            vy = t[c + VY + w]
            vz = t[c + VZ + w]
            ax = push * (vx + drop * (px - vx)) - t[c + OLD_PUSH + w] - spin * px
            ay = push * (vy + drop * (py - vy)) - t[c + OLD_PUSH + ROW + w] - spin * py
            az = push * (vz + drop * (t[c + Z + w] - vz)) - t[c + OLD_PUSH + 2 * ROW + w]
            m = 0.5 * (t[p + MASS + w] + t[c + MASS + w])
            mxx = m + t[p + BULK + w] + t[c + BULK + w]
            myy = m + t[p + BULK + ROW + w] + t[c + BULK + ROW + w]
            mzz = m + t[p + BULK + 2 * ROW + w] + t[c + BULK + 2 * ROW + w]
            mxy = t[p + BULK + 3 * ROW + w] + t[c + BULK + 3 * ROW + w]
            mxz = t[p + BULK + 4 * ROW + w] + t[c + BULK + 4 * ROW + w]
            myz = t[p + BULK + 5 * ROW + w] + t[c + BULK + 5 * ROW + w]
            t[c + RIGHT + w] = (
                t[c + PULL + w] - t[p + PULL + w] + t[c + SHARE + w] + t[p + SHARE + w] - mxx * ax - mxy * ay - mxz * az
            )
            t[c + RIGHT + ROW + w] = (
                t[c + PULL + ROW + w] - t[p + PULL + ROW + w] + t[c + SHARE + ROW + w] + t[p + SHARE + ROW + w]
                - mxy * ax - myy * ay - myz * az
            )  # fmt: skip
            t[c + RIGHT + 2 * ROW + w] = (
                t[c + PULL + 2 * ROW + w] - t[p + PULL + 2 * ROW + w]
                + t[c + SHARE + 2 * ROW + w] + t[p + SHARE + 2 * ROW + w]
                - mxz * ax - myz * ay - mzz * az
            )  # fmt: skip
            # own block: inertia + stiffness of both segments - their shares' slopes by this node
            sxx = t[p + STIFF + w] + t[c + STIFF + w]
            syy = t[p + STIFF + ROW + w] + t[c + STIFF + ROW + w]
            szz = t[p + STIFF + 2 * ROW + w] + t[c + STIFF + 2 * ROW + w]
            sxy = t[p + STIFF + 3 * ROW + w] + t[c + STIFF + 3 * ROW + w]
            sxz = t[p + STIFF + 4 * ROW + w] + t[c + STIFF + 4 * ROW + w]
            syz = t[p + STIFF + 5 * ROW + w] + t[c + STIFF + 5 * ROW + w]
            pull = push - spin * by_place
            rxx = 0.5 * p_turn * (t[p + DRAG_RATE + w] + t[c + DRAG_RATE + w])
            ryy = 0.5 * p_turn * (t[p + DRAG_RATE + ROW + w] + t[c + DRAG_RATE + ROW + w])
            rxy = 0.5 * p_turn * (t[p + DRAG_RATE + 3 * ROW + w] + t[c + DRAG_RATE + 3 * ROW + w])
            rxz = 0.5 * p_turn * (t[p + DRAG_RATE + 4 * ROW + w] + t[c + DRAG_RATE + 4 * ROW + w])
            ryz = 0.5 * p_turn * (t[p + DRAG_RATE + 5 * ROW + w] + t[c + DRAG_RATE + 5 * ROW + w])
            t[c + OWN + w] = pull * mxx + sxx - t[p + BY_END + w] - t[c + BY_START + w] + rxy
            t[c + OWN + ROW + w] = pull * mxy + sxy - t[p + BY_END + ROW + w] - t[c + BY_START + ROW + w] - rxx
            t[c + OWN + 2 * ROW + w] = push * mxz + sxz - t[p + BY_END + 2 * ROW + w] - t[c + BY_START + 2 * ROW + w]
            t[c + OWN + 3 * ROW + w] = (
                pull * mxy + sxy - t[p + BY_END + 3 * ROW + w] - t[c + BY_START + 3 * ROW + w] + ryy
            )
            t[c + OWN + 4 * ROW + w] = (
                pull * myy + syy - t[p + BY_END + 4 * ROW + w] - t[c + BY_START + 4 * ROW + w] - rxy
            )
            t[c + OWN + 5 * ROW + w] = push * myz + syz - t[p + BY_END + 5 * ROW + w] - t[c + BY_START + 5 * ROW + w]
            t[c + OWN + 6 * ROW + w] = (
                pull * mxz + sxz - t[p + BY_END + 6 * ROW + w] - t[c + BY_START + 6 * ROW + w] + ryz
            )
            t[c + OWN + 7 * ROW + w] = (
                pull * myz + syz - t[p + BY_END + 7 * ROW + w] - t[c + BY_START + 7 * ROW + w] - rxz
            )
            t[c + OWN + 8 * ROW + w] = push * mzz + szz - t[p + BY_END + 8 * ROW + w] - t[c + BY_START + 8 * ROW + w]
            # coupling to the neighbours
            qxx = 0.5 * p_turn * t[p + DRAG_RATE + w]
            qyy = 0.5 * p_turn * t[p + DRAG_RATE + ROW + w]
            qxy = 0.5 * p_turn * t[p + DRAG_RATE + 3 * ROW + w]
            qxz = 0.5 * p_turn * t[p + DRAG_RATE + 4 * ROW + w]
            qyz = 0.5 * p_turn * t[p + DRAG_RATE + 5 * ROW + w]
            t[c + BEFORE + w] = -t[p + STIFF + w] - t[p + BY_START + w] + qxy
            t[c + BEFORE + ROW + w] = -t[p + STIFF + 3 * ROW + w] - t[p + BY_START + ROW + w] - qxx
            t[c + BEFORE + 2 * ROW + w] = -t[p + STIFF + 4 * ROW + w] - t[p + BY_START + 2 * ROW + w]
            t[c + BEFORE + 3 * ROW + w] = -t[p + STIFF + 3 * ROW + w] - t[p + BY_START + 3 * ROW + w] + qyy
            t[c + BEFORE + 4 * ROW + w] = -t[p + STIFF + ROW + w] - t[p + BY_START + 4 * ROW + w] - qxy
            t[c + BEFORE + 5 * ROW + w] = -t[p + STIFF + 5 * ROW + w] - t[p + BY_START + 5 * ROW + w]
            t[c + BEFORE + 6 * ROW + w] = -t[p + STIFF + 4 * ROW + w] - t[p + BY_START + 6 * ROW + w] + qyz
            t[c + BEFORE + 7 * ROW + w] = -t[p + STIFF + 5 * ROW + w] - t[p + BY_START + 7 * ROW + w] - qxz
            t[c + BEFORE + 8 * ROW + w] = -t[p + STIFF + 2 * ROW + w] - t[p + BY_START + 8 * ROW + w]
            nxx = 0.5 * p_turn * t[c + DRAG_RATE + w]
            nyy = 0.5 * p_turn * t[c + DRAG_RATE + ROW + w]
            nxy = 0.5 * p_turn * t[c + DRAG_RATE + 3 * ROW + w]
            nxz = 0.5 * p_turn * t[c + DRAG_RATE + 4 * ROW + w]
            nyz = 0.5 * p_turn * t[c + DRAG_RATE + 5 * ROW + w]
            t[c + AFTER + w] = -t[c + STIFF + w] - t[c + BY_END + w] + nxy
            t[c + AFTER + ROW + w] = -t[c + STIFF + 3 * ROW + w] - t[c + BY_END + ROW + w] - nxx
            t[c + AFTER + 2 * ROW + w] = -t[c + STIFF + 4 * ROW + w] - t[c + BY_END + 2 * ROW + w]
            t[c + AFTER + 3 * ROW + w] = -t[c + STIFF + 3 * ROW + w] - t[c + BY_END + 3 * ROW + w] + nyy
            t[c + AFTER + 4 * ROW + w] = -t[c + STIFF + ROW + w] - t[c + BY_END + 4 * ROW + w] - nxy
            t[c + AFTER + 5 * ROW + w] = -t[c + STIFF + 5 * ROW + w] - t[c + BY_END + 5 * ROW + w]
            t[c + AFTER + 6 * ROW + w] = -t[c + STIFF + 4 * ROW + w] - t[c + BY_END + 6 * ROW + w] + nyz
            t[c + AFTER + 7 * ROW + w] = -t[c + STIFF + 5 * ROW + w] - t[c + BY_END + 7 * ROW + w] - nxz
            t[c + AFTER + 8 * ROW + w] = -t[c + STIFF + 2 * ROW + w] - t[c + BY_END + 8 * ROW + w]


@njit(**COMPILE)
def solve(count: int, t: Floats) -> None:
    """Solve the block-tridiagonal system of nodes 1 to `count`; the correction goes to the CHANGE rows."""
    for k in range(count):
        p = k * RECORD
        c = p + RECORD
        first = 0.0 if k == 0 else 1.0
        for w in range(LANES):
            lxx = first * t[c + BEFORE + w]
            lxy = first * t[c + BEFORE + ROW + w]
            lxz = first * t[c + BEFORE + 2 * ROW + w]
            lyx = first * t[c + BEFORE + 3 * ROW + w]
            lyy = first * t[c + BEFORE + 4 * ROW + w]
            lyz = first * t[c + BEFORE + 5 * ROW + w]
            lzx = first * t[c + BEFORE + 6 * ROW + w]
            lzy = first * t[c + BEFORE + 7 * ROW + w]
            lzz = first * t[c + BEFORE + 8 * ROW + w]
            uxx = t[p + SOLVED + w]
            uxy = t[p + SOLVED + ROW + w]
            uxz = t[p + SOLVED + 2 * ROW + w]
            uyx = t[p + SOLVED + 3 * ROW + w]
            uyy = t[p + SOLVED + 4 * ROW + w]
            uyz = t[p + SOLVED + 5 * ROW + w]
            uzx = t[p + SOLVED + 6 * ROW + w]
            uzy = t[p + SOLVED + 7 * ROW + w]
            uzz = t[p + SOLVED + 8 * ROW + w]
            yx = t[p + CHANGE + w]
            yy = t[p + CHANGE + ROW + w]
            yz = t[p + CHANGE + 2 * ROW + w]
            axx = t[c + OWN + w] - (lxx * uxx + lxy * uyx + lxz * uzx)
            axy = t[c + OWN + ROW + w] - (lxx * uxy + lxy * uyy + lxz * uzy)
            axz = t[c + OWN + 2 * ROW + w] - (lxx * uxz + lxy * uyz + lxz * uzz)
            ayx = t[c + OWN + 3 * ROW + w] - (lyx * uxx + lyy * uyx + lyz * uzx)
            ayy = t[c + OWN + 4 * ROW + w] - (lyx * uxy + lyy * uyy + lyz * uzy)
            ayz = t[c + OWN + 5 * ROW + w] - (lyx * uxz + lyy * uyz + lyz * uzz)
            azx = t[c + OWN + 6 * ROW + w] - (lzx * uxx + lzy * uyx + lzz * uzx)
            azy = t[c + OWN + 7 * ROW + w] - (lzx * uxy + lzy * uyy + lzz * uzy)
            azz = t[c + OWN + 8 * ROW + w] - (lzx * uxz + lzy * uyz + lzz * uzz)
            bx = t[c + RIGHT + w] - (lxx * yx + lxy * yy + lxz * yz)
            by = t[c + RIGHT + ROW + w] - (lyx * yx + lyy * yy + lyz * yz)
            bz = t[c + RIGHT + 2 * ROW + w] - (lzx * yx + lzy * yy + lzz * yz)
            # The block's own elimination, row after row. Its inverse by cofactors would lose all digits where a stiff
            # line makes it nearly singular: what is rounded off is of the stiffness cubed, the determinant is not.
            d0 = 1.0 / axx
            m1 = ayx * d0
            m2 = azx * d0
            ayy -= m1 * axy
            ayz -= m1 * axz
            d1 = 1.0 / ayy
            m3 = (azy - m2 * axy) * d1
            d2 = 1.0 / (azz - m2 * axz - m3 * ayz)
            by -= m1 * bx
            bz = (bz - m2 * bx - m3 * by) * d2
            by = (by - ayz * bz) * d1
            cxx = t[c + AFTER + w]
            cxy = t[c + AFTER + ROW + w]
            cxz = t[c + AFTER + 2 * ROW + w]
            cyx = t[c + AFTER + 3 * ROW + w]
            cyy = t[c + AFTER + 4 * ROW + w]
            cyz = t[c + AFTER + 5 * ROW + w]
            czx = t[c + AFTER + 6 * ROW + w]
            czy = t[c + AFTER + 7 * ROW + w]
            czz = t[c + AFTER + 8 * ROW + w]
            cyx -= m1 * cxx
            cyy -= m1 * cxy
            cyz -= m1 * cxz
            czx = (czx - m2 * cxx - m3 * cyx) * d2
            czy = (czy - m2 * cxy - m3 * cyy) * d2
            czz = (czz - m2 * cxz - m3 * cyz) * d2
            cyx = (cyx - ayz * czx) * d1
            cyy = (cyy - ayz * czy) * d1
            cyz = (cyz - ayz * czz) * d1
            t[c + SOLVED + w] = (cxx - axy * cyx - axz * czx) * d0
            t[c + SOLVED + ROW + w] = (cxy - axy * cyy - axz * czy) * d0
            t[c + SOLVED + 2 * ROW + w] = (cxz - axy * cyz - axz * czz) * d0
            t[c + SOLVED + 3 * ROW + w] = cyx
            t[c + SOLVED + 4 * ROW + w] = cyy
            t[c + SOLVED + 5 * ROW + w] = cyz
            t[c + SOLVED + 6 * ROW + w] = czx
            t[c + SOLVED + 7 * ROW + w] = czy
            t[c + SOLVED + 8 * ROW + w] = czz
            t[c + CHANGE + w] = (bx - axy * by - axz * bz) * d0
            t[c + CHANGE + ROW + w] = by
            t[c + CHANGE + 2 * ROW + w] = bz
    width = min(LANES, t.size)
    for i in range(1, count):
        c = max(count - i, 0) * RECORD
        n = c + RECORD
        for w in range(width):
            x = t[n + CHANGE + w]
            y = t[n + CHANGE + ROW + w]
            z = t[n + CHANGE + 2 * ROW + w]
            t[c + CHANGE + w] -= t[c + SOLVED + w] * x + t[c + SOLVED + ROW + w] * y + t[c + SOLVED + 2 * ROW + w] * z
            t[c + CHANGE + ROW + w] -= (
                t[c + SOLVED + 3 * ROW + w] * x + t[c + SOLVED + 4 * ROW + w] * y + t[c + SOLVED + 5 * ROW + w] * z
            )
            t[c + CHANGE + 2 * ROW + w] -= (
                t[c + SOLVED + 6 * ROW + w] * x + t[c + SOLVED + 7 * ROW + w] * y + t[c + SOLVED + 8 * ROW + w] * z
            )


@njit(**COMPILE)
def beyond(nodes_with_body: NDArray[np.int64], node: int, count: int) -> tuple[int, int]:
    """The nodes two before and two after a body, by which the line's bend is carried on to it; -1 where there is none.

    None where another body, so another kink, lies between.
    """
    above, below = node - 2, node + 2
    if below > count:
        below = -1
    for i in range(nodes_with_body.size):
        if nodes_with_body[i] == node - 1:
            above = -1
        if nodes_with_body[i] == node + 1:
            below = -1
    return max(above, -1), below


@njit(**COMPILE)
def newton_correction(
    count: int, t: Floats, nodes_with_body: NDArray[np.int64],
    density: float, air: float, gravity: float, ramp: float,
    by_place: float, by_speed: float, push: float, turn: float, drop: float, press: float,
) -> None:  # fmt: skip
    """One Newton correction of the unknowns of nodes 1 to `count`, left in the CHANGE rows.

    density, air [kg/m3], gravity [m/s2], ramp [m], press [N]; the rest as in `segment_forces` and `body_forces`.
    """
    segment_forces(count, t, density, air, gravity, ramp, by_place, by_speed, press)
    assemble(count, t, by_place, push, turn, drop)
    for i in range(nodes_with_body.size):
        node = nodes_with_body[i]
        last = min(node + 1, count)
        above, below = beyond(nodes_with_body, node, count)
        body_forces(
            node, node - 1, last, above, below, t, density, air, gravity, ramp, by_place, by_speed, push, turn, drop
        )
    solve(count, t)
