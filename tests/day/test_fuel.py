"""Fuel sums by hand, the burn curve, and what is never guessed."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from spreadwright.day.fuel import (
    BurnCurve,
    Enough,
    FuelPlan,
    Leg,
    OffCurve,
    a_day,
    pattern_time_left,
    plan_fuel,
)
from spreadwright.day.wind import KNOT

LITRE_AN_HOUR = 1e-3 / 3600.0
NAUTICAL_MILE = 1852.0
# Invented readings of an invented boat.
CURVE = BurnCurve(
    tuple((knots * KNOT, rate * LITRE_AN_HOUR) for knots, rate in [(0, 4), (7, 20), (15, 80), (20, 110), (26, 160)])
)
LEGS = a_day(30 * NAUTICAL_MILE, 20 * KNOT, 5 * 3600.0, 15 * KNOT)


def planned(*arguments, **more):
    plan = plan_fuel(*arguments, **more)
    assert isinstance(plan, FuelPlan)
    return plan


def test_the_sum_by_hand():
    """1.5 h at 110 l/h, 5 h at 80 l/h, 1.5 h at 110 l/h: 730 l; of 1500 l a third stays; 270 l to spare."""
    plan = planned(1.5, CURVE, LEGS, doubt=0.1)
    assert [(name, pytest.approx(litres / 1000)) for name, litres in [
        ("crossing out", 165), ("on the pattern", 400), ("crossing home", 165),
    ]] == list(plan.burns)  # fmt: skip
    assert plan.burn.usual == pytest.approx(0.730)
    assert plan.reserve == pytest.approx(0.5)
    assert (plan.margin.low, plan.margin.usual, plan.margin.high) == pytest.approx((0.197, 0.270, 0.343))
    assert plan.left.usual == pytest.approx(0.770)
    assert plan.verdict is Enough.ENOUGH


@pytest.mark.parametrize(
    ("litres", "verdict"),
    [(1265, Enough.ENOUGH), (1255, Enough.DOUBTFUL), (1100, Enough.DOUBTFUL), (1090, Enough.SHORT)],
)
def test_enough_doubtful_or_short(litres, verdict):
    """730 l and a third in reserve need 1095 l, and 1259 l with the burn 15 % higher."""
    assert planned(litres / 1000, CURVE, LEGS).verdict is verdict


def test_the_reason_holds_the_numbers():
    text = planned(1.0, CURVE, LEGS).reason.read()
    assert text == (
        "On board 1000 l; the day burns 730 l (up to 840 l); 333 l stays in reserve; "
        "that leaves -63 l to spare (at worst -173 l)."
    )


@given(some.floats(0.2, 5.0), some.floats(0.0, 0.5), some.floats(0.001, 0.02))
def test_printed_in_full_steps_the_figures_add_up_and_stay_near(on_board, kept, step):
    exact = planned(on_board, CURVE, LEGS, kept)
    plan = exact.in_steps_of(step)
    burns, burn, on_board, reserve, margin, worst = (
        [round(each / step) for _, each in plan.burns],
        *(round(e / step) for e in (plan.burn.usual, plan.on_board, plan.reserve, plan.margin.usual, plan.margin.low)),
    )
    assert sum(burns) == burn
    assert on_board - burn - reserve == margin
    assert on_board - round(plan.burn.high / step) - reserve == worst
    assert abs(plan.margin.usual - exact.margin.usual) <= 2.6 * step  # five roundings of half a step


@given(some.floats(0.0, 26.0))
def test_the_curve_passes_through_its_readings_and_between_its_neighbours(knots):
    rate = CURVE.rate(knots * KNOT)
    assert isinstance(rate, float)
    assert 4.0 <= rate / LITRE_AN_HOUR <= 160.0
    for speed, reading in CURVE.readings:
        assert CURVE.rate(speed) == pytest.approx(reading)


def test_between_two_readings_the_line_is_straight():
    assert CURVE.rate(17.5 * KNOT) == pytest.approx(95 * LITRE_AN_HOUR)


@pytest.mark.parametrize("knots", [-0.1, 26.1, 40.0, math.nan])
def test_off_the_curve_is_named_and_never_guessed(knots):
    answer = CURVE.rate(knots * KNOT)
    assert isinstance(answer, OffCurve)
    if knots == 40.0:
        assert answer.reason.read() == (
            "The burn curve runs from 0 kn to 26 kn and the plan asks for 40 kn: "
            "add a reading at that speed, or plan at a speed on the curve."
        )


def test_a_leg_off_the_curve_leaves_the_whole_plan_open():
    fast = a_day(30 * NAUTICAL_MILE, 30 * KNOT, 3600.0, 15 * KNOT)
    assert isinstance(plan_fuel(1.0, CURVE, fast), OffCurve)
    assert isinstance(pattern_time_left(1.0, CURVE, fast, 15 * KNOT), OffCurve)
    assert isinstance(pattern_time_left(1.0, CURVE, LEGS, 30 * KNOT), OffCurve)


def test_the_time_left_on_the_pattern_uses_up_the_margin_exactly():
    crossings = [LEGS[0], LEGS[2]]
    time = pattern_time_left(1.5, CURVE, crossings, 15 * KNOT)
    assert isinstance(time, float)
    full = planned(1.5, CURVE, [*crossings, Leg("on the pattern", 15 * KNOT, time)])
    assert full.margin.low == pytest.approx(0.0, abs=1e-12)
    assert pattern_time_left(0.2, CURVE, crossings, 15 * KNOT) == 0.0


def test_another_way_home():
    out, _, home = a_day(30 * NAUTICAL_MILE, 20 * KNOT, 3600.0, 15 * KNOT, distance_home=40 * NAUTICAL_MILE)
    assert home.time == pytest.approx(out.time * 4 / 3)


@pytest.mark.parametrize(
    "readings",
    [
        (),
        ((5.0, 1.0),),
        ((5.0, 1.0), (5.0, 2.0)),
        ((6.0, 1.0), (5.0, 2.0)),
        ((5.0, 0.0), (6.0, 2.0)),
        ((-1.0, 1.0), (6.0, 2.0)),
        ((5.0, 1.0), (math.nan, 2.0)),
        ((5.0, 1.0), (6.0, math.inf)),
    ],
)
def test_no_such_curve(readings):
    with pytest.raises(ValueError, match="reading"):
        BurnCurve(readings)


def test_no_such_plan():
    for on_board in (-1.0, math.nan):
        with pytest.raises(ValueError, match="fuel on board"):
            plan_fuel(on_board, CURVE, LEGS)
    for reserve, doubt in ((1.0, 0.1), (-0.1, 0.1), (0.3, 1.0), (0.3, -0.1)):
        with pytest.raises(ValueError, match="shares"):
            plan_fuel(1.0, CURVE, LEGS, reserve, doubt)
    with pytest.raises(ValueError, match="above zero"):
        Leg.over("out", 1000.0, 0.0)
    for speed, time in ((-1.0, 5.0), (5.0, math.inf)):
        with pytest.raises(ValueError, match="'out'"):
            Leg("out", speed, time)
