"""Pooled rates: limits where the answer is known, what pooling must do, and coverage on simulated logs."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import gamma, nbinom

from spreadwright.logbook.pooling import (
    by_luck_alone,
    conjugate,
    exact_interval,
    hours_to_settle,
    log_marginal,
    pooled,
)


def counts(*numbers):
    return np.array(numbers, dtype=float)


def test_a_single_prior_gives_the_gamma_itself():
    known = conjugate(2.0, 3.0, counts(4), counts(5.0))
    for level in (0.5, 0.9):
        low, high = known.interval(level)
        exact = gamma(6.0, scale=1 / 8.0).interval(level)
        assert (low[0], high[0]) == pytest.approx(exact, rel=1e-9)
    assert known.means[0] == pytest.approx(0.75, rel=1e-12)


def test_who_is_better_by_another_route():
    known = conjugate(0.5, 1.0, counts(3, 7), counts(4.0, 20.0))
    first, second = gamma(3.5, scale=1 / 5.0), gamma(7.5, scale=1 / 21.0)
    integral = quad(lambda x: first.pdf(x) * second.cdf(x), 0.0, 8.0, epsabs=1e-12)[0]
    assert known.better(0, 1) == pytest.approx(integral, abs=1e-9)
    assert known.better(0, 1) + known.better(1, 0) == pytest.approx(1.0, abs=1e-12)


def test_counts_given_mean_and_spread_are_negative_binomial():
    y, hours = counts(3, 0, 11), counts(10.0, 4.0, 30.0)
    shape, rate = 1.7, 6.0
    exact = nbinom.logpmf(y, shape, rate / (rate + hours)).sum()
    assert log_marginal(y, hours, counts(shape), counts(rate))[0] == pytest.approx(exact, rel=1e-12)


def test_the_grid_is_fine_enough():
    """The same posterior by a plain fine grid over the two unknowns, with no cleverness."""
    y, hours = counts(9, 2, 0, 5), counts(20.0, 12.0, 6.0, 31.0)
    spread, log_rate = np.meshgrid(np.linspace(0.02, 2.8, 400), np.linspace(-6.0, 2.0, 400), indexing="ij")
    shape = 1.0 / spread.ravel() ** 2
    rate = shape / np.exp(log_rate.ravel())
    weight = log_marginal(y, hours, shape, rate) - 0.5 * (spread.ravel() / 0.7) ** 2
    weight += -0.5 * ((log_rate.ravel() - math.log(0.2)) / 1.5) ** 2
    weight = np.exp(weight - weight.max())
    weight /= weight.sum()
    known = pooled(y, hours)
    plain = weight @ ((shape[:, None] + y) / (rate[:, None] + hours))
    assert known.means == pytest.approx(plain, rel=2e-3)
    low, high = known.interval(0.9)
    for k in range(4):
        for end, share in ((low[k], 0.05), (high[k], 0.95)):
            under = weight @ gamma.cdf(end, shape + y[k], scale=1.0 / (rate + hours[k]))
            assert under == pytest.approx(share, abs=2e-3)


def test_pooling_draws_the_poor_towards_the_many():
    known = pooled(counts(40, 30, 35, 3), counts(100.0, 100.0, 100.0, 2.0))
    assert 0.35 < known.means[3] < 0.7  # by itself it would be 1.5 an hour
    assert known.means[:3] == pytest.approx([0.4, 0.3, 0.35], abs=0.03)
    low, high = known.interval()
    assert high[3] - low[3] > 2 * (high[0] - low[0])


def test_a_group_without_hours_gets_what_the_others_tell():
    known = pooled(counts(40, 30, 0), counts(100.0, 100.0, 0.0))
    assert 0.25 < known.means[2] < 0.5
    assert known.interval()[1][2] > known.interval()[1][0]


def test_no_strikes_at_all_still_have_an_upper_end():
    known = pooled(counts(0, 0), counts(10.0, 30.0))
    _, high = known.interval()
    assert 0.0 < high[1] < high[0] < 0.5


def test_many_hours_leave_no_room_for_priors():
    known = pooled(counts(4000, 2000), counts(10000.0, 10000.0))
    assert known.means == pytest.approx([0.4, 0.2], rel=0.005)
    low, high = known.interval(0.9)
    for k, strikes in enumerate((4000, 2000)):
        assert (low[k], high[k]) == pytest.approx(exact_interval(strikes, 10000.0), rel=0.005)


def test_draws_come_from_the_posterior():
    known = pooled(counts(12, 4), counts(30.0, 30.0))
    drawn = known.draw(20000, seed=3)
    assert drawn.mean(axis=0) == pytest.approx(known.means, rel=0.02)
    assert (drawn[:, 0] > drawn[:, 1]).mean() == pytest.approx(known.better(0, 1), abs=0.012)
    assert np.array_equal(drawn, known.draw(20000, seed=3))


def test_hours_to_settle_does_what_it_says():
    known = pooled(counts(12, 5), counts(30.0, 30.0))
    more = hours_to_settle(known, 0, 1)
    assert 10.0 < more < 200.0
    assert known.after(counts(more / 2, more / 2)).better(0, 1) == pytest.approx(0.95, abs=0.002)
    assert hours_to_settle(known, 1, 0) == pytest.approx(more)
    assert hours_to_settle(pooled(counts(90, 9), counts(90.0, 90.0)), 0, 1) == 0.0
    assert hours_to_settle(pooled(counts(10, 10), counts(50.0, 50.0)), 0, 1) == math.inf


@pytest.mark.parametrize(
    ("strikes", "hours"),
    [((1, 2), (1.0,)), ((), ()), ((-1,), (1.0,)), ((1,), (math.inf,)), ((1,), (0.0,)), ((math.nan,), (1.0,))],
)
def test_what_means_nothing_is_refused(strikes, hours):
    with pytest.raises(ValueError, match=r"strikes|pairs"):
        pooled(counts(*strikes), counts(*hours))


def test_luck_alone_is_half_or_more_where_nothing_speaks():
    assert by_luck_alone(5, 10.0, 5, 10.0) == pytest.approx(0.623, abs=0.001)  # binomial(10, 1/2) at 5 or more
    assert by_luck_alone(0, 10.0, 5, 10.0) == 1.0


def test_nine_of_ten_intervals_hold_the_truth():
    """Simulated logs with known rates: how alike the groups are, and how long each fished, differs from log to log."""
    random = np.random.default_rng(20310308)
    held = groups = 0
    sure, right = 0.0, 0
    for _ in range(250):
        count = int(random.integers(2, 9))
        truth = 0.25 * np.exp(random.normal(0.0, 0.4) + abs(random.normal(0.0, 0.6)) * random.standard_normal(count))
        hours = random.uniform(3.0, 120.0, count)
        known = pooled(random.poisson(truth * hours).astype(float), hours)
        low, high = known.interval(0.9)
        held += int(((low <= truth) & (truth <= high)).sum())
        groups += count
        chance = known.better(0, 1)
        sure += max(chance, 1.0 - chance)
        right += (truth[0] > truth[1]) == (chance > 0.5)
    assert 0.85 <= held / groups <= 0.95
    assert right / 250 == pytest.approx(sure / 250, abs=0.07)  # "93 % likely" is right 93 times in a hundred
