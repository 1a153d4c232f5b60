"""Forces on the segments of a towed line and their exact derivatives, eight lines side by side.

Between nodes a and b lies a straight elastic segment; d = r_b - r_a, t its direction, e its strain.
Tension   T = EA e (1 + k e^2) for e > 0, else 0, plus a light damping EA tau de/dt while taut.
Drag      cross-flow principle (Hoerner, Fluid-Dynamic Drag, 1965, ch. 3-8): with u the water's velocity relative to
          the segment's middle, s = u.t and un = u - s t,
          F = rho/2 Cn d L |un| un + rho/2 Cf pi d L |s| s t.
          A stretched line keeps its volume: length times diameter grows with the square root of the stretch.
Surface   The wetted share of a segment is the exact mean, along it, of a ramp that falls smoothly from 1 at
          `ramp` below still water to 0 at `ramp` above it. Density blends from air to water by that share.
Range     Reynolds numbers 1e3 to 1e5 (a 1 mm line at 15 kn: 8e3); no vortex shedding, no line-to-line wake.
Worked example: 1 m of 1 mm line square to water at 7.716667 m/s, Cn 1.2: F = 36.62 N (check: R in docs/theory).
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import (
    ADDED,
    BULK,
    BY_END,
    BY_START,
    COMPILE,
    DAMPING,
    DRAG_RATE,
    LANES,
    LEVEL,
    MASS,
    NORMAL,
    PER_LENGTH,
    PULL,
    RECORD,
    ROW,
    SHARE,
    SKIN,
    STIFF,
    STIFFENING,
    STIFFNESS,
    TANGENTIAL,
    TENSION,
    VOLUME,
    VX,
    VY,
    VZ,
    WATER_SEGMENT,
    X,
    Y,
    Z,
)  # fmt: skip

Floats = NDArray[np.float64]


@njit(**COMPILE)
def segment_forces(
    count: int, t: Floats,
    density: float, air: float, gravity: float, ramp: float, by_place: float, by_speed: float, press: float,
) -> None:  # fmt: skip
    """Fill the rows of `count` segments of eight lines: `forces_between` the first and the last.

    Densities [kg/m3], gravity [m/s2], ramp [m], press [N].
    """
    forces_between(0, count, t, density, air, gravity, ramp, by_place, by_speed, press)


@njit(**COMPILE)
def forces_between(
    first: int, end: int, t: Floats,
    density: float, air: float, gravity: float, ramp: float, by_place: float, by_speed: float, press: float,
) -> None:  # fmt: skip
    """Fill the rows of the segments from `first` up to `end`, that one left out, of eight lines.

    `by_place` and `by_speed` say how a node's place [m] and velocity [m/s] change with the unknown that is solved
    for: marching solves for velocities (by_place = gamma h, by_speed = 1), a steady shape for places.
    `press` is the stiffness [N] of a segment that is pressed together: 0 for a real line. A steady shape is looked for
    with a little of it, so that slack segments do not make the system singular; it must stay well under the line's
    stiffness, or a segment turned end for end and pressed would be a solution too.
    Densities [kg/m3], gravity [m/s2], ramp [m].
    """
    per_ramp = 1.0 / ramp
    lift = density - air
    for k in range(first, end):
        a = max(k, 0) * RECORD  # never negative, or the compiler would not make vectors of the loop over lanes
        b = a + RECORD
        for w in range(LANES):
            za = t[a + Z + w]
            zb = t[b + Z + w]
            dx = t[b + X + w] - t[a + X + w]
            dy = t[b + Y + w] - t[a + Y + w]
            dz = zb - za
            length = math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18)
            per = 1.0 / length
            tx = dx * per
            ty = dy * per
            tz = dz * per
            per_rest = t[a + PER_LENGTH + w]
            stretch = length * per_rest
            strain = stretch - 1.0
            taut = 1.0 if strain > 0.0 else 0.0
            pull = strain * taut
            hold = press if strain <= 0.0 else t[a + STIFFNESS + w]
            vxa = t[a + VX + w]
            vya = t[a + VY + w]
            vza = t[a + VZ + w]
            vxb = t[b + VX + w]
            vyb = t[b + VY + w]
            vzb = t[b + VZ + w]
            # tension and its slopes
            kappa = t[a + STIFFENING + w]
            damp = t[a + DAMPING + w] * min(pull * 1e3, 1.0)
            rate = ((vxb - vxa) * tx + (vyb - vya) * ty + (vzb - vza) * tz) * per_rest
            tension = hold * strain * (1.0 + kappa * pull * pull) + damp * rate
            slope = hold * (1.0 + 3.0 * kappa * pull * pull) * per_rest
            hang = by_place * max(tension, 0.0) * per  # a pressed segment would buckle: leave that out
            along = by_place * slope - hang + by_speed * damp * per_rest
            # water's velocity relative to the middle, split along and across
            ux = t[a + WATER_SEGMENT + w] - 0.5 * (vxa + vxb)
            uy = t[a + WATER_SEGMENT + ROW + w] - 0.5 * (vya + vyb)
            uz = t[a + WATER_SEGMENT + 2 * ROW + w] - 0.5 * (vza + vzb)
            s = ux * tx + uy * ty + uz * tz
            nx = ux - s * tx
            ny = uy - s * ty
            nz = uz - s * tz
            across = math.sqrt(nx * nx + ny * ny + nz * nz + 1e-12)
            speed = abs(s)
            area = math.sqrt(max(stretch, 1.0))
            cn = t[a + NORMAL + w] * area * across
            ct = t[a + TANGENTIAL + w] * area * speed
            skin = ct + t[a + SKIN + w] / math.sqrt(s * s + 1e-6)
            fx = cn * nx + skin * s * tx
            fy = cn * ny + skin * s * ty
            fz = cn * nz + skin * s * tz
            buoyancy = gravity * t[a + VOLUME + w]
            # wetted share: mean of the ramp between the ends, and its slopes
            za -= t[a + LEVEL + w]
            zb -= t[b + LEVEL + w]
            rise = zb - za
            ha = min(max(za * per_ramp, -1.0), 1.0)
            hb = min(max(zb * per_ramp, -1.0), 1.0)
            wet_a = 0.5 - 0.75 * ha + 0.25 * ha * ha * ha
            wet_b = 0.5 - 0.75 * hb + 0.25 * hb * hb * hb
            sum_a = ramp * (0.5 * ha - 0.375 * ha * ha + 0.0625 * ha * ha * ha * ha + min(za * per_ramp + 1.0, 0.0))
            sum_b = ramp * (0.5 * hb - 0.375 * hb * hb + 0.0625 * hb * hb * hb * hb + min(zb * per_ramp + 1.0, 0.0))
            level = abs(rise) < 1e-4
            per_dz = 1.0 / (1.0 if level else rise)
            wet = 0.5 * (wet_a + wet_b) if level else (sum_b - sum_a) * per_dz
            hm = 0.5 * (ha + hb)
            flat_slope = 0.375 * per_ramp * (hm * hm - 1.0)
            wet_by_a = flat_slope if level else (wet - wet_a) * per_dz
            wet_by_b = flat_slope if level else (wet_b - wet) * per_dz
            rho = air + lift * wet
            weight = gravity * t[a + MASS + w]
            # drag's slopes by the water's velocity (symmetric) and by d
            m_tt = rho * (2.0 * ct - cn)
            m_nn = rho * cn / (across * across)
            m_i = rho * cn
            rxx = m_i + m_tt * tx * tx + m_nn * nx * nx
            ryy = m_i + m_tt * ty * ty + m_nn * ny * ny
            rzz = m_i + m_tt * tz * tz + m_nn * nz * nz
            rxy = m_tt * tx * ty + m_nn * nx * ny
            rxz = m_tt * tx * tz + m_nn * nx * nz
            ryz = m_tt * ty * tz + m_nn * ny * nz
            half = 0.5 * by_place
            e_tn = half * per * m_tt
            e_p = half * per * rho * s * (skin - cn)
            e_nn = -half * per * s * m_nn
            e_tt = -e_p
            e_ft = half * 0.5 * per * rho * taut
            exx = e_p + e_tt * tx * tx + e_tn * tx * nx + e_nn * nx * nx + e_ft * fx * tx
            exy = e_tt * tx * ty + e_tn * tx * ny + e_nn * nx * ny + e_ft * fx * ty
            exz = e_tt * tx * tz + e_tn * tx * nz + e_nn * nx * nz + e_ft * fx * tz
            eyx = e_tt * ty * tx + e_tn * ty * nx + e_nn * ny * nx + e_ft * fy * tx
            eyy = e_p + e_tt * ty * ty + e_tn * ty * ny + e_nn * ny * ny + e_ft * fy * ty
            eyz = e_tt * ty * tz + e_tn * ty * nz + e_nn * ny * nz + e_ft * fy * tz
            ezx = e_tt * tz * tx + e_tn * tz * nx + e_nn * nz * nx + e_ft * fz * tx
            ezy = e_tt * tz * ty + e_tn * tz * ny + e_nn * nz * ny + e_ft * fz * ty
            ezz = e_p + e_tt * tz * tz + e_tn * tz * nz + e_nn * nz * nz + e_ft * fz * tz
            fz += buoyancy
            c = 0.25 * by_speed
            ga = half * lift * wet_by_a
            gb = half * lift * wet_by_b
            t[a + STIFF + w] = hang + along * tx * tx
            t[a + STIFF + 1 * ROW + w] = hang + along * ty * ty
            t[a + STIFF + 2 * ROW + w] = hang + along * tz * tz
            t[a + STIFF + 3 * ROW + w] = along * tx * ty
            t[a + STIFF + 4 * ROW + w] = along * tx * tz
            t[a + STIFF + 5 * ROW + w] = along * ty * tz
            t[a + BY_START + w] = -exx - c * rxx
            t[a + BY_START + 1 * ROW + w] = -exy - c * rxy
            t[a + BY_START + 2 * ROW + w] = -exz - c * rxz + ga * fx
            t[a + BY_START + 3 * ROW + w] = -eyx - c * rxy
            t[a + BY_START + 4 * ROW + w] = -eyy - c * ryy
            t[a + BY_START + 5 * ROW + w] = -eyz - c * ryz + ga * fy
            t[a + BY_START + 6 * ROW + w] = -ezx - c * rxz
            t[a + BY_START + 7 * ROW + w] = -ezy - c * ryz
            t[a + BY_START + 8 * ROW + w] = -ezz - c * rzz + ga * fz
            t[a + BY_END + w] = exx - c * rxx
            t[a + BY_END + 1 * ROW + w] = exy - c * rxy
            t[a + BY_END + 2 * ROW + w] = exz - c * rxz + gb * fx
            t[a + BY_END + 3 * ROW + w] = eyx - c * rxy
            t[a + BY_END + 4 * ROW + w] = eyy - c * ryy
            t[a + BY_END + 5 * ROW + w] = eyz - c * ryz + gb * fy
            t[a + BY_END + 6 * ROW + w] = ezx - c * rxz
            t[a + BY_END + 7 * ROW + w] = ezy - c * ryz
            t[a + BY_END + 8 * ROW + w] = ezz - c * rzz + gb * fz
            t[a + PULL + w] = tension * tx
            t[a + PULL + 1 * ROW + w] = tension * ty
            t[a + PULL + 2 * ROW + w] = tension * tz
            t[a + SHARE + w] = 0.5 * rho * fx
            t[a + SHARE + 1 * ROW + w] = 0.5 * rho * fy
            t[a + SHARE + 2 * ROW + w] = 0.5 * (rho * fz - weight)
            bulk = 0.5 * rho * t[a + ADDED + w]
            t[a + BULK + w] = bulk * (1.0 - tx * tx)
            t[a + BULK + 1 * ROW + w] = bulk * (1.0 - ty * ty)
            t[a + BULK + 2 * ROW + w] = bulk * (1.0 - tz * tz)
            t[a + BULK + 3 * ROW + w] = -bulk * tx * ty
            t[a + BULK + 4 * ROW + w] = -bulk * tx * tz
            t[a + BULK + 5 * ROW + w] = -bulk * ty * tz
            t[a + TENSION + w] = tension
            t[a + DRAG_RATE + w] = rxx
            t[a + DRAG_RATE + 1 * ROW + w] = ryy
            t[a + DRAG_RATE + 2 * ROW + w] = rzz
            t[a + DRAG_RATE + 3 * ROW + w] = rxy
            t[a + DRAG_RATE + 4 * ROW + w] = rxz
            t[a + DRAG_RATE + 5 * ROW + w] = ryz
