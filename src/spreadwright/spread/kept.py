"""What was computed before, kept by its content: a change to the shelf's counts tows nothing anew.

Motions are kept for each line, pattern and sea; pair gaps, as far as they are known, for each set of lines; reasons
against rigs for each trip apart from its counts. Two questions with the same content have the same answer.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from spreadwright.rig.tow_model import TowedRig
from spreadwright.spread.motions import SEARCH, Passage, Progress, passages, track_of
from spreadwright.spread.pairs import PairGaps
from spreadwright.tackle.pattern import Pattern
from spreadwright.tackle.trip import Trip
from spreadwright.tackle.wishes import Spares
from spreadwright.tow.line import Failure, Sea

T = TypeVar("T")

MOST_LINES = 5000  # about 0.7 GB of motions; the oldest go first
MOST_OTHERS = 8
NO_PART = {"enough_gap": 1.0, "tangle_reach": 0.0, "preferred_colours": (), "preferred_heads": ()}
PARTS = ("weights", "shock_leaders", "bite_leaders", "lures")  # of which none are made up where there is none

Fished = tuple[tuple[str, str, float, str, str, str, str], ...]  # rod, station, mark [m], and the pieces, by name
Refusals = dict[tuple[int, int, int, int, int], str]


class Kept:
    """One for a process that answers many questions; not for several threads at once."""

    def __init__(self, most_lines: int = MOST_LINES) -> None:
        self._most_lines = most_lines
        self._motions: dict[tuple[TowedRig, Pattern, Sea], Passage | Failure] = {}
        self._gaps: dict[tuple[Any, ...], PairGaps] = {}
        self._refusals: dict[str, Refusals] = {}
        self._doubts: dict[object, Any] = {}
        self.spread: Fished = ()  # the last one chosen
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
        for oldest in list(self._motions)[: max(0, len(self._motions) - self._most_lines)]:
            del self._motions[oldest]
        return wanted

    def gaps(
        self, lines: Sequence[TowedRig], asked: tuple[Pattern, Sea], towed: Sequence[Passage], rods: NDArray[np.int64],
        enough: float, tell: Progress | None,
    ) -> PairGaps:  # fmt: skip
        """The pair gaps of these lines on these rods, with all that earlier questions made exact."""
        key = (asked, enough, rods.tobytes(), tuple(lines))
        if key not in self._gaps:
            places = {line: i for i, line in enumerate(lines)}
            before, place = None, None
            for other in self._gaps:
                if other[:2] == key[:2]:
                    was = {line: i for i, line in enumerate(other[3])}
                    common = np.array([was.get(line, -1) for line in places], dtype=np.int64)
                    if place is None or (common >= 0).sum() >= (place >= 0).sum():
                        before, place = self._gaps[other], common
            self._gaps[key] = PairGaps(towed, rods, enough, progress=tell, before=before, place_before=place)
        found: PairGaps = _last(self._gaps, key)
        found.progress = tell  # of this question, not of the one that first needed the gaps
        return found

    def refusals(self, trip: Trip, find: Callable[[Trip], Refusals]) -> Refusals:
        """Reasons against rigs, found once for trips that differ in counts, bans and other things that play no part."""
        alike = _plain(trip)
        key = alike.model_dump_json(warnings=False)
        if key not in self._refusals:
            self._refusals[key] = find(alike)
        reasons: Refusals = _last(self._refusals, key)
        return reasons

    def doubt(self, trip: Trip, spread: Fished, asked: object, find: Callable[[], T]) -> T:
        """How sure a spread is, found once for trips that differ in counts and the like only (see `refusals`)."""
        key = (_plain(trip).model_dump_json(warnings=False), spread, asked)
        if key not in self._doubts:
            self._doubts[key] = find()
        found: T = _last(self._doubts, key)
        return found


def _last(kept: dict[Any, Any], key: object) -> Any:
    """The value of a key, which becomes the newest; the oldest beyond a few go."""
    value = kept.pop(key)
    kept[key] = value
    for oldest in list(kept)[: max(0, len(kept) - MOST_OTHERS)]:
        del kept[oldest]
    return value


def _plain(trip: Trip) -> Trip:
    """The trip with all taken out that plays no part in whether a rig holds: counts, bans, words, most of the locks.

    Of swivels, crimps and hooks it matters whether there are any; a lock matters where it says how near a rod is fished
    or that a rig is wanted anyway.
    """
    shelf = trip.shelf
    counts = {
        kind: tuple(
            piece.model_copy(update={"count": 1 if kind in PARTS else min(piece.count, 1)})
            for piece in getattr(shelf, kind)
        )
        for kind in type(shelf).model_fields
    }
    free = dict.fromkeys(("weight", "leader", "bite_leader", "lure"))
    locks = [lock if lock.anyway else lock.model_copy(update=free) for lock in trip.fixed]
    return trip.model_copy(
        update={
            "title": "", "place": "", "dates": (), "crew": (), "banned": (), "spares": Spares(),
            "shelf": shelf.model_copy(update=counts), "fixed": tuple(lock for lock in locks if lock.chosen),
            "wishes": trip.wishes.model_copy(update=NO_PART),
        }
    )  # fmt: skip
