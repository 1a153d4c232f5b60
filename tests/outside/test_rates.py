"""Strike rates against published intervals, textbook posteriors and statsmodels."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.stats import gamma
from statsmodels.stats.rates import confint_poisson
from statsmodels.stats.rates import test_poisson_2indep as compare_poisson

from spreadwright.logbook.pooling import by_luck_alone, conjugate, exact_interval, log_marginal

# Garwood 1936 (Biometrika 28, 437-442), 95 %: n = 0, 1, 5, 10 and 100 seen in print, the others by the chi-square form.
GARWOOD = {
    0: (0.0, 3.688879), 1: (0.025318, 5.571643), 2: (0.242209, 7.224688), 3: (0.618672, 8.767273),
    5: (1.623486, 11.668332), 10: (4.795389, 18.390356), 20: (12.216520, 30.888378), 50: (37.110964, 65.918767),
    100: (81.363991, 121.626794),
}  # fmt: skip


@pytest.mark.parametrize(("strikes", "ends"), GARWOOD.items())
def test_exact_poisson_intervals(strikes, ends):
    assert exact_interval(strikes, 1.0, 0.95) == pytest.approx(ends, abs=1e-6)
    if strikes:
        theirs = confint_poisson(strikes, 1.0, method="exact-c", alpha=0.1)
        assert exact_interval(strikes, 1.0, 0.9) == pytest.approx(theirs, rel=1e-9)


def test_the_welsh_nickel_workers():
    """Dalgaard, Introductory Statistics with R: 137 deaths where 24.19893 were expected; the ends are by chi-square."""
    low, high = exact_interval(137, 24.19893, 0.95)
    assert pytest.approx(5.661407, abs=1e-6) == 137 / 24.19893
    assert (low, high) == pytest.approx((4.753125, 6.692709), abs=1e-6)


def test_hoff_2009_section_3_2_2():
    """Hoff, A First Course in Bayesian Statistical Methods: 217 births of 111 women against 66 of 44."""
    known = conjugate(2.0, 1.0, np.array([217.0, 66.0]), np.array([111.0, 44.0]))
    assert (known.shapes[0].tolist(), known.hours[0].tolist()) == ([219.0, 68.0], [112.0, 45.0])
    assert known.means == pytest.approx([1.955357, 1.511111], abs=1e-6)
    low, high = known.interval(0.95)
    assert low == pytest.approx([1.704943, 1.173437], abs=1e-6)
    assert high == pytest.approx([2.222679, 1.890836], abs=1e-6)
    assert known.better(0, 1) == pytest.approx(0.972560, abs=1e-6)  # printed as 0.97


@pytest.mark.parametrize(("deaths", "years", "mean", "above_one"), [(3, 2.0, 0.857143, 0.300708),
                                                                    (30, 20.0, 1.32, 0.928544)])  # fmt: skip
def test_gelman_section_2_6(deaths, years, mean, above_one):
    """Gelman and others, Bayesian Data Analysis, third edition, asthma deaths: the example is from memory, the
    numbers by the gamma distribution."""
    known = conjugate(3.0, 5.0, np.array([float(deaths)]), np.array([years]))
    assert known.means[0] == pytest.approx(mean, abs=1e-6)
    assert 1.0 - known.below(np.ones(1))[0] == pytest.approx(above_one, abs=1e-6)
    assert gamma(3.0 + deaths, scale=1.0 / (5.0 + years)).sf(1.0) == pytest.approx(above_one, abs=1e-6)


def test_gu_and_others_2008_example_1():
    """Gu, Ng, Tang and Schucany 2008, Biometrical Journal 50: 60 in 51477.5, 30 in 54308.7: p 0.000428 in print."""
    ours = by_luck_alone(60, 51477.5, 30, 54308.7)
    assert ours == pytest.approx(0.000428, abs=5e-6 / 10)
    theirs = compare_poisson(60, 51477.5, 30, 54308.7, method="exact-cond", alternative="larger")
    assert ours == pytest.approx(theirs.pvalue, rel=1e-9)


def test_the_pooled_likelihood_is_statsmodels_negative_binomial():
    """Counts whose rates are gamma distributed are negative binomial (NB2 of Cameron and Trivedi)."""
    y, hours = np.array([9.0, 2.0, 0.0, 5.0, 14.0]), np.array([20.0, 12.0, 6.0, 31.0, 25.0])
    model = sm.NegativeBinomialP(y, np.ones_like(y), exposure=hours)
    for rate, spread in ((0.3, 0.4), (0.2, 1.1)):
        ours = log_marginal(y, hours, np.array([1 / spread**2]), np.array([1 / (spread**2 * rate)]))[0]
        assert ours == pytest.approx(model.loglike(np.array([np.log(rate), spread**2])), rel=1e-9)
