"""The water's pull along a run: friction along the line in closed form, a belly that pulls less, and how both grow."""

from __future__ import annotations

import math

import pytest
from tests.rig import rigs

from spreadwright.rig.spooled import drag_table
from spreadwright.rig.water_pull import RUN_SPEED, WaterPull, friction_share, water_pull
from spreadwright.tackle.span import Span


@pytest.fixture(scope="module")
def pull() -> WaterPull:
    found = water_pull(rigs.outfit(), 1025.0)
    assert isinstance(found, WaterPull), found
    return found


@pytest.mark.parametrize("line_out", [30.0, 100.0, 300.0])
def test_running_away_it_is_friction_along_the_line(pull, line_out):
    """rho/2 Cf pi d L u^2, and some more for the line's stretch (Hoerner, Fluid-Dynamic Drag, 1965)."""
    friction = 0.5 * 1025.0 * 0.015 * math.pi * 0.95e-3 * line_out * RUN_SPEED**2
    assert 1.0 * friction < pull.away_at(line_out) < 1.08 * friction


def test_a_belly_pulls_too_but_less_than_a_run_away(pull):
    for line_out in (50.0, 150.0, 300.0, 500.0):
        assert 0.1 * pull.away_at(line_out) < pull.across_at(line_out) < pull.away_at(line_out)
        assert pull.at(line_out) == pull.away_at(line_out)


def test_it_rises_from_none(pull):
    assert pull.at(0.0) == 0.0
    assert list(pull.away) == sorted(pull.away)
    assert list(pull.across) == sorted(pull.across)
    assert list(pull.across_out) == sorted(pull.across_out)


def test_half_the_speed_a_quarter_of_the_pull(pull):
    slow = water_pull(rigs.outfit(), 1025.0, 0.5 * RUN_SPEED)
    assert isinstance(slow, WaterPull)
    assert slow.away_at(200.0) == pytest.approx(0.25 * pull.away_at(200.0), rel=0.03)


def test_it_is_doubtful_as_friction_is():
    """0.010 to 0.020 about 0.015."""
    share = friction_share(rigs.outfit())
    assert (share.low, share.usual, share.high) == pytest.approx((2 / 3, 1.0, 4 / 3))


def test_the_drag_table_takes_it(pull):
    outfit = rigs.outfit()
    dry = drag_table(outfit, Span.exactly(300.0))
    wet = drag_table(outfit, Span.exactly(300.0), pull.at)
    assert isinstance(dry, tuple)
    assert isinstance(wet, tuple)
    assert wet[0].at_fish_end == pytest.approx(dry[0].at_fish_end)
    for a, b in zip(dry[1:], wet[1:], strict=True):
        assert b.at_fish_end == pytest.approx(a.at_fish_end + pull.at(b.line_out))
