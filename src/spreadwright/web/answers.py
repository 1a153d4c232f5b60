"""What the JSON interface answers with: the plan's and the try-out's values, said in the captain's units for the page.

Places and times stay SI for the drawing; every number that is read has its text, with how sure it is, beside it.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict

from spreadwright.faults import Faults
from spreadwright.plan.tryout_value import (
    HandSpread,
    LineMotion,
    TriedPair,
    TriedRange,
    TriedRanges,
    TriedRod,
    TriedRun,
    TriedSpread,
)
from spreadwright.plan.value import Estimate, RodDepths
from spreadwright.quantity import System, read
from spreadwright.sheets.drawing_parts import pattern
from spreadwright.sheets.figures import about, estimate, given, moment, plain, rounded, unit_of
from spreadwright.sheets.wording import sentence
from spreadwright.tackle import Trip
from spreadwright.web.jobs import Job, State
from spreadwright.web.kept import KeptTrip

Band = tuple[float, float, float]
Verdict = Literal["tangle", "may tangle", "near", "clear"]
TOLD_APART = 0.01  # [m] gaps nearer than that to what is asked for count as it, as in the plan
VERDICTS: dict[Verdict, str] = {
    "tangle": "can tangle",
    "may tangle": "within its doubt it can tangle",
    "near": "clear, but nearer than you ask for",
    "clear": "clear",
}


class Answer(BaseModel):
    """A part of an answer."""

    model_config = ConfigDict(frozen=True)


class Wrong(Answer):
    """One thing that is wrong: where, what was given, the rule, the next step."""

    place: str
    given: str
    rule: str
    next_step: str
    item: str = ""
    line: int | None = None


class WrongAnswer(Answer):
    """Everything that is wrong with what was sent, all at once."""

    faults: tuple[Wrong, ...]


class Unit(Answer):
    """The unit that distances are shown in, and how many metres it has."""

    name: str
    metres: float


class Choice(Answer):
    """A piece that can be chosen: its name, how it is told, and how many there are."""

    name: str
    said: str
    count: int | None = None


class RodChoice(Answer):
    """A rod, its marks in words and in metres, and the pattern its line is drawn in."""

    name: str
    own_station: str | None
    marks: tuple[str, ...]
    mark_metres: tuple[float, ...]
    pattern: str


class TripAnswer(Answer):
    """A trip as the spread's page needs it: what can be chosen, and how it stands."""

    name: str
    title: str
    place: str
    boat: str
    units: System
    unit: Unit
    has_plan: bool
    start: HandSpread
    rods: tuple[RodChoice, ...]
    stations: tuple[Choice, ...]
    weights: tuple[Choice, ...]
    shock_leaders: tuple[Choice, ...]
    bite_leaders: tuple[Choice, ...]
    lures: tuple[Choice, ...]
    spreads: tuple[str, ...]


class RodAnswer(Answer):
    """One rod straight ahead: what it fishes, where its line runs, its numbers in words; bands low, usual, high [m]."""

    rod: str
    station: str
    mark: float
    mark_said: str
    weight: str
    shock_leader: str
    bite_leader: str
    lure: str
    tip: tuple[float, float, float]
    line: tuple[tuple[float, float, float], ...]
    joints: tuple[int, int, int]
    weight_depth: Band | None
    lure_depth: Band | None
    weight_said: str
    lure_said: str
    pull_said: str
    angle_said: str
    astern_said: str
    notes: tuple[str, ...]


class SpreadAnswer(Answer):
    """A spread straight ahead."""

    rods: tuple[RodAnswer, ...]
    notes: tuple[str, ...]
    unit: Unit


class PairAnswer(Answer):
    """Two lines in the turns: gap [m], when [s], the two nearest places [m], and the same in words."""

    first: str
    second: str
    gap: float
    time: float
    on_first: tuple[float, float, float]
    on_second: tuple[float, float, float]
    verdict: Verdict
    gap_said: str
    said: str


class LineAnswer(Answer):
    """One line through the turns: its places at the first moment, then how far each coordinate moved since [cm]."""

    rod: str
    joints: tuple[int, int, int]
    first: list[int]
    moves: list[list[int]]
    swing_said: str
    pull_said: str
    notes: tuple[str, ...]


class RunAnswer(Answer):
    """A spread through the S-turn: step [s], the boat's (x, y, heading) [m, m, rad], lines and pairs, nearest first."""

    step: float
    boat: list[tuple[float, float, float]]
    lines: tuple[LineAnswer, ...]
    pairs: tuple[PairAnswer, ...]
    closest: str
    notes: tuple[str, ...]


class RangeAnswer(Answer):
    """One rod's sampled ranges: straight ahead as bands low, usual, high [m] and in words, and how far its depths may
    be off, shallower and deeper [m], at every one of the times of the turns."""

    rod: str
    weight_depth: Band
    lure_depth: Band
    weight_said: str
    lure_said: str
    pull_said: str
    angle_said: str
    weight_off: tuple[tuple[float, float], ...]
    lure_off: tuple[tuple[float, float], ...]


class RangesAnswer(Answer):
    """How sure a spread is: every pair's gap, every rod's numbers, and its depths at times [s] of the run; sure: what
    the ranges are, in words."""

    pairs: tuple[PairAnswer, ...]
    closest: str
    rods: tuple[RangeAnswer, ...]
    times: tuple[float, ...]
    sure: str


class JobAnswer(Answer):
    """How long work stands."""

    state: State
    words: str
    done: int
    total: int


def wrong(faults: Faults) -> WrongAnswer:
    """All faults as an answer."""
    return WrongAnswer(
        faults=tuple(
            Wrong(place=each.place, given=each.given, rule=each.rule, next_step=each.next_step, item=each.item,
                  line=each.line)
            for each in faults
        )
    )  # fmt: skip


def job_answer(job: Job) -> JobAnswer:
    """How a job stands."""
    last = job.steps[-1]
    return JobAnswer(state=last.state, words=last.words, done=last.done, total=last.total)


def unit_answer(system: System) -> Unit:
    """The unit of distances."""
    name = unit_of("length", system)
    return Unit(name=name, metres=read(f"1 {name}", "length"))


def trip_answer(kept: KeptTrip, system: System) -> TripAnswer:
    """A trip's choices."""
    trip, shelf = kept.trip, kept.trip.shelf
    return TripAnswer(
        name=kept.name, title=plain(trip.title), place=plain(trip.place), boat=plain(trip.boat.name), units=system,
        unit=unit_answer(system), has_plan=kept.plan is not None, start=kept.start(),
        rods=tuple(
            RodChoice(name=plain(each.name), own_station=each.station,
                      marks=tuple(given(mark, "length", system) for mark in each.marks), mark_metres=each.marks,
                      pattern=pattern(place) or "")
            for place, each in enumerate(trip.outfits)
        ),
        stations=tuple(Choice(name=plain(each.name), said=plain(each.name)) for each in trip.boat.stations),
        weights=_choices(shelf.weights), shock_leaders=_choices(shelf.shock_leaders),
        bite_leaders=_choices(shelf.bite_leaders), lures=_choices(shelf.lures),
        spreads=tuple(each.name for each in kept.spreads),
    )  # fmt: skip


def _choices(pieces: tuple[object, ...]) -> tuple[Choice, ...]:
    found = []
    for piece in pieces:
        name, count = plain(str(getattr(piece, "name", ""))), int(getattr(piece, "count", 0))
        found.append(Choice(name=name, said=f"{name} ({count} on the shelf)", count=count))
    return tuple(found)


def spread_answer(tried: TriedSpread, system: System) -> SpreadAnswer:
    """A hand-made spread straight ahead."""
    return SpreadAnswer(
        rods=tuple(_rod(each, system) for each in tried.rods),
        notes=tuple(sentence(each) for each in tried.reasons),
        unit=unit_answer(system),
    )


def _rod(tried: TriedRod, system: System) -> RodAnswer:
    failed = (f"No steady course was found: {tried.failed}.",) if tried.failed else ()
    return RodAnswer(
        rod=plain(tried.rod), station=plain(tried.station), mark=tried.mark,
        mark_said=given(tried.mark, "length", system), weight=plain(tried.weight),
        shock_leader=plain(tried.shock_leader), bite_leader=plain(tried.bite_leader), lure=plain(tried.lure),
        tip=tried.tip, line=tried.line, joints=tried.joints, weight_depth=_band(tried.weight_depth),
        lure_depth=_band(tried.lure_depth), weight_said=_said(tried.weight_depth, "length", system),
        lure_said=_said(tried.lure_depth, "length", system), pull_said=_said(tried.pull, "force", system),
        angle_said=_said(tried.angle, "angle", system), astern_said=about(tried.astern, "length", system),
        notes=(*failed, *(sentence(each) for each in tried.reasons)),
    )  # fmt: skip


def _band(value: Estimate | None) -> Band | None:
    return None if value is None else (value.low, value.usual, value.high)


def _said(value: Estimate | None, dimension: str, system: System) -> str:
    return "not known" if value is None else estimate(value, dimension, system)


def run_answer(run: TriedRun, trip: Trip, system: System) -> RunAnswer:
    """A hand-made spread through the S-turn."""
    return RunAnswer(
        step=run.step, boat=run.boat, lines=tuple(_line(each, system) for each in run.lines),
        pairs=tuple(pair_answer(each, trip, system) for each in run.pairs),
        closest=closest(run.pairs, trip, system), notes=tuple(sentence(each) for each in run.failed),
    )  # fmt: skip


def _line(motion: LineMotion, system: System) -> LineAnswer:
    moves = [
        [now - before for before, now in zip(earlier, later, strict=True)]
        for earlier, later in zip(motion.places, motion.places[1:], strict=False)
    ]
    least, most = (rounded(each, "length", system) for each in motion.lure_depths)
    return LineAnswer(
        rod=plain(motion.rod), joints=motion.joints, first=motion.places[0], moves=moves,
        swing_said=f"lure about {least} to {most} deep in the turns",
        pull_said=f"pulls up to {about(motion.most_pull, 'force', system)}",
        notes=tuple(sentence(each) for each in motion.reasons),
    )  # fmt: skip


def pair_answer(pair: TriedPair, trip: Trip, system: System) -> PairAnswer:
    """One pair in numbers and words."""
    verdict = _verdict(pair, trip)
    gap = about(pair.gap, "length", system) if pair.range is None else estimate(pair.range, "length", system)
    said = f"{gap} from gear to line, {moment(pair.time)} into the run: {VERDICTS[verdict]}."
    return PairAnswer(
        first=plain(pair.first), second=plain(pair.second), gap=round(pair.gap, 3), time=round(pair.time, 2),
        on_first=pair.on_first, on_second=pair.on_second, verdict=verdict, gap_said=gap, said=said,
    )  # fmt: skip


def _verdict(pair: TriedPair, trip: Trip) -> Verdict:
    if pair.tangle:
        return "tangle"
    if pair.range is not None and pair.range.low < trip.wishes.tangle_reach:
        return "may tangle"
    return "near" if pair.gap < trip.wishes.enough_gap - TOLD_APART else "clear"


def closest(pairs: tuple[TriedPair, ...], trip: Trip, system: System) -> str:
    """The pair that comes closest, in words."""
    if not pairs:
        return "One line only: there is no other to come near."
    pair = pair_answer(pairs[0], trip, system)
    return f"{pair.first} and {pair.second} come closest: {pair.said}"


def ranges_answer(made: TriedRanges, trip: Trip, system: System) -> RangesAnswer:
    """How sure a spread is."""
    through = {each.rod: each for each in made.depths.rods} if made.depths is not None else {}
    return RangesAnswer(
        pairs=tuple(pair_answer(each, trip, system) for each in made.pairs), closest=closest(made.pairs, trip, system),
        rods=tuple(_range(each, through.get(each.rod), system) for each in made.rods),
        times=made.depths.times if made.depths is not None else (), sure=_sure(made),
    )  # fmt: skip


def _range(tried: TriedRange, through: RodDepths | None, system: System) -> RangeAnswer:
    def off(bands: tuple[Band, ...]) -> tuple[tuple[float, float], ...]:
        return tuple((round(usual - low, 3), round(high - usual, 3)) for low, usual, high in bands)

    weight, lure = tried.weight_depth, tried.lure_depth
    return RangeAnswer(
        rod=plain(tried.rod), weight_depth=(weight.low, weight.usual, weight.high),
        lure_depth=(lure.low, lure.usual, lure.high), weight_said=_said(weight, "length", system),
        lure_said=_said(lure, "length", system), pull_said=_said(tried.pull, "force", system),
        angle_said=_said(tried.angle, "angle", system), weight_off=off(through.weight) if through else (),
        lure_off=off(through.lure) if through else (),
    )  # fmt: skip


def _sure(made: TriedRanges) -> str:
    if not made.samples:
        return "How sure this is could not be found."
    whose = "Ranges are the plan's" if made.of_plan else "Ranges"
    return (
        f"{whose}: what 9 in 10 of {made.samples} samples stay in, where everything in doubt varies at once and waves "
        "move the boat. Shaded: where the depths may be."
    )
