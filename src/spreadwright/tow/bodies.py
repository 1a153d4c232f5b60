"""Forces on the bodies a line carries (weight, swivel, lure, a fish), eight lines side by side.

Two drag laws, with v the water's velocity relative to the body:
  round    F = rho/2 A |v| v (a sphere, a fish), A the drag area (coefficient times area) [m2]
  slender  F = rho/2 Aa |s| s t + rho/2 An |vn| vn, along and across the line's direction t (cross-flow principle,
           Hoerner, Fluid-Dynamic Drag, 1965). A trolling weight is slender: across it has tens of times the drag.
The line's direction at a body is halfway between those of the segments before and after it, whatever their lengths; at
the end it is that of the last segment.
Added mass is inertia only: rho Ca V on the acceleration, never on the weight.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import (
    AFTER,
    BEFORE,
    BODY_ADDED,
    BODY_AXIAL,
    BODY_FORCE,
    BODY_MASS,
    BODY_ROUND,
    BODY_SIDE,
    BODY_VOLUME,
    CHANGE,
    COMPILE,
    LANES,
    LEVEL,
    OLD_PUSH,
    OWN,
    RECORD,
    RIGHT,
    ROW,
    SOLVED,
    VX,
    VY,
    VZ,
    WATER_NODE,
    X,
    Y,
    Z,
)  # fmt: skip


@njit(**{**COMPILE, "inline": "always"})
def _carried(
    x: float, y: float, z: float, there: float, tx: float, ty: float, tz: float, per: float
) -> tuple[float, float, float]:
    """Direction t of a segment carried on to its end at the body, from the segment beyond, which lies along (x, y, z).

    `there` is 1, or 0 where no segment is beyond; `per` is one over the segment's own length [1/m]. Unit vector out.
    """
    length = math.sqrt(x * x + y * y + z * z + 1e-18)
    own = 1.0 / max(per, 1e-9)
    share = there * own / (own + length)
    x = (1.0 + share) * tx - share * x / length
    y = (1.0 + share) * ty - share * y / length
    z = (1.0 + share) * tz - share * z / length
    unit = 1.0 / math.sqrt(x * x + y * y + z * z + 1e-18)
    return x * unit, y * unit, z * unit


@njit(**COMPILE)
def _gather(t: NDArray[np.float64], c: int, node: int, row: int) -> None:
    """Copy a node's place into rows of the body's own record, so that the loop over lanes touches one record only."""
    a = max(node, 0) * RECORD
    for w in range(3 * LANES):
        t[c + row + w] = t[a + X + w]


@njit(**COMPILE)
def body_forces(
    node: int, first: int, last: int, above: int, below: int, t: NDArray[np.float64],
    density: float, air: float, gravity: float, ramp: float,
    by_place: float, by_speed: float, push: float, turn: float, drop: float,
) -> None:  # fmt: skip
    """Add the body at `node` to the linear system; `first` and `last` are the nodes before and after it.

    `above` and `below` are the nodes beyond them, by which the line's direction is carried on to the body, or -1.

    `push` is the acceleration's change with the unknown, `turn` the rate of the turning frame [rad/s];
    `drop` is 1 where the unknown is a place and 0 where it is a velocity (which of the two inertia acts on).
    """
    c = max(node, 0) * RECORD
    _gather(t, c, first, SOLVED)  # rows that the solver fills later
    _gather(t, c, last, SOLVED + 3 * ROW)
    _gather(t, c, above, SOLVED + 6 * ROW)
    _gather(t, c, below, CHANGE)
    beyond_before, beyond_after = 1.0 if above >= 0 else 0.0, 1.0 if below >= 0 else 0.0
    before = 1.0 if first < node else 0.0
    after = 1.0 if last > node else 0.0
    lift = density - air
    for w in range(LANES):
        fx, fy, fz = t[c + SOLVED + w], t[c + SOLVED + ROW + w], t[c + SOLVED + 2 * ROW + w]
        lx, ly, lz = t[c + SOLVED + 3 * ROW + w], t[c + SOLVED + 4 * ROW + w], t[c + SOLVED + 5 * ROW + w]
        ux0, uy0, uz0 = t[c + X + w] - fx, t[c + Y + w] - fy, t[c + Z + w] - fz
        per_before = before / math.sqrt(ux0 * ux0 + uy0 * uy0 + uz0 * uz0 + 1e-18)
        wx0, wy0, wz0 = lx - t[c + X + w], ly - t[c + Y + w], lz - t[c + Z + w]
        per_after = after / math.sqrt(wx0 * wx0 + wy0 * wy0 + wz0 * wz0 + 1e-18)
        # A segment's direction is that of the curve at its middle: it is carried on to the node along the line's bend,
        # or the body's direction is only first order. The derivatives below leave that out: it hardly changes.
        gx, gy, gz = _carried(
            fx - t[c + SOLVED + 6 * ROW + w], fy - t[c + SOLVED + 7 * ROW + w], fz - t[c + SOLVED + 8 * ROW + w],
            beyond_before, ux0 * per_before, uy0 * per_before, uz0 * per_before, per_before,
        )  # fmt: skip
        hx, hy, hz = _carried(
            t[c + CHANGE + w] - lx, t[c + CHANGE + ROW + w] - ly, t[c + CHANGE + 2 * ROW + w] - lz,
            beyond_after, wx0 * per_after, wy0 * per_after, wz0 * per_after, per_after,
        )  # fmt: skip
        dx, dy, dz = gx + hx, gy + hy, gz + hz
        per = 1.0 / math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18)
        tx = dx * per
        ty = dy * per
        tz = dz * per
        px = t[c + X + w]
        py = t[c + Y + w]
        vx = t[c + VX + w]
        vy = t[c + VY + w]
        vz = t[c + VZ + w]
        h = min(max((t[c + Z + w] - t[c + LEVEL + w]) / ramp, -1.0), 1.0)
        wet = 0.5 - 0.75 * h + 0.25 * h * h * h
        wet_slope = 0.75 * (h * h - 1.0) / ramp
        rho = air + lift * wet
        ux = t[c + WATER_NODE + w] - vx
        uy = t[c + WATER_NODE + ROW + w] - vy
        uz = t[c + WATER_NODE + 2 * ROW + w] - vz
        s = ux * tx + uy * ty + uz * tz
        nx = ux - s * tx
        ny = uy - s * ty
        nz = uz - s * tz
        across = math.sqrt(nx * nx + ny * ny + nz * nz + 1e-12)
        all_round = math.sqrt(ux * ux + uy * uy + uz * uz + 1e-12)
        cn = t[c + BODY_SIDE + w] * across
        ct = t[c + BODY_AXIAL + w] * abs(s)
        cr = t[c + BODY_ROUND + w] * all_round
        fx = cr * ux + cn * nx + ct * s * tx
        fy = cr * uy + cn * ny + ct * s * ty
        fz = cr * uz + cn * nz + ct * s * tz + gravity * t[c + BODY_VOLUME + w]
        # slopes by the water's velocity (symmetric), then by the direction's chord
        m_i = rho * (cn + cr)
        m_tt = rho * (2.0 * ct - cn)
        m_nn = rho * cn / (across * across)
        m_uu = rho * cr / (all_round * all_round)
        rxx = m_i + m_tt * tx * tx + m_nn * nx * nx + m_uu * ux * ux
        ryy = m_i + m_tt * ty * ty + m_nn * ny * ny + m_uu * uy * uy
        rzz = m_i + m_tt * tz * tz + m_nn * nz * nz + m_uu * uz * uz
        rxy = m_tt * tx * ty + m_nn * nx * ny + m_uu * ux * uy
        rxz = m_tt * tx * tz + m_nn * nx * nz + m_uu * ux * uz
        ryz = m_tt * ty * tz + m_nn * ny * nz + m_uu * uy * uz
        e_tn = by_place * per * m_tt
        e_p = by_place * per * rho * s * (ct - cn)
        e_nn = -by_place * per * s * m_nn
        exx = e_p * (1.0 - tx * tx) + e_tn * tx * nx + e_nn * nx * nx
        exy = -e_p * tx * ty + e_tn * tx * ny + e_nn * nx * ny
        exz = -e_p * tx * tz + e_tn * tx * nz + e_nn * nx * nz
        eyx = -e_p * ty * tx + e_tn * ty * nx + e_nn * ny * nx
        eyy = e_p * (1.0 - ty * ty) + e_tn * ty * ny + e_nn * ny * ny
        eyz = -e_p * ty * tz + e_tn * ty * nz + e_nn * ny * nz
        ezx = -e_p * tz * tx + e_tn * tz * nx + e_nn * nz * nx
        ezy = -e_p * tz * ty + e_tn * tz * ny + e_nn * nz * ny
        ezz = e_p * (1.0 - tz * tz) + e_tn * tz * nz + e_nn * nz * nz
        # inertia, as in assemble(): the unknown is a velocity or a place, plus the turning frame's pull
        mass = t[c + BODY_MASS + w] + rho * t[c + BODY_ADDED + w]
        ux_ = vx + drop * (px - vx)
        uy_ = vy + drop * (py - vy)
        uz_ = vz + drop * (t[c + Z + w] - vz)
        spin = turn * turn
        ax = push * ux_ - t[c + OLD_PUSH + w] - spin * px
        ay = push * uy_ - t[c + OLD_PUSH + ROW + w] - spin * py
        az = push * uz_ - t[c + OLD_PUSH + 2 * ROW + w]
        t[c + RIGHT + w] += rho * fx + t[c + BODY_FORCE + w] - mass * ax
        t[c + RIGHT + ROW + w] += rho * fy + t[c + BODY_FORCE + ROW + w] - mass * ay
        t[c + RIGHT + 2 * ROW + w] += (
            rho * fz + t[c + BODY_FORCE + 2 * ROW + w] - mass * az - gravity * t[c + BODY_MASS + w]
        )
        g = by_place * lift * wet_slope
        # how the force changes with the node before, and with the node after: E (I - t1 t1') / l1, E (I - t2 t2') / l2
        ax1, ay1, az1 = ux0 * per_before, uy0 * per_before, uz0 * per_before
        qx = exx * ax1 + exy * ay1 + exz * az1
        qy = eyx * ax1 + eyy * ay1 + eyz * az1
        qz = ezx * ax1 + ezy * ay1 + ezz * az1
        bxx, bxy, bxz = per_before * (exx - qx * ax1), per_before * (exy - qx * ay1), per_before * (exz - qx * az1)
        byx, byy, byz = per_before * (eyx - qy * ax1), per_before * (eyy - qy * ay1), per_before * (eyz - qy * az1)
        bzx, bzy, bzz = per_before * (ezx - qz * ax1), per_before * (ezy - qz * ay1), per_before * (ezz - qz * az1)
        cx1, cy1, cz1 = wx0 * per_after, wy0 * per_after, wz0 * per_after
        qx = exx * cx1 + exy * cy1 + exz * cz1
        qy = eyx * cx1 + eyy * cy1 + eyz * cz1
        qz = ezx * cx1 + ezy * cy1 + ezz * cz1
        gxx, gxy, gxz = per_after * (exx - qx * cx1), per_after * (exy - qx * cy1), per_after * (exz - qx * cz1)
        gyx, gyy, gyz = per_after * (eyx - qy * cx1), per_after * (eyy - qy * cy1), per_after * (eyz - qy * cz1)
        gzx, gzy, gzz = per_after * (ezx - qz * cx1), per_after * (ezy - qz * cy1), per_after * (ezz - qz * cz1)
        t[c + OWN + w] += (push - spin * by_place) * mass + by_speed * rxx - (bxx - gxx)
        t[c + OWN + ROW + w] += by_speed * rxy - (bxy - gxy)
        t[c + OWN + 2 * ROW + w] += by_speed * rxz - (bxz - gxz) - g * fx
        t[c + OWN + 3 * ROW + w] += by_speed * rxy - (byx - gyx)
        t[c + OWN + 4 * ROW + w] += (push - spin * by_place) * mass + by_speed * ryy - (byy - gyy)
        t[c + OWN + 5 * ROW + w] += by_speed * ryz - (byz - gyz) - g * fy
        t[c + OWN + 6 * ROW + w] += by_speed * rxz - (bzx - gzx)
        t[c + OWN + 7 * ROW + w] += by_speed * ryz - (bzy - gzy)
        t[c + OWN + 8 * ROW + w] += push * mass + by_speed * rzz - (bzz - gzz) - g * fz
        # velocity in the turning frame also changes with place: v = turn * (-y, x)
        p_turn = turn * by_place
        t[c + OWN + w] += p_turn * rxy
        t[c + OWN + ROW + w] -= p_turn * rxx
        t[c + OWN + 3 * ROW + w] += p_turn * ryy
        t[c + OWN + 4 * ROW + w] -= p_turn * rxy
        t[c + OWN + 6 * ROW + w] += p_turn * ryz
        t[c + OWN + 7 * ROW + w] -= p_turn * rxz
        t[c + BEFORE + w] += bxx
        t[c + BEFORE + ROW + w] += bxy
        t[c + BEFORE + 2 * ROW + w] += bxz
        t[c + BEFORE + 3 * ROW + w] += byx
        t[c + BEFORE + 4 * ROW + w] += byy
        t[c + BEFORE + 5 * ROW + w] += byz
        t[c + BEFORE + 6 * ROW + w] += bzx
        t[c + BEFORE + 7 * ROW + w] += bzy
        t[c + BEFORE + 8 * ROW + w] += bzz
        t[c + AFTER + w] -= gxx
        t[c + AFTER + ROW + w] -= gxy
        t[c + AFTER + 2 * ROW + w] -= gxz
        t[c + AFTER + 3 * ROW + w] -= gyx
        t[c + AFTER + 4 * ROW + w] -= gyy
        t[c + AFTER + 5 * ROW + w] -= gyz
        t[c + AFTER + 6 * ROW + w] -= gzx
        t[c + AFTER + 7 * ROW + w] -= gzy
        t[c + AFTER + 8 * ROW + w] -= gzz
