"""Better spreads by small changes: one rod at a time for a wider smallest gap, one or two for more worth.

A climb proves nothing. It hands the search a good spread to beat, and where the search gives up, a better answer.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from spreadwright.spread.board import Board, Whole, affordable
from spreadwright.spread.pairs import PairGaps

STEP = 0.001  # [m] gaps are told apart to a millimetre
MOST_TRIALS = 40  # better spreads looked at in full for one move


class Climber:
    """Changes spreads of one board for the better. scores (lines, lines), own (rows): what pairs and rows are worth."""

    def __init__(
        self, board: Board, gaps: PairGaps, scores: NDArray[np.float32], own: NDArray[np.float64], spare: Whole
    ) -> None:
        self.board, self.gaps, self.scores, self.own, self.spare = board, gaps, scores, own, spare

    def smallest(self, chosen: Whole, floor: float = -1.0) -> float:
        """The spread's smallest gap in full [m], or an upper bound under `floor`."""
        return self.tightest(chosen, floor)[0]

    def tightest(self, chosen: Whole, floor: float = -1.0) -> tuple[float, tuple[int, int]]:
        """The spread's smallest gap [m] and the rods that have it; looks no further once it is under `floor`."""
        lines = self.board.lines[chosen]
        gap, tight = self.gaps.enough, (0, 0)
        pairs = sorted((float(self.gaps.upper[lines[i], lines[j]]), i, j) for i in range(len(lines)) for j in range(i))
        for _, i, j in pairs:  # the likely tightest first, as a pair under the floor ends it
            found = self.gaps.gap(int(lines[i]), int(lines[j]), floor)
            if found < gap:
                gap, tight = found, (i, j)
                if gap < floor:
                    break
        return gap, tight

    def worth(self, chosen: Whole) -> float:
        """What a spread is worth: its pairs and what each row is worth alone."""
        lines = self.board.lines[chosen]
        return float(np.triu(self.scores[np.ix_(lines, lines)], 1).sum() + self.own[chosen].sum())

    def widen(self, start: Whole) -> Whole:
        """Change one rod at a time as long as the smallest gap grows: the rods of the tightest pair first."""
        best = start.copy()
        better = True
        while better:
            better = False
            gap, tight = self.tightest(best)
            if gap >= self.gaps.enough:
                break
            for rod in [*tight, *(r for r in range(len(best)) if r not in tight)]:
                trial = self._wider(best, rod, gap)
                if trial is not None:
                    best, better = trial, True
                    break
        return best

    def _wider(self, chosen: Whole, rod: int, gap: float) -> Whole | None:
        """The spread with another rig on one rod and a wider smallest gap, or None."""
        others = self.board.lines[np.delete(chosen, rod)]
        rest = min((self.gaps.gap(int(a), int(b)) for i, a in enumerate(others) for b in others[:i]), default=1e9)
        if rest <= gap + STEP:
            return None
        own = np.arange(self.board.starts[rod], self.board.starts[rod + 1])
        bound = self.gaps.upper[np.ix_(self.board.lines[own], others)].min(axis=1)
        best, best_gap = None, gap + STEP
        for i in np.argsort(-bound, kind="stable"):
            if bound[i] <= best_gap:
                break
            trial = chosen.copy()
            trial[rod] = own[i]
            if affordable(self.board, self.spare, trial):
                line = int(self.board.lines[own[i]])
                found = min(self.gaps.gap(line, int(other), best_gap) for other in others)
                if min(found, rest) > best_gap:
                    best, best_gap = trial, min(found, rest)
        return best

    def climb(self, least: float, start: Whole) -> Whole:
        """Change one rod, or two at once, until no change is worth more and keeps the gap `least` [m]."""
        best, value = start.copy(), self.worth(start)
        rods = range(len(best))
        better = True
        while better:
            better = False
            for changed in [*((rod,) for rod in rods), *((q, r) for q in rods for r in range(q))]:
                for trial, gain in self._moves(best, changed, least):
                    if gain <= value + 1e-5:
                        break
                    if affordable(self.board, self.spare, trial) and self.smallest(trial, least) >= least:
                        best, value, better = trial, gain, True
                        break
        return best

    def _moves(self, chosen: Whole, changed: tuple[int, ...], least: float) -> Iterator[tuple[Whole, float]]:
        """Spreads with other rigs on the changed rods whose bounds keep the gap, and their worth, best first."""
        kept = self.board.lines[np.delete(chosen, changed)]
        rest = np.triu(self.scores[np.ix_(kept, kept)], 1).sum() + self.own[np.delete(chosen, changed)].sum()
        own, gains = [], []
        for rod in changed:
            every = np.arange(self.board.starts[rod], self.board.starts[rod + 1])
            lines = self.board.lines[every]
            fits = (self.gaps.upper[np.ix_(lines, kept)] >= least).all(axis=1)
            own.append(every[fits])
            gains.append((self.scores[np.ix_(lines, kept)].sum(axis=1) + self.own[every])[fits])
        if len(changed) == 1:
            values = gains[0] + rest
        else:
            a, b = (self.board.lines[each] for each in own)
            both = gains[0][:, None] + gains[1][None, :] + self.scores[np.ix_(a, b)] + rest
            values = np.where(self.gaps.upper[np.ix_(a, b)] >= least, both, -np.inf).ravel()
        for i in np.argsort(-values, kind="stable")[:MOST_TRIALS]:
            trial = chosen.copy()
            trial[changed[0]] = own[0][i if len(changed) == 1 else i // len(own[1])]
            if len(changed) == 2:
                trial[changed[1]] = own[1][i % len(own[1])]
            yield trial, float(values[i])
