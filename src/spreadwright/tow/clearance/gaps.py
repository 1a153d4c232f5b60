"""Smallest gaps of a pair of lines over a manoeuvre, with none hidden between the stored times.

At one time: blocks whose chords are too far apart to matter are passed over (a bound that is never too large, see
outline.py); for the rest the exact distance of every pair of segments.
Between two stored times the vertices are taken to move straight. While they do, a distance changes by no more than
they move relative to one another, so over an interval it is at least (d0 + d1 - sweep) / 2. Intervals where that bound
is under the smallest gap found by more than the tolerance are halved and looked at again. What the vertices really do
between stored times differs from straight motion by how far their paths bend there, of which what both lines do alike
(turning with the boat) brings them no nearer. How much nearer they could thus have come is handed back as doubt: it
counts only where the lines are near enough for it to matter.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.clearance.outline import Outline, slack_between
from spreadwright.tow.clearance.segments import segment_distance2
from spreadwright.tow.lanes import COMPILE

Singles = NDArray[np.float32]
Whole = NDArray[np.int64]

TOLERANCE = 0.002  # [m]
DEEPEST = 12  # halvings of an interval


@njit(**COMPILE)
def _chord_distance2(v: Singles, edges: Whole, i: int, u: Singles, other_edges: Whole, j: int) -> float:
    """Square of the distance of two blocks' chords [m2]; the blocks are not nearer than it less both slacks."""
    a, b = edges[i], edges[i + 1]
    c, d = other_edges[j], other_edges[j + 1]
    return segment_distance2(
        v[a, 0], v[a, 1], v[a, 2], v[b, 0], v[b, 1], v[b, 2],
        u[c, 0], u[c, 1], u[c, 2], u[d, 0], u[d, 1], u[d, 2],
    )  # fmt: skip


@njit(**COMPILE)
def _block_distance(v: Singles, edges: Whole, i: int, u: Singles, other_edges: Whole, j: int, best2: float) -> float:
    """Square of the exact distance of two blocks [m2], or `best2` if that is smaller."""
    for a in range(edges[i], edges[i + 1]):
        for c in range(other_edges[j], other_edges[j + 1]):
            near2 = segment_distance2(
                v[a, 0], v[a, 1], v[a, 2], v[a + 1, 0], v[a + 1, 1], v[a + 1, 2],
                u[c, 0], u[c, 1], u[c, 2], u[c + 1, 0], u[c + 1, 1], u[c + 1, 2],
            )  # fmt: skip
            best2 = min(best2, near2)
    return best2


@njit(**COMPILE)
def _bound(
    v: Singles, edges: Whole, slack: Singles, first: int,
    u: Singles, other_edges: Whole, other_slack: Singles, other_first: int, whole: bool,
) -> float:  # fmt: skip
    """A distance [m] that the pair is not nearer than at one time: gear to line both ways, or line to line."""
    low = 1e9
    for i in range(edges.size - 1):
        for j in range(other_edges.size - 1):
            if whole or i >= first or j >= other_first:
                away2 = _chord_distance2(v, edges, i, u, other_edges, j)
                reach = low + slack[i] + other_slack[j]
                if reach > 0.0 and away2 < reach * reach:
                    low = math.sqrt(away2) - slack[i] - other_slack[j]
    return low


@njit(**COMPILE)
def _exact(
    v: Singles, edges: Whole, slack: Singles, first: int,
    u: Singles, other_edges: Whole, other_slack: Singles, other_first: int, whole: bool, enough: float,
) -> float:  # fmt: skip
    """The distance [m] of the pair at one time, or `enough` if it is that or more."""
    best = enough
    for i in range(edges.size - 1):
        for j in range(other_edges.size - 1):
            if whole or i >= first or j >= other_first:
                reach = best + slack[i] + other_slack[j]
                if _chord_distance2(v, edges, i, u, other_edges, j) < reach * reach:
                    best = math.sqrt(_block_distance(v, edges, i, u, other_edges, j, best * best))
    return best


@njit(**COMPILE)
def _interpolate(v: Singles, i: int, share: float, out: Singles) -> None:
    for k in range(v.shape[1]):
        for c in range(3):
            out[k, c] = v[i, k, c] + share * (v[i + 1, k, c] - v[i, k, c])


@njit(**COMPILE)
def _moved(sweep: Singles, mean: Singles, other_sweep: Singles, other_mean: Singles, i: int) -> float:
    """The most that the distance of two lines can change from stored time i to the next [m]."""
    drift = 0.0
    for c in range(3):
        drift += (mean[i, c] - other_mean[i, c]) ** 2
    return sweep[i] + other_sweep[i] + math.sqrt(drift)


@njit(**COMPILE)
def smallest_gap(
    v: Singles, edges: Whole, slack: Singles, first: int, sweep: Singles, mean: Singles,
    u: Singles, other_edges: Whole, other_slack: Singles, other_first: int, other_sweep: Singles, other_mean: Singles,
    whole: bool, enough: float, floor: float, tolerance: float, low: NDArray[np.float64],
) -> tuple[float, float]:  # fmt: skip
    """The pair's smallest gap over all times [m] (`enough` at the most), and when: a share of stored intervals.

    As soon as the gap is known to be under `floor` the search ends: what comes back is then an upper bound. `low` (T)
    gets a distance [m] for each stored time that the pair is not nearer than then.
    """
    count = v.shape[0]
    low[:] = 0.0
    # a first look at every sixteenth time, and exactly at the most promising of them
    probe, lowest = 0, 1e30
    for i in range(0, count, 16):
        found = _bound(v[i], edges, slack[i], first, u[i], other_edges, other_slack[i], other_first, whole)
        if found < lowest:
            probe, lowest = i, found
    best = _exact(
        v[probe], edges, slack[probe], first, u[probe], other_edges, other_slack[probe], other_first, whole, enough
    )
    when = float(probe)
    if best < floor:
        return best, when
    # then forward in time, passing over times that the lines cannot have reached one another by
    i = 0
    while i < count:
        found = _bound(v[i], edges, slack[i], first, u[i], other_edges, other_slack[i], other_first, whole)
        if found < best:
            gap = _exact(v[i], edges, slack[i], first, u[i], other_edges, other_slack[i], other_first, whole, best)
            found = max(found, gap)
            if gap < best:
                best, when = gap, float(i)
                if best < floor:
                    return best, when
        low[i] = found
        i += 1
        while i < count:
            found -= _moved(sweep, mean, other_sweep, other_mean, i - 1)
            if found < best:
                break
            low[i] = found
            i += 1
    return _refine(
        v, edges, slack, first, sweep, mean, u, other_edges, other_slack, other_first, other_sweep, other_mean,
        whole, floor, tolerance, low, best, when,
    )  # fmt: skip


@njit(**COMPILE)
def _refine(
    v: Singles, edges: Whole, slack: Singles, first: int, sweep: Singles, mean: Singles,
    u: Singles, other_edges: Whole, other_slack: Singles, other_first: int, other_sweep: Singles, other_mean: Singles,
    whole: bool, floor: float, tolerance: float, low: NDArray[np.float64], best: float, when: float,
) -> tuple[float, float]:  # fmt: skip
    """Look between the stored times wherever something nearer could hide."""
    mine = np.empty((v.shape[1], 3), dtype=np.float32)
    theirs = np.empty((u.shape[1], 3), dtype=np.float32)
    wide = np.empty(slack.shape[1], dtype=np.float32)
    other_wide = np.empty(other_slack.shape[1], dtype=np.float32)
    # a stack of intervals: start, length (both in stored intervals), bounds at the ends
    begin = np.empty(64)
    length = np.empty(64)
    left = np.empty(64)
    right = np.empty(64)
    for i in range(v.shape[0] - 1):
        moved = _moved(sweep, mean, other_sweep, other_mean, i)
        if 0.5 * (low[i] + low[i + 1] - moved) >= best - tolerance:
            continue
        for block in range(wide.size):
            wide[block] = slack_between(v[i], v[i + 1], edges[block], edges[block + 1])
        for block in range(other_wide.size):
            other_wide[block] = slack_between(u[i], u[i + 1], other_edges[block], other_edges[block + 1])
        begin[0], length[0], left[0], right[0] = 0.0, 1.0, low[i], low[i + 1]
        held = 1
        while held > 0:
            held -= 1
            s, h, a, b = begin[held], length[held], left[held], right[held]
            if 0.5 * (a + b - moved * h) >= best - tolerance or h < 0.5**DEEPEST:
                continue
            middle = s + 0.5 * h
            _interpolate(v, i, middle, mine)
            _interpolate(u, i, middle, theirs)
            gap = _exact(
                mine, edges, wide, first, theirs, other_edges, other_wide, other_first, whole,
                best + 0.5 * moved * h + tolerance,
            )  # fmt: skip
            if gap < best:
                best, when = gap, i + middle
                if best < floor:
                    return best, when
            begin[held], length[held], left[held], right[held] = s, 0.5 * h, a, gap
            begin[held + 1], length[held + 1], left[held + 1], right[held + 1] = middle, 0.5 * h, gap, b
            held += 2
    return best, when


@njit(**COMPILE)
def _hidden(
    low: NDArray[np.float64], sweep: Singles, mean: Singles, other_sweep: Singles, other_mean: Singles,
    bow: Singles, swerve: Singles, other_bow: Singles, other_swerve: Singles, best: float, tolerance: float,
) -> float:  # fmt: skip
    """How much nearer than `best` [m] the pair can have come between stored times."""
    most, before = 0.0, 0.0
    for i in range(low.size):
        apart = 0.0
        for c in range(3):
            apart += (swerve[i, c] - other_swerve[i, c]) ** 2
        bent = bow[i] + other_bow[i] + math.sqrt(apart)
        if i > 0:
            least = 0.5 * (low[i - 1] + low[i] - _moved(sweep, mean, other_sweep, other_mean, i - 1))
            most = max(most, max(bent, before) + min(tolerance, best - least))
        before = bent
    return most


@dataclass(frozen=True)
class Gap:
    """A smallest gap [m], when it happens [s], and how much nearer the lines could come between stored times [m]."""

    distance: float
    time: float
    doubt: float


def gear_gap(a: Outline, b: Outline, enough: float = 1e3, floor: float = -1.0, tolerance: float = TOLERANCE) -> Gap:
    """Smallest distance from either line's gear to anywhere on the other line [m].

    tolerance: how much nearer they may come between stored times without being looked for [m].
    """
    return _gap(a, b, False, enough, floor, tolerance)


def line_gap(a: Outline, b: Outline, enough: float = 1e3, floor: float = -1.0) -> Gap:
    """Smallest distance between any parts of the two lines [m]."""
    return _gap(a, b, True, enough, floor, TOLERANCE)


def _gap(a: Outline, b: Outline, whole: bool, enough: float, floor: float, tolerance: float) -> Gap:
    low = np.empty(len(a.times))
    distance, when = smallest_gap(
        a.vertices, a.edges, a.slack, a.first_gear_block, a.sweep, a.mean,
        b.vertices, b.edges, b.slack, b.first_gear_block, b.sweep, b.mean, whole, enough, floor,
        tolerance, low,
    )  # fmt: skip
    hidden = _hidden(
        low, a.sweep, a.mean, b.sweep, b.mean, a.bow, a.swerve, b.bow, b.swerve, distance, tolerance
    )  # fmt: skip
    time = float(np.interp(when, np.arange(len(a.times)), a.times))
    return Gap(float(distance), time, float(hidden))
