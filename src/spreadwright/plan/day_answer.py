"""The day worked out: light, sea, the boat's motion, fuel, hours, and go, wait or no-go with every reason."""

from __future__ import annotations

import math
from datetime import date, datetime
from typing import Literal

from pydantic import BaseModel, ConfigDict

from spreadwright.day import cautions, fuel, papers, timeline, verdict, wave_growth, waves
from spreadwright.day.boat_motion import BoatMotion, Hull, motion_in_turns
from spreadwright.day.findings import Finding
from spreadwright.day.light import DayLight, Happening, UnknownZone, day_light, zone_named
from spreadwright.day.ranges import Range
from spreadwright.day.wind import beaufort
from spreadwright.day.wording import Sentence, Show, plain
from spreadwright.faults import Fault, Faults
from spreadwright.plan.day_file import DayFile
from spreadwright.plan.inputs import HULL, SeaMet
from spreadwright.quantity import System, read, show
from spreadwright.tackle.trip import Trip

HEADINGS = tuple(math.radians(each) for each in range(0, 360, 30))  # S-turns meet the sea from all sides


class Part(BaseModel):
    """A part of the answer: frozen."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Spread(Part):
    """low, usual, high (any unit)."""

    low: float
    usual: float
    high: float


class SkyTimes(Part):
    """The sky: each as the boat's clock reads it (ISO), or the words why it does not happen."""

    happens: tuple[tuple[str, str], ...]
    moon: str
    lit: float


class SeaAnswer(Part):
    """height [m], period [s], steepness [-]; on_current: height and steepness where the current runs; motion of the
    boat: heave [m], roll and pitch [rad], mean to peak of the highest third."""

    wind: str
    height: Spread
    period: float
    steepness: float
    limited_by: str
    on_current: tuple[float, float] | None
    breaking: bool
    heave: Spread | None
    roll: Spread | None
    pitch: Spread | None


class FuelAnswer(Part):
    """Fuel by leg, in all, kept back and to spare [m3]; pattern_left: longest time on the pattern [s].

    legs_said: the legs in whole units, which add up to what the sentence says.
    """

    legs: tuple[tuple[str, float], ...]
    legs_said: tuple[tuple[str, str], ...]
    burn: Spread
    reserve: float
    margin: Spread
    pattern_left: float
    sentence: str


class Line(Part):
    """One line of the go list."""

    topic: str
    answer: str
    reason: str
    next_step: str


class DayAnswer(Part):
    """The whole day of a trip."""

    format: Literal["spreadwright day"] = "spreadwright day"
    version: Literal[1] = 1
    title: str
    date: str
    answer: str
    summary: str
    findings: tuple[Line, ...]
    sky: SkyTimes
    steps: tuple[tuple[str, str, str], ...]
    problems: tuple[str, ...]
    sea: SeaAnswer | None
    fuel: FuelAnswer | None
    fuel_trouble: str
    papers: tuple[Line, ...]
    cautions: tuple[str, ...]
    notices: tuple[str, ...]


def day_answer(trip: Trip, day: DayFile, on: date | None = None, system: System | None = None) -> DayAnswer:
    """The day of a trip. Raises Faults where no date is given anywhere.

    on   the date, if neither the day file's nor the trip's first; system: units of sentences, the trip's if left out
    """
    when = on or day.date or (trip.dates[0] if trip.dates else None)
    if when is None:
        raise Faults([Fault("date", "nothing", "a day has its date", "add date to the day file, or give --date")])
    zone = zone_named(day.zone)
    assert not isinstance(zone, UnknownZone)
    units: System = system or trip.units
    tell = _shower(units)
    light = day_light(when, math.radians(day.latitude), math.radians(day.longitude), zone)
    burnt, left = _fuel(trip, day)
    hours = _hours(day, light, when)
    state, limit = _sea(day)
    stands = _on_current(day, state)
    reviewed = papers.review(
        [papers.Paper(**each.model_dump()) for each in day.papers],
        [papers.CatchLimit(**each.model_dump()) for each in day.catch_limits], when,
    )  # fmt: skip
    weighed = verdict.weigh(
        verdict.Limits(**day.limits.model_dump()),
        _conditions(trip, day, state, stands, burnt, hours, reviewed),
    )
    return DayAnswer(
        title=trip.title, date=when.isoformat(), answer=weighed.answer.word, summary=weighed.summary,
        findings=tuple(Line(topic=f.topic, answer=f.answer.word, reason=_reason(f, burnt, units).read(tell),
                            next_step=f.next_step) for f in weighed.findings),
        sky=_sky(light), steps=tuple((s.at.isoformat(), s.what, s.why) for s in hours.steps) if hours else (),
        problems=tuple(p.read(tell) for p in hours.problems) if hours else (),
        sea=_sea_answer(trip, day, state, limit, stands), fuel=_fuel_answer(burnt, left, units),
        fuel_trouble=burnt.reason.read(tell) if isinstance(burnt, fuel.OffCurve) else "",
        papers=tuple(Line(topic=p.entry, answer=p.concern.name.lower().replace("_", " "), reason=p.words,
                          next_step=p.next_step) for p in reviewed),
        cautions=tuple(c.text for c in cautions.cautions_for([cautions.Work.LEAVING, cautions.Work.CROSSING])),
        notices=(verdict.NOTICE, *((papers.NOTICE,) if reviewed else ()), cautions.NOTICE),
    )  # fmt: skip


def _shower(system: System) -> Show:
    """Shows a sentence's numbers: heights of the sea and speeds in figures that a forecast has, what was typed as it
    was typed, fuel in the units of the gauge."""

    def tell(value: float, dimension: str) -> str:
        if dimension == "time":
            return plain(value, dimension)
        if dimension == "number":
            return f"{value:g}"
        if dimension == "volume":
            return _fuel_said(value, system)
        far = dimension == "length" and abs(value) > 1000.0
        unit = "nmi" if far else None
        typed, spelling = show(value, dimension, system, figures=11, unit=unit).split(" ", 1)
        if abs(float(typed) - float(f"{float(typed):.3g}")) <= 1e-9 * abs(float(typed)):  # what is worked out has more
            return f"{float(typed):.3g} {spelling}"
        return show(value, dimension, system, figures=2, unit=unit)

    return tell


def _fuel_said(volume: float, system: System) -> str:
    number, unit = show(volume, "volume", figures=11, unit="l" if system == "metric" else "gal").split()
    return f"{round(float(number), 1) + 0.0:.10g} {unit}"


def _to_print(burnt: fuel.FuelPlan, system: System) -> fuel.FuelPlan:
    """The plan in whole litres or gallons, or in tenths where the captain typed tenths."""
    unit = read("1 l" if system == "metric" else "1 gal", "volume")
    parts = burnt.on_board / unit
    tenths = abs(parts - round(parts)) > 1e-6 and abs(10.0 * parts - round(10.0 * parts)) < 1e-6
    return burnt.in_steps_of(unit / 10.0 if tenths else unit)


def _reason(found: Finding, burnt: fuel.FuelPlan | fuel.OffCurve | None, system: System) -> Sentence:
    """The reason of a finding; that of the fuel in figures that add up."""
    if isinstance(burnt, fuel.FuelPlan) and found.reason == burnt.reason:
        return _to_print(burnt, system).reason
    return found.reason


def _sky(light: DayLight) -> SkyTimes:
    named: list[tuple[str, Happening]] = [
        ("first light", light.first_light), ("sunrise", light.sunrise), ("sunset", light.sunset),
        ("last light", light.last_light), ("nautical dawn", light.nautical_dawn),
        ("nautical dusk", light.nautical_dusk), ("astronomical dawn", light.astronomical_dawn),
        ("astronomical dusk", light.astronomical_dusk), ("moonrise", light.moonrise), ("moonset", light.moonset),
    ]  # fmt: skip
    told = [(name, at.isoformat() if isinstance(at, datetime) else at.value) for name, at in named]
    return SkyTimes(happens=tuple(told), moon=light.moon.name, lit=light.moon.lit)


def _sea(day: DayFile) -> tuple[waves.SeaState | None, str]:
    """The sea, and what holds it back; None where nothing is known of it."""
    if day.sea.height is not None and day.sea.period is not None:
        state, limit = waves.SeaState(day.sea.height, day.sea.period), "as forecast"
    elif day.wind is not None:
        blow = max(day.wind.speed, 0.0)
        state = wave_growth.sea_from_wind(blow, day.wind.fetch, day.wind.time)
        grown = wave_growth.open_water(blow, day.wind.fetch, day.wind.time) if blow > 0.0 else None
        limit = f"held back by {grown.limited_by.value}" if grown else "calm"
        if state.doubt is not None and day.wind.doubt > 0.0:
            less = wave_growth.sea_from_wind(max(blow - day.wind.doubt, 0.0), day.wind.fetch, day.wind.time)
            more = wave_growth.sea_from_wind(blow + day.wind.doubt, day.wind.fetch, day.wind.time)
            low = less.doubt.low if less.doubt else 0.0
            high = more.doubt.high if more.doubt else more.height
            state = waves.SeaState(state.height, state.peak_period, Range(low, state.height, high))
    else:
        return None, ""
    if day.sea.swell_height is not None and day.sea.swell_period is not None:
        together = waves.combined(state, waves.SeaState(day.sea.swell_height, day.sea.swell_period))
        grown_doubt = state.doubt
        if grown_doubt is not None:
            swell = day.sea.swell_height
            grown_doubt = Range(
                math.hypot(grown_doubt.low, swell), together.height, math.hypot(grown_doubt.high, swell)
            )
        state = waves.SeaState(together.height, together.peak_period, grown_doubt)
        limit = f"{limit}, with the swell"
    return state, limit


def sea_met(day: DayFile) -> SeaMet:
    """The day's sea and hull for a plan's doubt; what the day file does not tell stays as assumed there."""
    state, _ = _sea(day)
    hull = Hull(day.boat.length, day.boat.beam, day.boat.draught) if day.boat is not None else HULL
    if state is None:
        return SeaMet(hull=hull)
    height = _height(state)
    return SeaMet(height.low, height.high, state.peak_period, hull)


def _on_current(day: DayFile, state: waves.SeaState | None) -> waves.SeaOnCurrent | None:
    if state is None or not day.sea.current:
        return None
    return waves.sea_on_current(state, day.sea.current)


def _height(state: waves.SeaState) -> Range:
    return state.doubt or Range.about(state.height, 0.25)  # a forecast's height, where no doubt is given: assumed


def _sea_answer(
    trip: Trip, day: DayFile, state: waves.SeaState | None, limit: str, stands: waves.SeaOnCurrent | None
) -> SeaAnswer | None:
    if state is None:
        return None
    moved: BoatMotion | None = None
    if day.boat is not None and state.height > 0.0:
        hull = Hull(day.boat.length, day.boat.beam, day.boat.draught)
        moved = motion_in_turns(state, hull, trip.pattern.speed, HEADINGS)
    force = beaufort(day.wind.speed) if day.wind else None
    return SeaAnswer(
        wind=f"force {force.force}, {force.name}" if force else "", height=_spread(_height(state)),
        period=state.peak_period, steepness=state.steepness, limited_by=limit,
        on_current=(stands.height, stands.steepness) if stands else None, breaking=bool(stands and stands.breaking),
        heave=_spread(moved.heave) if moved else None, roll=_spread(moved.roll) if moved else None,
        pitch=_spread(moved.pitch) if moved else None,
    )  # fmt: skip


def _spread(given: Range) -> Spread:
    return Spread(low=given.low, usual=given.usual, high=given.high)


def _legs(trip: Trip, day: DayFile) -> tuple[fuel.Leg, ...]:
    course = day.course
    assert course is not None
    return fuel.a_day(course.distance, course.crossing_speed, course.pattern, trip.pattern.speed, course.distance_home)


def _fuel(trip: Trip, day: DayFile) -> tuple[fuel.FuelPlan | fuel.OffCurve | None, float | fuel.OffCurve | None]:
    if day.fuel is None or day.course is None:
        return None, None
    curve = fuel.BurnCurve(tuple((each.speed, each.rate) for each in day.fuel.burn))
    legs = _legs(trip, day)
    left = fuel.pattern_time_left(day.fuel.on_board, curve, (legs[0], legs[2]), trip.pattern.speed, day.fuel.reserve)
    return fuel.plan_fuel(day.fuel.on_board, curve, legs, day.fuel.reserve), left


def _fuel_answer(
    burnt: fuel.FuelPlan | fuel.OffCurve | None, left: float | fuel.OffCurve | None, system: System
) -> FuelAnswer | None:
    if not isinstance(burnt, fuel.FuelPlan) or not isinstance(left, float):
        return None
    printed = _to_print(burnt, system)
    return FuelAnswer(
        legs=burnt.burns, legs_said=tuple((name, _fuel_said(volume, system)) for name, volume in printed.burns),
        burn=_spread(burnt.burn), reserve=burnt.reserve, margin=_spread(burnt.margin),
        pattern_left=left, sentence=printed.reason.read(_shower(system)),
    )  # fmt: skip


def _hours(day: DayFile, light: DayLight, when: date) -> timeline.Timeline | None:
    course = day.course
    if course is None:
        return None
    zone = zone_named(day.zone)
    assert not isinstance(zone, UnknownZone)
    home = course.distance if course.distance_home is None else course.distance_home
    return timeline.day_timeline(
        light,
        timeline.DayPlan(
            crossing_out=course.distance / course.crossing_speed, crossing_home=home / course.crossing_speed,
            pattern=course.pattern, run_in_the_dark=course.run_in_the_dark, before_dark=course.before_dark,
            lines_in=datetime.combine(when, course.lines_in, tzinfo=zone) if course.lines_in else None,
        ),
    )  # fmt: skip


def _conditions(
    trip: Trip, day: DayFile, state: waves.SeaState | None, stands: waves.SeaOnCurrent | None,
    burnt: fuel.FuelPlan | fuel.OffCurve | None, hours: timeline.Timeline | None,
    reviewed: tuple[papers.PaperFinding, ...],
) -> verdict.Conditions:  # fmt: skip
    wind = day.wind
    speed = Range(max(wind.speed - wind.doubt, 0.0), wind.speed, wind.speed + wind.doubt) if wind else None
    high = _height(state) if state else None
    return verdict.Conditions(
        wind=speed, gust=Range.exactly(wind.gust) if wind and wind.gust is not None else None, wave_height=high,
        steepness=Range.exactly(round(state.steepness, 3)) if state else None,
        visibility=Range.exactly(day.forecast.visibility) if day.forecast.visibility is not None else None,
        forecast_age=day.forecast.age, crew=len(trip.crew) or None, thunder=day.forecast.thunder, current_sea=stands,
        fuel=burnt, hours=hours, papers=reviewed,
    )  # fmt: skip
