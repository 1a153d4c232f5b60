"""The day's light everywhere and always: order, polar cases, clocks that change, the date line."""

import math
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from spreadwright.day.light import Absent, UnknownZone, day_light, zone_named


def at(latitude, longitude, on, zone=UTC, **more):
    return day_light(on, math.radians(latitude), math.radians(longitude), zone, **more)


@settings(max_examples=60, deadline=None)
@given(some.floats(-60.0, 60.0), some.floats(-180.0, 180.0), some.dates(date(1990, 1, 1), date(2060, 12, 31)))
def test_the_day_runs_in_its_order(latitude, longitude, on):
    zone = ZoneInfo(f"Etc/GMT{-round(longitude / 15.0):+d}")
    light = at(latitude, longitude, on, zone)
    order = [light.nautical_dawn, light.civil_dawn, light.sunrise, light.noon, light.sunset, light.civil_dusk]
    # Far north in summer nautical dawn may miss the date by the clock; the rest stay in order.
    real = [when for when in order if isinstance(when, datetime)]
    if len(real) == 6 and light.nautical_dawn < light.civil_dawn:
        assert real == sorted(real)
    assert isinstance(light.sunrise, datetime)
    assert isinstance(light.sunset, datetime)
    assert light.sunrise < light.noon < light.sunset
    assert light.sun_up == pytest.approx(light.sunset - light.sunrise, abs=timedelta(seconds=2))
    assert {light.sunrise.tzinfo, light.noon.tzinfo} == {zone}


@pytest.mark.parametrize(
    ("latitude", "on", "named"),
    [
        (75.0, date(2026, 6, 21), Absent.UP_ALL_DAY),
        (75.0, date(2026, 12, 21), Absent.DOWN_ALL_DAY),
        (-75.0, date(2026, 12, 21), Absent.UP_ALL_DAY),
        (-75.0, date(2026, 6, 21), Absent.DOWN_ALL_DAY),
    ],
)
def test_polar_days_and_nights_have_a_name(latitude, on, named):
    light = at(latitude, 20.0, on)
    assert light.sunrise is light.sunset is named
    assert light.best == ()
    assert light.sun_up == (timedelta(days=1) if named is Absent.UP_ALL_DAY else timedelta(0))


def test_white_nights_have_no_dawn():
    light = at(62.0, 10.0, date(2026, 6, 21), ZoneInfo("Europe/Oslo"))
    assert isinstance(light.sunrise, datetime)
    assert light.first_light is Absent.UP_ALL_DAY
    assert light.last_light is Absent.UP_ALL_DAY


def test_once_a_month_the_moon_does_not_rise_on_the_date():
    days = [at(26.0, -77.0, date(2026, 3, 1) + timedelta(days=n), ZoneInfo("America/New_York")) for n in range(59)]
    for name in ("moonrise", "moonset"):
        missing = [light.on for light in days if getattr(light, name) is Absent.NOT_THIS_DATE]
        assert len(missing) == 2
        assert 28 <= (missing[1] - missing[0]).days <= 31


@pytest.mark.parametrize(("on", "hours"), [(date(2026, 3, 8), 23), (date(2026, 11, 1), 25), (date(2026, 7, 1), 24)])
def test_the_day_has_the_hours_the_clock_gives_it(on, hours):
    """In polar day the sun is up all of the local day: 23, 24 or 25 hours."""
    zone = ZoneInfo("America/New_York")
    assert at(89.9, 0.0, on, zone).sun_up in (timedelta(hours=hours), timedelta(0))
    near = at(40.0, -74.0, on, zone)
    assert near.sunrise.date() == near.sunset.date() == on


def test_the_clock_moves_the_hands_and_not_the_sun():
    before, after = (at(40.0, -74.0, date(2026, 3, d), ZoneInfo("America/New_York")).sunrise for d in (7, 8))
    assert timedelta(hours=23, minutes=57) < after.astimezone(UTC) - before.astimezone(UTC) < timedelta(hours=24)
    assert after.hour - before.hour == 1


def test_the_best_light_is_the_hour_around_sunrise_and_sunset():
    light = at(26.0, -77.0, date(2026, 4, 4), ZoneInfo("America/New_York"))
    morning, evening = light.best
    assert morning.end - morning.start == evening.end - evening.start == timedelta(hours=1)
    assert morning.start + timedelta(minutes=30) == light.sunrise
    assert evening.start + timedelta(minutes=30) == light.sunset
    wider = at(26.0, -77.0, date(2026, 4, 4), best=timedelta(hours=1)).best[0]
    assert wider.end - wider.start == timedelta(hours=2)


def test_zones_by_name():
    assert zone_named("Europe/Oslo") == ZoneInfo("Europe/Oslo")
    for wrong in ("Atlantic/Nowhere", "", "../etc/passwd", "Atlantic", "\0"):
        answer = zone_named(wrong)
        assert isinstance(answer, UnknownZone)
        assert answer.given == wrong
        assert "Region/City" in answer.next_step


@pytest.mark.parametrize(("latitude", "longitude"), [(91.0, 0.0), (0.0, 181.0), (math.nan, 0.0), (0.0, math.inf)])
def test_no_such_place(latitude, longitude):
    with pytest.raises(ValueError, match="is within"):
        at(latitude, longitude, date(2026, 1, 1))


def test_the_far_side_of_the_date_line():
    """179 W lies two degrees east of 179 E: the same morning comes eight minutes earlier, on the date before."""
    east = at(-20.0, 179.0, date(2026, 5, 2), ZoneInfo("Etc/GMT-12")).sunrise
    west = at(-20.0, -179.0, date(2026, 5, 1), ZoneInfo("Etc/GMT+12")).sunrise
    assert (east - west).total_seconds() == pytest.approx(480.0, abs=5.0)
