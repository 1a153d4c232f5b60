"""Calibration against the outside: mixed estimation with statsmodels, quadrature on a dense grid, normal updates.

Sources: Theil and Goldberger 1961, "On pure and mixed statistical estimation in economics" (a prior is as further
readings: weighted least squares); Gelman and others, Bayesian Data Analysis, 3rd ed. 2013, eq. 2.11 (from memory: the
mean of normal data of known variance); Hoaglin 1985 (Tukey's g: quantiles in closed form).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import statsmodels.api as sm
from tests.plan.calibration_cases import COARSE, SEA, draw, observed, prior, rigs, true_shape

import spreadwright.plan.calibration_update as under_test
from spreadwright.plan.calibration_model import WHAT, Answer, Moment, shown_by
from spreadwright.plan.calibration_next import variance_taken
from spreadwright.plan.calibration_prior import SURE, Prior, number_at
from spreadwright.plan.calibration_update import Posterior, update
from spreadwright.tackle.span import Span


def linear(random: np.random.Generator, count: int) -> tuple[list[Moment], np.ndarray, np.ndarray]:
    """Readings of one thing each whose slopes never change, and the slopes by scores and by speed."""
    slopes, by_speed = random.normal(size=(count, prior().count)), random.normal(size=count)
    moments = [
        Moment(0, rigs()[0], 6.0, 0.25, {"pull": float(random.normal())}, {"pull": float(random.uniform(0.5, 2.0))})
        for _ in range(count)
    ]
    return moments, slopes, by_speed


def test_linear_readings_are_mixed_estimation(monkeypatch):
    random = np.random.default_rng(11)
    moments, slopes, by_speed = linear(random, 9)

    def straight(_prior, given, scores, speeds, _sea, _grading):
        found = []
        for i, _ in enumerate(given):
            shown, slope, speed = np.zeros(4), np.zeros((4, prior().count)), np.zeros(4)
            shown[0], slope[0], speed[0] = slopes[i] @ scores + by_speed[i] * speeds[i], slopes[i], by_speed[i]
            found.append(Answer(shown, slope, speed))
        return found

    monkeypatch.setattr(under_test, "answers", straight)
    found = update(prior(), moments, SEA, COARSE)
    assert isinstance(found, Posterior)
    root = np.linalg.cholesky(np.linalg.inv(prior().covariance())).T
    rows = np.vstack([root, slopes])
    given = np.concatenate([np.zeros(prior().count), [moment.values["pull"] for moment in moments]])
    errors = np.array([moment.errors["pull"] / SURE for moment in moments])
    weights = np.concatenate([np.ones(prior().count), 1.0 / (errors**2 + by_speed**2)])
    fitted = sm.WLS(given, rows, weights=weights).fit()
    np.testing.assert_allclose(found.scores, fitted.params, atol=0.02)  # a step below 0.02 ends the search
    np.testing.assert_allclose(found.covariance, fitted.normalized_cov_params, rtol=1e-9, atol=1e-12)
    assert found.settled


def test_the_range_against_quadrature_on_a_dense_grid():
    """Two unknowns (drag along the line, the lure), all else known, 61 by 61 steady tows: mean, spread and ends.

    Laplace's method is first order; what is allowed is a sixth of a standard error.
    """
    random = np.random.default_rng(12)
    true = np.zeros(prior().count)
    true[[1, 4]] = draw(random)[[1, 4]]
    (moment,) = observed(true, random, ((0, 6.0),), ("pull", "lure_depth"))
    moment = replace(moment, speed_error=1e-6, errors={"pull": 10.0, "lure_depth": 0.2})
    whole = prior()
    known = AlongAndLure(whole.across, whole.along, whole.weight, whole.kinds, whole.rods)
    found = update(known, [moment], SEA, COARSE)
    assert isinstance(found, Posterior)
    along, lure = np.linspace(-3.2, 3.2, 61), np.linspace(-3.2, 3.2, 61)
    coarse = np.linspace(-3.2, 3.2, 9)  # tows are smooth: 9 by 9 of them, a cubic spline between
    shown = np.array([[shown_by(*true_shape(_scores(a, b), 0, 6.0)) for b in coarse] for a in coarse])
    logarithm = -0.5 * (along[:, None] ** 2 + lure[None, :] ** 2)
    for name, value in moment.values.items():
        surface = _spline(coarse, shown[:, :, WHAT.index(name)], along, lure)
        logarithm -= 0.5 * ((value - surface) / (moment.errors[name] / SURE)) ** 2
    mass = np.exp(logarithm - logarithm.max())
    mass /= mass.sum()
    for at, axis, grid in ((1, 1, along), (4, 0, lure)):
        side = mass.sum(axis=axis)
        mean = float(side @ grid)
        spread = float(np.sqrt(side @ (grid - mean) ** 2))
        ends = np.interp((0.05, 0.95), np.cumsum(side), grid)
        error = float(np.sqrt(found.covariance[at, at]))
        assert found.scores[at] == pytest.approx(mean, abs=spread / 6.0)
        assert error == pytest.approx(spread, rel=0.1)
        assert [found.scores[at] - SURE * error, found.scores[at] + SURE * error] == pytest.approx(
            list(ends), abs=spread / 3.0
        )


def _scores(along: float, lure: float) -> np.ndarray:
    scores = np.zeros(prior().count)
    scores[1], scores[4] = along, lure
    return scores


def _spline(places: np.ndarray, values: np.ndarray, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    from scipy.interpolate import RectBivariateSpline

    return np.array(RectBivariateSpline(places, places, values)(x, y))


class AlongAndLure(Prior):
    """A prior with every score but those of drag along the line and of the first lure held at zero."""

    def covariance(self):
        held = np.full(self.count, 1e-10)
        held[[1, 4]] = 1.0
        return np.diag(held)


def test_one_reading_of_a_normal_mean():
    """Gelman 2.11: prior N(0, t2), a reading of variance s2: variance 1 / (1/t2 + 1/s2)."""
    for t2, s2 in ((1.0, 1.0), (2.5, 0.4)):
        taken = variance_taken(np.array([[t2]]), np.ones(1), s2, np.ones((1, 1)))
        assert t2 - taken == pytest.approx(1.0 / (1.0 / t2 + 1.0 / s2))


def test_tukeys_g_in_closed_form():
    """Lure drag, half as much again either way: g = ln(ln 1.5 / ln 2) / 1.645 = -0.3260; its quartiles by hand."""
    g = np.log(np.log(1.5) / np.log(2.0)) / SURE
    assert g == pytest.approx(-0.3260, abs=1e-4)
    scale = np.log(1.5) * g / (np.exp(g * SURE) - 1.0)
    for z in (-0.6744897502, 0.6744897502, 2.0):
        assert number_at(Span(0.5, 1.0, 1.5), z) == pytest.approx(np.exp(scale * (np.exp(g * z) - 1.0) / g), rel=1e-12)
