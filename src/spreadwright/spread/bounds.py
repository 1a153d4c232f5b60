"""What an unfinished spread can still be worth: bounds that close candidates in the search's tree.

A pair's score is shared half and half by its two candidates. So what a free rod can add is never more than the most
of: what a candidate gains with those taken, and half of its best score with any candidate still open on each other free
rod. That best partner is looked for anew at every branch. To make it cheap, scores are rounded up to a few levels, and
whom a candidate reaches each level with is a row of bits, 64 candidates a word. How well the pieces can still be liked
is bounded by their counts.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE

Whole = NDArray[np.int64]
Singles = NDArray[np.float32]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Bits = NDArray[np.uint64]

DEAD = -1e30  # worth of a candidate that no spread can hold
ROUNDS = 4  # of closing: what is closed may close others
ROUNDING = 1e-9
ANY = -1e20  # the mark that every spread reaches
LEVELS = 4  # that scores are rounded up to, at most
WORD = 64


class Given(NamedTuple):
    """A problem as the kernels take it (see branch.Problem).

    own (candidates): how well each is liked for all its pieces; favourites (pieces): the best liked first; levels:
    half of the scores told apart, the highest first; reach (levels, candidates, words): with whom a candidate has that
    level or more; words (rods + 1): the first word of each rod; bit (candidates): the place among all bits.
    """

    starts: Whole
    lines: Whole
    gaps: Singles
    score: Singles
    uses: Whole
    limits: Whole
    liked: Floats
    group: Whole
    own: Floats
    favourites: Whole
    levels: Floats
    reach: Bits
    words: Whole
    bit: Whole


class Work(NamedTuple):
    """Where a tree stands, depth by depth.

    open, gain, worth (depths, rods, candidates of a rod): what is open, what it adds with those taken, and with half of
    its best partners; level (depths, rods, candidates of a rod, rods): that of the best partner; length (depths, rods);
    most (depths, rods): the largest worth; alive (depths, words): a bit for each candidate that is open; at, rod_at,
    taken (rods): the place, rod and candidate at each depth; done (rods): has a candidate; used (pieces), left
    (groups): pieces taken, and what may still be bought; total, fond (depths): worth and liking of those taken; where:
    the depth, and whether it is being entered.
    """

    open: Whole
    gain: Floats
    worth: Floats
    level: NDArray[np.int8]
    length: Whole
    most: Floats
    alive: Bits
    at: Whole
    rod_at: Whole
    taken: Whole
    done: Flags
    used: Whole
    left: Whole
    total: Floats
    fond: Floats
    where: Whole


@njit(**COMPILE)
def allowed(uses: Whole, limits: Whole, group: Whole, used: Whole, left: Whole, candidate: int) -> bool:
    """May the candidate's pieces still be taken? Beyond its count a piece counts as bought, up to the group's spare."""
    for k in range(uses.shape[1]):
        piece = uses[candidate, k]
        if piece >= 0 and used[piece] >= limits[piece] and left[group[piece]] <= 0:
            return False
    return True


@njit(**COMPILE)
def fill_reach(given: Given, least: float, spare: Whole) -> None:
    """Set the bits: who fits whom, by gaps [m] and by the counts of a piece that both use, and with which score."""
    starts, lines, gaps, score, levels = given.starts, given.lines, given.gaps, given.score, given.levels
    uses, limits, group, reach, bit = given.uses, given.limits, given.group, given.reach, given.bit
    rods = starts.size - 1
    for q in range(rods):
        for r in range(q):
            for a in range(starts[q], starts[q + 1]):
                for b in range(starts[r], starts[r + 1]):
                    value = 0.5 * score[lines[a], lines[b]]
                    if gaps[lines[a], lines[b]] < least or not _pieces_for_both(uses, limits, group, spare, a, b):
                        continue
                    for k in range(levels.size):
                        if k == levels.size - 1 or value > levels[k + 1]:
                            reach[k, a, bit[b] // WORD] |= np.uint64(1) << np.uint64(bit[b] % WORD)
                            reach[k, b, bit[a] // WORD] |= np.uint64(1) << np.uint64(bit[a] % WORD)


@njit(**COMPILE)
def _pieces_for_both(uses: Whole, limits: Whole, group: Whole, spare: Whole, a: int, b: int) -> bool:
    for k in range(uses.shape[1]):
        piece = uses[a, k]
        if piece >= 0 and piece == uses[b, k] and 2 - limits[piece] > spare[group[piece]]:
            return False
    return True


@njit(**COMPILE)
def _level(reach: Bits, words: Whole, alive: Bits, depth: int, candidate: int, rod: int, first: int) -> int:
    """The level that a candidate reaches with one open on `rod`; `first` is what it cannot be above."""
    for k in range(first, reach.shape[0]):
        for w in range(words[rod], words[rod + 1]):
            if reach[k, candidate, w] & alive[depth, w]:
                return k
    return reach.shape[0]


@njit(**COMPILE)
def liked_most(given: Given, work: Work, free: int) -> float:
    """The most that the pieces of `free` more rods can be liked: of each group the best liked ones that are left."""
    best = 0.0
    taken = np.zeros(work.left.size, dtype=np.int64)
    for f in range(given.favourites.size):
        piece = given.favourites[f]
        if given.liked[piece] <= 0.0:
            break
        group = given.group[piece]
        over = work.used[piece] - given.limits[piece]
        there = max(-over, 0)
        if taken[group] == 0:
            there += work.left[group]  # all that may be bought, of the best
        some = min(there, free - taken[group])
        best += some * given.liked[piece]
        taken[group] += some
    return best


@njit(**COMPILE)
def open_all(given: Given, work: Work) -> bool:
    """Open every candidate whose pieces there are, at the root; False if a rod is left without any."""
    rods = given.starts.size - 1
    for r in range(rods):
        n = 0
        for c in range(given.starts[r], given.starts[r + 1]):
            if allowed(given.uses, given.limits, given.group, work.used, work.left, c):
                work.open[0, r, n] = c
                work.alive[0, given.bit[c] // WORD] |= np.uint64(1) << np.uint64(given.bit[c] % WORD)
                n += 1
        work.length[0, r] = n
        if n == 0:
            return False
    return close(given, work, 0, 2.0 * ANY, 2.0 * ANY)


@njit(**COMPILE)
def narrow(
    given: Given, work: Work, least: float, depth: int, candidate: int, need: float, wish: float
) -> bool:  # fmt: skip
    """Open one deeper what fits once `candidate` is taken; False where nothing can add `need` and be liked `wish`."""
    lines, gaps, score, bit = given.lines, given.gaps, given.score, given.bit
    uses, limits, group, used, left = given.uses, given.limits, given.group, work.used, work.left
    open_, gain, level, length, done, alive = work.open, work.gain, work.level, work.length, work.done, work.alive
    line = lines[candidate]
    rods = done.size
    alive[depth + 1, :] = 0
    for r in range(rods):
        if done[r]:
            continue
        n = 0
        for i in range(length[depth, r]):
            c = open_[depth, r, i]
            other = lines[c]
            if gaps[line, other] >= least and allowed(uses, limits, group, used, left, c):
                open_[depth + 1, r, n] = c
                gain[depth + 1, r, n] = gain[depth, r, i] + score[line, other]
                for s in range(rods):
                    level[depth + 1, r, n, s] = level[depth, r, i, s]
                alive[depth + 1, bit[c] // WORD] |= np.uint64(1) << np.uint64(bit[c] % WORD)
                n += 1
        length[depth + 1, r] = n
        if n == 0:
            return False
    return close(given, work, depth + 1, need, wish)


@njit(**COMPILE)
def close(given: Given, work: Work, depth: int, need: float, wish: float) -> bool:
    """Close what cannot be part of a spread that adds `need` and is liked `wish`; False where a rod is left without."""
    rods = work.done.size
    free = rods - depth
    if liked_most(given, work, free) < wish:
        return False
    rest_liked = liked_most(given, work, free - 1)
    for turn in range(ROUNDS):
        reach = _weigh(given, work, depth, turn > 0)
        if reach < need:
            return False
        before = 0
        after = 0
        for r in range(rods):
            if not work.done[r]:
                before += work.length[depth, r]
                _keep(given, work, depth, r, need - reach + work.most[depth, r], wish - rest_liked)
                after += work.length[depth, r]
                if work.length[depth, r] == 0:
                    return False
        if turn > 0 and after == before:
            break
    return True


@njit(**COMPILE)
def _weigh(given: Given, work: Work, depth: int, anew: bool) -> float:
    """Set the worth of all that is open; returns what the free rods can add together. anew: look for partners again."""
    # taken out of their tuples once: each look into a tuple costs a count of references
    done, length, open_, gain, worth, most = work.done, work.length, work.open, work.gain, work.worth, work.most
    level, alive, reach, words, levels = work.level, work.alive, given.reach, given.words, given.levels
    rods = done.size
    every = 0.0
    for r in range(rods):
        if done[r]:
            continue
        high = DEAD
        for i in range(length[depth, r]):
            c = open_[depth, r, i]
            value = gain[depth, r, i]
            for s in range(rods):
                if s != r and not done[s]:
                    k = level[depth, r, i, s]
                    if anew:
                        k = _level(reach, words, alive, depth, c, s, k)
                        level[depth, r, i, s] = k
                    if k == levels.size:
                        value = DEAD
                        break
                    value += levels[k]
            worth[depth, r, i] = value
            high = max(high, value)
        most[depth, r] = high
        every += high
    return every


@njit(**COMPILE)
def _keep(given: Given, work: Work, depth: int, rod: int, need: float, wish: float) -> None:
    """Keep open on a rod what is worth `need` and liked `wish` at least."""
    open_, gain, worth, level, alive = work.open, work.gain, work.worth, work.level, work.alive
    own, bit, rods = given.own, given.bit, work.done.size
    n = 0
    for i in range(work.length[depth, rod]):
        c = open_[depth, rod, i]
        if worth[depth, rod, i] >= need and own[c] >= wish:
            if n < i:
                open_[depth, rod, n] = c
                gain[depth, rod, n] = gain[depth, rod, i]
                worth[depth, rod, n] = worth[depth, rod, i]
                for s in range(rods):
                    level[depth, rod, n, s] = level[depth, rod, i, s]
            n += 1
        else:
            alive[depth, bit[c] // WORD] &= ~(np.uint64(1) << np.uint64(bit[c] % WORD))
    work.length[depth, rod] = n
