"""The day worked out from a day file: each part by hand or by the room that computes it; every fault."""

from __future__ import annotations

import math
from datetime import date, datetime
from pathlib import Path

import pytest
from tests.plan.trips import small_trip

from spreadwright.day.light import day_light, zone_named
from spreadwright.faults import Faults
from spreadwright.plan.day_answer import day_answer
from spreadwright.plan.day_file import DayFile, day_from_text, read_day_file

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "day.toml"
KNOT, MILE, GALLON = 1852 / 3600, 1852.0, 3.785411784e-3
WHERE = 'date = "2031-03-08"\nlatitude = 26.5\nlongitude = -70.25\n'
FUEL = (
    '[course]\ndistance = "30 nmi"\ncrossing_speed = "20 kn"\npattern = "5 h"\n'
    '[fuel]\non_board = "{}"\nreserve = "33.333333 %"\n'
    '[[fuel.burn]]\nspeed = "10 kn"\nrate = "10 gal/h"\n[[fuel.burn]]\nspeed = "20 kn"\nrate = "30 gal/h"\n'
)


def answer(text: str, **more):
    return day_answer(small_trip(), day_from_text(WHERE + text), **more)


def finding(day, topic):
    return next(each for each in day.findings if each.topic == topic)


def test_light_is_that_of_the_day_room():
    zone = zone_named("America/New_York")
    light = day_light(date(2031, 3, 8), math.radians(26.5), math.radians(-70.25), zone)  # type: ignore[arg-type]
    day = answer('zone = "America/New_York"\n')
    happens = dict(day.sky.happens)
    assert isinstance(light.sunrise, datetime)
    assert happens["sunrise"] == light.sunrise.isoformat()
    assert set(happens) >= {"first light", "sunset", "moonrise", "astronomical dusk"}
    assert day.sky.moon == light.moon.name


def test_fuel_by_hand():
    """Three hours of crossing at 30 gal/h, five at 20 gal/h (half way up the curve at 15 kn): 190 gal."""
    day = answer(FUEL.format("300 gal"))
    assert day.fuel is not None
    assert day.fuel.burn.usual / GALLON == pytest.approx(90 + 100, rel=1e-6)
    assert day.fuel.reserve / GALLON == pytest.approx(100, rel=1e-4)
    assert day.fuel.margin.usual / GALLON == pytest.approx(10, rel=1e-3)
    # at the worst, 15 % more: (200 - 90 * 1.15) / (20 * 1.15)
    assert day.fuel.pattern_left / 3600 == pytest.approx((200 - 103.5) / 23, rel=1e-3)
    assert finding(day, "fuel").answer == "wait"
    assert finding(answer(FUEL.format("500 gal")), "fuel").answer == "go"
    short = answer(FUEL.format("200 gal"))
    assert finding(short, "fuel").answer == "no-go"
    assert short.answer == "no-go"


def test_a_speed_off_the_burn_curve_is_told():
    day = answer(FUEL.format("300 gal").replace('"20 kn"\npattern', '"25 kn"\npattern'))
    assert day.fuel is None
    assert "25" in day.fuel_trouble


def test_hours_and_home_before_dark():
    day = answer(FUEL.format("500 gal"))
    steps = {what: datetime.fromisoformat(at) for at, what, _ in day.steps}
    assert (steps["first line in"] - steps["leave"]).total_seconds() == pytest.approx(1.5 * 3600)
    late = answer(FUEL.format("500 gal").replace('"5 h"', '"5 h"\nlines_in = "20:00"'))
    assert finding(late, "daylight").answer == "no-go"
    assert any("later than the light allows" in problem for problem in late.problems)


def test_wind_and_sea_against_the_captains_limits():
    """ACES example: 27.71 kn over 60 statute miles in 3 hours raise 4.7 ft in 4.7 s."""
    wind = '[wind]\nspeed = "27.71 kn"\nfetch = "60 mi"\ntime = "3 h"\n[limits]\nwind = "{}"\nwave_height = "{}"\n'
    day = answer(wind.format("30 kn", "9 ft"))
    assert day.sea is not None
    assert day.sea.height.usual / 0.3048 == pytest.approx(4.7, abs=0.05)
    assert day.sea.period == pytest.approx(4.7, abs=0.05)
    assert day.sea.height.low < day.sea.height.usual < day.sea.height.high
    assert (finding(day, "wind").answer, finding(day, "wave height").answer) == ("go", "go")
    assert finding(answer(wind.format("20 kn", "9 ft")), "wind").answer == "no-go"
    assert finding(answer(wind.format("30 kn", "5 ft")), "wave height").answer == "wait"
    assert finding(answer(wind.format("30 kn", "4 ft")), "wave height").answer == "no-go"


def test_a_doubtful_wind_widens_the_sea():
    wind = '[wind]\nspeed = "15 kn"\nfetch = "60 mi"\ntime = "3 h"\n'
    sure, doubtful = answer(wind).sea, answer(wind + 'doubt = "5 kn"\n').sea
    more = answer(wind.replace("15", "20")).sea
    assert sure is not None
    assert doubtful is not None
    assert more is not None
    assert doubtful.height.usual == sure.height.usual
    assert doubtful.height.high == pytest.approx(more.height.high)
    assert doubtful.height.low < sure.height.low
    swell = answer(wind + '[sea]\nswell_height = "2 m"\nswell_period = "9 s"\n').sea
    assert swell is not None
    assert swell.height.high == pytest.approx(math.hypot(sure.height.high, 2.0))


def test_swell_and_current_stand_in_the_sea():
    text = '[sea]\nheight = "1.2 m"\nperiod = "6 s"\nswell_height = "0.9 m"\nswell_period = "9 s"\ncurrent = "-2 kn"\n'
    day = answer(text)
    assert day.sea is not None
    assert day.sea.height.usual == pytest.approx(1.5, rel=1e-9)
    assert day.sea.on_current is not None
    assert day.sea.on_current[0] > 1.5
    assert "against" in finding(day, "sea against the current").reason


def test_what_nobody_entered_is_never_a_go():
    day = answer("")
    assert day.answer == "wait"
    assert day.sea is None
    assert {each.topic for each in day.findings} >= {"wind", "wave height", "fuel", "daylight", "age of the forecast"}
    assert any("Nobody has to go" in notice for notice in day.notices)


def test_the_demos_day_and_its_papers():
    day = day_answer(small_trip(), read_day_file(DEMO), date(2031, 3, 9))
    (out,) = [each for each in day.papers if each.answer == "not valid"]
    assert "fishing licence" in out.topic
    assert finding(day, "papers: fishing licence (Odile)").answer == "wait"
    assert day.sea is not None
    assert day.sea.heave is not None
    assert day.sea.heave.low < day.sea.heave.usual < day.sea.heave.high
    assert type(day).model_validate_json(day.model_dump_json()) == day


def test_a_day_without_any_date_is_told():
    with pytest.raises(Faults, match="a day has its date"):
        day_answer(small_trip(), day_from_text(WHERE.split("\n", 1)[1]))


def test_every_fault_of_the_file_at_once_with_its_line():
    text = (
        'latitude = 126.5\nzone = "UTC"\n[wind]\nspeed = 14\nfetch = "9 h"\ntime = "10 h"\nguts = "20 kn"\n'
        '[course]\ndistance = "30 nmi"\ncrossing_speed = "20 kn"\npattern = "5 h"\nlines_in = "dawn"\n'
        '[forecast]\nthunder = "no"\n[[papers]]\nvalid_until = "soon"\n'
    )
    with pytest.raises(Faults) as raised:
        day_from_text(text)
    found = {fault.place: fault for fault in raised.value}
    assert set(found) == {
        "latitude", "longitude", "wind.speed", "wind.fetch", "wind.guts", "course.lines_in", "forecast.thunder",
        "papers[1].name", "papers[1].valid_until",
    }  # fmt: skip
    assert found["wind.speed"].line == 4
    assert "bare number" in found["wind.speed"].rule
    assert "did you mean 'gust'" in found["wind.guts"].next_step
    assert "add longitude" in found["longitude"].next_step


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ('zone = "Atlantis"', "IANA"),
        ('[sea]\nheight = "1 m"', "a forecast sea has both"),
        ('[sea]\nswell_height = "1 m"', "a swell has both"),
        ("wind = [", "TOML"),
        (FUEL.format("9 gal").replace('"20 kn"\nrate', '"10 kn"\nrate'), "slow to fast"),
    ],
)
def test_what_single_keys_cannot_see(more, told):
    with pytest.raises(Faults, match=told):
        day_from_text(WHERE + more)


def test_the_manual_names_every_key():
    manual = (Path(__file__).parents[2] / "docs" / "logbook.md").read_text(encoding="utf-8")

    def keys(model):
        for name, field in model.model_fields.items():
            yield name
            inner = next((a for a in [field.annotation, *getattr(field.annotation, "__args__", ())]
                          if isinstance(a, type) and hasattr(a, "model_fields")), None)  # fmt: skip
            if inner is not None:
                yield from keys(inner)

    named = set(keys(DayFile))
    assert len(named) > 40
    assert not {name for name in named if f"`{name}`" not in manual}
