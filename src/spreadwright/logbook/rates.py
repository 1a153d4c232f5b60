"""What works: strike rates by factor, each with its doubt, who is likely better, and how many hours would settle it.

Days are evened out first (evenness.py), then the levels of each factor lend one another strength (pooling.py).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np

from spreadwright.logbook.confounding import Confounded, confounded, mixed_words
from spreadwright.logbook.entry import Record
from spreadwright.logbook.evenness import even
from spreadwright.logbook.factors import NAMES, Cells, Knowledge, cells
from spreadwright.logbook.fold import Logbook
from spreadwright.logbook.pooling import Posterior, by_luck_alone, exact_interval, hours_to_settle, pooled
from spreadwright.logbook.rate_words import comparison_words, factor_words

LEVEL = 0.9  # of all intervals shown
SURE = 0.95  # a difference counts as settled
MOST_HOURS = 2000.0  # [h] beyond this a difference is not worth settling

NOTICE = (
    "Rates are estimates from your own log: they say what bit, not why, and not what will bite. Intervals hold nine "
    "times in ten, if the log is complete: hours without strikes count as much as strikes."
)


class LevelRate(Record):
    """One level: hours [h] fished, strikes, rate per rod-hour on a usual day with its 90 % interval [1/h].

    alone_low, alone_high: the exact interval [1/h] of its own strikes and hours, nothing lent and no day taken out.
    """

    level: str
    hours: float
    strikes: int
    rate: float
    low: float
    high: float
    alone_low: float
    alone_high: float


class Comparison(Record):
    """Two levels: chance [-] that `better` truly bites more often; more_hours [h], half on each, that would settle it.

    luck: how often luck alone would show this much difference. more_hours is None where 2000 h would not do.
    """

    better: str
    worse: str
    chance: float
    luck: float
    more_hours: float | None
    settled: bool
    sentence: str


class FactorRates(Record):
    """One factor: its levels, highest rate first; the first against each other; what was left out.

    bunches: unevenness of strikes after days and levels, 1 is chance; day_spread: how much days differ [-].
    """

    factor: str
    levels: tuple[LevelRate, ...]
    comparisons: tuple[Comparison, ...]
    left_out_hours: float
    left_out_strikes: int
    bunches: float
    day_spread: float
    confounded: tuple[Confounded, ...]
    sentences: tuple[str, ...]


class RateReport(Record):
    """Rates by every factor asked for, over the whole log: rig-hours [h], strikes that count, days."""

    format: Literal["spreadwright rates"] = "spreadwright rates"
    version: Literal[1] = 1
    hours: float
    strikes: int
    days: int
    factors: tuple[FactorRates, ...]
    remarks: tuple[str, ...]
    notice: str = NOTICE

    def of(self, factor: str) -> FactorRates:
        """The rates by one factor; KeyError where it was not asked for or has no levels."""
        for each in self.factors:
            if each.factor == factor:
                return each
        raise KeyError(factor)


def rate_report(book: Logbook, known: Knowledge | None = None, factors: Sequence[str] = NAMES) -> RateReport:
    """Strike rates of a log by each factor that has levels; factors nobody logged are left out and named."""
    known = known or Knowledge()
    found, remarks = [], list(book.remarks)
    days: set[str] = set()
    for name in factors:
        table = cells(name, book, known)
        days |= set(table.days)
        if table.levels:
            found.append(_factor_rates(table, book, known))
        elif book.exposures:
            remarks.append(f"Nothing is known by {name}: {_MISSING.get(name, 'the log does not say')}.")
    return RateReport(
        hours=book.hours, strikes=len(book.counted), days=len(days), factors=tuple(found), remarks=tuple(remarks)
    )


_TRACK = "it takes a track and the trip file (spreadwright log track)"
_MISSING = {
    "turn": _TRACK, "depth": _TRACK, "speed": _TRACK, "light": "no strike has a position, and no place was given",
    "colour": "colours of lures come from the trip file (--trip)",
}  # fmt: skip


def posterior_of(table: Cells) -> Posterior:
    """What is known of the rates of a factor's levels, in their order, on usual days."""
    evened = even(table.hours, table.strikes, table.bunched)
    return pooled(evened.strikes, evened.hours)


def _factor_rates(table: Cells, book: Logbook, known: Knowledge) -> FactorRates:
    evened = even(table.hours, table.strikes, table.bunched)
    posterior = pooled(evened.strikes, evened.hours)
    rate = posterior.means
    low, high = posterior.interval(LEVEL)
    hours, strikes = table.hours.sum(axis=1), table.strikes.sum(axis=1)
    order = [int(i) for i in np.argsort(-rate, kind="stable")]
    levels = []
    for i in order:
        alone = exact_interval(int(strikes[i]), float(hours[i]), LEVEL)
        levels.append(
            LevelRate(
                level=table.levels[i], hours=float(hours[i]), strikes=int(strikes[i]), rate=float(rate[i]),
                low=float(low[i]), high=float(high[i]), alone_low=alone[0], alone_high=alone[1],
            )
        )  # fmt: skip
    compared = tuple(
        _compare(table, posterior, (strikes, hours), (levels[0], levels[at]), (order[0], order[at]))
        for at in range(1, len(order))
    )
    mixed = confounded(table.factor, [level.level for level in levels], book, known)
    words = factor_words(table.factor, levels, [c.sentence for c in compared], evened.bunches, table)
    return FactorRates(
        factor=table.factor.name, levels=tuple(levels), comparisons=compared, left_out_hours=table.left_out_hours,
        left_out_strikes=table.left_out_strikes, bunches=evened.bunches, day_spread=evened.day_spread,
        confounded=mixed, sentences=(*words, *mixed_words(mixed)),
    )  # fmt: skip


def _compare(
    table: Cells,
    posterior: Posterior,
    seen: tuple[np.ndarray, np.ndarray],
    levels: tuple[LevelRate, LevelRate],
    places: tuple[int, int],
) -> Comparison:
    (strikes, hours), (best, other), (i, j) = seen, levels, places
    chance = posterior.better(i, j)
    luck = by_luck_alone(int(strikes[i]), float(hours[i]), int(strikes[j]), float(hours[j]))
    more = hours_to_settle(posterior, i, j, SURE, MOST_HOURS)
    settled = max(chance, 1.0 - chance) >= SURE
    return Comparison(
        better=best.level, worse=other.level, chance=chance, luck=luck, settled=settled,
        more_hours=None if math.isinf(more) else more,
        sentence=comparison_words(table.factor, best, other, chance, None if math.isinf(more) else more, settled),
    )  # fmt: skip
