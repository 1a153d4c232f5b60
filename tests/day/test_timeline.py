"""The hours of the day: what follows from first light, and what does not fit."""

import math
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from spreadwright.day import timeline
from spreadwright.day.light import Absent, day_light
from spreadwright.day.timeline import DayPlan, day_timeline

HOUR = 3600.0
ZONE = ZoneInfo("Etc/GMT+5")


def light_of(latitude, on, zone=ZONE, longitude=-75.0):
    return day_light(on, math.radians(latitude), math.radians(longitude), zone)


LIGHT = light_of(26.0, date(2026, 4, 4))
PLAN = DayPlan(crossing_out=1.5 * HOUR, crossing_home=1.5 * HOUR, pattern=6 * HOUR)


def test_the_first_line_goes_in_at_first_light_and_the_rest_follows():
    day = day_timeline(LIGHT, PLAN)
    first = LIGHT.civil_dawn
    assert day.when(timeline.FIRST_LINE_IN) == first
    assert day.when(timeline.LEAVE) == first - timedelta(hours=1.5)
    assert day.when(timeline.BE_AT_THE_BOAT) == first - timedelta(hours=1.5, minutes=45)
    assert day.when(timeline.ALL_LINES_IN) == first + timedelta(minutes=15)
    assert day.when(timeline.START_CLEARING) == first + timedelta(hours=6, minutes=15)
    assert day.when(timeline.ALL_LINES_OUT) == first + timedelta(hours=6, minutes=30)
    assert day.when(timeline.HOME) == first + timedelta(hours=8)
    assert day.when("lunch") is None
    assert [step.at for step in day.steps] == sorted(step.at for step in day.steps)
    assert {step.what for step in day.steps} >= {
        timeline.SUNRISE,
        timeline.SUNSET,
        timeline.FIRST_LIGHT,
        timeline.LAST_LIGHT,
    }
    assert all(step.why for step in day.steps)


def test_home_before_dark_with_the_margin_asked_for():
    day = day_timeline(LIGHT, PLAN)
    home = day.when(timeline.HOME)
    assert isinstance(LIGHT.sunset, datetime)
    assert home is not None
    assert day.home_by == LIGHT.sunset - timedelta(minutes=30)
    assert day.slack == (day.home_by - home).total_seconds()
    assert day.slack > 0
    # The only thing to see: it leaves in the dark.
    (problem,) = day.problems
    assert problem.read().startswith("The crossing starts 1 h 30 min before first light: lights, a lookout")


def test_a_day_too_long_says_by_how_much():
    long = day_timeline(LIGHT, DayPlan(1.5 * HOUR, 1.5 * HOUR, 11 * HOUR))
    assert long.slack is not None
    assert long.slack < 0
    shorter = DayPlan(1.5 * HOUR, 1.5 * HOUR, 11 * HOUR + long.slack)
    assert day_timeline(LIGHT, shorter).slack == pytest.approx(0.0, abs=1.0)
    words = long.problems[-1].read()
    assert "later than the light allows" in words
    assert words.count(timeline_minutes(-long.slack)) == 3


def timeline_minutes(seconds):
    hours, minutes = divmod(round(seconds / 60), 60)
    return f"{hours} h {minutes:02d} min" if hours else f"{minutes} min"


def test_a_captain_who_does_not_run_in_the_dark_leaves_at_first_light():
    day = day_timeline(LIGHT, DayPlan(1.5 * HOUR, 1.5 * HOUR, 6 * HOUR, run_in_the_dark=False))
    assert day.when(timeline.LEAVE) == LIGHT.civil_dawn
    assert day.problems == ()
    early = DayPlan(1.5 * HOUR, 1.5 * HOUR, 6 * HOUR, lines_in=LIGHT.civil_dawn, run_in_the_dark=False)
    (problem,) = day_timeline(LIGHT, early).problems
    assert problem.read() == (
        "The crossing would start 1 h 30 min before first light, and you do not run in the dark: set the lines later."
    )


def test_a_time_the_captain_sets_is_kept():
    nine = datetime(2026, 4, 4, 9, 0, tzinfo=ZONE)
    day = day_timeline(LIGHT, DayPlan(HOUR, HOUR, 4 * HOUR, lines_in=nine))
    assert day.when(timeline.FIRST_LINE_IN) == nine
    assert day.problems == ()
    assert next(step.why for step in day.steps if step.at == nine) == "the time set for the lines"


def test_where_it_does_not_get_dark_a_time_is_asked_for_and_nothing_limits_the_return():
    white = light_of(75.0, date(2026, 6, 21), UTC, 20.0)
    assert white.first_light is Absent.UP_ALL_DAY
    open_ = day_timeline(white, PLAN)
    assert open_.steps == ()
    assert open_.problems[0].read().startswith("It does not get dark on this date")
    assert "give a time" in open_.problems[0].read()
    set_ = day_timeline(white, DayPlan(HOUR, HOUR, 4 * HOUR, lines_in=datetime(2026, 6, 21, 8, tzinfo=UTC)))
    assert set_.problems == ()
    assert set_.home_by is None
    assert set_.slack is None


def test_where_it_does_not_get_light_that_is_said():
    night = light_of(85.0, date(2026, 12, 21), UTC, 20.0)
    assert "does not get light" in day_timeline(night, PLAN).problems[0].read()
    set_ = day_timeline(night, DayPlan(HOUR, HOUR, 4 * HOUR, lines_in=datetime(2026, 12, 21, 8, tzinfo=UTC)))
    assert "does not rise" in set_.problems[0].read()


def test_a_sunset_that_falls_past_midnight_is_said():
    # 31 August 2019, 80 N 0 E by universal time: sunset 22:34, but the 30th has a sunset and no sunrise, and
    # 13 April 2019 a sunrise and no sunset (USNO table).
    april = light_of(80.0, date(2019, 4, 13), UTC, 0.0)
    day = day_timeline(april, DayPlan(HOUR, HOUR, 4 * HOUR, lines_in=datetime(2019, 4, 13, 8, tzinfo=UTC)))
    assert "does not set on this date" in day.problems[0].read()


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
@pytest.mark.parametrize("name", ["crossing_out", "crossing_home", "pattern", "at_the_dock", "setting_out", "clearing"])
def test_no_such_length_of_time(name, bad):
    with pytest.raises(ValueError, match=f"{name} is a length of time"):
        DayPlan(**{"crossing_out": 1.0, "crossing_home": 1.0, "pattern": 1.0, name: bad})


def test_no_such_moment():
    with pytest.raises(ValueError, match="time zone"):
        DayPlan(1.0, 1.0, 1.0, lines_in=datetime(2026, 4, 4, 9))
    with pytest.raises(ValueError, match="before_dark"):
        DayPlan(1.0, 1.0, 1.0, before_dark=math.nan)
