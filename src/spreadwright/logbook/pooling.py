"""Strike rates of several groups that lend one another strength: a hierarchical Poisson model, by quadrature.

Strikes of group k: y_k ~ Poisson(rate_k x hours_k); rates of the groups: rate_k ~ Gamma with mean m and spread s (their
standard deviation over their mean). Given m and s the posterior of each rate is again a gamma (conjugate: Gelman and
others, Bayesian Data Analysis, section 2.6; Hoff 2009, A First Course in Bayesian Statistical Methods, section 3.2),
and the counts are negative binomial. m and s are not plugged in but averaged over, on a grid that follows the
likelihood, so that intervals keep the doubt about how alike the groups are (partial pooling: a group with few hours is
drawn towards the others, one with many keeps its own rate).

Priors, weak and assumed: log m normal around one strike in five rod-hours (95 %: one in a hundred hours to four an
hour); s half-normal with scale 0.7 (rates of lures or marks differ by a factor of two rather than of ten).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import betainc, gammainc, gammaincinv, gammaln
from scipy.stats import binom, chi2

Floats = NDArray[np.float64]

USUAL_RATE, RATE_DOUBT = 0.2, 1.5  # [1/h], and the standard deviation of its logarithm: assumed
SPREAD_SCALE = 0.7  # assumed
_SPREADS = 28  # nodes of s
_RATES = 17  # nodes of log m for each s, to 4.5 standard deviations
_NEGLIGIBLE = 1e-7  # of the posterior weight


@dataclass(frozen=True, slots=True, eq=False)
class Posterior:
    """What is known of the rates: each a mixture of gammas over the same nodes.

    weights (G) of the nodes; shapes, hours (G, K): gamma shape [-] and rate parameter [h] of each group at each node.
    """

    weights: Floats
    shapes: Floats
    hours: Floats

    @property
    def means(self) -> Floats:
        """Expected rates (K) [1/h]."""
        return self.weights @ (self.shapes / self.hours)

    def below(self, rates: Floats) -> Floats:
        """Probability that each group's rate lies under `rates` (K) [1/h]."""
        under: Floats = self.weights @ gammainc(self.shapes, self.hours * rates)
        return under

    def quantile(self, share: float) -> Floats:
        """The rates (K) [1/h] that lie above with probability 1 - share, to 1e-9 of themselves.

        Newton's steps in the logarithm from the gamma of the same mean and variance, kept inside a bracket.
        """
        spot = np.log(np.maximum(self._first_guess(share), 1e-15))
        low, high = spot - 40.0, spot + 12.0
        for _ in range(60):
            miss = self.below(np.exp(spot)) - share
            low, high = np.where(miss < 0.0, spot, low), np.where(miss < 0.0, high, spot)
            step = -miss / np.maximum(self._log_density(spot), 1e-300)
            tried = spot + np.clip(step, -2.0, 2.0)
            fine = (tried > low) & (tried < high)
            following = np.where(fine, tried, 0.5 * (low + high))
            done = np.abs(following - spot).max() < 1e-10
            spot = following
            if done:
                break
        return np.exp(spot)

    def _first_guess(self, share: float) -> Floats:
        mean = self.means
        each = self.shapes / self.hours
        variance = self.weights @ (self.shapes / self.hours**2 + (each - mean) ** 2)
        shape = mean**2 / variance
        guess: Floats = gammaincinv(shape, share) * mean / shape
        return guess

    def _log_density(self, log_rates: Floats) -> Floats:
        """Probability density (K) of the logarithm of each rate."""
        scaled = self.hours * np.exp(log_rates)
        density: Floats = self.weights @ np.exp(self.shapes * np.log(scaled) - scaled - gammaln(self.shapes))
        return density

    def interval(self, level: float = 0.9) -> tuple[Floats, Floats]:
        """Lower and upper ends (K) [1/h] of the central interval that holds the rate with probability `level`."""
        tail = 0.5 * (1.0 - level)
        return self.quantile(tail), self.quantile(1.0 - tail)

    def better(self, first: int, second: int) -> float:
        """Probability that the first group's rate is truly the higher: exact at each node, by the beta distribution."""
        return float(self.weights @ _gamma_above(self.shapes, self.hours, first, second))

    def draw(self, count: int, seed: int) -> Floats:
        """Rates (count, K) [1/h] drawn from the posterior; the same seed gives the same draws."""
        random = np.random.default_rng(seed)
        nodes = random.choice(len(self.weights), size=count, p=self.weights / self.weights.sum())
        return random.gamma(self.shapes[nodes]) / self.hours[nodes]

    def after(self, more: Floats) -> Posterior:
        """What would be known after `more` hours (K) [h] in which each group keeps to its expected rate."""
        strikes = self.means * more
        return Posterior(self.weights, self.shapes + strikes, self.hours + more)


def _gamma_above(shapes: Floats, hours: Floats, first: int, second: int) -> Floats:
    """P(X > Y) of independent gammas: with U = b X / (b X + c Y) ~ Beta, X > Y where U > b / (b + c)."""
    b, c = hours[:, first], hours[:, second]
    above: Floats = betainc(shapes[:, second], shapes[:, first], c / (b + c))
    return above


def conjugate(shape: float, hours: float, strikes: Floats, exposure: Floats) -> Posterior:
    """Groups with one fixed gamma prior (shape [-], hours [h]) and nothing lent between them.

    >>> known = conjugate(2.0, 1.0, np.array([217.0, 66.0]), np.array([111.0, 44.0]))
    >>> round(known.better(0, 1), 6)
    0.97256
    """
    return Posterior(np.ones(1), shape + strikes[None, :].astype(float), hours + exposure[None, :].astype(float))


def pooled(strikes: Floats, exposure: Floats) -> Posterior:
    """Rates of groups with `strikes` (K) [-] in `exposure` (K) [h], each drawn towards the others.

    Groups without hours are allowed: they get what the others tell of them.
    Raises ValueError for negative or endless numbers, for strikes without hours, or without groups.
    """
    y, hours = np.asarray(strikes, dtype=float), np.asarray(exposure, dtype=float)
    if y.ndim != 1 or y.shape != hours.shape or y.size == 0:
        raise ValueError(f"strikes and hours go in pairs, one a group: {y.shape}, {hours.shape}")
    if not (np.isfinite(y).all() and np.isfinite(hours).all() and (y >= 0).all() and (hours >= 0).all()):
        raise ValueError("strikes and hours are finite and not negative")
    if ((hours == 0) & (y > 0)).any():
        raise ValueError("strikes without hours have no rate")
    # Equal steps of the square root: small spreads, where groups are nearly alike, lie closer.
    root = np.linspace(math.sqrt(0.02), math.sqrt(2.8), _SPREADS)
    spread = root**2
    alpha = 1.0 / spread**2
    centre, width = _likely_rate(y, hours, alpha)
    offsets = np.linspace(-4.5, 4.5, _RATES)
    log_rate = centre[:, None] + width[:, None] * offsets
    shape = np.repeat(alpha, _RATES)
    rate = shape / np.exp(log_rate).ravel()
    log_weight = log_marginal(y, hours, shape, rate)
    log_weight += -0.5 * ((log_rate.ravel() - math.log(USUAL_RATE)) / RATE_DOUBT) ** 2
    log_weight += np.repeat(-0.5 * (spread / SPREAD_SCALE) ** 2 + np.log(root) + np.log(width), _RATES)
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    kept = weight > _NEGLIGIBLE
    weight = weight[kept] / weight[kept].sum()
    return Posterior(weight, shape[kept][:, None] + y, rate[kept][:, None] + hours)


def log_marginal(strikes: Floats, exposure: Floats, shape: Floats, rate: Floats) -> Floats:
    """Log-likelihood (G) of the counts (K) where rates are Gamma(shape, rate) (G): negative binomial."""
    a, b = shape[:, None], rate[:, None]
    hours, y = exposure[None, :], strikes[None, :]
    never = np.where(exposure > 0.0, exposure, 1.0)[None, :]  # a group without hours has no strikes: its term is 0
    each = gammaln(a + y) - gammaln(a) - gammaln(y + 1.0) - a * np.log1p(hours / b) + y * np.log(never / (b + hours))
    total: Floats = each.sum(axis=1)
    return total


def _likely_rate(y: Floats, hours: Floats, alpha: Floats) -> tuple[Floats, Floats]:
    """Most likely log m for each spread, with its standard deviation: Fisher scoring."""
    log_rate = np.full(alpha.shape, math.log((y.sum() + 0.5) / (hours.sum() + 1.0)))
    information = np.ones_like(alpha)
    for _ in range(25):
        mean = np.exp(log_rate)[:, None] * hours
        share = 1.0 / (1.0 + mean / alpha[:, None])
        score = ((y - mean) * share).sum(axis=1) - (log_rate - math.log(USUAL_RATE)) / RATE_DOUBT**2
        information = (mean * share).sum(axis=1) + 1.0 / RATE_DOUBT**2
        log_rate = log_rate + np.clip(score / information, -1.0, 1.0)
    return log_rate, 1.0 / np.sqrt(information)


def exact_interval(strikes: int, hours: float, level: float = 0.9) -> tuple[float, float]:
    """The exact interval of one rate [1/h] by itself, nothing lent from others (Garwood 1936).

    >>> low, high = exact_interval(10, 1.0, 0.95)
    >>> round(low, 6), round(high, 6)
    (4.795389, 18.390356)
    """
    tail = 0.5 * (1.0 - level)
    low = 0.5 * float(chi2.ppf(tail, 2 * strikes)) if strikes else 0.0
    return low / hours, 0.5 * float(chi2.ppf(1.0 - tail, 2 * strikes + 2)) / hours


def by_luck_alone(strikes: int, hours: float, other_strikes: int, other_hours: float) -> float:
    """How often luck alone would favour the first group this much or more if both rates [1/h] were the same.

    The exact conditional test: given the sum, the first count is binomial (Przyborowski and Wilenski 1940).
    """
    share = hours / (hours + other_hours)
    return float(binom.sf(strikes - 1, strikes + other_strikes, share))


def hours_to_settle(known: Posterior, first: int, second: int, sure: float = 0.95, most: float = 2000.0) -> float:
    """More hours [h], half on each of two groups, until the better is `sure`ly so, if each keeps to its expected rate.

    0 where it is settled already; infinite where `most` hours would not do.
    """
    groups = known.shapes.shape[1]

    def sure_after(hours: float) -> float:
        more = np.zeros(groups)
        more[[first, second]] = 0.5 * hours
        chance = known.after(more).better(first, second)
        return max(chance, 1.0 - chance)

    if sure_after(0.0) >= sure:
        return 0.0
    if sure_after(most) < sure:
        return math.inf
    low, high = 0.0, most
    while high - low > 0.25:
        half = 0.5 * (low + high)
        low, high = (low, half) if sure_after(half) >= sure else (half, high)
    return high
