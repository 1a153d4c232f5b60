"""The steady shape of towed lines, straight or in a steady circle, solved directly: no settling run.

In a frame that moves with the boat (and turns with it at rate W), every node is at rest. Its water-relative velocity
follows from its place, v = V + W x r, its acceleration is W x (W x r), and the residual is the one that marching
uses. Newton's method on the places, made safe by pseudo-time: each correction is damped by a drag and an inertia as
if it took the time h, and h grows as long as corrections stay small, up to plain Newton at the end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow.batch import Batch, make_batch
from spreadwright.tow.lanes import LANES, PER_LENGTH, PULL, ROW, SHARE, STIFFENING, STIFFNESS, TENSION, X, Y, Z
from spreadwright.tow.line import Failure, Line, Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.relax import LAST_PSEUDO_TIME, relax

Floats = NDArray[np.float64]

TOLERANCE = 1e-8  # last correction, as a share of the line's length
MOST_CORRECTIONS = 600
FIRST_PSEUDO_TIME = 0.01  # [s]
SOFT = 30.0  # stiffness of the soft start, in loads
STIFFEN = 30.0  # each step of stiffening
LEAST_STEP = 1.0 / 64  # of curvature, in a turn that is approached through wider ones
PRESS = 0.1  # stiffness under pressure while searching, in loads


@dataclass(frozen=True)
class Shape:
    """A line at rest in the boat's frame (boat's origin at 0, 0, heading along x).

    places (N + 1, 3) [m]; arclength (N + 1) [m]; tension just above each node, at the tip for the first (N + 1) [N];
    tip_pull: the line's pull on the rod tip (3) [N]; joints: nodes at the ends of the sections;
    speeds: speed through still water of the joints [m/s]; radii: circle that each joint runs on [m], nan if straight.
    """

    line: Line
    places: Floats
    arclength: Floats
    tension: Floats
    tip_pull: Floats
    joints: NDArray[np.int64]
    speeds: Floats
    radii: Floats

    @property
    def joint_places(self) -> Floats:
        """Places of the ends of the sections (S, 3) [m]."""
        return self.places[self.joints]

    @property
    def tip_angle(self) -> float:
        """Angle of the line below the horizontal at the rod tip [rad]."""
        x, y, z = self.tip_pull
        return math.atan2(-z, math.hypot(x, y))


def steady_straight(
    lines: Sequence[Line], speed: float, sea: Sea | None = None, grading: Grading | None = None
) -> list[Shape | Failure]:
    """Shapes of lines towed straight at `speed` [m/s], in the order given; a line without a result is a Failure."""
    return _steady(lines, speed, math.inf, sea or Sea(), grading or Grading())


def steady_turn(
    lines: Sequence[Line], speed: float, radius: float, sea: Sea | None = None, grading: Grading | None = None
) -> list[Shape | Failure]:
    """Shapes in a steady circle of `radius` [m] (positive to port) that the boat's origin runs at `speed` [m/s]."""
    return _steady(lines, speed, radius, sea or Sea(), grading or Grading())


def _steady(lines: Sequence[Line], speed: float, radius: float, sea: Sea, grading: Grading) -> list[Shape | Failure]:
    results: list[Shape | Failure | None] = [None] * len(lines)
    for picked in grouped(lines):
        batch, solved = settle([lines[i] for i in picked], speed, radius, sea, grading)
        shapes = shapes_of(batch, speed, radius)
        for lane, i in enumerate(picked):
            results[i] = shapes[lane] if solved[lane] else Failure(lines[i].name, _reason(speed, radius))
    return [result for result in results if result is not None]


def _reason(speed: float, radius: float) -> str:
    turn = "" if math.isinf(radius) else f" in a turn of {radius:.1f} m"
    return f"no steady shape found at {speed:.2f} m/s{turn}"


def grouped(lines: Sequence[Line]) -> list[list[int]]:
    """Places of the lines in the list, eight at a time, those with like sections and lengths together."""
    order = sorted(range(len(lines)), key=lambda i: (len(lines[i].sections), lines[i].length))
    groups: list[list[int]] = []
    for i in order:
        last = groups[-1] if groups else None
        if last and len(last) < LANES and len(lines[last[0]].sections) == len(lines[i].sections):
            last.append(i)
        else:
            groups.append([i])
    return groups


def settle(
    lines: Sequence[Line],
    speed: float,
    radius: float,
    sea: Sea,
    grading: Grading,
    mesh_counts: Sequence[int] | None = None,
) -> tuple[Batch, NDArray[np.bool_]]:
    """One batch brought to its steady shape at `speed` [m/s], circle `radius` [m]; which of its lines got there.

    Places in the table are in the boat's frame. Where there is a surface the mesh is graded to where each line
    meets it, found on a coarser mesh first. `mesh_counts`: segments of each section, if not as wished.
    """
    load = _load(lines, speed, sea)
    entries: list[float | None] = [None] * len(lines)
    if sea.surface:
        coarse = make_batch(lines, sea, grading.scaled(2.0), load)
        _start(coarse, load)
        _solve(coarse, speed, math.inf, load)
        entries = [_entry(coarse, lane) for lane in range(len(lines))]
    batch = make_batch(lines, sea, grading, load, entries, mesh_counts)
    _start(batch, load)
    solved = _solve(batch, speed, math.inf, load)
    if not math.isinf(radius):
        solved &= _solve(batch, speed, radius, load)
    if not solved.all() and len(lines) > 1:  # one bad lane must not take the others with it
        counts = [int(count) for count in np.diff(batch.joints, prepend=0)]
        for lane in range(len(lines)):
            if solved[lane]:
                continue
            alone, fine = settle([lines[lane]], speed, radius, sea, grading, counts)
            if fine[0]:
                batch.rows()[:, :, lane] = alone.rows()[:, :, 0]
                batch.arclength[:, lane] = alone.arclength[:, 0]
                solved[lane] = True
    return batch, solved


def _load(lines: Sequence[Line], speed: float, sea: Sea) -> float:
    """A pull that none of the lines is far from [N]: weight, skin friction and a part of the drag of the bodies."""
    loads = []
    for line in lines:
        skin = sum(0.5 * sea.density * s.tangential_drag * math.pi * s.diameter * s.length for s in line.sections)
        steady = sum(s.tangential_force * s.length for s in line.sections)
        wet = sum(abs(s.density - sea.density) * s.area * s.length for s in line.sections) * sea.gravity
        drag = sum(0.5 * sea.density * (b.drag_area + b.axial_area) for b in line.bodies if b)
        hung = sum(b.mass * sea.gravity + math.hypot(*b.force) for b in line.bodies if b)
        loads.append((skin + drag) * speed**2 + steady + wet + hung)
    return max(max(loads), 1.0)


def _start(batch: Batch, load: float) -> None:
    """Lay the lines out straight astern, a little downward, stretched by a pull that grows towards the tip."""
    rows = batch.rows()
    slope = 0.03
    lanes_used = len(batch.lines)
    for lane in range(LANES):
        source = min(lane, lanes_used - 1)
        stiffness = rows[:-1, STIFFNESS // ROW, lane]
        share = np.linspace(1.0, 0.2, batch.segments)
        lengths = (1.0 + load * share / stiffness) / rows[:-1, PER_LENGTH // ROW, lane]
        run = np.concatenate([[0.0], np.cumsum(lengths)])
        tip = batch.tips[source]
        rows[:, X // ROW, lane] = tip[0] - run * math.cos(slope)
        rows[:, Y // ROW, lane] = tip[1]
        drop = run * math.sin(slope)
        if batch.sea.surface:
            drop = np.minimum(drop, tip[2] + 0.02 * run)
        rows[:, Z // ROW, lane] = tip[2] - drop


def _solve(batch: Batch, speed: float, radius: float, load: float) -> NDArray[np.bool_]:
    """Bring the places in the table to rest; which lines got there.

    A turn is first tried at once; where that fails it is approached through wider ones (continuation in curvature),
    each from the shape before.
    """
    if math.isinf(radius):
        return _settle_lanes(batch, speed, 0.0, load, FIRST_PSEUDO_TIME, MOST_CORRECTIONS)
    rows = batch.rows()
    straight = rows[:, :3, :].copy()
    reached, step = 0.0, 1.0  # share of the curvature
    while reached < 1.0:
        share = min(reached + step, 1.0)
        before = rows[:, :3, :].copy()
        if reached == 0.0:
            rows[:, :3, :] = straight
            _bend(rows, radius / share)
        rows[:, 1, :] -= radius / share
        solved = _settle_lanes(
            batch, speed, speed * share / radius, load, FIRST_PSEUDO_TIME if reached == 0.0 else 1.0, 150
        )
        rows[:, 1, :] += radius / share
        if solved.all():
            reached, step = share, 1.5 * step
        else:
            rows[:, :3, :] = before
            step *= 0.5
            if step < LEAST_STEP:
                return solved
    return solved


def _settle_lanes(batch: Batch, speed: float, turn: float, load: float, first: float, most: int) -> NDArray[np.bool_]:
    """From soft to stiff, until rest; `turn` [rad/s] about the origin, which is then the circle's centre."""
    rows = batch.rows()
    true_stiffness = rows[:, STIFFNESS // ROW, :].copy()
    largest = np.zeros(LANES)
    length = max(line.length for line in batch.lines)
    cap = SOFT * load
    solved = np.ones(LANES, dtype=np.bool_)
    while True:
        _set_stiffness(rows, np.minimum(true_stiffness, cap))
        done = cap >= true_stiffness.max()
        used = relax(
            batch.segments, batch.table, batch.bodies, 0.0 if turn else speed, turn,
            batch.sea.density, batch.sea.above, batch.sea.gravity, batch.sea.ramp, length, PRESS * load,
            first, TOLERANCE * length if done else 1e-5 * length, most, largest,
        )  # fmt: skip
        solved &= (used > 0) & np.isfinite(largest)
        if done or used < 0:
            break
        cap *= STIFFEN
        first = LAST_PSEUDO_TIME
    _set_stiffness(rows, true_stiffness)
    solved &= (rows[:-1, TENSION // ROW, :] > 0.0).all(axis=0)
    return solved[: len(batch.lines)]


def _set_stiffness(rows: Floats, stiffness: Floats) -> None:
    """Change the stiffness and stretch every segment anew, so that it pulls as before."""
    before = rows[:-1, STIFFNESS // ROW, :]
    if (before == stiffness[:-1]).all():
        return
    per = rows[:-1, PER_LENGTH // ROW, :]
    kappa = rows[:-1, STIFFENING // ROW, :]
    chord = np.diff(rows[:, :3, :], axis=0)
    length = np.sqrt((chord**2).sum(axis=1))
    strain = length * per - 1.0
    pull = np.where(strain > 0.0, before * strain * (1.0 + kappa * strain**2), 0.0)
    new = pull / stiffness[:-1]
    for _ in range(8):
        new -= (stiffness[:-1] * new * (1.0 + kappa * new**2) - pull) / (stiffness[:-1] * (1.0 + 3.0 * kappa * new**2))
    chord *= ((1.0 + new) / (per * length))[:, None, :]
    rows[1:, :3, :] = rows[:1, :3, :] + np.cumsum(chord, axis=0)
    rows[:, STIFFNESS // ROW, :] = stiffness


def _bend(rows: Floats, radius: float) -> None:
    """Bend straight lines round the circle, every segment as long as before, the boat staying at the origin."""
    chord = np.diff(rows[:, :3, :], axis=0)
    flat = np.hypot(chord[:, 0], chord[:, 1])
    tip_x, tip_y = rows[0, 0, :] * 1.0, rows[0, 1, :] - radius
    tip_radius = np.hypot(tip_x, tip_y)
    angle = np.arctan2(tip_y, tip_x) - math.copysign(1.0, radius) * np.concatenate(
        [np.zeros((1, LANES)), np.cumsum(2.0 * np.arcsin(np.minimum(0.5 * flat / tip_radius, 1.0)), axis=0)]
    )
    rows[:, 0, :] = tip_radius * np.cos(angle)
    rows[:, 1, :] = tip_radius * np.sin(angle) + radius


def _entry(batch: Batch, lane: int) -> float | None:
    return _crossing(batch.rows()[:, Z // ROW, lane], batch.arclength[:, lane])


def _crossing(height: Floats, arclength: Floats) -> float | None:
    """Where heights [m] along an arclength [m] first go below zero."""
    below = np.flatnonzero(height < 0.0)
    if below.size == 0 or below[0] == 0:
        return None
    k = int(below[0])
    share = height[k - 1] / (height[k - 1] - height[k])
    return float(arclength[k - 1] + share * (arclength[k] - arclength[k - 1]))


def entry_arclength(shape: Shape) -> float | None:
    """Arclength from the tip at which a line meets still water [m], None if it starts under it or never does."""
    return _crossing(shape.places[:, 2], shape.arclength)


def shapes_of(batch: Batch, speed: float, radius: float) -> list[Shape]:
    """What the table of a batch settled at `speed` [m/s] on `radius` [m] says, a Shape a line."""
    rows = batch.rows()
    shapes = []
    for lane, line in enumerate(batch.lines):
        places = rows[:, :3, lane].copy()
        pull = rows[:-1, PULL // ROW : PULL // ROW + 3, lane]
        share = rows[:-1, SHARE // ROW : SHARE // ROW + 3, lane]
        tip_pull = pull[0] + share[0]
        tension = np.concatenate([[np.linalg.norm(tip_pull)], np.linalg.norm(pull - share, axis=1)])
        joints = places[batch.joints]
        if math.isinf(radius):
            radii = np.full(len(joints), np.nan)
            speeds = np.full(len(joints), speed)
        else:
            radii = np.hypot(joints[:, 0], joints[:, 1] - radius)
            speeds = radii * abs(speed / radius)
        shapes.append(
            Shape(line, places, batch.arclength[:, lane].copy(), tension, tip_pull, batch.joints, speeds, radii)
        )
    return shapes
