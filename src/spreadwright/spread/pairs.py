"""Gaps between candidate lines, found only as far as a search needs them.

For every pair an upper bound comes first: the exact gap at a few moments that are usually the worst. It rules out most
pairs. Of the rest the exact gap over the whole S-turn is computed when a search asks for it, and kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.spread.motions import Passage, Progress
from spreadwright.tow.clearance.gaps import _exact, gear_gap
from spreadwright.tow.clearance.outline import Outline
from spreadwright.tow.clearance.winding import WRAP, pair_winding
from spreadwright.tow.lanes import COMPILE

MOMENTS = 10
TRIALS = 150  # pairs looked at in full to learn when the near passes happen


@njit(**COMPILE)
def _row(
    one: NDArray[np.float32], edges: NDArray[np.int64], slack: NDArray[np.float32], first: int,
    others: NDArray[np.float32], other_edges: NDArray[np.int64], other_slack: NDArray[np.float32],
    other_first: NDArray[np.int64], wanted: NDArray[np.bool_], enough: float,
    good_enough: float, out: NDArray[np.float32],
) -> None:  # fmt: skip
    for j in range(others.shape[0]):
        if wanted[j]:
            best = enough
            for m in range(one.shape[0]):
                if best < good_enough:
                    break
                best = min(
                    best,
                    _exact(
                        one[m], edges, slack[m], first, others[j, m], other_edges[j], other_slack[j, m],
                        other_first[j], False, best,
                    ),
                )  # fmt: skip
            out[j] = best


class PairGaps:
    """Gear-to-line gaps [m] of all pairs of lines, as upper bounds that become exact when asked.

    rods (L): which rod each line belongs to (lines of one rod never meet). Gaps count up to `enough` [m] only.
    """

    def __init__(
        self,
        passages: Sequence[Passage],
        rods: NDArray[np.int64],
        enough: float,
        workers: int = 2,
        progress: Progress | None = None,
        before: PairGaps | None = None,
        place_before: NDArray[np.int64] | None = None,
    ) -> None:
        """before: gaps of other lines, of which some are these; place_before (L): where each was, -1 if it is new."""
        self._outlines = [passage.outline for passage in passages]
        self.enough = enough
        self.progress = progress
        self.upper = np.full((len(passages), len(passages)), enough, dtype=np.float32)
        self.known = np.zeros(self.upper.shape, dtype=np.bool_)
        self.computed = 0
        self._tight = False
        if len(passages) > 1:
            self._rods, self._workers = rods, workers
            self._new = np.ones(len(passages), dtype=np.bool_)
            if before is not None and place_before is not None and len(before._outlines) > 1:
                self._take_over(before, place_before)
            else:
                self._at = self._moments(rods)
            self._bound_all(0.0 if self._tight else enough)
            self._new[:] = True

    def _take_over(self, before: PairGaps, place: NDArray[np.int64]) -> None:
        """What is known of pairs of lines that were there before; only pairs with a new line are bounded anew."""
        self._at, self._tight, self._new = before._at, before._tight, place < 0
        old = np.flatnonzero(place >= 0)
        here, there = np.ix_(old, old), np.ix_(place[old], place[old])
        self.upper[here], self.known[here] = before.upper[there], before.known[there]

    def tighten(self) -> None:
        """Make the bounds under `enough` as small as the moments can: for a search among narrower gaps."""
        if not self._tight and len(self._outlines) > 1:
            self._bound_all(0.0)
            self._tight = True

    def _moments(self, rods: NDArray[np.int64]) -> NDArray[np.int64]:
        """Stored times at which near passes are common, from a sample of pairs."""
        random = np.random.Generator(np.random.PCG64(7))
        count = len(self._outlines)
        times = self._outlines[0].times
        hits: list[int] = []
        for _ in range(TRIALS):
            a, b = random.integers(0, count, 2)
            if rods[a] != rods[b]:
                gap = gear_gap(self._outlines[a], self._outlines[b], self.enough)
                if gap.distance < self.enough:
                    hits.append(int(np.argmin(np.abs(times - gap.time))))
        if not hits:
            return np.linspace(0, len(times) - 1, MOMENTS).astype(np.int64)
        return np.unique(np.quantile(hits, np.linspace(0.02, 0.98, MOMENTS)).astype(np.int64))

    def _bound_all(self, good_enough: float) -> None:
        """Bound every pair's gap. Once a bound is under `good_enough` [m] its pair is looked at no more closely."""
        count = len(self._outlines)
        if not self._new.any():
            return
        vertices, edges, slack, first = _stacked(self._outlines, self._at)

        def one(i: int) -> int:
            wanted = (
                (self._rods != self._rods[i]) & (np.arange(count) > i) & ~self.known[i] & (self._new | self._new[i])
            )
            _row(
                vertices[i], edges[i], slack[i], int(first[i]), vertices, edges, slack, first, wanted, self.enough,
                good_enough, self.upper[i],
            )  # fmt: skip
            return i

        tell = self.progress
        with ThreadPoolExecutor(self._workers) as pool:
            for done, i in enumerate(pool.map(one, range(count), chunksize=4)):
                if tell is not None and i % 32 == 0 and not tell("bounding the gaps", done, count):
                    break
        self.upper[:] = np.minimum(self.upper, self.upper.T)

    def gap(self, a: int, b: int, floor: float = -1.0) -> float:
        """The gap [m] of two lines. Once it is known to be under `floor` an upper bound is handed back."""
        upper = float(self.upper[a, b])
        if self.known[a, b] or upper < floor:
            return upper
        found = gear_gap(self._outlines[a], self._outlines[b], self.enough, floor)
        self.computed += 1
        distance = min(found.distance, upper)
        if distance >= floor and abs(pair_winding(self._outlines[a], self._outlines[b])) >= WRAP:
            distance = 0.0  # wrapped around one another at the end, however wide they ran
        self.upper[a, b] = self.upper[b, a] = distance
        self.known[a, b] = self.known[b, a] = distance >= floor
        return distance


def _stacked(
    outlines: Sequence[Outline], moments: NDArray[np.int64]
) -> tuple[NDArray[np.float32], NDArray[np.int64], NDArray[np.float32], NDArray[np.int64]]:
    """All outlines at a few moments, in arrays of one size: short ones repeat their last vertex."""
    most = max(outline.vertices.shape[1] for outline in outlines)
    blocks = max(len(outline.edges) for outline in outlines)
    vertices = np.empty((len(outlines), len(moments), most, 3), dtype=np.float32)
    edges = np.empty((len(outlines), blocks), dtype=np.int64)
    slack = np.zeros((len(outlines), len(moments), blocks - 1), dtype=np.float32)
    first = np.empty(len(outlines), dtype=np.int64)
    for i, outline in enumerate(outlines):
        own = outline.vertices[moments]
        vertices[i, :, : own.shape[1]] = own
        vertices[i, :, own.shape[1] :] = own[:, -1:]
        edges[i, : len(outline.edges)] = outline.edges
        edges[i, len(outline.edges) :] = outline.edges[-1]
        slack[i, :, : outline.slack.shape[1]] = outline.slack[moments]
        first[i] = outline.first_gear_block
    return vertices, edges, slack, first
