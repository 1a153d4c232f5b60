"""Positions of sun and moon as arrays and as single times, and Julian days."""

import math
from datetime import UTC, datetime, timedelta, timezone

import numpy as np
import pytest

from spreadwright.day import sky


def test_julian_days_there_and_back():
    # Meeus example 7.a: 1957 October 4.81 is JD 2436116.31.
    sputnik = datetime(1957, 10, 4, tzinfo=UTC) + timedelta(days=0.81)
    assert sky.julian_day(sputnik) == pytest.approx(2436116.31, abs=1e-6)
    assert abs(sky.moment(2436116.31) - sputnik) < timedelta(milliseconds=1)
    elsewhere = sputnik.astimezone(timezone(timedelta(hours=-7)))
    assert sky.julian_day(elsewhere) == sky.julian_day(sputnik)


def test_the_clock_shows_whole_seconds_to_the_nearest():
    almost = sky.julian_day(datetime(2026, 1, 1, 6, 30, 29, 600_000, tzinfo=UTC))
    assert sky.clock(almost, UTC) == datetime(2026, 1, 1, 6, 30, 30, tzinfo=UTC)


def test_arrays_of_any_shape_give_what_single_times_give():
    julian = np.array([[2461000.1, 2461000.7], [2461014.3, 2461200.5]])
    for body in (sky.sun, sky.moon):
        together = body(julian)
        assert together.right_ascension.shape == julian.shape
        for index in np.ndindex(julian.shape):
            alone = body(np.asarray(julian[index]))
            assert float(alone.declination) == pytest.approx(together.declination[index], abs=1e-13)
            assert float(alone.distance) == pytest.approx(together.distance[index], rel=1e-12)


def test_bodies_stay_where_bodies_can_be():
    julian = 2451545.0 + np.arange(0.0, 365.25 * 40, 3.7)
    moon, sun = sky.moon(julian), sky.sun(julian)
    assert np.max(np.abs(sun.declination)) < math.radians(23.45)
    assert np.max(np.abs(moon.declination)) < math.radians(28.8)
    assert np.min(moon.distance) > 356_000
    assert np.max(moon.distance) < 407_000
    assert np.max(np.abs(sky.altitude(moon, julian, math.pi / 2, 0.0) - moon.declination)) < 1e-9
    lit = sky.lit_part(julian)
    assert np.min(lit) >= 0.0
    assert np.max(lit) <= 1.0
