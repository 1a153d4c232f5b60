"""Branch and bound over one rig a rod: a tree that hands out spreads that beat a mark, one after the other.

Candidates are numbered rod by rod. Two fit when their rods differ, their lines keep the wished gap, and together with
all the others they do not use more pieces than there are. The tree takes the rod with the fewest candidates left, tries
them best first, and closes what cannot beat the mark any more: every open candidate carries what it adds, and half of
the most that it could add with each rod still free, so the sum over rods is never too small.
Gaps are upper bounds that may become smaller while the search rests: what was handed out and found wanting is dropped
and the search goes on from there. It is exact: when it ends, nothing beats the mark; or it says that it gave up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE

Whole = NDArray[np.int64]
Singles = NDArray[np.float32]
Floats = NDArray[np.float64]

FOUND, NONE, GAVE_UP = 1, 0, -1
DEAD = -1e30  # worth of a candidate that no spread can hold


@dataclass(frozen=True)
class Problem:
    """What is searched.

    starts (rods + 1): first candidate of each rod; lines (candidates): the line of each; gaps (lines, lines): upper
    bounds [m], which may shrink while a tree rests; score (lines, lines): what each pair adds, own (candidates): what
    each adds alone; uses (candidates, kinds): pieces used, -1 for none; limits (pieces): how many there are; group
    (pieces): which group a piece belongs to; spare (groups): how many pieces beyond their counts may be taken.
    """

    starts: Whole
    lines: Whole
    gaps: Singles
    score: Singles
    own: Floats
    uses: Whole
    limits: Whole
    group: Whole
    spare: Whole


class Tree:
    """The search of one problem for spreads whose gaps are all at least `least` [m]; `nodes` counts its work."""

    def __init__(self, problem: Problem, least: float) -> None:
        self.problem, self.least, self.nodes = problem, least, 0
        p, rods = problem, len(problem.starts) - 1
        widest = int(np.diff(p.starts).max()) if rods else 0
        self._partner = _best_partners(p.starts, p.lines, p.gaps, least, p.score)
        self._open = np.zeros((rods + 1, rods, widest), dtype=np.int64)
        self._gain = np.zeros((rods + 1, rods, widest))
        self._worth = np.zeros((rods + 1, rods, widest))
        self._length = np.zeros((rods + 1, rods), dtype=np.int64)
        self._most = np.zeros((rods + 1, rods))  # the most that any open candidate of a rod is worth
        self._at, self._rod_at, self._taken = (np.full(rods, -1, dtype=np.int64) for _ in range(3))
        self._done = np.zeros(rods, dtype=np.bool_)
        self._used, self._left = np.zeros(len(p.limits), dtype=np.int64), p.spare.copy()
        self._total = np.zeros(rods + 1)
        self._where = np.array([0, 1], dtype=np.int64)  # depth, and whether it is being entered
        if not _root(p.starts, p.own, self._partner, self._open, self._gain, self._worth, self._length, self._most):
            self._where[0] = -1

    def next(self, beat: float, step: float, most: int) -> tuple[int, float, Whole]:
        """The next spread worth `beat + step` or more: FOUND, its worth and its candidates, a rod each.

        NONE: there is none, or none is left; GAVE_UP: `most` nodes were not enough, and more may be asked for.
        """
        p = self.problem
        chosen = np.full(len(p.starts) - 1, -1, dtype=np.int64)
        state, value, nodes = _go_on(
            p.lines, p.gaps, self.least, p.score, p.uses, p.limits, p.group, self._partner, self._open, self._gain,
            self._worth, self._length, self._most, self._at, self._rod_at, self._taken, self._done, self._used,
            self._left, self._total, self._where, beat, step, most, chosen,
        )  # fmt: skip
        self.nodes += int(nodes)
        return int(state), float(value), chosen

    def bound(self) -> float:
        """What no spread can be worth more than, as far as the root knows."""
        return float(self._most[0].sum())


@njit(**COMPILE)
def _best_partners(starts: Whole, lines: Whole, gaps: Singles, least: float, score: Singles) -> Floats:
    """Half of the most that each candidate could add with a fitting one of each rod (candidates, rods)."""
    rods = starts.size - 1
    best = np.full((starts[rods], rods), DEAD)
    for q in range(rods):
        for r in range(q + 1, rods):
            for a in range(starts[q], starts[q + 1]):
                for b in range(starts[r], starts[r + 1]):
                    if gaps[lines[a], lines[b]] >= least:
                        half = 0.5 * score[lines[a], lines[b]]
                        best[a, r] = max(best[a, r], half)
                        best[b, q] = max(best[b, q], half)
    for r in range(rods):
        for a in range(starts[r], starts[r + 1]):
            best[a, r] = 0.0
    return best


@njit(**COMPILE)
def _root(
    starts: Whole, own: Floats, partner: Floats, open_: NDArray[np.int64], gain: Floats, worth: Floats, length: Whole,
    most: Floats,
) -> bool:  # fmt: skip
    """Open every candidate that has a fitting partner on every other rod; False if a rod is left without any."""
    for r in range(starts.size - 1):
        n = 0
        most[0, r] = DEAD
        for c in range(starts[r], starts[r + 1]):
            value = own[c] + partner[c].sum()
            if value > 0.5 * DEAD:
                open_[0, r, n], gain[0, r, n], worth[0, r, n] = c, own[c], value
                most[0, r] = max(most[0, r], value)
                n += 1
        length[0, r] = n
        if n == 0:
            return False
    return True


@njit(**COMPILE)
def _allowed(uses: Whole, used: Whole, limits: Whole, left: Whole, group: Whole, candidate: int) -> bool:
    """May the candidate's pieces still be taken? Beyond its count a piece counts as bought, up to the group's spare."""
    for k in range(uses.shape[1]):
        piece = uses[candidate, k]
        if piece >= 0 and used[piece] >= limits[piece] and left[group[piece]] <= 0:
            return False
    return True


@njit(**COMPILE)
def _take(uses: Whole, used: Whole, limits: Whole, left: Whole, group: Whole, candidate: int, sign: int) -> None:
    for k in range(uses.shape[1]):
        piece = uses[candidate, k]
        if piece >= 0:
            if sign > 0:
                if used[piece] >= limits[piece]:
                    left[group[piece]] -= 1
                used[piece] += 1
            else:
                used[piece] -= 1
                if used[piece] >= limits[piece]:
                    left[group[piece]] += 1


@njit(**COMPILE)
def _go_on(
    lines: Whole, gaps: Singles, least: float, score: Singles, uses: Whole, limits: Whole, group: Whole,
    partner: Floats, open_: NDArray[np.int64], gain: Floats, worth: Floats, length: Whole, most: Floats, at: Whole,
    rod_at: Whole, taken: Whole, done: NDArray[np.bool_], used: Whole, left: Whole, total: Floats, where: Whole,
    beat: float, step: float, nodes_allowed: int, chosen: Whole,
) -> tuple[int, float, int]:  # fmt: skip
    rods = done.size
    need = beat + step
    depth, entering = where[0], where[1] == 1
    nodes = 0
    # drop what has been found wanting since: everything from the first taken candidate that no longer fits
    for d in range(depth):
        if not _fits(lines, gaps, least, taken, d, taken[d]):
            while depth > d:
                done[rod_at[depth]] = False
                if taken[depth] >= 0:
                    _take(uses, used, limits, left, group, taken[depth], -1)
                    taken[depth] = -1
                depth -= 1
            entering = False
            break
    while depth >= 0:
        if entering:
            if nodes >= nodes_allowed:
                where[0], where[1] = depth, 1
                return GAVE_UP, beat, nodes
            nodes += 1
            rod = _narrowest(length[depth], done)
            rod_at[depth] = rod
            _best_first(open_[depth, rod], gain[depth, rod], worth[depth, rod], length[depth, rod])
            at[depth] = 0
            done[rod] = True
            entering = False
        elif taken[depth] >= 0:
            _take(uses, used, limits, left, group, taken[depth], -1)
            taken[depth] = -1
        rod = rod_at[depth]
        others = total[depth]
        for r in range(rods):
            if not done[r]:
                others += most[depth, r]
        moved = False
        while at[depth] < length[depth, rod]:
            i = at[depth]
            if others + worth[depth, rod, i] < need:
                break  # candidates come best first
            at[depth] += 1
            c = open_[depth, rod, i]
            if not _allowed(uses, used, limits, left, group, c) or not _fits(lines, gaps, least, taken, depth, c):
                continue
            value = total[depth] + gain[depth, rod, i]
            if depth == rods - 1:
                for d in range(rods):
                    chosen[rod_at[d]] = taken[d]
                chosen[rod] = c
                where[0], where[1] = depth, 0
                return FOUND, value, nodes
            _take(uses, used, limits, left, group, c, 1)
            if not _narrow(
                depth, lines[c], need - value, open_, gain, worth, length, most, done, lines, gaps, least, score, uses,
                used, limits, left, group, partner, rod,
            ):  # fmt: skip
                _take(uses, used, limits, left, group, c, -1)
                continue
            taken[depth] = c
            total[depth + 1] = value
            depth += 1
            entering = moved = True
            break
        if not moved:
            done[rod] = False
            depth -= 1
    where[0] = -1
    return NONE, beat, nodes


@njit(**COMPILE)
def _fits(lines: Whole, gaps: Singles, least: float, taken: Whole, depth: int, candidate: int) -> bool:
    fits = True
    for d in range(depth):
        fits = fits and gaps[lines[taken[d]], lines[candidate]] >= least
    return fits


@njit(**COMPILE)
def _narrow(
    depth: int, line: int, need: float, open_: NDArray[np.int64], gain: Floats, worth: Floats, length: Whole,
    most: Floats, done: NDArray[np.bool_], lines: Whole, gaps: Singles, least: float, score: Singles, uses: Whole,
    used: Whole, limits: Whole, left: Whole, group: Whole, partner: Floats, rod: int,
) -> bool:  # fmt: skip
    """Close what no longer fits once `line` is taken on `rod`, or can no longer add `need`; False for a dead end."""
    reach = 0.0
    for r in range(done.size):
        if done[r]:
            continue
        n = 0
        high = DEAD
        for i in range(length[depth, r]):
            o = open_[depth, r, i]
            if gaps[line, lines[o]] >= least and _allowed(uses, used, limits, left, group, o):
                more = score[line, lines[o]]
                value = worth[depth, r, i] + more - partner[o, rod]
                open_[depth + 1, r, n] = o
                gain[depth + 1, r, n] = gain[depth, r, i] + more
                worth[depth + 1, r, n] = value
                high = max(high, value)
                n += 1
        length[depth + 1, r] = n
        most[depth + 1, r] = high
        reach += high
        if n == 0:
            return False
    if reach < need:
        return False
    for r in range(done.size):
        if done[r]:
            continue
        n = 0
        rest = reach - most[depth + 1, r]
        for i in range(length[depth + 1, r]):
            if worth[depth + 1, r, i] + rest >= need:
                open_[depth + 1, r, n] = open_[depth + 1, r, i]
                gain[depth + 1, r, n] = gain[depth + 1, r, i]
                worth[depth + 1, r, n] = worth[depth + 1, r, i]
                n += 1
        length[depth + 1, r] = n
    return True


@njit(**COMPILE)
def _narrowest(length: Whole, done: NDArray[np.bool_]) -> int:
    rod, fewest = -1, 1 << 60
    for r in range(length.size):
        if not done[r] and length[r] < fewest:
            rod, fewest = r, length[r]
    return rod


@njit(**COMPILE)
def _best_first(open_: Whole, gain: Floats, worth: Floats, n: int) -> None:
    ranks = np.argsort(-worth[:n], kind="mergesort")
    order, gains, worths = open_[:n].copy(), gain[:n].copy(), worth[:n].copy()
    for i in range(n):
        open_[i], gain[i], worth[i] = order[ranks[i]], gains[ranks[i]], worths[ranks[i]]
