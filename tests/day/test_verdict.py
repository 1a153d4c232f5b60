"""The go list: one thing against it decides, and nothing known is never go."""

import dataclasses
import math
from datetime import date
from zoneinfo import ZoneInfo

import pytest

from spreadwright.day.findings import Answer
from spreadwright.day.fuel import BurnCurve, Leg, plan_fuel
from spreadwright.day.light import day_light
from spreadwright.day.papers import Concern, Paper, PaperFinding, review
from spreadwright.day.ranges import Range
from spreadwright.day.timeline import DayPlan, day_timeline
from spreadwright.day.verdict import NOTICE, Conditions, Limits, Verdict, weigh
from spreadwright.day.waves import SeaState, sea_on_current
from spreadwright.day.wind import KNOT

HOUR = 3600.0
TRIP = date(2026, 4, 4)
LIMITS = Limits(
    wind=20 * KNOT, gust=28 * KNOT, wave_height=1.8, steepness=0.06, visibility=2000.0, forecast_age=6 * HOUR, crew=3
)
LIGHT = day_light(TRIP, math.radians(26), math.radians(-75), ZoneInfo("Etc/GMT+5"))
CURVE = BurnCurve(((0.0, 1e-6), (15.0, 3e-5)))


def hours(pattern=5 * HOUR):
    return day_timeline(LIGHT, DayPlan(HOUR, HOUR, pattern, run_in_the_dark=False))


GOOD = Conditions(
    wind=Range(8 * KNOT, 12 * KNOT, 15 * KNOT),
    gust=Range(10 * KNOT, 15 * KNOT, 20 * KNOT),
    wave_height=Range(0.6, 0.9, 1.2),
    steepness=Range(0.02, 0.03, 0.04),
    visibility=Range(8000.0, 15000.0, 20000.0),
    forecast_age=2 * HOUR,
    crew=3,
    thunder=False,
    current_sea=sea_on_current(SeaState(0.9, 6.0), -0.3),
    fuel=plan_fuel(1.5, CURVE, [Leg("all day", 8.0, 7 * HOUR)]),
    hours=hours(),
    papers=review([Paper("licence", checked_on=TRIP)], [], TRIP),
)


def with_(**changes):
    return weigh(LIMITS, dataclasses.replace(GOOD, **changes))


def topic(verdict, name):
    return next(finding for finding in verdict.findings if finding.topic == name)


def test_a_good_day_is_go_and_still_no_promise():
    verdict = weigh(LIMITS, GOOD)
    assert [finding.answer for finding in verdict.findings] == [Answer.GO] * len(verdict.findings)
    assert len(verdict.findings) == 11 - 1  # the papers are fine and stay off the list
    assert verdict.answer is Answer.GO
    assert verdict.summary == ("Go by your own limits: nothing entered stands against it. Look again before you leave.")
    assert verdict.notice == NOTICE
    assert "local rules" in NOTICE
    assert "no promise" in NOTICE
    for finding in verdict.findings:
        assert "safe" not in finding.reason.read().lower()


@pytest.mark.parametrize(
    ("changes", "name", "answer"),
    [
        ({"wind": Range(18 * KNOT, 22 * KNOT, 25 * KNOT)}, "wind", Answer.NO_GO),
        ({"wind": Range(12 * KNOT, 18 * KNOT, 22 * KNOT)}, "wind", Answer.WAIT),
        ({"wind": None}, "wind", Answer.WAIT),
        ({"gust": Range(20 * KNOT, 30 * KNOT, 35 * KNOT)}, "gusts", Answer.NO_GO),
        ({"wave_height": Range(1.0, 2.0, 2.5)}, "wave height", Answer.NO_GO),
        ({"wave_height": None}, "wave height", Answer.WAIT),
        ({"steepness": Range(0.04, 0.05, 0.07)}, "steepness of the sea", Answer.WAIT),
        ({"visibility": Range(500.0, 1500.0, 3000.0)}, "visibility", Answer.NO_GO),
        ({"visibility": None}, "visibility", Answer.WAIT),
        ({"forecast_age": 7 * HOUR}, "age of the forecast", Answer.WAIT),
        ({"forecast_age": None}, "age of the forecast", Answer.WAIT),
        ({"crew": 2}, "crew", Answer.NO_GO),
        ({"crew": None}, "crew", Answer.WAIT),
        ({"thunder": True}, "thunder", Answer.NO_GO),
        ({"thunder": None}, "thunder", Answer.WAIT),
        ({"current_sea": sea_on_current(SeaState(2.0, 5.0), -1.7)}, "sea against the current", Answer.NO_GO),
        ({"current_sea": sea_on_current(SeaState(0.2, 5.0), -2.5)}, "sea against the current", Answer.NO_GO),
        ({"current_sea": sea_on_current(SeaState(1.1, 5.0), -1.2)}, "sea against the current", Answer.NO_GO),
        ({"current_sea": sea_on_current(SeaState(1.7, 9.0), -0.8)}, "sea against the current", Answer.NO_GO),
        ({"fuel": None}, "fuel", Answer.WAIT),
        ({"fuel": plan_fuel(1.5, CURVE, [Leg("all day", 20.0, HOUR)])}, "fuel", Answer.WAIT),
        ({"fuel": plan_fuel(0.65, CURVE, [Leg("all day", 8.0, 7 * HOUR)])}, "fuel", Answer.WAIT),
        ({"fuel": plan_fuel(0.5, CURVE, [Leg("all day", 8.0, 7 * HOUR)])}, "fuel", Answer.NO_GO),
        ({"hours": None}, "daylight", Answer.WAIT),
        ({"hours": hours(12 * HOUR)}, "daylight", Answer.NO_GO),
        ({"hours": day_timeline(LIGHT, DayPlan(HOUR, HOUR, HOUR))}, "daylight", Answer.WAIT),
        ({"papers": review([Paper("licence")], [], TRIP)}, "papers: licence", Answer.WAIT),
        ({"papers": review([Paper("{x}", valid_until=date(2020, 1, 1))], [], TRIP)}, "papers: {x}", Answer.WAIT),
    ],
)
def test_one_thing_against_it_decides(changes, name, answer):
    verdict = with_(**changes)
    finding = topic(verdict, name)
    assert finding.answer is answer
    assert verdict.answer is answer
    assert verdict.findings[0].topic == name
    assert name in verdict.summary
    assert finding.reason.read()
    assert finding.next_step


def test_the_strongest_reason_comes_first():
    verdict = with_(wind=None, crew=1, thunder=None)
    answers = [finding.answer for finding in verdict.findings]
    assert answers == sorted(answers, reverse=True)
    assert verdict.summary == "No-go by your own limits: crew."


def test_a_captain_without_limits_is_asked_for_them():
    verdict = weigh(Limits(), GOOD)
    assert verdict.answer is Answer.WAIT
    asked = {finding.topic for finding in verdict.findings if "set no limit" in finding.reason.read()}
    assert asked == {"wind", "gusts", "wave height", "steepness of the sea"}
    assert "crew" not in {finding.topic for finding in verdict.findings}


def test_nothing_known_is_never_go():
    verdict = weigh(LIMITS, Conditions())
    assert verdict.answer is Answer.WAIT
    assert all(finding.answer is Answer.WAIT for finding in verdict.findings)
    assert weigh(Limits(), Conditions()).answer is Answer.WAIT


def against_the_current(sea, limits):
    finding = topic(weigh(limits, dataclasses.replace(GOOD, current_sea=sea)), "sea against the current")
    return finding.answer, finding.reason.read()


def test_a_sea_on_a_current_is_held_to_height_and_steepness():
    steep, high = sea_on_current(SeaState(1.1, 5.0), -1.2), sea_on_current(SeaState(1.7, 9.0), -0.8)
    stands = "Where the current runs against it the sea stands "
    assert against_the_current(steep, LIMITS) == (
        Answer.NO_GO, stands + "1.7 m high with a steepness of 0.067, over your limit of 0.06.",
    )  # fmt: skip
    assert against_the_current(high, LIMITS) == (
        Answer.NO_GO,
        stands + "1.9 m high with a steepness of 0.017, over your limit of 1.8 m for the height.",
    )
    assert against_the_current(steep, Limits())[0] is Answer.GO
    very_steep = sea_on_current(SeaState(1.2, 5.0), -1.2)
    assert not very_steep.breaking
    assert against_the_current(very_steep, Limits())[0] is Answer.WAIT
    assert against_the_current(sea_on_current(SeaState(2.0, 5.0), -1.7), Limits()) == (
        Answer.NO_GO, "Where the current runs against it the sea stands up to 2.6 m and breaks.",
    )  # fmt: skip


def test_an_empty_list_waits():
    assert Verdict(()).answer is Answer.WAIT
    assert Verdict(()).summary == "Wait: not settled yet: nothing was entered."


def test_words_with_braces_are_shown_as_they_are():
    paper = PaperFinding("licence", Concern.LOOK_AGAIN, "kept in {the blue box}", "look")
    assert topic(with_(papers=[paper]), "papers: licence").reason.read() == "kept in {the blue box}."


def test_worse_weather_never_helps():
    answers = [with_(wind=Range(knots * KNOT * 0.8, knots * KNOT, knots * KNOT * 1.2)).answer for knots in range(5, 40)]
    assert answers == sorted(answers)
    assert set(answers) == set(Answer)


@pytest.mark.parametrize("name", [field.name for field in dataclasses.fields(Limits)])
@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_no_such_limit(name, bad):
    with pytest.raises(ValueError, match=f"your limit for {name}"):
        Limits(**{name: bad})
