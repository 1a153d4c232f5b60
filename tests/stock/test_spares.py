"""Spares: by kind from causes, enough for the chance and no more, and the curve of what more would buy."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.stock.losses import CAUSES, Cause, Rate, Seen, rates
from spreadwright.stock.spares import each_takes, enough, losses_on, poisson, spare_needs
from spreadwright.stock.tradeoff import curve, kind_curve, lasts

HOURS = st.floats(0.0, 400.0)
CHANCE = st.floats(0.3, 0.995)


def need(kind: str, line_hours: float = 48.0, wanted: float = 0.95, seen: tuple[Seen, ...] = ()):
    return next(n for n in spare_needs(line_hours, rates(seen), wanted) if n.kind == kind)


@given(HOURS, CHANCE)
def test_spares_last_with_the_chance_wanted_and_one_fewer_would_not(line_hours, wanted):
    for each in spare_needs(line_hours, rates(), wanted):
        assert lasts(each, each.spares) >= wanted - 1e-9
        assert each.spares == 0 or lasts(each, each.spares - 1) < wanted


@given(HOURS, HOURS)
def test_longer_trips_and_surer_captains_carry_more(one, other):
    short, long = sorted((one, other))
    for less, more in zip(spare_needs(short, rates()), spare_needs(long, rates()), strict=True):
        assert less.spares <= more.spares
    for less, more in zip(spare_needs(long, rates(), 0.8), spare_needs(long, rates(), 0.99), strict=True):
        assert less.spares <= more.spares


def test_no_hours_no_spares():
    assert {each.spares for each in spare_needs(0.0, rates())} == {0}


def test_expected_losses_are_the_causes_that_take_the_kind():
    swivel = need("snap swivel", 48.0)
    assert dict(swivel.causes) == pytest.approx({"weight bitten off": 0.25, "broken off": 0.25})
    assert swivel.expected == pytest.approx(0.5)
    assert swivel.low < 0.5 < swivel.high


def test_a_log_outweighs_the_guess_and_narrows_its_range():
    guess = need("lure")
    log = need("lure", seen=tuple(Seen(cause.name, 0, 5000.0) for cause in CAUSES))
    assert log.expected < 0.05 < guess.expected
    assert log.spares <= 1 < guess.spares
    hot = need("lure", seen=(Seen("lure bitten off", 400, 800.0),))
    assert (hot.high - hot.low) / hot.expected < (guess.high - guess.low) / guess.expected


def test_a_cause_that_takes_two_needs_two():
    assert each_takes(poisson(1.0, 3), 2)[::2] == pytest.approx(poisson(1.0, 3))
    assert each_takes(poisson(1.0, 3), 2)[1::2].tolist() == [0.0, 0.0, 0.0]
    pair = (Cause("both hooks gone", "", {"hook": 2}, Rate(1.0, 24.0)),)
    (hooks,) = spare_needs(24.0, rates(causes=pair), 0.9, pair)
    single = enough(losses_on(Rate(1.0, 24.0), 24.0), 0.9)
    assert single is not None
    assert hooks.spares == 2 * single


def test_the_curve_starts_from_none_and_each_step_buys_more():
    needs = spare_needs(24.0, rates())
    points = curve(needs, {each.kind: 10.0 + len(each.kind) for each in needs})
    assert set(points[0].spares.values()) == {0}
    for before, after in itertools.pairwise(points):
        assert after.chance > before.chance
        assert after.cost > before.cost
    assert points[-1].chance >= 0.995


def test_no_set_of_spares_for_the_same_money_does_better():
    """Every combination of two kinds tried out."""
    causes = (
        Cause("first", "", {"lure": 1}, Rate(2.0, 20.0)), Cause("second", "", {"hook": 1}, Rate(5.0, 20.0)),
    )  # fmt: skip
    needs = spare_needs(20.0, rates(causes=causes), 0.95, causes)
    cost = {"lure": 3.0, "hook": 1.0}
    for point in curve(needs, cost):
        for lures, hooks in itertools.product(range(40), repeat=2):
            if 3.0 * lures + hooks <= point.cost:
                assert lasts(needs[0], lures) * lasts(needs[1], hooks) <= point.chance + 1e-12


def test_the_chance_shown_is_no_more_than_what_happens():
    """Trips thrown with dice: kinds are lost together, and the product of their chances stays below the truth."""
    dice = np.random.default_rng(7)
    trips, line_hours = 40_000, 48.0
    needs = spare_needs(line_hours, rates(), 0.9)
    lost = {each.kind: np.zeros(trips) for each in needs}
    for cause in CAUSES:
        rate = dice.gamma(cause.prior.shape, 1.0 / cause.prior.exposure, trips)
        times = dice.poisson(rate * line_hours)
        for kind, pieces in cause.takes.items():
            lost[kind] += pieces * times
    held = np.all([lost[each.kind] <= each.spares for each in needs], axis=0).mean()
    for each in needs:  # each kind alone: its chance, within four standard errors
        share = (lost[each.kind] <= each.spares).mean()
        assert share == pytest.approx(each.lasts, abs=4.0 * math.sqrt(0.25 / trips))
    bound = math.prod(each.lasts for each in needs)
    assert held >= bound
    assert held > bound + 0.1  # they do go together: the bound is a bound, not the truth


def test_a_kind_s_curve_ends_where_it_is_nearly_sure():
    points = kind_curve(need("lure"))
    assert [number for number, _ in points] == list(range(len(points)))
    assert points[-1][1] >= 0.999 > points[-2][1]


@pytest.mark.parametrize("chance", [0.0, 1.0, -0.1])
def test_a_chance_of_nothing_or_of_all_is_refused(chance):
    with pytest.raises(ValueError, match="between 0 and 1"):
        enough(poisson(1.0), chance)


def test_a_free_kind_has_no_curve():
    with pytest.raises(ValueError, match="more than nothing"):
        curve(spare_needs(24.0, rates()), dict.fromkeys([n.kind for n in spare_needs(24.0, rates())], 0.0))
