"""Branch and bound over one rig a rod: any spread that keeps its gaps, or the one that scores most.

Candidates are numbered rod by rod. Two candidates fit when their rods differ, their lines keep the wished gap, and
together with all the others they do not use more pieces than there are. The search takes the rod with the fewest
candidates left, tries them best first, and gives up a branch when some rod has none left or when even the best that
the rest could add would not beat what was found. It is exact: what it returns is the best, unless `most` nodes were
not enough, and it says so.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE

Whole = NDArray[np.int64]
Singles = NDArray[np.float32]

FOUND, NONE, GAVE_UP = 1, 0, -1


@njit(**COMPILE)
def _allowed(uses: Whole, used: Whole, limits: Whole, spare: Whole, group: Whole, candidate: int) -> bool:
    """May the candidate's pieces still be taken? Beyond its count a piece counts as bought, up to the group's spare."""
    for k in range(uses.shape[1]):
        piece = uses[candidate, k]
        if piece >= 0 and used[piece] >= limits[piece] and spare[group[piece]] <= 0:
            return False
    return True


@njit(**COMPILE)
def _take(uses: Whole, used: Whole, limits: Whole, spare: Whole, group: Whole, candidate: int, sign: int) -> None:
    for k in range(uses.shape[1]):
        piece = uses[candidate, k]
        if piece >= 0:
            if sign > 0:
                if used[piece] >= limits[piece]:
                    spare[group[piece]] -= 1
                used[piece] += 1
            else:
                used[piece] -= 1
                if used[piece] >= limits[piece]:
                    spare[group[piece]] += 1


@njit(**COMPILE)
def best_spread(
    starts: Whole, gaps: Singles, lines: Whole, least: float, score: Singles, own: Singles,
    uses: Whole, limits: Whole, spare: Whole, group: Whole, beat: float, most: int, any_will_do: bool, chosen: Whole,
) -> tuple[int, float, int]:  # fmt: skip
    """The spread of the highest score above `beat` with every gap at least `least` [m].

    starts (rods + 1): first candidate of each rod; gaps (lines, lines) upper bounds [m]; lines (candidates): the line
    of each; score (lines, lines): what each pair adds, own (candidates): what each adds alone; uses (candidates,
    kinds): pieces used, -1 for none; limits (pieces): how many there are; spare (groups): how many may be bought;
    group (pieces). The answer is written to `chosen` (rods). With
    `any_will_do` the first spread found is taken.
    Returns FOUND, NONE or GAVE_UP, the score, and the nodes visited.
    """
    rods = starts.size - 1
    count = starts[rods]
    open_ = np.zeros((rods + 1, count), dtype=np.bool_)
    gain = np.zeros((rods + 1, count), dtype=np.float32)
    open_[0, :] = True
    gain[0, :] = own
    order = np.zeros((rods, count), dtype=np.int64)
    length = np.zeros(rods, dtype=np.int64)
    at = np.zeros(rods, dtype=np.int64)
    rod_at = np.full(rods, -1, dtype=np.int64)
    taken = np.full(rods, -1, dtype=np.int64)
    done = np.zeros(rods, dtype=np.bool_)
    used = np.zeros(limits.size, dtype=np.int64)
    left = spare.copy()
    best_pair = _best_pairs(starts, lines, gaps, least, score)
    best, state, nodes, depth = beat, NONE, 0, 0
    total = np.zeros(rods + 1)
    entering = True
    while depth >= 0:
        if entering:
            nodes += 1
            if nodes > most:
                return GAVE_UP, best, nodes
            rod = _narrowest(starts, open_[depth], done)
            rod_at[depth] = rod
            a, b = starts[rod], starts[rod + 1]
            n = 0
            for c in range(a, b):
                if open_[depth, c] and _allowed(uses, used, limits, left, group, c):
                    order[depth, n] = c
                    n += 1
            length[depth] = n
            _sort_by_gain(order[depth], n, gain[depth])
            at[depth] = 0
            done[rod] = True
            entering = False
        elif taken[depth] >= 0:
            _take(uses, used, limits, left, group, taken[depth], -1)
            taken[depth] = -1
        moved = False
        while at[depth] < length[depth]:
            c = order[depth, at[depth]]
            at[depth] += 1
            value = total[depth] + gain[depth, c]
            if depth == rods - 1:
                if value > best:
                    best, state = value, FOUND
                    taken[depth] = c
                    for d in range(rods):
                        chosen[rod_at[d]] = taken[d]
                    taken[depth] = -1
                    if any_will_do:
                        return state, best, nodes
                break  # candidates come best first
            line = lines[c]
            rest, dead = 0.0, False
            for r in range(rods):
                if done[r]:
                    continue
                high = -1e30
                for o in range(starts[r], starts[r + 1]):
                    fits = open_[depth, o] and gaps[line, lines[o]] >= least
                    open_[depth + 1, o] = fits
                    if fits:
                        more = gain[depth, o] + score[line, lines[o]]
                        gain[depth + 1, o] = more
                        high = max(high, more)
                if high < -1e29:
                    dead = True
                    break
                rest += high
                for q in range(r):
                    if not done[q]:
                        rest += best_pair[q, r]
            if dead or value + rest <= best:
                continue
            _take(uses, used, limits, left, group, c, 1)
            taken[depth] = c
            total[depth + 1] = value
            depth += 1
            entering = moved = True
            break
        if not moved:
            done[rod_at[depth]] = False
            depth -= 1
    return state, best, nodes


@njit(**COMPILE)
def _narrowest(starts: Whole, open_: NDArray[np.bool_], done: NDArray[np.bool_]) -> int:
    rod, fewest = -1, 1 << 60
    for r in range(starts.size - 1):
        if not done[r]:
            n = 0
            for c in range(starts[r], starts[r + 1]):
                n += open_[c]
            if n < fewest:
                rod, fewest = r, n
    return rod


@njit(**COMPILE)
def _sort_by_gain(order: Whole, n: int, gain: Singles) -> None:
    keys = np.empty(n, dtype=np.float32)
    for i in range(n):
        keys[i] = -gain[order[i]]
    ranks = np.argsort(keys, kind="mergesort")
    copy = order[:n].copy()
    for i in range(n):
        order[i] = copy[ranks[i]]


@njit(**COMPILE)
def _best_pairs(starts: Whole, lines: Whole, gaps: Singles, least: float, score: Singles) -> NDArray[np.float64]:
    """The most that any fitting pair of two rods adds (rods, rods)."""
    rods = starts.size - 1
    best = np.zeros((rods, rods))
    for q in range(rods):
        for r in range(q + 1, rods):
            high = -1e30
            for a in range(starts[q], starts[q + 1]):
                for b in range(starts[r], starts[r + 1]):
                    if gaps[lines[a], lines[b]] >= least:
                        high = max(high, score[lines[a], lines[b]])
            best[q, r] = best[r, q] = high
    return best
