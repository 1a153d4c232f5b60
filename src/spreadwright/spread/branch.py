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
    uses: Whole, limits: Whole, spare: Whole, group: Whole, beat: float, step: float, most: int, any_will_do: bool,
    chosen: Whole,
) -> tuple[int, float, int]:  # fmt: skip
    """The spread of the highest score, at least `step` above `beat`, with every gap at least `least` [m].

    starts (rods + 1): first candidate of each rod; gaps (lines, lines) upper bounds [m]; lines (candidates): the line
    of each; score (lines, lines): what each pair adds, own (candidates): what each adds alone; uses (candidates,
    kinds): pieces used, -1 for none; limits (pieces): how many there are; spare (groups): how many may be bought;
    group (pieces). A better spread counts only if it is better by `step` [-]. The answer is written to `chosen`
    (rods). With `any_will_do` the first spread found is taken.
    Returns FOUND, NONE or GAVE_UP, the score, and the nodes visited.
    """
    rods = starts.size - 1
    widest = 0
    for r in range(rods):
        widest = max(widest, starts[r + 1] - starts[r])
    # what is still open at each depth: for each rod its candidates and what each would add, closely packed
    open_ = np.zeros((rods + 1, rods, widest), dtype=np.int64)
    gain = np.zeros((rods + 1, rods, widest), dtype=np.float64)
    length = np.zeros((rods + 1, rods), dtype=np.int64)
    for r in range(rods):
        for c in range(starts[r], starts[r + 1]):
            open_[0, r, c - starts[r]] = c
            gain[0, r, c - starts[r]] = own[c]
        length[0, r] = starts[r + 1] - starts[r]
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
            rod = _narrowest(length[depth], done)
            rod_at[depth] = rod
            _best_first(open_[depth, rod], gain[depth, rod], length[depth, rod])
            at[depth] = 0
            done[rod] = True
            entering = False
        elif taken[depth] >= 0:
            _take(uses, used, limits, left, group, taken[depth], -1)
            taken[depth] = -1
        rod = rod_at[depth]
        moved = False
        while at[depth] < length[depth, rod]:
            c = open_[depth, rod, at[depth]]
            value = total[depth] + gain[depth, rod, at[depth]]
            at[depth] += 1
            if not _allowed(uses, used, limits, left, group, c):
                continue
            if depth == rods - 1:
                if value >= best + step:
                    best, state = value, FOUND
                    taken[depth] = c
                    for d in range(rods):
                        chosen[rod_at[d]] = taken[d]
                    taken[depth] = -1
                    if any_will_do:
                        return state, best, nodes
                break  # candidates come best first
            _take(uses, used, limits, left, group, c, 1)
            rest = _narrow(
                depth, lines[c], open_, gain, length, done, lines, gaps, least, score, uses, used, limits, left, group,
                best_pair,
            )  # fmt: skip
            if value + rest < best + step:
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
    return state, best, nodes


@njit(**COMPILE)
def _narrow(
    depth: int, line: int, open_: NDArray[np.int64], gain: NDArray[np.float64], length: Whole,
    done: NDArray[np.bool_], lines: Whole, gaps: Singles, least: float, score: Singles, uses: Whole, used: Whole,
    limits: Whole, left: Whole, group: Whole, best_pair: NDArray[np.float64],
) -> float:  # fmt: skip
    """Close what no longer fits once `line` is taken; returns the most that the rest can add, -1e30 for a dead end."""
    rods = done.size
    rest = 0.0
    for r in range(rods):
        if done[r]:
            continue
        n = 0
        high = -1e30
        for i in range(length[depth, r]):
            o = open_[depth, r, i]
            if gaps[line, lines[o]] >= least and _allowed(uses, used, limits, left, group, o):
                more = gain[depth, r, i] + score[line, lines[o]]
                open_[depth + 1, r, n] = o
                gain[depth + 1, r, n] = more
                high = max(high, more)
                n += 1
        length[depth + 1, r] = n
        if n == 0:
            return -1e30
        rest += high
        for q in range(r):
            if not done[q]:
                rest += best_pair[q, r]
    return rest


@njit(**COMPILE)
def _narrowest(length: Whole, done: NDArray[np.bool_]) -> int:
    rod, fewest = -1, 1 << 60
    for r in range(length.size):
        if not done[r] and length[r] < fewest:
            rod, fewest = r, length[r]
    return rod


@njit(**COMPILE)
def _best_first(open_: Whole, gain: NDArray[np.float64], n: int) -> None:
    ranks = np.argsort(-gain[:n], kind="mergesort")
    order, gains = open_[:n].copy(), gain[:n].copy()
    for i in range(n):
        open_[i] = order[ranks[i]]
        gain[i] = gains[ranks[i]]


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
