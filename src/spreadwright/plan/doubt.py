"""How sure the plan's numbers are: the chosen rigs computed again with each uncertain input at its edges.

One input at a time is put at its low and its high end (drag of lines, weights and lures, stiffness, marks, speed,
radius); what each does to a result is taken as independent, and the effects are added in quadrature, upward and
downward apart. First order only: it does not see inputs acting together.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.plan.value import Estimate
from spreadwright.rig.tow_model import USUAL, Doubts, TowedRig, towed_rig
from spreadwright.spread.candidates import Candidate
from spreadwright.spread.motions import SEARCH, Passage, Progress, passages, track_of
from spreadwright.tackle.trip import Trip
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.line import Failure, Sea

SPEED_DOUBT = 0.5 * 1852.0 / 3600.0  # [m/s] how well a speed through the water is held: assumed
RADIUS_DOUBT = 0.15  # share; how well a turn is repeated: assumed

WORDS = (
    "drag of lines: 1.1 to 1.3 across, 0.010 to 0.020 along for smooth line, more for braid",
    "drag of weights: half to twice along, a quarter either way across",
    "drag of lures: half as much again either way, as nothing is published, unless you measured it",
    "stiffness of nylon: 1.0 to 3.0 GPa",
    "marks: 2 % either way",
    "speed: half a knot either way; radius of the turns: 15 % either way",
    "not counted: waves and boat motion, current, the wash, lines that touch",
)


@dataclass(frozen=True)
class Case:
    """One input at one of its ends: its name, -1 or +1, and what it changes."""

    what: str
    end: int
    doubts: Doubts = USUAL
    speed: float = 0.0
    radius: float = 1.0


def cases() -> list[Case]:
    """Every input at both ends."""
    found = []
    for name in ("line_across", "line_along", "weight", "lure", "stiffness", "mark"):
        found += [Case(name, end, Doubts(**{name: float(end)})) for end in (-1, 1)]
    for end in (-1, 1):
        found.append(Case("speed", end, speed=end * SPEED_DOUBT))
        found.append(Case("radius", end, radius=1.0 + end * RADIUS_DOUBT))
    return found


@dataclass(frozen=True)
class Spreads:
    """The chosen spread as it usually runs and in every case that converged."""

    usual: tuple[Passage, ...]
    varied: tuple[tuple[Case, tuple[Passage, ...]], ...]

    def estimate(self, value: float, of: NDArray[np.float64] | Sequence[float], usual: float) -> Estimate:
        """`value` with the range that follows from the results `of` the cases, compared with `usual`."""
        up: dict[str, float] = {}
        down: dict[str, float] = {}
        for (case, _), result in zip(self.varied, of, strict=True):
            change = float(result) - usual
            up[case.what] = max(up.get(case.what, 0.0), change)
            down[case.what] = max(down.get(case.what, 0.0), -change)
        high = math.sqrt(sum(each**2 for each in up.values()))
        low = math.sqrt(sum(each**2 for each in down.values()))
        return Estimate(usual=value, low=value - low, high=value + high)

    def measure(self, rod: int, read: object, value: float | None = None) -> Estimate:
        """An estimate of `read(passage)` for one rod; `value` is shown instead of the search's own, if given."""
        assert callable(read)
        usual = float(read(self.usual[rod]))
        return self.estimate(
            usual if value is None else value, [float(read(spread[rod])) for _, spread in self.varied], usual
        )


def rigs_with(trip: Trip, rigs: Sequence[Candidate], doubts: Doubts) -> list[TowedRig]:
    """The towed lines of chosen rigs, with inputs off their usual values. Marks err the same way on every rod."""
    shelf = trip.shelf
    return [
        towed_rig(
            trip.outfits[rig.rod], trip.boat.stations[rig.station], rig.mark, shelf.weights[rig.weight],
            shelf.shock_leaders[rig.shock], shelf.bite_leaders[rig.bite], shelf.lures[rig.lures[0]], doubts,
        )
        for rig in rigs
    ]  # fmt: skip


def spreads_in_doubt(trip: Trip, rigs: Sequence[Candidate], sea: Sea, progress: Progress | None = None) -> Spreads:
    """Compute the chosen rigs in every case; cases in which a line did not converge are left out."""
    every = [Case("usual", 0), *cases()]
    found: list[tuple[Case, tuple[Passage, ...]]] = []
    for done, case in enumerate(every):
        track = track_of(trip.pattern, trip.pattern.speed + case.speed, trip.pattern.turn_radius * case.radius)
        results = passages(rigs_with(trip, rigs, case.doubts), track, sea, SEARCH)
        fine = [result for result in results if not isinstance(result, Failure)]
        if len(fine) == len(results):
            found.append((case, tuple(fine)))
        elif case.end == 0:
            raise ArithmeticError("the chosen spread did not converge a second time; please report this trip file")
        if progress is not None and not progress("how sure it is", done + 1, len(every)):
            break
    return Spreads(found[0][1], tuple(found[1:]))


def gap_estimate(spreads: Spreads, first: int, second: int, value: float) -> Estimate:
    """A pair's gap [m] with its range."""
    usual = gear_gap(spreads.usual[first].outline, spreads.usual[second].outline).distance
    varied = [gear_gap(s[first].outline, s[second].outline).distance for _, s in spreads.varied]
    estimate = spreads.estimate(value, varied, usual)
    return Estimate(usual=estimate.usual, low=max(0.0, estimate.low), high=estimate.high)
