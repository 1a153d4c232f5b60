"""Choose the spread: first the widest smallest gap up to "enough", then different water, then what the captain likes.

Gaps start as upper bounds and are made exact only where a choice depends on them: what the search hands out has its
gaps computed in full, and where one falls short the search goes on with the better knowledge. When the search ends,
nothing can beat what was kept: that is the proof, and its bounds are shown.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.spread.board import BOUGHT, Board, Whole, affordable, beyond_the_shelf, make_board, purchases
from spreadwright.spread.bounds import ANY
from spreadwright.spread.branch import FOUND, GAVE_UP, NONE, Problem, Tree
from spreadwright.spread.candidates import Candidates
from spreadwright.spread.climb import STEP, Climber
from spreadwright.spread.motions import Passage, Progress
from spreadwright.spread.pairs import PairGaps
from spreadwright.spread.worth import HALF_A_POINT, LIKED_STEP, different_water, likings, pair_scores
from spreadwright.tackle.trip import Trip

# Budgets are counted in work, not in seconds, so that the answer does not depend on the machine.
MOST_NODES = 400_000  # of one tree
ALL_NODES = 1_000_000  # of all trees for the gap
MOST_SEARCHES = 60  # gaps tried on the way to the widest
STARTS = 10  # of the climb for the gap, where the search could not settle it
LEAST = 1e-6  # off a worth that others must reach too, against rounding


@dataclass(frozen=True)
class Decision:
    """The spread chosen: a candidate and a lure a rod, and how far the search can vouch for it.

    gap: its smallest gap, counted up to enough; bound: no spread has a wider one [m]; coverage: share of the pairs'
    points for different water, coverage_bound: what no spread with that gap gets beyond; apart: pairs whose lures fish
    different water in distance and in depth; proven: gap, coverage and liking are the best there are; nodes visited;
    bought: pieces beyond the shelf.
    """

    rigs: tuple[int, ...]
    lures: tuple[int, ...]
    gap: float
    bound: float
    proven: bool
    coverage: float
    coverage_bound: float
    nodes: int
    bought: tuple[str, ...]
    apart: tuple[int, int] = (0, 0)


class Chooser:
    """Searches one board; keeps what it learns about gaps for later questions."""

    def __init__(
        self, trip: Trip, candidates: Candidates, passages: Sequence[Passage | None], gaps: PairGaps,
        place: dict[int, int], enough: float, progress: Progress | None = None,
        learnt: Mapping[str, float] | None = None,
    ) -> None:  # fmt: skip
        """`place` gives a candidate's line its number among the lines that run, as `gaps` counts them.

        learnt: what the logbook says of lures by name, 0 to 1, if it says anything.
        """
        self.trip, self.candidates, self.gaps = trip, candidates, gaps
        self.board = make_board(trip, candidates, place)
        self.enough = enough
        self.apart = different_water([passage for passage in passages if passage is not None])
        self.scores = pair_scores(self.apart)
        self.learnt = learnt
        self.progress = progress
        self.nodes = 0
        self.gave_up = False

    def choose(
        self, board: Board | None = None, before: Sequence[tuple[int, int]] | None = None
    ) -> Decision | str:  # fmt: skip
        """The best spread, or a sentence that says why there is none.

        board: another board of the same lines (fewer pieces, more of one, or a rule more). before: a rig and a lure a
        rod that were best before a change: where they are still allowed they are to be beaten, and of equals they stay.
        """
        board = self.board if board is None else board
        start = None if before is None else rows_of(board, before)
        for rod in range(board.rods):
            if board.starts[rod] == board.starts[rod + 1]:
                return f"no rig is left for rod {self.trip.outfits[rod].name}: loosen what is fixed, banned or refused"
        self.nodes, self.gave_up = 0, False
        for spare in purchases(board):
            search = _Search(self, board, spare)
            widest = search.widest(start if start is not None and affordable(board, spare, start) else None)
            if widest is not None:
                chosen, kept, bound = widest
                covered, coverage_bound = search.cover(min(kept, self.enough) - STEP, chosen)
                return self._decision(search, covered, bound, coverage_bound)
        return "no spread fits the stations, marks and locks: free a station or a lock"

    def tell(self, what: str, value: float) -> bool:
        """Report progress; False when the captain asked to stop."""
        return self.progress is None or self.progress(what, int(1000 * value), 0)

    def _decision(self, search: _Search, chosen: Whole, bound: float, coverage_bound: float) -> Decision:
        board = search.board
        lines = board.lines[chosen]
        most = max(len(chosen) * (len(chosen) - 1) / 2.0, 1.0)
        points = np.triu(self.scores[np.ix_(lines, lines)], 1)
        far, deep = (int(np.triu(each[np.ix_(lines, lines)], 1).sum()) for each in self.apart)
        return Decision(
            tuple(board.rigs[c] for c in chosen), tuple(board.lures[c] for c in chosen),
            search.climber.smallest(chosen), bound, not self.gave_up, float(points.sum()) / most,
            min(1.0, coverage_bound / most), self.nodes, beyond_the_shelf(board, chosen.tolist()),
            (far, deep),
        )  # fmt: skip


def rows_of(board: Board, fished: Sequence[tuple[int, int]]) -> Whole | None:
    """The board's rows of a rig and a lure a rod; None where one of them is not on the board."""
    rows = []
    for rod, (rig, lure) in enumerate(fished):
        own = range(board.starts[rod], board.starts[rod + 1])
        row = next((row for row in own if board.rigs[row] == rig and board.lures[row] == lure), None)
        if row is None:
            return None
        rows.append(row)
    return np.array(rows, dtype=np.int64) if len(rows) == board.rods else None


class _Search:
    """One board with what may be bought for it."""

    def __init__(self, chooser: Chooser, board: Board, spare: Whole) -> None:
        self.chooser, self.board, self.gaps, self.enough = chooser, board, chooser.gaps, chooser.enough
        self.liked = likings(chooser.trip, board, chooser.learnt)
        self.own = np.where(board.uses >= 0, self.liked[board.uses], 0.0).sum(axis=1)
        small = 0.8 * HALF_A_POINT / max(board.rods * len(BOUGHT), 1)  # all likings weigh less than a step of a pair
        self.climber = Climber(board, chooser.gaps, chooser.scores, small * self.own, spare)
        self.spare = spare

    def tree(self, least: float, scores: NDArray[np.float32] | None = None) -> Tree:
        """A tree over the spreads that keep `least` [m]; without scores it takes wide gaps first."""
        board = self.board
        score = self.gaps.upper.copy() if scores is None else scores
        return Tree(
            Problem(
                board.starts, board.lines, self.gaps.upper, score, board.uses, board.limits, self.liked, board.group,
                self.spare,
            ),
            least,
        )  # fmt: skip

    def handed_out(self, tree: Tree, worth: float, liked: float, most: int) -> tuple[int, Whole]:
        """The tree's next spread that reaches both marks and truly keeps the gap."""
        while True:
            begun = tree.nodes
            state, chosen = tree.next(worth, liked, most)
            most -= tree.nodes - begun
            self.chooser.nodes += tree.nodes - begun
            if state != FOUND or self.climber.smallest(chosen, tree.least) >= tree.least:
                return state, chosen

    def widest(self, start: Whole | None = None) -> tuple[Whole, float, float] | None:
        """The spread with the widest smallest gap, that gap, and the bound that proves it; `start` is a good one."""
        wide = self.enough - 0.5 * STEP
        if start is not None and self.climber.smallest(start) >= wide:
            return start, self.climber.smallest(start), self.enough
        state, chosen = self.handed_out(self.tree(wide), ANY, ANY, MOST_NODES)
        if state == FOUND:
            return chosen, self.climber.smallest(chosen), self.enough
        if start is None:
            any_state, start = self.handed_out(self.tree(-1.0), ANY, ANY, MOST_NODES)
            if any_state != FOUND:
                return None
        self.gaps.tighten()
        best, high = self._between(self._restart(self.climber.widen(start)), wide if state == NONE else self.enough)
        gap = self.climber.smallest(best)
        self.chooser.gave_up = self.chooser.gave_up or high - gap > STEP
        return best, gap, max(high, gap)

    def _between(self, best: Whole, high: float) -> tuple[Whole, float]:
        """Close in between the widest gap found and what is ruled out [m], as far as the work allows."""
        low, start = self.climber.smallest(best), self.chooser.nodes
        wish = min(high, low + STEP)
        for _ in range(MOST_SEARCHES):
            if high - low <= STEP or self.chooser.nodes - start > ALL_NODES:
                break
            state, chosen = self.handed_out(self.tree(wish), ANY, ANY, MOST_NODES)
            if state == FOUND:
                wider = self.climber.widen(chosen)
                best = wider if self.climber.smallest(wider) > low else best
                low = self.climber.smallest(best)
                self.chooser.tell("widening the smallest gap", low)
                wish = low + STEP
            elif state == NONE:
                high = wish
            elif wish >= high - STEP:
                break
            else:  # too hard to tell at this gap: rule out what is easier to rule out, and own up to the rest
                wish = 0.5 * (wish + high)
        return best, high

    def _restart(self, best: Whole) -> Whole:
        """Widen from a number of unlike starts as well, always the same ones, and keep the widest."""
        random = np.random.Generator(np.random.PCG64(11))
        for _ in range(STARTS):
            wild = random.random(self.chooser.scores.shape, dtype=np.float32)
            state, chosen = self.handed_out(self.tree(0.8 * self.climber.smallest(best), wild), ANY, ANY, 1000)
            if state == FOUND:
                wider = self.climber.widen(chosen)
                best = wider if self.climber.smallest(wider) > self.climber.smallest(best) else best
        return best

    def cover(self, least: float, start: Whole) -> tuple[Whole, float]:
        """Among spreads that keep the gap, one that covers most, and of those one that is liked best.

        Comes with what no spread covers more than.
        """
        best = self.climber.climb(least, start)
        tree = self.tree(least, self.chooser.scores)
        best, proven = self._best(tree, best, lambda found: (self._covered(found) + HALF_A_POINT, ANY))
        if not proven:
            return best, tree.bound()
        most = self._covered(best)
        tree = self.tree(least, self.chooser.scores)
        best, _ = self._best(tree, best, lambda found: (most - LEAST, float(self.own[found].sum()) + LIKED_STEP))
        return best, most

    def _best(self, tree: Tree, best: Whole, marks: Callable[[Whole], tuple[float, float]]) -> tuple[Whole, bool]:
        """The last of ever better spreads, and whether that is proven; `marks`: what is to be reached to be better."""
        while self.chooser.tell("covering distance and depth", self._covered(best)):
            state, found = self.handed_out(tree, *marks(best), MOST_NODES)
            if state == NONE:
                return best, True
            if state == GAVE_UP:
                break
            best = found
        self.chooser.gave_up = True
        return best, False

    def _covered(self, chosen: Whole) -> float:
        """Points for different water of a spread, a point a pair at most."""
        lines = self.board.lines[chosen]
        return float(np.triu(self.chooser.scores[np.ix_(lines, lines)], 1).sum())
