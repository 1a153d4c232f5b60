"""The steps of a strike, eight lines side by side: the core's line, a rod that gives, a reel that slips.

Segments, bodies and the solver are the core's own (forces.py, bodies.py, system.py). One element is added: between
the rod tip and the line's first node the rod's bend and the first segment's stretch act in series,
    T = (L + bend - rest) / (rod_give + rest / EA)   for a positive numerator, else 0,
with L from tip to node, `rest` the segment's unstretched length, `bend` fixed so that the start is in balance.
Line that runs out makes that segment longer. Its material leaves the tip at the boat's velocity and the spool's run
together, so its drag is taken at the speed it has; T is the pull in its middle, and half of the water's force on it
lies between there and either end.
Reel: the spool, of effective mass m at the line (its moment of inertia over its radius squared), stands while
T <= static; then m du/dt = T - running, and `rest` grows by u: line runs out. It stands again when u falls to 0.
The reel is moved before each step with the pull of the step before (symplectic Euler, first order; the error shrinks
with k h^2 / m). Time rule of the line: BDF2, begun with small steps of backward Euler, because a strike is a jump.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.bodies import body_forces
from spreadwright.tow.forces import segment_forces
from spreadwright.tow.lanes import (
    ADDED,
    CHANGE,
    COMPILE,
    LANES,
    MASS,
    NORMAL,
    OWN,
    PER_LENGTH,
    RECORD,
    RIGHT,
    ROW,
    SHARE,
    SKIN,
    TANGENTIAL,
    TENSION,
    VOLUME,
    VX,
    VY,
    VZ,
    X,
    Y,
    Z,
)  # fmt: skip
from spreadwright.tow.system import assemble, beyond, solve
from spreadwright.tow.time_rule import correct, predict, remember

Floats = NDArray[np.float64]

# Rows of the reel's state (rows, lanes).
REST, RUN, PULL_NOW, PULL_FAR, STATIC, RUNNING, SPOOL, ROD_GIVE, LINE_GIVE, BEND, REST_AT_FIRST = range(11)
REEL_ROWS = 11
MOST_CORRECTIONS = 20
SMALL = 8  # a step that fails is taken again in so many, then in the square of it


@njit(**COMPILE)
def _rod_element(t: Floats, tip: Floats, reel: Floats, by_place: float) -> None:
    """Add rod, reel and first segment's pull to the system of node 1; tip (3, lanes) [m]; by_place [s]."""
    c = RECORD
    for w in range(LANES):
        dx = tip[0, w] - t[c + X + w]
        dy = tip[1, w] - t[c + Y + w]
        dz = tip[2, w] - t[c + Z + w]
        length = math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18)
        tx, ty, tz = dx / length, dy / length, dz / length
        stiff = 1.0 / (reel[ROD_GIVE, w] + reel[REST, w] * reel[LINE_GIVE, w])
        pull = stiff * (length + reel[BEND, w] - reel[REST, w])
        if pull <= 0.0:
            pull, stiff = 0.0, 0.0
        # Water's force on half the segment, away from the tip; at rest on the reel it is a whisker.
        half = -(t[c - RECORD + SHARE + w] * tx + t[c - RECORD + SHARE + ROW + w] * ty)
        half -= t[c - RECORD + SHARE + 2 * ROW + w] * tz
        reel[PULL_NOW, w] = max(pull + half, 0.0)
        reel[PULL_FAR, w] = max(pull - half, 0.0)
        hang = by_place * pull / length
        along = by_place * stiff - hang
        t[c + RIGHT + w] += pull * tx
        t[c + RIGHT + ROW + w] += pull * ty
        t[c + RIGHT + 2 * ROW + w] += pull * tz
        t[c + OWN + w] += hang + along * tx * tx
        t[c + OWN + ROW + w] += along * tx * ty
        t[c + OWN + 2 * ROW + w] += along * tx * tz
        t[c + OWN + 3 * ROW + w] += along * tx * ty
        t[c + OWN + 4 * ROW + w] += hang + along * ty * ty
        t[c + OWN + 5 * ROW + w] += along * ty * tz
        t[c + OWN + 6 * ROW + w] += along * tx * tz
        t[c + OWN + 7 * ROW + w] += along * ty * tz
        t[c + OWN + 8 * ROW + w] += hang + along * tz * tz


@njit(**COMPILE)
def _move_reel(t: Floats, reel: Floats, first: Floats, h: float) -> None:
    """The reel through one step of h [s]; `first` (6, lanes): the first segment's rows as they were at rest[0]."""
    for w in range(LANES):
        pull = reel[PULL_NOW, w]
        if reel[RUN, w] > 0.0 or pull > reel[STATIC, w]:
            reel[RUN, w] = max(reel[RUN, w] + h * (pull - reel[RUNNING, w]) / reel[SPOOL, w], 0.0)
            reel[REST, w] += h * reel[RUN, w]
            grown = reel[REST, w] / reel[REST_AT_FIRST, w]
            t[PER_LENGTH + w] = 1.0 / reel[REST, w]
            t[NORMAL + w] = grown * first[0, w]
            t[TANGENTIAL + w] = grown * first[1, w]
            t[SKIN + w] = grown * first[2, w]
            t[MASS + w] = grown * first[3, w]
            t[VOLUME + w] = grown * first[4, w]
            t[ADDED + w] = grown * first[5, w]


@njit(**COMPILE)
def _line_at_tip(t: Floats, speed: float, run: float, w: int) -> None:
    """Velocity of the line where it leaves the tip: the boat's `speed` along x and the spool's `run` along the line."""
    dx, dy, dz = t[RECORD + X + w] - t[X + w], t[RECORD + Y + w] - t[Y + w], t[RECORD + Z + w] - t[Z + w]
    out = run / math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18)
    t[VX + w], t[VY + w], t[VZ + w] = speed + out * dx, out * dy, out * dz


@njit(**COMPILE)
def _step(
    count: int, t: Floats, bodies: NDArray[np.int64], tip: Floats, speed: float, h: float, second: bool, reel: Floats,
    first: Floats, density: float, air: float, gravity: float, ramp: float, tolerance: float, alive: Floats,
) -> bool:  # fmt: skip
    """One step of h [s] with the tip (3, lanes) [m] at its end moving at `speed` [m/s]; False without convergence."""
    now, then, gamma = (4.0 / 3.0, 1.0 / 3.0, 2.0 * h / 3.0) if second else (1.0, 0.0, h)
    _move_reel(t, reel, first, h)
    predict(count, t, now, then, gamma, 0.0)
    for w in range(LANES):
        t[X + w], t[Y + w], t[Z + w] = tip[0, w], tip[1, w], tip[2, w]
        _line_at_tip(t, speed, reel[RUN, w], w)
    for _ in range(MOST_CORRECTIONS):
        segment_forces(count, t, density, air, gravity, ramp, gamma, 1.0, 0.0)
        assemble(count, t, gamma, 1.0 / gamma, 0.0, 0.0)
        for i in range(bodies.size):
            above, below = beyond(bodies, bodies[i], count)
            body_forces(
                bodies[i], bodies[i] - 1, min(bodies[i] + 1, count), above, below, t,
                density, air, gravity, ramp, gamma, 1.0,
                1.0 / gamma, 0.0, 0.0,
            )  # fmt: skip
        _rod_element(t, tip, reel, gamma)
        solve(count, t)
        worst = correct(count, t, gamma, alive)
        if worst < tolerance:
            return True
        if not np.isfinite(worst) or worst > 1e5:
            return False
    return False


@njit(**COMPILE)
def _careful(
    count: int, t: Floats, bodies: NDArray[np.int64], tip: Floats, speed: float, h: float, reel: Floats,
    first: Floats, density: float, air: float, gravity: float, ramp: float, tolerance: float, alive: Floats,
) -> bool:  # fmt: skip
    """The same step of h [s] in many small ones of backward Euler; tip as at the step's end."""
    keep, keep_reel = t.copy(), reel.copy()
    small = SMALL
    at = tip.copy()
    for _ in range(2):
        fine = True
        for i in range(small):
            for w in range(LANES):
                at[0, w] = tip[0, w] - speed * h * (1.0 - (i + 1.0) / small)
            fine = _step(
                count, t, bodies, at, speed, h / small, False, reel, first, density, air, gravity, ramp, tolerance,
                alive,
            )  # fmt: skip
            if not fine:
                break
            remember(count, t)
        if fine:
            return True
        t[:] = keep
        reel[:] = keep_reel
        small *= SMALL
    return False


@njit(**COMPILE)
def _drop_worst(count: int, t: Floats, alive: Floats) -> bool:
    """Give up the living lane with the largest last correction or none at all; False when none is left."""
    worst, lane = -1.0, -1
    for w in range(LANES):
        if alive[w] > 0.0:
            size = 0.0
            for k in range(1, count + 1):
                part = abs(t[k * RECORD + CHANGE + w]) + abs(t[k * RECORD + CHANGE + ROW + w])
                if not (part <= size):
                    size = part
            if not np.isfinite(size):
                size = np.inf
            if size > worst:
                worst, lane = size, w
    if lane >= 0:
        alive[lane] = 0.0
    return alive.max() > 0.0


@njit(**COMPILE)
def _read(t: Floats, joints: NDArray[np.int64], reel: Floats, now: Floats) -> None:
    """Pulls [N] into `now` (1 + 3 S, lanes): at the tip; greatest in each section; at either end of each section."""
    sections = joints.size
    for w in range(LANES):
        now[0, w] = reel[PULL_NOW, w]
        start = 0
        for s in range(sections):
            most = 0.0
            for k in range(start, joints[s]):
                pull = reel[PULL_FAR, w] if k == 0 else t[k * RECORD + TENSION + w]
                most = max(most, pull)
                if k == start:
                    now[1 + sections + 2 * s, w] = reel[PULL_NOW, w] if k == 0 else pull
                now[2 + sections + 2 * s, w] = pull
            now[1 + s, w] = most
            start = joints[s]


@njit(**COMPILE)
def run_strike(
    count: int, t: Floats, bodies: NDArray[np.int64], joints: NDArray[np.int64], tip: Floats, speed: float,
    h: float, steps: int, every: int, gentle: int, reel: Floats, density: float, air: float, gravity: float,
    ramp: float, tolerance: float, alive: Floats, pulls: Floats, paid: Floats, ends: Floats, peaks: Floats,
) -> int:  # fmt: skip
    """From the jump at time 0 through all steps of h [s]; the first step is taken in `gentle` small ones.

    tip (3, lanes) [m] moves along x at `speed` [m/s]. Stored every `every` steps: pulls (stores, 1 + 3 S, lanes) [N],
    paid (stores, lanes) line run out [m], ends (stores, S, 6, lanes) place and velocity of the sections' ends;
    peaks (1 + 3 S, lanes): greatest pulls of all steps. `alive` (lanes) turns 0 where a lane failed. Returns the
    steps taken.
    """
    first = np.empty((6, LANES))
    now = np.empty(peaks.shape)
    for w in range(LANES):
        first[0, w], first[1, w], first[2, w] = t[NORMAL + w], t[TANGENTIAL + w], t[SKIN + w]
        first[3, w], first[4, w], first[5, w] = t[MASS + w], t[VOLUME + w], t[ADDED + w]
    at = tip.copy()
    second = False
    for n in range(steps + 1):
        if n > 0:
            fine = False
            at[0, :] = tip[0, :] + speed * h * n
            if n > gentle:
                keep = reel.copy()
                fine = _step(
                    count, t, bodies, at, speed, h, second, reel, first, density, air, gravity, ramp, tolerance, alive
                )
                if fine:
                    remember(count, t)
                    second = True
                else:
                    reel[:] = keep
            if not fine:
                while not _careful(
                    count, t, bodies, at, speed, h, reel, first, density, air, gravity, ramp, tolerance, alive
                ):
                    if not _drop_worst(count, t, alive):
                        return n
                second = False
            _read(t, joints, reel, now)
            peaks[:] = np.maximum(peaks, now)
        if n % every == 0:
            i = n // every
            if n > 0:
                pulls[i] = now
            for w in range(LANES):
                paid[i, w] = reel[REST, w] - reel[REST_AT_FIRST, w]
                for s in range(joints.size):
                    for j in range(6):
                        ends[i, s, j, w] = t[joints[s] * RECORD + X + j * ROW + w]
    return steps
