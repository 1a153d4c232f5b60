"""Loss rates and spares against textbooks, published examples and other people's libraries."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from stockpyl.newsvendor import newsvendor_poisson

from spreadwright.stock.losses import Rate
from spreadwright.stock.spares import enough, losses_on, poisson, together

# Hoff, A First Course in Bayesian Statistical Methods (2009), section 3.2.2: prior Gamma(2, 1), children of women
# without and with a college degree: 217 of 111 women, 66 of 44. Printed: means and 95 % intervals.
HOFF = ((217, 111, 1.955357, (1.704943, 2.222679)), (66, 44, 1.511111, (1.173437, 1.890836)))


@pytest.mark.parametrize(("losses", "exposure", "mean", "interval"), HOFF)
def test_a_rate_learns_as_in_the_textbook(losses, exposure, mean, interval):
    rate = Rate(2.0, 1.0).after(losses, exposure)
    assert rate.mean == pytest.approx(mean, abs=1e-6)
    assert rate.range(0.95) == pytest.approx(interval, abs=1e-6)


def test_deaths_of_asthma_as_in_the_textbook():
    """Gelman and others, Bayesian Data Analysis, 3rd edition, section 2.6 (the example from memory, numbers derived):
    prior Gamma(3, 5); 3 deaths in 2.0 (100,000 person-years), then 30 in 20."""
    assert Rate(3.0, 5.0).after(3, 2.0).mean == pytest.approx(0.857143, abs=1e-6)
    assert Rate(3.0, 5.0).after(30, 20.0).mean == pytest.approx(1.32, abs=1e-9)


@pytest.mark.parametrize(("mean", "stock"), [(3.0, 6), (2.0, 5)])
def test_poisson_base_stock_at_95_percent(mean, stock):
    """Poisson tables: for mean 3, P(N <= 5) = 0.916082, P(N <= 6) = 0.966491; for 2, 0.947347 and 0.983436."""
    assert enough(poisson(mean), 0.95) == stock


def test_poisson_chances_as_in_the_tables():
    told = np.cumsum(poisson(3.0))[[5, 6]].tolist() + np.cumsum(poisson(2.0))[[4, 5]].tolist()
    assert told == pytest.approx([0.916082, 0.966491, 0.947347, 0.983436], abs=1e-6)


@pytest.mark.parametrize("mean", [0.3, 1.0, 2.5, 4.0, 7.5, 20.0])
@pytest.mark.parametrize("chance", [0.5, 0.8, 0.95, 0.99])
def test_the_smallest_stock_is_the_newsvendor_s(mean, chance):
    """stockpyl's Poisson newsvendor with costs whose critical ratio is the chance (Snyder and Shen, Fundamentals of
    Supply Chain Theory, section 4.3)."""
    order, _ = newsvendor_poisson(1.0 - chance, chance, mean)
    assert enough(poisson(mean), chance) == order


@pytest.mark.parametrize("rate", [Rate(0.5, 24.0), Rate(3.0, 80.0), Rate(219.0, 112.0)])
@pytest.mark.parametrize("line_hours", [0.0, 6.0, 48.0])
def test_losses_of_a_doubtful_rate_are_scipy_s_negative_binomial(rate, line_hours):
    kept = rate.exposure / (rate.exposure + line_hours)
    ours = losses_on(rate, line_hours, 60)
    assert ours == pytest.approx(stats.nbinom.pmf(np.arange(61), rate.shape, kept), abs=1e-12)


def test_a_rate_known_exactly_is_the_poisson_limit():
    sure = Rate(0.05 * 1e9, 1e9)
    assert losses_on(sure, 60.0, 20) == pytest.approx(stats.poisson.pmf(np.arange(21), 3.0), abs=1e-6)


def test_a_rate_is_as_sure_as_garwood_s_interval_in_the_limit():
    """Garwood 1936, exact 95 % limits for 10 events: 4.795389 to 18.390356. The gamma posterior with no prior
    exposure and shape 0 below, 1 above, has the same edges (the chi-square identity)."""
    lower = Rate(1e-12, 1e-12).after(10, 1.0).range(0.95)[0]
    upper = Rate(1.0, 1e-12).after(10, 1.0).range(0.95)[1]
    assert (lower, upper) == pytest.approx((4.795389, 18.390356), abs=1e-5)


def test_sums_of_poisson_losses_are_poisson():
    both = together([poisson(1.2, 40), poisson(1.8, 40)])
    assert both[:30] == pytest.approx(stats.poisson.pmf(np.arange(30), 3.0), abs=1e-12)
