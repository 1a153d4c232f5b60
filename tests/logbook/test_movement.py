"""Speed, heading and rate of turn from a track: exact circles, jitter, gaps, and the side of a turn."""

from __future__ import annotations

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from tests.logbook.tracks import KNOT, PLACE, START, weaving, weaving_fixes

from spreadwright.logbook.fixes import clean, metres_per_degree, to_metres
from spreadwright.logbook.movement import moving_at, side_of, stretches


def test_speed_and_rate_of_a_weaving_boat():
    (part,) = stretches(weaving_fixes(480, turn=30.0))
    for middle, rate in ((15, 0.0), (45, 1.0), (75, 0.0), (105, -1.0)):
        here = moving_at([part], START + middle)
        assert here is not None
        assert here.speed == pytest.approx(15 * KNOT, rel=0.01)
        assert here.rate == pytest.approx(rate * 15 * KNOT / 45.0, rel=0.05, abs=1e-3)
    turns = [moving_at([part], START + s).turn for s in (15, 45, 75, 105)]  # type: ignore[union-attr]
    assert turns == ["straight", "port", "straight", "starboard"]


def test_heading_adds_up_over_a_turn():
    (part,) = stretches(weaving_fixes(120, turn=30.0))
    swept = np.interp(START + 60 + 8, part.times, part.heading) - np.interp(START + 30 - 8, part.times, part.heading)
    assert swept == pytest.approx(30 * 15 * KNOT / 45.0, rel=0.01)


def test_turns_are_told_through_a_receivers_jitter():
    t, lat, lon = weaving(1200, turn=12.0)
    random = np.random.default_rng(5)
    east, north = metres_per_degree(PLACE[0])
    jitter = random.normal(0.0, 1.0, (2, len(t)))  # 1 m each way, fresh every second: worse than a receiver
    (part,) = stretches(clean(t, lat + jitter[0] / north, lon + jitter[1] / east, "made", "test"))
    middles = START + np.arange(6, 1190, 12)
    wanted = ["straight", "port", "straight", "starboard"]
    told = [moving_at([part], s).turn for s in middles]  # type: ignore[union-attr]
    right = sum(each == wanted[i % 4] for i, each in enumerate(told))
    assert right >= 0.95 * len(told)


def test_nothing_is_said_in_a_gap_or_outside():
    t, lat, lon = weaving(300)
    keep = (t < START + 100) | (t > START + 160)
    parts = stretches(clean(t[keep], lat[keep], lon[keep], "made", "test"))
    assert len(parts) == 2
    assert moving_at(parts, START + 130) is None
    assert moving_at(parts, START - 1) is None
    assert moving_at(parts, START + 50) is not None
    assert stretches(clean(t[:10], lat[:10], lon[:10], "made", "test")) == []


def test_fixes_every_few_seconds_serve_too():
    t, lat, lon = weaving(600, turn=60.0)
    (part,) = stretches(clean(t[::4], lat[::4], lon[::4], "made", "test"))
    here = moving_at([part], START + 90)
    assert here is not None
    assert here.turn == "port"
    assert here.speed == pytest.approx(15 * KNOT, rel=0.03)


def test_place_and_course():
    (part,) = stretches(weaving_fixes(60, turn=1e6))
    here = moving_at([part], START + 30)
    assert here is not None
    assert here.course == pytest.approx(90.0, abs=0.1)
    _, lat, lon = weaving(60, turn=1e6)
    assert here.place == pytest.approx((lat[30], lon[30]), abs=1e-6)


def test_a_boat_that_drifts_has_no_turn():
    (part,) = stretches(weaving_fixes(60, speed=0.5))
    assert moving_at([part], START + 30).turn == "unknown"  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("turn", "port", "side"),
    [
        ("port", 2.0, "inside"), ("port", -2.0, "outside"), ("starboard", 2.0, "outside"),
        ("starboard", -2.0, "inside"), ("port", 0.1, "middle"), ("straight", 2.0, "straight"),
        ("unknown", 2.0, "unknown"),
    ],
)  # fmt: skip
def test_sides_of_a_turn(turn, port, side):
    assert side_of(turn, port) == side


@pytest.mark.parametrize("latitude", [0.0, 26.0, 45.0, -60.0])
def test_metres_against_the_geodesic(latitude):
    """geographiclib (Karney 2013) on WGS 84: a kilometre each way is good to a centimetre."""
    x, y = to_metres(np.array([latitude]), np.array([0.01]), latitude, 0.0)
    assert x[0] == pytest.approx(Geodesic.WGS84.Inverse(latitude, 0.0, latitude, 0.01)["s12"], abs=0.01)
    x, y = to_metres(np.array([latitude + 0.01]), np.array([0.0]), latitude, 0.0)
    assert y[0] == pytest.approx(Geodesic.WGS84.Inverse(latitude, 0.0, latitude + 0.01, 0.0)["s12"], abs=0.15)
    assert math.hypot(*metres_per_degree(latitude)) > 0


@pytest.mark.parametrize(
    ("latitude", "east", "north"),
    [(0, 1855.325, 1842.905), (25, 1682.502, 1846.215), (45, 1314.114, 1852.196), (60, 930.000, 1856.871)],
)
def test_a_minute_of_arc(latitude, east, north):
    """geographiclib 2.1: metres in a minute of longitude and of latitude."""
    told = metres_per_degree(float(latitude))
    assert told[0] / 60 == pytest.approx(east, abs=0.001)
    assert told[1] / 60 == pytest.approx(north, abs=0.02)
