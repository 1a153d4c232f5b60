"""What the log would have the solver prefer: each lure's chance of being better than another, 0 to 1.

Half means that nothing is known; a lure never fished stands near half. A preference only ever breaks ties between
spreads that keep lines apart equally well (spread/worth.py). It says what it rests on, so that a plan can show it.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from spreadwright.logbook.entry import Record
from spreadwright.logbook.evenness import even
from spreadwright.logbook.factors import Knowledge, cells
from spreadwright.logbook.fold import Logbook
from spreadwright.logbook.pooling import pooled
from spreadwright.logbook.rate_words import counted, percent, rate_words, two_figures
from spreadwright.logbook.rates import LevelRate

FEWEST_STRIKES = 3  # before a log is worth listening to


class Preferences(Record):
    """lures: by name, the chance [-] of being better than another lure; sentences: what that rests on."""

    lures: dict[str, float]
    sentences: tuple[str, ...]


def preferences(book: Logbook, lures: Iterable[str] = (), known: Knowledge | None = None) -> Preferences:
    """Preferences among these lures (those of the shelf) by the log; empty, with the reason, where it says too little.

    lures   names to choose from; those of the log where none are given
    """
    table = cells("lure", book, known or Knowledge())
    wanted = tuple(dict.fromkeys(lures)) or table.levels
    fished = [name for name in wanted if name in table.levels]
    strikes = int(table.strikes.sum())
    if len(wanted) < 2 or not fished or strikes < FEWEST_STRIKES:
        why = f"The logbook has {counted(strikes)} on {len(fished)} of these lures: too little to prefer one."
        return Preferences(lures={}, sentences=(why,))
    evened = even(table.hours, table.strikes, table.bunched)
    rows = [table.levels.index(name) if name in table.levels else -1 for name in wanted]
    # All lures of the log take part, so that those not on this shelf still say how lures differ.
    counts = np.append(evened.strikes, np.zeros(rows.count(-1)))
    hours = np.append(evened.hours, np.zeros(rows.count(-1)))
    spare = iter(range(len(table.levels), len(counts)))
    rows = [row if row >= 0 else next(spare) for row in rows]
    known_rates = pooled(counts, hours)
    rate, (low, high) = known_rates.means, known_rates.interval()
    liking = {
        name: sum(known_rates.better(row, other) for other in rows if other != row) / (len(rows) - 1)
        for name, row in zip(wanted, rows, strict=True)
    }
    seen = [
        LevelRate(level=name, hours=float(table.hours[row].sum()) if row < len(table.levels) else 0.0,
                  strikes=int(table.strikes[row].sum()) if row < len(table.levels) else 0, rate=float(rate[row]),
                  low=float(low[row]), high=float(high[row]), alone_low=0.0, alone_high=0.0)
        for name, row in zip(wanted, rows, strict=True)
    ]  # fmt: skip
    told = sorted(seen, key=lambda level: -liking[level.level])
    sentences = tuple(
        f"{level.level}: {rate_words(level)} from {counted(level.strikes)} in {two_figures(level.hours)} h; "
        f"{percent(liking[level.level])} likely better than another lure."
        for level in told
    )
    return Preferences(lures=liking, sentences=("The logbook's say in the choice of lures:", *sentences))
