"""A fish takes a towed lure or weight: the pull on every part of the line, and the line that the reel gives.

The line starts in its steady shape behind a boat that keeps its course and speed. At time 0 a fish takes a body: the
two move on together with their common momentum. From then on the fish is a body in the water with drag on all sides,
a thrust of constant size and direction, and the weight that floats. The rod gives like a spring along the pull, the
reel slips (strike_steps.py). The line that runs out makes the first piece at the tip longer: it is straight, and
wetted as that piece is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow.batch import Batch
from spreadwright.tow.lanes import (
    BEFORE_LAST,
    BODY_ADDED,
    BODY_FORCE,
    BODY_MASS,
    BODY_ROUND,
    BODY_VOLUME,
    DAMPING,
    LANES,
    LAST,
    PER_LENGTH,
    ROW,
    STIFFNESS,
    TENSION,
)  # fmt: skip
from spreadwright.tow.line import Failure, Line, Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import grouped, settle
from spreadwright.tow.strike_steps import (
    BEND,
    LINE_GIVE,
    PULL_FAR,
    PULL_NOW,
    REEL_ROWS,
    REST,
    REST_AT_FIRST,
    ROD_GIVE,
    RUNNING,
    SPOOL,
    STATIC,
    run_strike,
)  # fmt: skip

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Fish:
    """A fish that takes the body at the end of a section.

    joint: which section's end (-1 the lure); mass [kg]; velocity [m/s] before it takes hold, earth's axes, the boat
    heading along x; drag_area (coefficient times area) [m2]; thrust [N], earth's axes; added_mass [-] on its volume.
    """

    joint: int
    mass: float
    velocity: tuple[float, float, float]
    drag_area: float = 0.0
    thrust: tuple[float, float, float] = (0.0, 0.0, 0.0)
    added_mass: float = 0.06


@dataclass(frozen=True)
class Brake:
    """Reel and rod: pull that starts the spool and pull that it runs at [N], effective mass of the spool at the line
    [kg], give of the rod along the pull [m/N]. The default never slips and does not give."""

    static: float = math.inf
    running: float = math.inf
    spool_mass: float = 0.3
    rod_give: float = 0.0


@dataclass(frozen=True)
class Strike:
    """One case: the line, the fish that take hold of it at time 0, and what holds it."""

    line: Line
    fish: tuple[Fish, ...]
    brake: Brake = Brake()


@dataclass(frozen=True)
class StrikeSettings:
    """step, duration [s], store every so many steps, first steps taken in eight small ones, tolerance [m/s], mesh."""

    step: float = 5e-4
    duration: float = 1.5
    store_every: int = 2
    gentle: int = 4
    tolerance: float = 1e-3
    grading: Grading = field(default_factory=Grading)


@dataclass(frozen=True)
class StrikeResult:
    """One strike, over time.

    times (T) [s]; tip (T) pull at the rod tip [N]; sections (T, S) greatest pull within each section [N]; ends
    (T, S, 2) pull at the upper and the lower end of each [N]; paid_out (T) line run out [m]; places, velocities
    (T, S, 3) of the ends of the sections, earth's axes [m], [m/s]; peaks the greatest of all steps: peak_tip [N],
    peak_sections (S), peak_ends (S, 2) [N]; before (1 + S) the pull before the strike, at the tip and in sections [N].
    """

    strike: Strike
    times: Floats
    tip: Floats
    sections: Floats
    ends: Floats
    paid_out: Floats
    places: Floats
    velocities: Floats
    peak_tip: float
    peak_sections: Floats
    peak_ends: Floats
    before: Floats


def strike(
    cases: Sequence[Strike], speed: float, sea: Sea | None = None, settings: StrikeSettings | None = None
) -> list[StrikeResult | Failure]:
    """All cases behind a boat at `speed` [m/s], in the order given; a case without a result is a Failure."""
    results: list[StrikeResult | Failure | None] = [None] * len(cases)
    for picked in grouped([case.line for case in cases]):
        batch_cases = [cases[i] for i in picked]
        for i, result in zip(
            picked, _batch(batch_cases, speed, sea or Sea(), settings or StrikeSettings()), strict=True
        ):
            results[i] = result
    return [result for result in results if result is not None]


def _batch(cases: list[Strike], speed: float, sea: Sea, settings: StrikeSettings) -> list[StrikeResult | Failure]:
    batch, solved = settle([case.line for case in cases], speed, math.inf, sea, settings.grading)
    rows = batch.rows()
    _prime(rows, speed)
    reel = _reels(batch, cases)
    before = _before(batch, reel)
    bodies = _take_hold(batch, cases, sea)
    steps = max(1, round(settings.duration / settings.step))
    steps += -steps % settings.store_every
    stores, sections = steps // settings.store_every + 1, len(batch.joints)
    pulls = np.zeros((stores, 1 + 3 * sections, LANES))
    pulls[0] = before
    paid = np.zeros((stores, LANES))
    ends = np.zeros((stores, sections, 6, LANES))
    peaks = before.copy()
    alive = np.array([1.0 if solved[min(w, len(cases) - 1)] else 0.0 for w in range(LANES)])
    lanes = np.minimum(np.arange(LANES), len(cases) - 1)
    if alive.max() > 0.0:
        run_strike(
            batch.segments, batch.table, bodies, batch.joints, np.ascontiguousarray(batch.tips[lanes].T), speed,
            settings.step, steps, settings.store_every, settings.gentle, reel, sea.density, sea.above, sea.gravity,
            sea.ramp, settings.tolerance, alive, pulls, paid, ends, peaks,
        )  # fmt: skip
    times: Floats = np.linspace(0.0, steps * settings.step, stores)
    return [
        _result(case, times, pulls[:, :, w], paid[:, w], ends[:, :, :, w], peaks[:, w], before[:, w])
        if alive[w]
        else Failure(case.line.name, _why(bool(solved[w])))
        for w, case in enumerate(cases)
    ]


def _why(started: bool) -> str:
    return "a step of the strike did not converge" if started else "no steady shape found to start from"


def _result(
    case: Strike, times: Floats, pulls: Floats, paid: Floats, ends: Floats, peaks: Floats, before: Floats
) -> StrikeResult:
    count = len(case.line.sections)
    split = 1 + count
    return StrikeResult(
        case, times, pulls[:, 0].copy(), pulls[:, 1:split].copy(), pulls[:, split:].reshape(-1, count, 2).copy(),
        paid.copy(), ends[:, :, :3].copy(), ends[:, :, 3:].copy(), float(peaks[0]), peaks[1:split].copy(),
        peaks[split:].reshape(count, 2).copy(), before[:split].copy(),
    )  # fmt: skip


def _prime(rows: Floats, speed: float) -> None:
    """The steady shape moves with the boat: now, and in the steps before."""
    rows[:, 3, :] = speed
    rows[:, 4:6, :] = 0.0
    for row in (LAST // ROW, BEFORE_LAST // ROW):
        rows[:, row : row + 6, :] = rows[:, :6, :]


def _reels(batch: Batch, cases: Sequence[Strike]) -> Floats:
    """The reels' state in balance with the steady pull; the first segment's own spring is taken out of the table."""
    rows = batch.rows()
    reel = np.zeros((REEL_ROWS, LANES))
    chord = rows[1, :3, :] - rows[0, :3, :]
    length = np.sqrt((chord**2).sum(axis=0))
    for w in range(LANES):
        brake = cases[min(w, len(cases) - 1)].brake
        if not (brake.spool_mass > 0.0 and brake.rod_give >= 0.0 and brake.running <= brake.static):
            raise ValueError("a spool has mass, a rod gives 0 or more, and a reel runs at no more than it starts at")
        rest = 1.0 / rows[0, PER_LENGTH // ROW, w]
        pull, give = rows[0, TENSION // ROW, w], 1.0 / rows[0, STIFFNESS // ROW, w]
        reel[[REST, REST_AT_FIRST], w] = rest
        reel[[PULL_NOW, PULL_FAR], w] = pull
        reel[[STATIC, RUNNING, SPOOL, ROD_GIVE, LINE_GIVE], w] = (
            brake.static, brake.running, brake.spool_mass, brake.rod_give, give,
        )  # fmt: skip
        reel[BEND, w] = pull * (brake.rod_give + rest * give) - (length[w] - rest)
    rows[0, STIFFNESS // ROW, :] = 0.0
    rows[0, DAMPING // ROW, :] = 0.0
    return reel


def _before(batch: Batch, reel: Floats) -> Floats:
    """Pulls before the strike, in the order in which the steps record them (1 + 3 S, lanes) [N]."""
    tension = batch.rows()[:, TENSION // ROW, :].copy()
    tension[0] = reel[PULL_NOW]
    starts = [0, *(int(j) for j in batch.joints[:-1])]
    parts = [tension[a : int(b)] for a, b in zip(starts, batch.joints, strict=True)]
    ends = [part[i] for part in parts for i in (0, -1)]
    return np.array([tension[0], *(part.max(axis=0) for part in parts), *ends])


def _take_hold(batch: Batch, cases: Sequence[Strike], sea: Sea) -> NDArray[np.int64]:
    """Put the fish on their nodes with the common momentum; returns all nodes that carry a body."""
    rows = batch.rows()
    nodes = {int(node) for node in batch.bodies}
    for w in range(LANES):
        for fish in cases[min(w, len(cases) - 1)].fish:
            node = int(batch.joints[fish.joint])
            nodes.add(node)
            volume = fish.mass / sea.density if sea.density > 0.0 else 0.0
            inertia = fish.mass + sea.density * fish.added_mass * volume
            own = rows[node, BODY_MASS // ROW, w] + sea.density * rows[node, BODY_ADDED // ROW, w]
            velocity = (inertia * np.array(fish.velocity) + own * rows[node, 3:6, w]) / (inertia + own)
            rows[node, 3:6, w] = velocity
            rows[node, LAST // ROW + 3 : LAST // ROW + 6, w] = velocity
            rows[node, BODY_MASS // ROW, w] += fish.mass
            rows[node, BODY_VOLUME // ROW, w] += volume
            rows[node, BODY_ADDED // ROW, w] += fish.added_mass * volume
            rows[node, BODY_ROUND // ROW, w] += 0.5 * fish.drag_area
            rows[node, BODY_FORCE // ROW : BODY_FORCE // ROW + 3, w] = fish.thrust
    return np.array(sorted(nodes), dtype=np.int64)
