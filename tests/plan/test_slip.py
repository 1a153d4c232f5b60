"""A reel that may give line while trolling is told, how often and what to do; and the pulls in the shock leader."""

from __future__ import annotations

from functools import lru_cache

import pytest
from tests.plan.trips import BLUE, GOLD, POUND, RED, small_plan, small_trip

from spreadwright.plan.rig_make import rig_answers
from spreadwright.plan.value import Plan
from spreadwright.rig.loads import STEADY_TOW, TURN_PEAK
from spreadwright.rig.spooled import check_drag
from spreadwright.sheets.rig_report import rig_report
from spreadwright.sheets.terminal import report
from spreadwright.sheets.wording import slips_in_words


@lru_cache(maxsize=1)
def near() -> Plan:
    """Gold's drag is set to just what the plan says that it pulls; the others have plenty."""
    free = small_plan()
    pull = free.rod("gold").pull_swing.greatest / POUND
    rods = (
        {**RED, "strike_drag": "44 lb"},
        {**BLUE, "strike_drag": "44 lb"},
        {**GOLD, "strike_drag": f"{pull + 0.1} lb"},
    )
    lock = {"rod": "gold", "weight": free.rod("gold").weight, "mark": f"{free.rod('gold').mark / 0.3048:.0f} ft"}
    return small_plan(rods=rods, fixed=({**lock, "station": free.rod("gold").station},))


def test_a_drag_that_only_the_usual_pull_stays_under_is_told_with_its_next_step() -> None:
    plan = near()
    gold = plan.rod("gold")
    assert gold.slip is not None
    assert gold.pull_swing.greatest <= gold.strike_drag < gold.slip.high
    assert gold.slip.high == pytest.approx(gold.pull_swing.high)
    assert 0.2 < gold.slip.share < 0.8  # the drag is at the middle of the samples
    told = [each for each in gold.findings if each.startswith("line may run off this reel while trolling")]
    assert len(told) == 1
    assert "of 10 ways" in told[0]
    assert "lighter rig" in told[0]
    assert "LINE MAY RUN OFF" in report(plan).upper()
    assert "gold, set to" in slips_in_words(plan, "us")


def test_a_drag_above_the_whole_range_is_not_told() -> None:
    plan = near()
    for name in ("red", "blue"):
        rod = plan.rod(name)
        assert rod.pull_swing.high < rod.strike_drag
        assert rod.slip is None
        assert not [each for each in rod.findings if "run off" in each]
        assert f"{name}, set to" not in slips_in_words(plan, "us")


def test_what_to_set_is_no_more_than_line_and_reel_allow() -> None:
    outfit = small_trip().outfits[0]  # 80 lb line: a third of it is 26.7 lb, and 26 lb is set
    held, not_held = (check_drag(outfit, 20 * POUND, "us", high * POUND)[0] for high in (26.5, 30))
    assert held.fix.startswith("set the drag up to 26.5 lb")
    assert not_held.fix.startswith("fish a lighter rig or go slower; more drag than 26.7 lb")
    assert held.severity == not_held.severity == "caution"
    assert not check_drag(outfit, 20 * POUND, "us", 25.9 * POUND)
    assert check_drag(outfit, 27 * POUND, "us", 30 * POUND)[0].severity == "fails"


def test_rig_says_that_the_tow_lifts_the_low_end_of_the_usual_drag() -> None:
    trip = small_trip(fixed=({"rod": "gold", "weight": "96 oz"},))
    answers = rig_answers(trip, "gold")
    rig = answers.rigs[0]
    assert rig.usual_drag.low == pytest.approx(20 * POUND)
    assert rig.set_drag.low == pytest.approx(max(rig.tow_peak.usual, 20 * POUND))
    said = " ".join(rig_report(answers).split())
    assert "by the scale 20 lb to 27 lb is usual for this line" in said
    assert ("this rig itself pulls" in said) == (rig.tow_peak.usual > 20 * POUND)
    assert rig.tow_peak.usual > 20 * POUND


def test_the_peak_in_the_turns_is_nowhere_less_than_the_steady_tow() -> None:
    """The motion has the straight run in it: what it reaches is at least what the straight run asks."""
    for rig in rig_answers(small_trip()).rigs:
        steady, peak = (
            {load.link: load.load for load in rig.loads if load.case == case} for case in (STEADY_TOW, TURN_PEAK)
        )
        assert set(steady) == set(peak)
        for link, load in steady.items():
            assert peak[link].usual >= load.usual * 0.999
            assert peak[link].high >= load.high * 0.999
