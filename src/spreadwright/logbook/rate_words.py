"""Rates in plain sentences: a rate is never named without its doubt, and a difference never without its chance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Protocol

from spreadwright.logbook.factors import Cells, Factor


class Rated(Protocol):
    """What a sentence needs of a level: its name, hours [h], strikes, rate and interval [1/h]."""

    @property
    def level(self) -> str:
        """Its name."""

    @property
    def hours(self) -> float:
        """Hours fished [h]."""

    @property
    def strikes(self) -> int:
        """Strikes."""

    @property
    def rate(self) -> float:
        """Strikes an hour."""

    @property
    def low(self) -> float:
        """Lower end of its interval."""

    @property
    def high(self) -> float:
        """Upper end of its interval."""


def two_figures(value: float) -> str:
    """A rate or number of hours to two significant figures.

    >>> two_figures(0.4217), two_figures(12.3), two_figures(134.0)
    ('0.42', '12', '130')
    """
    if value <= 0.0 or not math.isfinite(value):
        return "0"
    decimals = 1 - math.floor(math.log10(value))
    return f"{round(value, decimals):.{max(decimals, 0)}f}"


def counted(strikes: float) -> str:
    """A number of strikes in words.

    >>> counted(1), counted(12.0)
    ('1 strike', '12 strikes')
    """
    return f"{strikes:.0f} strike{'' if round(strikes) == 1 else 's'}"


def percent(chance: float) -> str:
    """A chance in whole per cent; never 0 or 100, which no log can show.

    >>> percent(0.9333), percent(0.9991), percent(0.002)
    ('93 %', 'over 99 %', 'under 1 %')
    """
    if chance > 0.99:
        return "over 99 %"
    return "under 1 %" if chance < 0.01 else f"{100.0 * chance:.0f} %"


def rate_words(rated: Rated) -> str:
    """A rate with its interval, to the same places.

    The places are those that the lower end still needs to say something.
    """
    return f"{two_figures(rated.rate)} an hour ({two_figures(rated.low)} to {two_figures(rated.high)})"


def named(factor: Factor, level: str) -> str:
    """How a level is called in a sentence."""
    return f"{level} lines" if factor.name == "distance" else level


def comparison_words(
    factor: Factor, best: Rated, other: Rated, chance: float, more_hours: float | None, settled: bool
) -> str:
    """One sentence for two levels: both rates, the chance, and what would settle it."""
    said = (
        f"{named(factor, best.level)} {rate_words(best)}, {named(factor, other.level)} {rate_words(other)}; "
        f"{percent(chance)} likely that {best.level} is truly better"
    )
    if settled:
        return f"{said}; settled as far as this log goes."
    if more_hours is None:
        return f"{said}; even 2000 more hours would hardly settle it: take them as equal."
    return (
        f"{said}; about {two_figures(more_hours)} more hours, half on each, would settle it if they go on as they did."
    )


def factor_words(
    factor: Factor, levels: Sequence[Rated], compared: Sequence[str], bunches: float, table: Cells
) -> tuple[str, ...]:
    """The sentences of one factor: its comparisons, and what the reader has to know about them."""
    said = [sentence[0].upper() + sentence[1:] for sentence in compared]
    if len(levels) == 1:
        only = levels[0]
        words = f"{named(factor, only.level)} {rate_words(only)}; nothing to compare it with."
        said = [words[0].upper() + words[1:]]
    if bunches > 1.0:
        said.append(f"Strikes come in bunches, {bunches:.1f} times as unevenly as chance: intervals are the wider.")
    if table.left_out_hours > 0.05 or table.left_out_strikes:
        said.append(
            f"Left out because nobody knows their {factor.name}: {table.left_out_strikes} strikes and "
            f"{table.left_out_hours:.1f} h."
        )
    return tuple(said)
