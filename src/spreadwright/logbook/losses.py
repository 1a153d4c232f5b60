"""What is lost to fish, by cause, out of the log: for the spares (stock/losses.py takes these as they are).

Causes are named as the spares name them. The log sees what fish take; what is worn or damaged is seen at the bench.
"""

from __future__ import annotations

from spreadwright.logbook.entry import Record
from spreadwright.logbook.fold import Logbook, Strike
from spreadwright.logbook.pooling import exact_interval
from spreadwright.logbook.rate_words import two_figures

LURE, WEIGHT, BROKEN = "lure bitten off", "weight bitten off", "broken off"


class LossRate(Record):
    """Losses of one cause in so many line-hours [h], their rate and its exact 90 % interval [1/h]."""

    cause: str
    losses: int
    line_hours: float
    rate: float
    low: float
    high: float
    sentence: str


def cause_of(strike: Strike) -> str | None:
    """What a strike cost: a cause's name, or None. A cut-off that nobody placed counts as the lure, the usual case."""
    if strike.entry.outcome == "broke off":
        return BROKEN
    if strike.entry.outcome != "cut off":
        return None
    return WEIGHT if strike.entry.took in ("weight", "both") else LURE


def loss_rates(book: Logbook) -> tuple[LossRate, ...]:
    """Loss rates of the log by cause; none where no line was ever out. Strikes without a logged line count too."""
    hours = book.hours
    if hours <= 0.0:
        return ()
    causes = [cause_of(strike) for strike in book.strikes]
    found = []
    for cause in (LURE, WEIGHT, BROKEN):
        lost = causes.count(cause)
        low, high = exact_interval(lost, hours)
        sentence = (
            f"{cause}: {lost} in {hours:.0f} line-hours, {two_figures(100.0 * lost / hours)} in a hundred "
            f"({two_figures(100.0 * low)} to {two_figures(100.0 * high)})."
        )
        found.append(
            LossRate(cause=cause, losses=lost, line_hours=hours, rate=lost / hours, low=low, high=high,
                     sentence=sentence)
        )  # fmt: skip
    return tuple(found)
