"""Sentences with numbers in them, kept apart so that each page can show its own units.

This room knows SI numbers only. A sentence therefore carries its numbers as values with the name
of their dimension (the names that spreadwright.quantity uses), and whoever shows it passes a
function that turns a value into text. `plain` serves where nobody chose units.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

Show = Callable[[float, str], str]

_KNOT = 1852.0 / 3600.0


@dataclass(frozen=True, slots=True)
class Number:
    """One number of a sentence: its SI value [any] and its dimension ("speed", "length", "time" ...)."""

    value: float
    dimension: str


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence whose numbers stand in braces: "Wind {given}, over your limit of {limit}."

    >>> Sentence.of("Wind {given}.", given=Number(10.288889, "speed")).read()
    'Wind 20 kn.'
    """

    text: str
    numbers: tuple[tuple[str, Number], ...] = ()

    @classmethod
    def of(cls, text: str, **numbers: Number) -> Sentence:
        """Build one from its text and its numbers; every brace needs its number."""
        sentence = cls(text, tuple(numbers.items()))
        sentence.read()  # a brace without a number fails here, not on a page
        return sentence

    def read(self, show: Show | None = None) -> str:
        """The sentence as text, its numbers shown by `show(value, dimension)`."""
        reader = plain if show is None else show
        shown = {name: reader(number.value, number.dimension) for name, number in self.numbers}
        return self.text.format(**shown)


def _hours_and_minutes(seconds: float) -> str:
    minutes = round(abs(seconds) / 60.0)
    sign = "-" if seconds < 0 and minutes else ""
    hours, rest = divmod(minutes, 60)
    if hours and rest:
        return f"{sign}{hours} h {rest:02d} min"
    return f"{sign}{hours} h" if hours else f"{sign}{rest} min"


def plain(value: float, dimension: str) -> str:
    """An SI value [any] in the units a chart room uses: knots, metres, litres, hours and minutes."""
    if not math.isfinite(value):
        return "not known"
    match dimension:
        case "speed":
            return f"{value / _KNOT:.0f} kn"
        case "length":
            return f"{value:.1f} m" if abs(value) < 100.0 else f"{value:.0f} m"
        case "time":
            return _hours_and_minutes(value)
        case "volume":
            return f"{value * 1000.0:.0f} l"
        case "angle":
            return f"{math.degrees(value):.0f} deg"
        case "temperature":
            return f"{value - 273.15:.0f} degC"
        case "number":
            return f"{value:g}"
        case _:
            raise ValueError(f"no plain way to show a {dimension!r}; pass a show function that can")
