"""Drag along a run: torque, water, states, and the sentence about it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.rig.drag import (
    drag_along_run,
    drag_at_radius,
    over_guides,
    reached_at,
    run_in_words,
    strike_setting,
)
from spreadwright.rig.reel import Layer, Spool, WoundSpool, wind
from spreadwright.tackle.span import Span

STRENGTH = Span(250.0, 300.0, 350.0)


def reel():
    found = wind(Spool(0.060, 0.050, 0.020), [Layer(500.0, 0.9e-3)])
    assert isinstance(found, WoundSpool)
    return found


def table(setting=90.0, pull=None, lengths=(0.0, 100.0, 200.0, 300.0, 400.0, 500.0), set_with=0.0):
    return drag_along_run(reel(), setting, STRENGTH, lengths, set_with, pull)


def test_same_torque_all_the_way():
    for row in table():
        assert row.reel_drag * row.spool_radius == pytest.approx(90.0 * 0.050)


def test_the_empty_spool_pulls_by_the_ratio_of_radii():
    assert table()[-1].reel_drag == pytest.approx(90.0 * 0.050 / 0.020)


def test_drag_set_with_line_out_is_read_back_there():
    rows = table(set_with=200.0)
    assert rows[2].reel_drag == pytest.approx(90.0)
    assert rows[0].reel_drag < 90.0


def test_the_water_adds_to_the_reel():
    rows = table(pull=lambda out: 0.1 * out)
    assert rows[3].water_pull == pytest.approx(30.0)
    assert rows[3].at_fish_end == pytest.approx(rows[3].reel_drag + 30.0)
    assert rows[3].share.high == pytest.approx(rows[3].at_fish_end / STRENGTH.low)


@given(st.floats(10.0, 300.0), st.floats(0.0, 0.5))
def test_the_pull_never_falls_as_line_runs_out(setting, per_metre):
    rows = table(setting, lambda out: per_metre * out)
    pulls = [row.at_fish_end for row in rows]
    assert pulls == sorted(pulls)
    order = ["fine", "watch", "danger", "parts"]
    states = [order.index(row.state) for row in rows]
    assert states == sorted(states)


def test_the_setting_to_hold_does_hold():
    rows = table(150.0, lambda out: 0.1 * out)
    late = rows[4]
    again = table(late.setting_to_hold, lambda out: 0.1 * out)[4]
    assert again.at_fish_end == pytest.approx(0.5 * STRENGTH.low)


def test_where_the_water_alone_is_too_much_no_setting_holds():
    assert table(90.0, lambda out: 1.0 * out)[-1].setting_to_hold == 0.0


@pytest.mark.parametrize(
    ("setting", "words"),
    [
        (20.0, "stays under 50 %"),
        (70.0, "watch the spool"),
        (88.0, "the drag backed off to"),
        (140.0, "follow the fish"),
    ],
)
def test_the_sentence_says_what_to_do(setting, words):
    text = run_in_words(table(setting))
    assert words in text
    assert "ft" in text
    assert "m out" not in text
    assert " m out" in run_in_words(table(setting), "metric")


def test_the_place_of_a_level_is_found_early_never_late():
    """Against a table in steps of 1 m: at most one coarse step early."""
    fine = table(88.0, lengths=range(501))
    coarse = table(88.0)
    for level in (0.5, 0.8):
        exact, found = reached_at(fine, level), reached_at(coarse, level)
        assert exact is not None
        assert found is not None
        assert exact - 100.0 < found <= exact


def test_a_level_reached_at_once_or_never():
    assert reached_at(table(240.0), 0.9) == 0.0
    assert reached_at(table(20.0), 0.9) is None
    usual, worst = reached_at(table(140.0), 1.0, usual=True), reached_at(table(140.0), 1.0)
    assert usual is not None
    assert worst is not None
    assert worst < usual


def test_no_lengths_no_table():
    assert "No lengths" in run_in_words(())
    assert reached_at((), 0.5) is None


@pytest.mark.parametrize("args", [(-1.0, 0.03, 0.02), (1.0, 0.0, 0.02), (1.0, 0.03, 0.0)])
def test_drag_at_radius_refuses_what_cannot_be(args):
    with pytest.raises(ValueError, match="radii"):
        drag_at_radius(*args)


def test_guides_multiply():
    assert over_guides(100.0, 0.2, 0.0) == 100.0
    assert over_guides(over_guides(100.0, 0.2, 0.4), 0.2, 0.6) == pytest.approx(over_guides(100.0, 0.2, 1.0))


def test_strike_setting_is_a_quarter_to_a_third_and_holds_the_tow():
    """Common practice, no source: 25 to 33 % of rated strength."""
    assert strike_setting(300.0).low == pytest.approx(75.0)
    assert strike_setting(300.0).high == pytest.approx(100.0)
    assert strike_setting(300.0, tow_pull=90.0).low == 90.0
    with pytest.raises(ValueError, match="strength"):
        strike_setting(math.nan)


def test_the_last_length_is_named_when_all_is_fine():
    assert "Up to 1640 ft" in run_in_words(table(20.0))
