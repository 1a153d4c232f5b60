"""The hours of the day in order: leave, lines in at first light, lines out, home before dark.

Built backward and forward from the light: the first line goes in at first light (civil dawn) if
the captain sets no other time, and the boat is home a margin before sunset. What does not fit is
named with the time it lacks; nothing is moved silently.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

from spreadwright.day.light import Absent, DayLight, Happening
from spreadwright.day.wording import Number, Sentence

# Assumed, no source; each is an argument.
_AT_THE_DOCK = 45.0 * 60.0
_SETTING_OUT = 15.0 * 60.0
_CLEARING = 15.0 * 60.0
_BEFORE_DARK = 30.0 * 60.0


@dataclass(frozen=True, slots=True)
class DayPlan:
    """What the captain wants of the day; times are lengths [s] unless they are moments.

    crossing_out, crossing_home  under way
    pattern        with all lines in
    lines_in       when the first line goes in; None means first light
    run_in_the_dark  whether the crossing out may start before first light
    before_dark    how long before sunset to be home
    """

    crossing_out: float
    crossing_home: float
    pattern: float
    lines_in: datetime | None = None
    run_in_the_dark: bool = True
    at_the_dock: float = _AT_THE_DOCK
    setting_out: float = _SETTING_OUT
    clearing: float = _CLEARING
    before_dark: float = _BEFORE_DARK

    def __post_init__(self) -> None:
        for name in ("crossing_out", "crossing_home", "pattern", "at_the_dock", "setting_out", "clearing"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0.0):
                raise ValueError(f"{name} is a length of time, zero or more, given {value} s")
        if not math.isfinite(self.before_dark):
            raise ValueError(f"before_dark must be finite, given {self.before_dark} s")
        if self.lines_in is not None and self.lines_in.tzinfo is None:
            raise ValueError("lines_in needs its time zone, such as datetime(..., tzinfo=UTC)")


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the day: when, what, and why then."""

    at: datetime
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class Timeline:
    """The day in order, and what does not fit.

    steps       by time; empty when there is no light to plan by
    home_by     the latest return that the light allows; None without a sunset
    slack       time between coming home and `home_by` [s]; negative is too late
    problems    what does not fit, each with its next step
    """

    steps: tuple[Step, ...]
    home_by: datetime | None
    slack: float | None
    problems: tuple[Sentence, ...]

    def when(self, what: str) -> datetime | None:
        """The time of the first step called `what`."""
        return next((step.at for step in self.steps if step.what == what), None)


BE_AT_THE_BOAT = "be at the boat"
LEAVE = "leave"
FIRST_LINE_IN = "first line in"
ALL_LINES_IN = "all lines in"
START_CLEARING = "start clearing"
ALL_LINES_OUT = "all lines out"
HOME = "home"
SUNRISE = "sunrise"
SUNSET = "sunset"
FIRST_LIGHT = "first light"
LAST_LIGHT = "last light"


def _first_line(light: DayLight, plan: DayPlan) -> datetime | Sentence:
    """When the first line goes in, or why no time can be given."""
    if plan.lines_in is not None:
        return plan.lines_in
    dawn = light.first_light
    if isinstance(dawn, datetime):
        if plan.run_in_the_dark:
            return dawn
        return dawn + timedelta(seconds=plan.crossing_out)
    if dawn is Absent.UP_ALL_DAY:
        return Sentence("It does not get dark on this date, so there is no first light to set lines by: give a time.")
    if dawn is Absent.DOWN_ALL_DAY:
        return Sentence("It does not get light on this date: give a time for the lines if you mean to fish at night.")
    return Sentence("First light falls outside this date by the boat's clock: give a time for the lines.")


def _under_way(first: datetime, plan: DayPlan, why: str) -> list[Step]:
    leave = first - timedelta(seconds=plan.crossing_out)
    all_in = first + timedelta(seconds=plan.setting_out)
    clear = all_in + timedelta(seconds=plan.pattern)
    out = clear + timedelta(seconds=plan.clearing)
    return [
        Step(leave - timedelta(seconds=plan.at_the_dock), BE_AT_THE_BOAT, "load, check, look at the forecast again"),
        Step(leave, LEAVE, "the crossing out ends as the first line goes in"),
        Step(first, FIRST_LINE_IN, why),
        Step(all_in, ALL_LINES_IN, "longest line first, shortest last"),
        Step(clear, START_CLEARING, "the hours on the pattern are over"),
        Step(out, ALL_LINES_OUT, "shortest line first, longest last"),
        Step(out + timedelta(seconds=plan.crossing_home), HOME, "the crossing home"),
    ]


def _light_steps(light: DayLight) -> list[Step]:
    named: list[tuple[Happening, str, str]] = [
        (light.first_light, FIRST_LIGHT, "the sun 6 degrees below the horizon"),
        (light.sunrise, SUNRISE, "the hour around it fishes best"),
        (light.sunset, SUNSET, "the hour around it fishes best"),
        (light.last_light, LAST_LIGHT, "the sun 6 degrees below the horizon"),
    ]
    return [Step(when, what, why) for when, what, why in named if isinstance(when, datetime)]


def _too_late(late: float) -> Sentence:
    return Sentence.of(
        "This day comes home {late} later than the light allows: fish {late} less, leave {late} earlier, "
        "or fish closer to home.",
        late=Number(late, "time"),
    )


def _in_the_dark(leave: datetime, light: DayLight, plan: DayPlan) -> Sentence | None:
    """The crossing out starts before first light: allowed or not, the captain should see it."""
    dawn = light.first_light
    early = (dawn - leave).total_seconds() if isinstance(dawn, datetime) else 0.0
    if early <= 0.0:
        return None
    if not plan.run_in_the_dark:
        return Sentence.of(
            "The crossing would start {early} before first light, and you do not run in the dark: set the lines later.",
            early=Number(early, "time"),
        )
    return Sentence.of(
        "The crossing starts {early} before first light: lights, a lookout and a slower speed for what floats.",
        early=Number(early, "time"),
    )


def day_timeline(light: DayLight, plan: DayPlan) -> Timeline:
    """The day's steps between its light, with what does not fit.

    Where the date has no sunset, there is nothing to be home before, and the timeline says so.
    """
    first = _first_line(light, plan)
    if isinstance(first, Sentence):
        return Timeline((), None, None, (first,))
    why = "first light" if plan.lines_in is None and plan.run_in_the_dark else "the time set for the lines"
    if plan.lines_in is None and not plan.run_in_the_dark:
        why = "left at first light, this is the ground"
    steps = _under_way(first, plan, why)
    leave, home = steps[1].at, steps[-1].at
    problems = []
    dark = _in_the_dark(leave, light, plan)
    if dark is not None:
        problems.append(dark)
    home_by, slack = None, None
    if isinstance(light.sunset, datetime):
        home_by = light.sunset - timedelta(seconds=plan.before_dark)
        slack = (home_by - home).total_seconds()
        if slack < 0.0:
            problems.append(_too_late(-slack))
    elif light.sunset is Absent.DOWN_ALL_DAY:
        problems.append(Sentence("The sun does not rise on this date: all of it is run in the dark or in twilight."))
    elif light.sunset is Absent.NOT_THIS_DATE:
        problems.append(Sentence("The sun does not set on this date by the boat's clock: check the day after."))
    ordered = sorted([*steps, *_light_steps(light)], key=lambda step: step.at)
    return Timeline(tuple(ordered), home_by, slack, tuple(problems))
