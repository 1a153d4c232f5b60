"""What was computed before, kept by its content: a change to the shelf's counts tows nothing anew.

Motions are kept for each line, pattern and sea; pair gaps, as far as they are known, for each set of lines; reasons
against rigs for each trip apart from its counts. Two questions with the same content have the same answer.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from spreadwright.rig.tow_model import TowedRig
from spreadwright.spread.motions import SEARCH, Passage, Progress, passages, track_of
from spreadwright.spread.pairs import PairGaps
from spreadwright.tackle.pattern import Pattern
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure, Sea

MOST_LINES = 5000  # about 0.7 GB of motions; the oldest go first
MOST_OTHERS = 8

Refusals = dict[tuple[int, int, int, int, int], str]


class Kept:
    """One for a process that answers many questions; not for several threads at once."""

    def __init__(self) -> None:
        self._motions: dict[tuple[TowedRig, Pattern, Sea], Passage | Failure] = {}
        self._gaps: dict[object, PairGaps] = {}
        self._refusals: dict[str, Refusals] = {}
        self.towed = 0  # lines towed so far: what was not kept

    def passages(
        self, rigs: Sequence[TowedRig], pattern: Pattern, sea: Sea, tell: Progress | None
    ) -> list[Passage | Failure]:
        """Every rig through the pattern, in order, as `motions.passages` with the search's settings."""
        new = [rig for rig in dict.fromkeys(rigs) if (rig, pattern, sea) not in self._motions]
        if new:
            found = passages(new, track_of(pattern), sea, SEARCH, tell)
            self._motions.update({(rig, pattern, sea): each for rig, each in zip(new, found, strict=True)})
            self.towed += len(new)
        wanted = [self._motions[rig, pattern, sea] for rig in rigs]
        for oldest in list(self._motions)[: max(0, len(self._motions) - MOST_LINES)]:
            del self._motions[oldest]
        return wanted

    def gaps(
        self, lines: Sequence[TowedRig], asked: tuple[Pattern, Sea], towed: Sequence[Passage], rods: NDArray[np.int64],
        enough: float, tell: Progress | None,
    ) -> PairGaps:  # fmt: skip
        """The pair gaps of these lines on these rods, with all that earlier questions made exact."""
        key = (tuple(lines), asked, rods.tobytes(), enough)
        if key not in self._gaps:
            self._gaps[key] = PairGaps(towed, rods, enough, progress=tell)
        found: PairGaps = _last(self._gaps, key)
        return found

    def refusals(self, trip: Trip, find: Callable[[Trip], Refusals]) -> Refusals:
        """Reasons against rigs, found once for trips that differ in counts only."""
        key = trip.model_copy(update={"shelf": _uncounted(trip), "spares": None}).model_dump_json(warnings=False)
        if key not in self._refusals:
            self._refusals[key] = find(trip)
        reasons: Refusals = _last(self._refusals, key)
        return reasons


def _last(kept: dict[Any, Any], key: object) -> Any:
    """The value of a key, which becomes the newest; the oldest beyond a few go."""
    value = kept.pop(key)
    kept[key] = value
    for oldest in list(kept)[: max(0, len(kept) - MOST_OTHERS)]:
        del kept[oldest]
    return value


def _uncounted(trip: Trip) -> object:
    """The shelf with one of everything that it lists, so that trips that differ in counts only are alike.

    What there is none of stays so: no rig is made up with it.
    """
    shelf = trip.shelf
    kinds = {kind: getattr(shelf, kind) for kind in type(shelf).model_fields}
    return shelf.model_copy(
        update={
            kind: tuple(piece.model_copy(update={"count": min(piece.count, 1)}) for piece in pieces)
            for kind, pieces in kinds.items()
        }
    )
