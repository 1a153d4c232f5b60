"""How many spares to carry: the smallest number that runs out with a stated small chance, and what more would buy.

Losses on a trip of t line-hours at a rate with Gamma(a, b) are negative binomial: n = a, p = b/(b + t) (the
gamma-Poisson mixture; Hoff 2009, section 3.2.1, predictive distribution). A kind is lost by several causes, whose
losses add up: their distributions are convolved. With a rate that is known exactly this is the Poisson distribution.
Worked example: Poisson losses of mean 3 need 6 spares for 95 %, since P(N <= 5) = 0.916 and P(N <= 6) = 0.966.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import special

from spreadwright.stock.losses import CAUSES, Cause, Rate

USUAL_CHANCE = 0.95
MOST_SPARES = 400  # beyond this nobody carries spares
_TAIL = 1e-12

Chances = NDArray[np.float64]


def poisson(mean: float, most: int = MOST_SPARES) -> Chances:
    """Chances [-] of 0, 1, ... `most` losses for a rate that is known exactly; mean losses [-]."""
    if not (math.isfinite(mean) and mean >= 0.0):
        raise ValueError(f"mean losses are finite and not negative, given {mean}")
    number = np.arange(most + 1, dtype=np.float64)
    logs = special.xlogy(number, mean) - mean - special.gammaln(number + 1.0)
    return np.asarray(np.exp(logs), dtype=np.float64)


def losses_on(rate: Rate, line_hours: float, most: int = MOST_SPARES) -> Chances:
    """Chances [-] of 0, 1, ... `most` losses of one cause in so many line-hours, the doubt of its rate included."""
    if not (math.isfinite(line_hours) and line_hours >= 0.0):
        raise ValueError(f"line-hours are finite and not negative, given {line_hours}")
    a, kept = rate.shape, rate.exposure / (rate.exposure + line_hours)
    number = np.arange(most + 1, dtype=np.float64)
    logs = (
        special.gammaln(a + number) - special.gammaln(a) - special.gammaln(number + 1.0)
        + a * math.log(kept) + special.xlogy(number, 1.0 - kept)
    )  # fmt: skip
    return np.asarray(np.exp(logs), dtype=np.float64)


def together(parts: Iterable[Chances]) -> Chances:
    """Chances of the sum of losses that do not depend on one another."""
    total = np.ones(1)
    for part in parts:
        total = np.convolve(total, part)[: MOST_SPARES + 1]
    return total


def each_takes(chances: Chances, pieces: int) -> Chances:
    """The same losses counted in pieces, where each takes so many."""
    spread = np.zeros((len(chances) - 1) * pieces + 1)
    spread[::pieces] = chances
    return spread[: MOST_SPARES + 1]


def enough(chances: Chances, wanted: float = USUAL_CHANCE) -> int | None:
    """The smallest stock that does not run out with the wanted chance; None where not even the most would do.

    >>> enough(poisson(3.0)), enough(poisson(2.0))
    (6, 5)
    """
    if not 0.0 < wanted < 1.0:
        raise ValueError(f"a chance lies between 0 and 1, both left out, given {wanted}")
    reached = np.nonzero(np.cumsum(chances) >= wanted - _TAIL)[0]
    return int(reached[0]) if len(reached) else None


@dataclass(frozen=True, slots=True)
class SpareNeed:
    """The spares of one kind.

    expected   losses to expect on the trip; low, high: 90 % range of that mean, for the doubt of the rates
    spares     smallest number that lasts with the wanted chance; MOST_SPARES where none does
    lasts      the chance that this number lasts
    causes     the causes that take this kind, with what each is expected to take
    """

    kind: str
    expected: float
    low: float
    high: float
    spares: int
    lasts: float
    causes: tuple[tuple[str, float], ...]
    chances: tuple[float, ...]


def spare_needs(
    line_hours: float,
    rates: Mapping[str, Rate],
    wanted: float = USUAL_CHANCE,
    causes: Sequence[Cause] = CAUSES,
) -> tuple[SpareNeed, ...]:
    """How many of each kind to carry beyond what is fished, for a trip of so many line-hours [h]."""
    kinds = dict.fromkeys(kind for cause in causes for kind in cause.takes)
    return tuple(_need(kind, line_hours, rates, wanted, causes) for kind in kinds)


def _need(kind: str, line_hours: float, rates: Mapping[str, Rate], wanted: float, causes: Sequence[Cause]) -> SpareNeed:
    taking = [cause for cause in causes if cause.takes.get(kind)]
    chances = together(each_takes(losses_on(rates[c.name], line_hours), c.takes[kind]) for c in taking)
    spares = enough(chances, wanted)
    spares = MOST_SPARES if spares is None else spares
    parts = tuple((c.name, rates[c.name].mean * line_hours * c.takes[kind]) for c in taking)
    low, high = _range_of_mean(taking, kind, line_hours, rates)
    curve = np.minimum(np.cumsum(chances), 1.0)
    return SpareNeed(
        kind, sum(mean for _, mean in parts), low, high, spares, float(curve[min(spares, len(curve) - 1)]), parts,
        tuple(float(each) for each in curve),
    )  # fmt: skip


def _range_of_mean(
    taking: Sequence[Cause], kind: str, line_hours: float, rates: Mapping[str, Rate]
) -> tuple[float, float]:
    """90 % range of the mean losses: a gamma with the mean and variance of the sum (Welch-Satterthwaite matching)."""
    means = [rates[c.name].mean * c.takes[kind] * line_hours for c in taking]
    variance = sum(
        rates[c.name].shape * (c.takes[kind] * line_hours / rates[c.name].exposure) ** 2 for c in taking
    )  # fmt: skip
    if not variance > 0.0:
        return sum(means), sum(means)
    matched = Rate(sum(means) ** 2 / variance, sum(means) / variance)
    return matched.range(0.9)
