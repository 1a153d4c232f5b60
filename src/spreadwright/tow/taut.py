"""Newton's corrections for lines that hardly stretch: each segment's pull is followed as an unknown of its own.

Where a line does not stretch, the smallest misplacement of a node across the line is a huge pull by T = EA e: a guess
that is off by d adds EA d^2 / 2 L^2, and a step that takes the line's stiffness across itself (T / L) from that pull
goes astray. So the pull is carried along beside the places (Newton's method on both):
    T' = T(e) + slope * (how much the correction lengthens the segment),
which is linear in the correction and can be put into the nodes' equations at once: the matrix stays the same size and
only T / L is taken from the carried pull. A segment whose carried pull is a pull does not fall slack between two
corrections because a guess pressed it together. What comes out at the end is the same law as in forces.py.
The carried pull is also the one to show: it has no rounding of EA e in it.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.bodies import body_forces
from spreadwright.tow.forces import segment_forces
from spreadwright.tow.lanes import (
    CHANGE,
    COMPILE,
    DAMPING,
    LANES,
    PER_LENGTH,
    PULL,
    RECORD,
    ROW,
    STIFF,
    STIFFENING,
    STIFFNESS,
    TENSION,
    X,
    Y,
    Z,
)  # fmt: skip
from spreadwright.tow.system import assemble, beyond, solve

Floats = NDArray[np.float64]


@njit(**COMPILE)
def taut_correction(
    count: int, t: Floats, bodies: NDArray[np.int64], density: float, air: float, gravity: float, ramp: float,
    gamma: float, held: Floats,
) -> None:  # fmt: skip
    """One correction of the velocities of nodes 1 to `count`, left in the CHANGE rows; gamma [s] as in a march.

    held (count, lanes): the carried pulls [N], brought up to date.
    """
    segment_forces(count, t, density, air, gravity, ramp, gamma, 1.0, 0.0)
    _hang(count, t, gamma, held)
    assemble(count, t, gamma, 1.0 / gamma, 0.0, 0.0)
    for i in range(bodies.size):
        node = bodies[i]
        above, below = beyond(bodies, node, count)
        body_forces(
            node, node - 1, min(node + 1, count), above, below, t, density, air, gravity, ramp, gamma, 1.0,
            1.0 / gamma, 0.0, 0.0,
        )  # fmt: skip
    solve(count, t)
    _hold(count, t, gamma, held)


@njit(**COMPILE)
def _hang(count: int, t: Floats, gamma: float, held: Floats) -> None:
    """Take the stiffness across each segment from its carried pull, and keep it taut while that is a pull."""
    for k in range(count):
        a, b = k * RECORD, (k + 1) * RECORD
        for w in range(LANES):
            dx, dy, dz = t[b + X + w] - t[a + X + w], t[b + Y + w] - t[a + Y + w], t[b + Z + w] - t[a + Z + w]
            length = math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18)
            tx, ty, tz = dx / length, dy / length, dz / length
            strain = length * t[a + PER_LENGTH + w] - 1.0
            across = gamma * (max(held[k, w], 0.0) - max(t[a + TENSION + w], 0.0)) / length
            along = -across
            if strain <= 0.0 and held[k, w] > 0.0:
                push = t[a + STIFFNESS + w] * strain
                along += gamma * t[a + STIFFNESS + w] * t[a + PER_LENGTH + w]
                t[a + TENSION + w] += push
                t[a + PULL + w] += push * tx
                t[a + PULL + ROW + w] += push * ty
                t[a + PULL + 2 * ROW + w] += push * tz
            t[a + STIFF + w] += across + along * tx * tx
            t[a + STIFF + ROW + w] += across + along * ty * ty
            t[a + STIFF + 2 * ROW + w] += across + along * tz * tz
            t[a + STIFF + 3 * ROW + w] += along * tx * ty
            t[a + STIFF + 4 * ROW + w] += along * tx * tz
            t[a + STIFF + 5 * ROW + w] += along * ty * tz


@njit(**COMPILE)
def _hold(count: int, t: Floats, gamma: float, held: Floats) -> None:
    """Carried pulls after a correction that is found but not yet added."""
    for k in range(count):
        a, b = k * RECORD, (k + 1) * RECORD
        own = 1.0 if k > 0 else 0.0  # the rod tip is where it is
        for w in range(LANES):
            dx, dy, dz = t[b + X + w] - t[a + X + w], t[b + Y + w] - t[a + Y + w], t[b + Z + w] - t[a + Z + w]
            length = math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18)
            per = t[a + PER_LENGTH + w]
            strain = length * per - 1.0
            pulled = max(strain, 0.0)
            slope = t[a + STIFFNESS + w] * (1.0 + 3.0 * t[a + STIFFENING + w] * pulled * pulled)
            if strain <= 0.0 and held[k, w] <= 0.0:
                slope = 0.0
            longer = (t[b + CHANGE + w] - own * t[a + CHANGE + w]) * dx
            longer += (t[b + CHANGE + ROW + w] - own * t[a + CHANGE + ROW + w]) * dy
            longer += (t[b + CHANGE + 2 * ROW + w] - own * t[a + CHANGE + 2 * ROW + w]) * dz
            rate = gamma * slope + t[a + DAMPING + w] * min(pulled * 1e3, 1.0)
            held[k, w] = t[a + TENSION + w] + rate * per * longer / length


@njit(**COMPILE)
def start_holding(count: int, t: Floats, held: Floats) -> None:
    """Begin with the pulls that are in the table."""
    for k in range(count):
        for w in range(LANES):
            held[k, w] = t[k * RECORD + TENSION + w]


@njit(**COMPILE)
def show_held(count: int, t: Floats, held: Floats) -> None:
    """Put the carried pulls into the table, along the segments as they lie."""
    for k in range(count):
        a, b = k * RECORD, (k + 1) * RECORD
        for w in range(LANES):
            dx, dy, dz = t[b + X + w] - t[a + X + w], t[b + Y + w] - t[a + Y + w], t[b + Z + w] - t[a + Z + w]
            per = max(held[k, w], 0.0) / math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18)
            t[a + PULL + w], t[a + PULL + ROW + w], t[a + PULL + 2 * ROW + w] = per * dx, per * dy, per * dz
