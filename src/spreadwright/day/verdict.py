"""Go, wait or no-go: the day's conditions against the captain's own limits, each with its reason.

It compares numbers that someone gave; it does not know the sea. "Go" means that nothing entered
stands against the trip, never that the trip is safe. Where a condition is not known, or lies within
the doubt of a limit, the answer is "wait". Local rules, the official forecast and the captain's own
eyes decide.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields

from spreadwright.day.findings import Answer, Finding, at_least, at_most, not_known, not_set
from spreadwright.day.fuel import Enough, FuelPlan, OffCurve
from spreadwright.day.papers import Concern, PaperFinding
from spreadwright.day.ranges import Range
from spreadwright.day.timeline import Timeline
from spreadwright.day.waves import BREAKING_STEEPNESS, SeaOnCurrent
from spreadwright.day.wording import Number, Sentence

NOTICE = (
    "This list compares what was entered with your own limits. It is no promise and no forecast: local rules, "
    "the official forecast and the captain on the spot decide. Nobody has to go."
)


# Half of what makes a single wave break: a sea to look at twice where no limit was set (assumed).
STEEP = BREAKING_STEEPNESS / 2.0


@dataclass(frozen=True, slots=True)
class Limits:
    """The captain's own limits for this boat and crew; None where none is set.

    wind, gust        at most, at 10 m [m/s]
    wave_height       at most, significant [m]
    steepness         at most, significant height over length at the peak; it and the height also
                      hold where a current runs against the sea
    visibility        at least [m]
    forecast_age      at most [s]
    crew              at least, aboard
    Raises ValueError for a limit that is negative or not finite.
    """

    wind: float | None = None
    gust: float | None = None
    wave_height: float | None = None
    steepness: float | None = None
    visibility: float | None = None
    forecast_age: float | None = None
    crew: int | None = None

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if value is not None and not (math.isfinite(value) and value >= 0.0):
                raise ValueError(f"your limit for {field.name} must be zero or more and finite, given {value}")


@dataclass(frozen=True, slots=True)
class Conditions:
    """What is known of the day, each with its doubt, in the units of Limits; None where nobody knows.

    forecast_age  since it was issued [s]
    current_sea   the sea where the current runs against it, if such a place lies on the way
    thunder       whether thunderstorms are in the forecast
    fuel, hours, papers  the answers of the other parts of this room
    """

    wind: Range | None = None
    gust: Range | None = None
    wave_height: Range | None = None
    steepness: Range | None = None
    visibility: Range | None = None
    forecast_age: float | None = None
    crew: int | None = None
    thunder: bool | None = None
    current_sea: SeaOnCurrent | None = None
    fuel: FuelPlan | OffCurve | None = None
    hours: Timeline | None = None
    papers: Sequence[PaperFinding] = ()


@dataclass(frozen=True, slots=True)
class Verdict:
    """The whole list, strongest reason first, and the answer that follows: the strongest of all."""

    findings: tuple[Finding, ...]
    notice: str = NOTICE

    @property
    def answer(self) -> Answer:
        """The strongest answer of the list; wait when there is nothing on it."""
        return max((finding.answer for finding in self.findings), default=Answer.WAIT)

    @property
    def summary(self) -> str:
        """One sentence that never promises."""
        against = [finding.topic for finding in self.findings if finding.answer is self.answer]
        match self.answer:
            case Answer.NO_GO:
                return f"No-go by your own limits: {', '.join(against)}."
            case Answer.WAIT:
                return f"Wait: not settled yet: {', '.join(against) or 'nothing was entered'}."
            case _:
                return "Go by your own limits: nothing entered stands against it. Look again before you leave."


def _weather(limits: Limits, conditions: Conditions) -> list[Finding]:
    """Wind and sea are asked for always; the others where the captain set a limit."""
    found: list[Finding] = []
    tops = [
        ("wind", limits.wind, conditions.wind, "speed", True),
        ("gusts", limits.gust, conditions.gust, "speed", False),
        ("wave height", limits.wave_height, conditions.wave_height, "length", True),
        ("steepness of the sea", limits.steepness, conditions.steepness, "number", False),
    ]
    for topic, limit, given, dimension, always in tops:
        if limit is None:
            if always or given is not None:
                found.append(not_set(topic))
        elif given is None:
            found.append(not_known(topic, limit, dimension))
        else:
            found.append(at_most(topic, given, limit, dimension))
    if limits.visibility is not None:
        if conditions.visibility is None:
            found.append(not_known("visibility", limits.visibility, "length"))
        else:
            found.append(at_least("visibility", conditions.visibility, limits.visibility, "length"))
    return found


def _forecast(limits: Limits, conditions: Conditions) -> list[Finding]:
    found: list[Finding] = []
    if limits.forecast_age is not None and conditions.forecast_age is not None:
        age = Range.exactly(conditions.forecast_age)
        finding = at_most("age of the forecast", age, limits.forecast_age, "time")
        if finding.answer is Answer.NO_GO:  # an old forecast is no reason to stay in, only to look again
            finding = Finding(finding.topic, Answer.WAIT, finding.reason, "get the latest official forecast")
        found.append(finding)
    elif conditions.forecast_age is None:
        reason = Sentence("No age was entered for the forecast.")
        found.append(Finding("age of the forecast", Answer.WAIT, reason, "get the latest official forecast"))
    if conditions.thunder:
        reason = Sentence("Thunderstorms are in the forecast: graphite rods and outriggers draw them.")
        found.append(Finding("thunder", Answer.NO_GO, reason, "stay in, or wait until they have passed"))
    elif conditions.thunder is None:
        reason = Sentence("Nobody entered whether thunderstorms are in the forecast.")
        found.append(Finding("thunder", Answer.WAIT, reason, "look it up"))
    return found


def _current(limits: Limits, sea: SeaOnCurrent | None) -> list[Finding]:
    """Where the current runs against the sea: breaking waves, then the captain's height and steepness."""
    if sea is None:
        return []
    topic = "sea against the current"
    height, steepness = Number(sea.height, "length"), Number(round(sea.steepness, 3), "number")
    around = "pass at slack water, or go another way"
    if sea.blocked or sea.breaking:
        reason = Sentence.of(
            "Where the current runs against it the sea stands up to {height} and breaks.", height=height
        )
        return [Finding(topic, Answer.NO_GO, reason, around)]
    stands = "Where the current runs against it the sea stands {height} high with a steepness of {steepness}"
    if limits.wave_height is not None and sea.height > limits.wave_height:
        reason = Sentence.of(
            stands + ", over your limit of {limit} for the height.",
            height=height,
            steepness=steepness,
            limit=Number(limits.wave_height, "length"),
        )
        return [Finding(topic, Answer.NO_GO, reason, around)]
    if limits.steepness is not None and sea.steepness > limits.steepness:
        reason = Sentence.of(
            stands + ", over your limit of {limit}.",
            height=height,
            steepness=steepness,
            limit=Number(limits.steepness, "number"),
        )
        return [Finding(topic, Answer.NO_GO, reason, around)]
    reason = Sentence.of(stands + ".", height=height, steepness=steepness)
    if limits.steepness is None and sea.steepness > STEEP:
        return [Finding(topic, Answer.WAIT, reason, "set a limit for the steepness, or pass at slack water")]
    return [Finding(topic, Answer.GO, reason, "look at it from outside before you enter")]


def _crew(limits: Limits, conditions: Conditions) -> list[Finding]:
    if limits.crew is None:
        return []
    if conditions.crew is None:
        return [not_known("crew", limits.crew, "number")]
    return [at_least("crew", Range.exactly(conditions.crew), limits.crew, "number")]


def _fuel(fuel: FuelPlan | OffCurve | None) -> list[Finding]:
    topic = "fuel"
    if fuel is None:
        return [Finding(topic, Answer.WAIT, Sentence("The fuel was not worked out."), "enter the burn curve and tanks")]
    if isinstance(fuel, OffCurve):
        return [Finding(topic, Answer.WAIT, fuel.reason, "complete the burn curve")]
    answers = {
        Enough.ENOUGH: (Answer.GO, "fill up anyway, and read the gauge at the turn for home"),
        Enough.DOUBTFUL: (Answer.WAIT, "take more fuel, or fish fewer hours"),
        Enough.SHORT: (Answer.NO_GO, "take more fuel, fish fewer hours, or stay closer"),
    }
    answer, next_step = answers[fuel.verdict]
    return [Finding(topic, answer, fuel.reason, next_step)]


def _hours(hours: Timeline | None) -> list[Finding]:
    topic = "daylight"
    if hours is None:
        reason = Sentence("The hours of the day were not worked out.")
        return [Finding(topic, Answer.WAIT, reason, "enter the crossing and the hours on the pattern")]
    if hours.slack is not None and hours.slack < 0.0:
        answer, next_step = Answer.NO_GO, "shorten the day"
    else:
        answer, next_step = Answer.WAIT, "decide on it"
    found = [Finding(topic, answer, problem, next_step) for problem in hours.problems]
    if not found and hours.slack is not None:
        reason = Sentence.of("Home {slack} before the time you set before dark.", slack=Number(hours.slack, "time"))
        found.append(Finding(topic, Answer.GO, reason, "tell someone ashore when you will be back"))
    return found


def _papers(papers: Sequence[PaperFinding]) -> list[Finding]:
    return [
        Finding(f"papers: {paper.entry}", Answer.WAIT, Sentence(_literal(paper.words) + "."), paper.next_step)
        for paper in papers
        if paper.concern is not Concern.FINE
    ]


def _literal(words: str) -> str:
    """The captain's own words, with braces kept as they are."""
    return words.replace("{", "{{").replace("}", "}}")


def weigh(limits: Limits, conditions: Conditions) -> Verdict:
    """The list for a day: every topic with its answer, strongest first; order kept among equals."""
    found = [
        *_weather(limits, conditions),
        *_current(limits, conditions.current_sea),
        *_forecast(limits, conditions),
        *_crew(limits, conditions),
        *_fuel(conditions.fuel),
        *_hours(conditions.hours),
        *_papers(conditions.papers),
    ]
    return Verdict(tuple(sorted(found, key=lambda finding: -finding.answer)))
