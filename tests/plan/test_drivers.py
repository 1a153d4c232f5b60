"""First-order Sobol indices from samples, against closed forms, the literature, and a general-purpose library."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import qmc, sobol_indices, uniform

from spreadwright.plan.drivers import first_order, ranked


def points(count: int, inputs: int) -> np.ndarray:
    """Scrambled-Sobol points on -1 to 1."""
    return np.asarray(2.0 * qmc.Sobol(inputs, rng=np.random.default_rng(3)).random(count) - 1.0)


def test_a_sum_of_straight_parts_has_shares_as_their_squares() -> None:
    """y = sum a x: the share of each is a^2 over the sum of squares, whatever the inputs' width."""
    at, factors = points(512, 4), np.array([3.0, 2.0, 1.0, 0.0])
    assert first_order(at, at @ factors) == pytest.approx(factors**2 / 14.0, abs=0.01)


def test_the_functions_of_ishigami_and_homma() -> None:
    """Ishigami and Homma 1990 with a = 7, b = 0.1: first-order shares 0.3139, 0.4424 and 0 (closed form).

    A cubic cannot follow the second input's double wave and sees a part only; the others are met.
    """
    at = points(4096, 3)
    x = math.pi * at
    y = np.sin(x[:, 0]) + 7.0 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])
    found = first_order(at, y)
    assert found[0] == pytest.approx(0.3139, abs=0.02)
    assert found[1] < 0.4424
    assert found[2] == pytest.approx(0.0, abs=0.01)


def test_as_a_general_library_finds_them_with_many_more_runs() -> None:
    """scipy's Saltelli estimate on a smooth function of inputs that act together."""

    def smooth(x: np.ndarray) -> np.ndarray:
        return np.asarray(np.exp(0.8 * x[0]) + x[1] ** 2 + 0.5 * x[0] * x[2])

    said = sobol_indices(
        func=lambda x: np.atleast_2d(smooth(x)), n=8192, dists=[uniform(-1.0, 2.0)] * 3, rng=np.random.default_rng(5)
    )
    at = points(512, 3)
    assert first_order(at, smooth(at.T)) == pytest.approx(said.first_order.ravel(), abs=0.03)


def test_noise_is_no_driver_and_the_strongest_comes_first() -> None:
    at, random = points(512, 5), np.random.default_rng(8)
    shares = ranked(("a", "b", "c", "d", "e"), at, at[:, 3] + 0.3 * at[:, 1] + random.normal(0.0, 0.2, 512), seed=1)
    assert [each.name for each in shares[:2]] == ["d", "b"]
    assert sum(each.usual for each in shares[2:]) < 0.03
    assert all(each.low <= each.usual <= each.high for each in shares)
    noise = ranked(("a", "b", "c", "d", "e"), at, random.normal(0.0, 1.0, 512), seed=1)
    assert max(each.usual for each in noise) < 0.05
