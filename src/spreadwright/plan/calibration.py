"""What the captain's readings say about drag, as one frozen value: shown, written, read back, given to the plan.

`Calibration.narrowed` is all the plan needs: it turns the doubts that a plan tries (-1 low, 0 usual, +1 high end of a
stated range) into the doubts that the readings leave.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Literal

from pydantic import ValidationError

from spreadwright.faults import Fault, Faults
from spreadwright.plan.calibration_prior import SURE, number_at, place_of, prior_of
from spreadwright.plan.json_words import json_words
from spreadwright.plan.value import Estimate, Part
from spreadwright.rig.tow_model import Doubts
from spreadwright.tackle.span import Span
from spreadwright.tackle.trip import Trip

Coefficient = Literal["line across", "line along", "weight", "lure"]
Unit = Literal["-", "m2"]


class Narrowed(Part):
    """One drag coefficient before and after the readings, as low, usual, high: nine of ten lie inside.

    unit: "-" or "m2"; lures: the lures it is the drag area of; known: share of its doubt that is gone [-].
    """

    what: Coefficient
    lures: tuple[str, ...]
    unit: Unit
    before: Estimate
    after: Estimate
    known: float


class Fitted(Part):
    """One reading: what was read with its error, and what should have shown before and after, all in its SI unit.

    off: what was read less what should show, over the reading's standard error [-].
    """

    place: str
    rod: str
    what: str
    speed: float
    given: float
    error: float
    before: float
    after: float
    off: float


class Depth(Part):
    """The lure's depth [m] of one rod on a straight course at the trip's speed, before and after: drag's doubt only."""

    rod: str
    mark: float
    weight: str
    lure: str
    before: Estimate
    after: Estimate


class Next(Part):
    """A reading that could be taken: what it would do to the doubt of the lures' depths.

    speed [m/s], error as in its SI unit; gain: share of the summed variance of the lures' depths that it takes away
    [-]; doubt: of a lure's depth after it, in the mean over the rods [m], to be compared with `doubt_now`.
    """

    rod: str
    mark: float
    weight: str
    lure: str
    what: str
    speed: float
    error: float
    gain: float
    doubt: float


class LureScores(Part):
    """How the score of a kind of lure follows those of line and weight: mean, factors (across, along, weight), own."""

    lures: tuple[str, ...]
    mean: float
    factors: tuple[float, float, float]
    own: float


class Scores(Part):
    """The joint answer: scores of (across, along, weight) are mean + factors @ independent standard scores."""

    mean: tuple[float, float, float]
    factors: tuple[tuple[float, float, float], ...]
    lures: tuple[LureScores, ...]


class Calibration(Part):
    """Everything that readings say about drag.

    doubt_now [m]: of a lure's depth, in the mean over the depths named here; chance: of readings that fit worse than
    these, were all errors as stated [-]; settled: the search for the best fit ended.
    """

    format: Literal["spreadwright calibration"] = "spreadwright calibration"
    version: Literal[1] = 1
    title: str
    boat: str
    units: Literal["us", "metric"]
    speed: float
    coefficients: tuple[Narrowed, ...]
    readings: tuple[Fitted, ...]
    depths: tuple[Depth, ...]
    doubt_now: float
    next: tuple[Next, ...]
    chance: float
    settled: bool
    sentences: tuple[str, ...]
    notes: tuple[str, ...]
    scores: Scores

    def narrowed(self, doubts: Doubts, lure: str = "") -> Doubts:
        """Doubts of stated ranges turned into those that the readings leave, for a rig with that lure.

        The four drag doubts are taken as independent and come back as they hang together: first line across, then
        line along given that, then weight, then this lure. At 0 all are at their new usual value. Stiffness and mark
        stay as they are, and so does the lure's doubt for a lure that was not on the trip's list.
        """
        tried = [SURE * each for each in (doubts.line_across, doubts.line_along, doubts.weight)]
        scores = [
            mean + sum(factor * each for factor, each in zip(row, tried, strict=True))
            for mean, row in zip(self.scores.mean, self.scores.factors, strict=True)
        ]
        across, along, weight = (
            _place(each.before, score) for each, score in zip(self.coefficients[:3], scores, strict=True)
        )
        return replace(
            doubts, line_across=across, line_along=along, weight=weight, lure=self._lure(tried, doubts.lure, lure)
        )

    def _lure(self, tried: list[float], own: float, name: str) -> float:
        for each, range_ in zip(self.scores.lures, self.coefficients[3:], strict=True):
            if name in each.lures:
                follows = sum(factor * score for factor, score in zip(each.factors, tried, strict=True))
                return _place(range_.before, each.mean + follows + each.own * SURE * own)
        return own

    def to_json(self) -> str:
        """The calibration as text; `Calibration.model_validate_json` gives the same back."""
        return self.model_dump_json(indent=1)


def _place(before: Estimate, score: float) -> float:
    span = Span(before.low, before.usual, before.high)
    return place_of(span, number_at(span, score))


def stored_calibration(path: Path, trip: Trip) -> Calibration:
    """The calibration in a file, for a trip with the same gear. Raises Faults where it is none, or of other gear."""
    rule = "a calibration is a file that `spreadwright measure TRIP.toml READINGS.toml --write FILE` wrote"
    step = "measure anew with this trip file and write it again"
    try:
        found = Calibration.model_validate_json(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is no text"
        raise Faults([Fault(str(path), f"could not be read ({reason})", rule, step)]) from None
    except ValidationError as error:
        raise Faults([Fault(str(path), json_words(error), rule, step)]) from None
    faults = _of_other_gear(found, path, trip)
    if faults:
        raise Faults(faults, str(path))
    return found


def _of_other_gear(found: Calibration, path: Path, trip: Trip) -> list[Fault]:
    """Lures whose stated range is another one now than when the readings were taken."""
    now = {name: kind.area for kind in prior_of(trip).kinds for name in kind.names}
    rule = "a calibration holds for lures of the drag area that they had when it was made"
    step = "measure anew with this trip file, or give the lure another name"
    faults = []
    for each in found.coefficients[3:]:
        for name in each.lures:
            area = now.get(name)
            if area is not None and abs(area.usual - each.before.usual) > 1e-6 * area.usual:
                given = f"{1e4 * each.before.usual:.2f} cm2 then, {1e4 * area.usual:.2f} cm2 now"
                faults.append(Fault(str(path), given, rule, step, name))
    return faults
