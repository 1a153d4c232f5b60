"""The usual fish from all sides: which way is worst, a line that goes slack and draws taut, and what the words say."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.rig.test_strike_rig import DENSITY, SPEED, rig

from spreadwright.rig.chain import Chain
from spreadwright.rig.strike import SETTINGS, FishedRig, RigStrike, strike_cases, strike_rig
from spreadwright.rig.strike_headings import HeadingStrike, heading_sweep
from spreadwright.rig.strike_ranges import HEADINGS, SWEEP, USUAL_STRIKE, StrikeCase, fish_of
from spreadwright.rig.strike_words import headings_in_words, way_in_words
from spreadwright.tow.line import Sea
from spreadwright.tow.strike import StrikeResult, strike


@pytest.fixture(scope="module")
def one() -> tuple[FishedRig, Chain]:
    return rig()


@pytest.fixture(scope="module")
def swept(one: tuple[FishedRig, Chain]) -> tuple[HeadingStrike, ...]:
    found = heading_sweep(*one, SPEED, DENSITY)
    assert isinstance(found, tuple), found
    return found


def share(each: HeadingStrike) -> float:
    assert each.worst.share is not None
    return each.worst.share.usual


def results(one: tuple[FishedRig, Chain], cases: list[StrikeCase], speed: float) -> list[StrikeResult]:
    found = strike(strike_cases(one[0], cases, DENSITY), speed, Sea(density=DENSITY), SETTINGS)
    assert all(isinstance(each, StrikeResult) for each in found), found
    return [each for each in found if isinstance(each, StrikeResult)]


def test_the_sweep_goes_from_straight_away_to_straight_at_the_boat() -> None:
    assert (HEADINGS[0], HEADINGS[-1]) == (0.0, math.pi)
    steps = np.diff(HEADINGS)
    assert steps.max() <= math.radians(30.0) + 1e-12
    (turned,) = [case for case in SWEEP if case.runs is not None]
    (fish,) = fish_of(turned, 1, DENSITY)
    assert fish.velocity[0] > 0.0 > fish.thrust[0]  # comes on, along the boat's course, then swims the other way
    assert math.hypot(*fish.thrust) == pytest.approx(math.hypot(*fish_of(USUAL_STRIKE, 1, DENSITY)[0].thrust))


def test_straight_away_is_the_usual_strike_and_the_worst_and_the_plans_range_holds_all(
    one: tuple[FishedRig, Chain], swept: tuple[HeadingStrike, ...]
) -> None:
    whole = strike_rig(*one, SPEED, DENSITY)
    assert isinstance(whole, RigStrike)
    margins = {link.link: link.peak for link in whole.links}
    assert swept[0].worst.load.usual == pytest.approx(margins[swept[0].worst.link].usual, rel=1e-3)
    assert max(swept, key=share) is swept[0]
    assert all(each.worst.load.usual <= margins[each.worst.link].high for each in swept)
    by_heading = [share(each) for each in swept if each.case.runs is None]
    assert by_heading == sorted(by_heading, reverse=True)


def test_a_fish_that_keeps_the_boats_pace_changes_no_pull(one: tuple[FishedRig, Chain]) -> None:
    """Straight at the boat at its own speed: nothing moves against anything, so nothing beyond the tow's pull."""
    (kept,) = results(one, [StrikeCase("keeps pace", speed=7.7, heading=math.pi)], 7.7)
    assert kept.peak_tip == pytest.approx(kept.before[0], rel=0.02)


def test_a_line_that_goes_slack_bears_no_push_and_draws_taut_again(one: tuple[FishedRig, Chain]) -> None:
    """A slow boat and a fast fish, straight on: nothing pulls on the leader; then it turns, and the line draws taut."""
    on = [replace(case, speed=10.0) for case in SWEEP if case.heading == math.pi]
    came, turned = results(one, on, 4.0)
    for result in (came, turned):
        for values in (result.tip, result.sections, result.ends, result.places, result.velocities, result.paid_out):
            assert np.isfinite(values).all()
    # The bite leader's upper end: at the lower one hangs the pull that turns the fish.
    assert came.sections[:, -1].min() < 1.0
    assert came.ends.min() > -0.5
    slack = turned.times[turned.sections[:, -1] < 5.0]
    assert slack.size > 0
    after = turned.times > slack.max()
    assert turned.sections[after, -1].max() > 50.0


def test_the_words_name_the_worst_way_and_all_others(swept: tuple[HeadingStrike, ...]) -> None:
    said = headings_in_words(swept)
    assert f"worst is straight away, {swept[0].worst.weak_spot} at {100 * share(swept[0]):.0f} %" in said
    for each in swept[1:]:
        assert f"{way_in_words(each.case)} {100 * share(each):.0f} %" in said
    assert "coming on, then turning and running away" in said
    other = headings_in_words(tuple(reversed(swept[1:])))
    assert "worst is straight away" not in other
