"""Gaps on a bad day: for choosing by the narrowest of several ways that it may be, not by the usual one.

Every candidate is towed in a few samples of what is uncertain besides the usual case. The gap of a pair that counts is
the smallest of them: with seven cases about the lowest eighth of what may happen.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from spreadwright.faults import Fault, Faults
from spreadwright.plan.doubt import ROUGH
from spreadwright.plan.inputs import ANY_SEA, SeaMet, samples, sway_of
from spreadwright.rig.tow_model import Doubts, Narrow, TowedRig, as_stated
from spreadwright.spread.candidates import Candidates, line_of
from spreadwright.spread.motions import Passage, Progress, passages, track_of
from spreadwright.spread.pairs import PairGaps
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure, Sea

BAD_DAYS = 6  # samples besides the usual case


class LowGaps(PairGaps):
    """The smallest of several cases' gaps, as upper bounds that become exact when asked (see PairGaps)."""

    def __init__(self, usual: PairGaps, others: Sequence[PairGaps]) -> None:
        self._cases = (usual, *others)
        self.enough, self.computed, self.progress = usual.enough, 0, usual.progress
        self.upper = usual.upper.copy()
        self.known = np.zeros(self.upper.shape, dtype=np.bool_)
        self._lower_bounds()

    def _lower_bounds(self) -> None:
        for case in self._cases:
            self.upper[:] = np.minimum(self.upper, case.upper)

    def tighten(self) -> None:
        """Make the bounds under `enough` as small as the moments can."""
        for case in self._cases:
            case.tighten()
        self._lower_bounds()

    def gap(self, a: int, b: int, floor: float = -1.0) -> float:
        """The smallest gap [m] of two lines. Once it is known to be under `floor` an upper bound is handed back."""
        upper = float(self.upper[a, b])
        if self.known[a, b] or upper < floor:
            return upper
        low = upper
        for case in sorted(self._cases, key=lambda one: float(one.upper[a, b])):
            low = min(low, case.gap(a, b, floor))
            if low < floor:
                break
        self.computed = sum(case.computed for case in self._cases)
        self.upper[a, b] = self.upper[b, a] = low
        self.known[a, b] = self.known[b, a] = low >= floor
        return low


def low_gaps(
    trip: Trip, candidates: Candidates, running: Sequence[int], rods: NDArray[np.int64], usual: PairGaps, sea: Sea,
    seed: int, progress: Progress, narrow: Narrow = as_stated, met: SeaMet = ANY_SEA,
) -> LowGaps:  # fmt: skip
    """The smallest gaps of the usual case and of a few samples, for the lines `running` (places in the candidates)."""
    others = []
    for sample in samples(2 * BAD_DAYS, seed)[:BAD_DAYS]:
        speed = trip.pattern.speed + sample.speed
        track = track_of(trip.pattern, speed, trip.pattern.turn_radius * sample.radius)
        lines = lines_with(trip, candidates, sample.doubts, narrow)
        wanted = [lines[i] for i in running]
        sway = sway_of(sample, track, speed, seed, met)
        towed = passages(wanted, track, sea, ROUGH, progress, sways=[sway] * len(wanted))
        others.append(PairGaps(_converged(towed), rods, trip.wishes.enough_gap, progress=progress))
    return LowGaps(usual, others)


def _converged(towed: Sequence[Passage | Failure]) -> list[Passage]:
    """The lines of one sample. Raises Faults if one did not converge: its gaps could not be vouched for."""
    failed = [each for each in towed if isinstance(each, Failure)]
    if failed:
        given = f"{len(failed)} lines did not converge in a sample: {failed[0].reason}"
        rule = "choosing for a bad day needs every line in every sample"
        raise Faults([Fault("--cautious", given, rule, "plan without --cautious")])
    return [each for each in towed if not isinstance(each, Failure)]


def lines_with(trip: Trip, candidates: Candidates, doubts: Doubts, narrow: Narrow = as_stated) -> list[TowedRig]:
    """Every candidate line with its inputs off their usual values, in the candidates' order of lines."""
    first = {rig.line: rig for rig in reversed(candidates.rigs)}
    return [
        line_of(trip, first[i], doubts, narrow) if i in first else line for i, line in enumerate(candidates.lines)
    ]  # fmt: skip
