"""Branch and bound over one rig a rod: a tree that hands out spreads that beat two marks, one after the other.

Candidates are numbered rod by rod. Two fit when their rods differ, their lines keep the wished gap, and together with
all the others they do not use more pieces than there are. A spread is worth the sum of its pairs' scores, and liked for
its pieces; the tree hands out those that reach a mark in both. It takes the rod with the fewest candidates left, tries
them best first, and closes what cannot reach the marks any more (see bounds.py).
Gaps are upper bounds that may become smaller while the search rests: what was handed out and found wanting is dropped
and the search goes on from there. It is exact: when it ends, nothing reaches the marks; or it says that it gave up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.spread.bounds import LEVELS, ROUNDING, WORD, Given, Work, allowed, fill_reach, narrow, open_all
from spreadwright.tow.lanes import COMPILE

Whole = NDArray[np.int64]
Singles = NDArray[np.float32]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

FOUND, NONE, GAVE_UP = 1, 0, -1


@dataclass(frozen=True)
class Problem:
    """What is searched.

    starts (rods + 1): first candidate of each rod; lines (candidates): the line of each; gaps (lines, lines): upper
    bounds [m], which may shrink while a tree rests; score (lines, lines): what each pair adds; uses (candidates,
    kinds): pieces used, one of a group at most, -1 for none; limits (pieces): how many there are; liked (pieces): how
    well each is liked, 0 or more; group (pieces): which group a piece belongs to; spare (groups): how many pieces
    beyond their counts may be taken.
    """

    starts: Whole
    lines: Whole
    gaps: Singles
    score: Singles
    uses: Whole
    limits: Whole
    liked: Floats
    group: Whole
    spare: Whole


class Tree:
    """The search of one problem for spreads whose gaps are all at least `least` [m]; `nodes` counts its work."""

    def __init__(self, problem: Problem, least: float) -> None:
        self.problem, self.least, self.nodes = problem, least, 0
        p, rods = problem, len(problem.starts) - 1
        widest = int(np.diff(p.starts).max()) if rods else 0
        own = np.where(p.uses >= 0, p.liked[p.uses], 0.0).sum(axis=1)
        count = np.diff(p.starts)
        words = np.concatenate([[0], np.cumsum(-(-count // WORD))])
        bit = np.arange(len(p.lines)) + np.repeat(WORD * words[:-1] - p.starts[:-1], count)
        levels = _levels(p.score)
        self._given = Given(
            p.starts, p.lines, p.gaps, p.score, p.uses, p.limits, p.liked, p.group, own,
            np.argsort(-p.liked, kind="stable"), levels,
            np.zeros((len(levels), len(p.lines), words[-1]), dtype=np.uint64), words, bit,
        )  # fmt: skip
        fill_reach(self._given, least, p.spare)
        places = (rods + 1, rods, widest)
        self._work = Work(
            np.zeros(places, dtype=np.int64), np.zeros(places), np.zeros(places),
            np.zeros((*places, rods), dtype=np.int8), np.zeros((rods + 1, rods), dtype=np.int64),
            np.zeros((rods + 1, rods)), np.zeros((rods + 1, words[-1]), dtype=np.uint64),
            np.full(rods, -1, dtype=np.int64), np.full(rods, -1, dtype=np.int64), np.full(rods, -1, dtype=np.int64),
            np.zeros(rods, dtype=np.bool_), np.zeros(len(p.limits), dtype=np.int64), p.spare.copy(),
            np.zeros(rods + 1), np.zeros(rods + 1), np.array([0, 1], dtype=np.int64),
        )  # fmt: skip
        if not open_all(self._given, self._work):
            self._work.where[0] = -1

    def next(self, worth: float, liked: float, most: int) -> tuple[int, Whole]:
        """The next spread worth `worth` and liked `liked` or more: FOUND and its candidates, a rod each.

        NONE: there is none, or none is left; GAVE_UP: `most` nodes were not enough, and more may be asked for.
        """
        chosen = np.full(len(self.problem.starts) - 1, -1, dtype=np.int64)
        state, nodes = _go_on(self._given, self._work, self.least, worth - ROUNDING, liked - ROUNDING, most, chosen)
        self.nodes += int(nodes)
        return int(state), chosen

    def bound(self) -> float:
        """What no spread can be worth more than, as far as the root knows."""
        return float(self._work.most[0].sum())


def _levels(score: Singles) -> Floats:
    """Half of the scores told apart, the highest first; where there are many, a few that others are rounded up to."""
    different = np.unique(score)[::-1]
    return 0.5 * different[:: -(-len(different) // LEVELS)].astype(float)


@njit(**COMPILE)
def _take(given: Given, work: Work, candidate: int, sign: int) -> None:
    for k in range(given.uses.shape[1]):
        piece = given.uses[candidate, k]
        if piece >= 0:
            if sign > 0:
                if work.used[piece] >= given.limits[piece]:
                    work.left[given.group[piece]] -= 1
                work.used[piece] += 1
            else:
                work.used[piece] -= 1
                if work.used[piece] >= given.limits[piece]:
                    work.left[given.group[piece]] += 1


@njit(**COMPILE)
def _let_go(given: Given, work: Work, depth: int) -> None:
    """Give back what is taken at a depth, if anything is."""
    if work.taken[depth] >= 0:
        _take(given, work, work.taken[depth], -1)
        work.taken[depth] = -1


@njit(**COMPILE)
def _go_on(
    given: Given, work: Work, least: float, worth: float, liked: float, nodes_allowed: int, chosen: Whole
) -> tuple[int, int]:  # fmt: skip
    """From where the tree rests to the next spread; fills `chosen`. Returns the state and the nodes visited."""
    uses, limits, group, used, left = given.uses, given.limits, given.group, work.used, work.left
    rods = work.done.size
    depth, entering = _back_to_what_fits(given, work, least)
    nodes = 0
    while depth >= 0:
        if entering:
            if nodes >= nodes_allowed:
                work.where[0], work.where[1] = depth, 1
                return GAVE_UP, nodes
            nodes += 1
            _enter(work, depth)
        else:
            _let_go(given, work, depth)
        entering = False
        rod = work.rod_at[depth]
        others = work.total[depth]
        for r in range(rods):
            if not work.done[r]:
                others += work.most[depth, r]
        while work.at[depth] < work.length[depth, rod]:
            i = work.at[depth]
            if others + work.worth[depth, rod, i] < worth:
                break  # candidates come best first
            work.at[depth] += 1
            c = work.open[depth, rod, i]
            if not allowed(uses, limits, group, used, left, c) or not _fits(given, work, least, depth, c):
                continue
            work.total[depth + 1] = work.total[depth] + work.gain[depth, rod, i]
            work.fond[depth + 1] = work.fond[depth] + given.own[c]
            if depth == rods - 1:
                if work.fond[depth + 1] < liked:
                    continue
                for d in range(depth):
                    chosen[work.rod_at[d]] = work.taken[d]
                chosen[rod] = c
                work.where[0], work.where[1] = depth, 0
                return FOUND, nodes
            _take(given, work, c, 1)
            if narrow(given, work, least, depth, c, worth - work.total[depth + 1], liked - work.fond[depth + 1]):
                work.taken[depth] = c
                entering = True
                break
            _take(given, work, c, -1)
        if entering:
            depth += 1
        else:
            work.done[rod] = False
            depth -= 1
    work.where[0] = -1
    return NONE, nodes


@njit(**COMPILE)
def _back_to_what_fits(given: Given, work: Work, least: float) -> tuple[int, bool]:
    """Drop what was found wanting while the tree rested: all from the first taken candidate that no longer fits."""
    depth, entering = work.where[0], work.where[1] == 1
    for d in range(depth):
        if not _fits(given, work, least, d, work.taken[d]):
            while depth > d:
                if not entering:
                    work.done[work.rod_at[depth]] = False
                _let_go(given, work, depth)
                entering = False
                depth -= 1
            break
    return depth, entering


@njit(**COMPILE)
def _enter(work: Work, depth: int) -> None:
    """Take up the rod with the fewest open candidates, and put them in order, the best first."""
    rod, fewest = -1, 1 << 60
    for r in range(work.done.size):
        if not work.done[r] and work.length[depth, r] < fewest:
            rod, fewest = r, work.length[depth, r]
    work.rod_at[depth] = rod
    work.at[depth] = 0
    work.done[rod] = True
    n = work.length[depth, rod]
    ranks = np.argsort(-work.worth[depth, rod, :n], kind="mergesort")
    opened, gains, worths = (
        work.open[depth, rod, :n].copy(), work.gain[depth, rod, :n].copy(), work.worth[depth, rod, :n].copy()
    )  # fmt: skip
    for i in range(n):
        work.open[depth, rod, i] = opened[ranks[i]]
        work.gain[depth, rod, i] = gains[ranks[i]]
        work.worth[depth, rod, i] = worths[ranks[i]]


@njit(**COMPILE)
def _fits(given: Given, work: Work, least: float, depth: int, candidate: int) -> bool:
    fits = True
    for d in range(depth):
        fits = fits and given.gaps[given.lines[work.taken[d]], given.lines[candidate]] >= least
    return fits
