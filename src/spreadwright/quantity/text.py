"""Reads and shows quantities with units ("15 kn", "32 oz", "6 ft 3 in"); inside, all is SI floats."""

from __future__ import annotations

import difflib
import math
import re
from reprlib import Repr
from typing import Literal

from spreadwright.quantity.units import DIMENSIONS, Dimension, dimension_of, scale, unit_spelled

System = Literal["us", "metric"]
TURNED_FIGURES = 3  # a broken number of more figures was given in other units
LONGEST_TEXT = 80


class QuantityError(ValueError):
    """A quantity that cannot be read: what was given, the rule, and the next step."""

    def __init__(self, given: str, rule: str, next_step: str) -> None:
        super().__init__(given, rule, next_step)
        self.given = given
        self.rule = rule
        self.next_step = next_step

    def __str__(self) -> str:
        return f"given {self.given}: {self.rule}; {self.next_step}"


_BREVITY = Repr()
_LONGEST_QUOTE = 60
_BREVITY.maxstring = _BREVITY.maxother = _BREVITY.maxlong = _LONGEST_QUOTE


def quote(given: object) -> str:
    """A short text that shows a captain what was given, however long or deep it is; never more than 60 characters."""
    said = _BREVITY.repr(given)
    return said if len(said) <= _LONGEST_QUOTE else f"{said[: _LONGEST_QUOTE - 3]}..."


_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)"
_WHOLE = re.compile(rf"([+-]?)\s?({_NUMBER})\s?(.*)")
_PART = re.compile(rf"({_NUMBER})\s?([^\d.]+?)\s?(?=\d|$)")
_NOT_FINITE = re.compile(r"[+-]?(nan|inf(inity)?)\b", re.IGNORECASE)
_ONE_SIGN = str.maketrans({"\u2212": "-", "\u00a0": " ", "\u202f": " ", "\u2032": "'", "\u2033": '"'})


def _magnitude(number: str) -> float:
    """The value of "3 1/2", "3-1/2", "1/2" or "0.5"; a fraction over zero is infinite."""
    total = 0.0
    for piece in re.split(r"\s+|(?<=\d)-(?=\d+/)", number):
        above, _, below = piece.partition("/")
        if below:
            total += float(above) / float(below) if float(below) else math.inf
        else:
            total += float(above)
    return total


def _unit_refusal(dimension: Dimension, spelling: str, given: str) -> QuantityError:
    """The refusal of a unit: names the units of this dimension, and the kind it does measure."""
    first = {unit: text for text, unit in reversed(dimension.spellings.items())}
    known = ", ".join(text for text in reversed(first.values()) if text)
    next_step = f"write {dimension.words} in one of: {known}; such as '{dimension.example}'"
    kind = next((d.words for d in DIMENSIONS.values() if unit_spelled(spelling, d)), None)
    if kind is not None:
        return QuantityError(given, f"this must be {dimension.words}, and '{spelling}' measures {kind}", next_step)
    near = difflib.get_close_matches(spelling, dimension.spellings, n=1)
    guess = f" (did you mean '{near[0]}'?)" if near else ""
    return QuantityError(given, f"'{spelling}' is no unit known here for {dimension.words}{guess}", next_step)


def _single(number: float, spelling: str, dimension: Dimension) -> float | None:
    """SI value of one number with one unit; None when the unit is not one of this dimension."""
    unit = unit_spelled(spelling, dimension)
    if unit is None:
        return None
    factor, offset = scale(unit, dimension.si)
    return number * factor + offset


def _compound(text: str, dimension: Dimension) -> float | None:
    """SI value of "6 ft 3 in", "2 lb 4 oz", "1 h 20 min"; None when it is no such text."""
    total, at, rank = 0.0, 0, -1
    while at < len(text):
        match = _PART.match(text, at)
        unit = unit_spelled(match[2], dimension) if match else None
        if match is None or unit not in dimension.compound:
            return None
        if dimension.compound.index(unit) <= rank:  # "3 in 6 ft", "6 ft 3 ft"
            return None
        rank = dimension.compound.index(unit)
        total += _magnitude(match[1]) * scale(unit, dimension.si)[0]
        at = match.end()
    return total


def _from_text(text: str, dimension: Dimension) -> float:
    given = quote(text)
    example = f"write a number with its unit, such as '{dimension.example}'"
    tidy = " ".join(text.translate(_ONE_SIGN).split())
    if len(text) > LONGEST_TEXT:
        raise QuantityError(given, f"a quantity has at most {LONGEST_TEXT} characters", example)
    if _NOT_FINITE.match(tidy):
        raise QuantityError(given, "not-a-number and infinity measure nothing", example)
    match = _WHOLE.fullmatch(tidy)
    if match is None:
        raise QuantityError(given, f"this must be {dimension.words}: a number with its unit", example)
    sign, number, rest = match.groups()
    if rest[:1] in {",", "."} or rest[:1].isdigit():
        raise QuantityError(
            given,
            "a number has no commas and at most one decimal point",
            f"write 1000 for a thousand and 1.5 for one and a half, such as '{dimension.example}'",
        )
    if not rest and "" not in dimension.spellings:
        raise QuantityError(given, "a bare number has no unit", _write_a_unit(number, dimension))
    value = _single(_magnitude(sign + number), rest, dimension)
    if value is None:
        value = _compound(tidy.removeprefix(sign).lstrip(), dimension)
        if value is None:
            raise _unit_refusal(dimension, rest, given)
        value = -value if sign == "-" else value
    return value


def _write_a_unit(number: object, dimension: Dimension) -> str:
    unit = dimension.example.split(" ", 1)[-1]
    return f"write a unit, such as '{number} {unit}' if that is what you mean"


def read(given: object, dimension: str) -> float:
    """SI value of a text such as "15 kn" as a quantity of `dimension` (a key of DIMENSIONS).

    "lb" and "kg" mean a mass or a force (pound-force, kilogram-force), whichever is asked for;
    "gal" is the US gallon; temperatures come back in kelvin, angles in radians.
    Raises QuantityError for a bare number (unless the dimension is "number"), for a unit of
    another dimension, for NaN and infinities, and for anything that is no text.

    >>> read("15 kn", "speed")
    7.716666666666667
    """
    wanted = dimension_of(dimension)
    if isinstance(given, str):
        value = _from_text(given, wanted)
    elif isinstance(given, bool) or not isinstance(given, int | float):
        raise QuantityError(
            quote(given),
            f"this must be {wanted.words}, written as text",
            f"write it in quotes, such as '{wanted.example}'",
        )
    elif isinstance(given, float) and not math.isfinite(given):
        raise QuantityError(
            quote(given),
            "not-a-number and infinity measure nothing",
            f"write a number with its unit, such as '{wanted.example}'",
        )
    elif "" not in wanted.spellings:
        raise QuantityError(quote(given), "a bare number has no unit", _write_a_unit(given, wanted))
    else:
        value = float(given) if abs(given) < 1e300 else math.inf
    if not math.isfinite(value):
        raise QuantityError(
            quote(given),
            "the number must be finite (no division by zero, no overflow)",
            f"write a number that can be measured, such as '{wanted.example}'",
        )
    return value


def _plain(magnitude: float, decimals: int) -> str:
    """A number rounded to `decimals` places (negative: tens, hundreds), never "-0"."""
    rounded = round(magnitude, decimals)
    return f"{rounded:.{max(decimals, 0)}f}" if rounded else f"{0.0:.{max(decimals, 0)}f}"


def _decimals(magnitude: float, figures: int) -> int:
    """Decimal places that leave `figures` significant figures of `magnitude`."""
    return figures - 1 - math.floor(math.log10(abs(magnitude))) if magnitude else figures - 1


def show_unit(value: float, dimension: str, system: System) -> str:
    """The unit's spelling that `show` chooses for an SI value (the empty text for a number)."""
    wanted = dimension_of(dimension)
    choices = (wanted.metric if system == "metric" else ()) or wanted.us
    reached = [spelling for start, spelling in choices if abs(value) >= start * (1 - 1e-12)]
    return reached[-1] if reached else choices[0][1]


def show(
    value: float,
    dimension: str,
    system: System = "us",
    *,
    doubt: float | None = None,
    figures: int | None = None,
    unit: str | None = None,
) -> str:
    """Text of an SI value in the captain's units, rounded to what is known.

    doubt    how far off the value may be [same SI unit]: the last digit shown is the doubt's
             first one (its second where the first is a 1, so that rounding adds little to it)
    figures  significant figures where no doubt is given (3, and 4 for a density)
    unit     a spelling of the dimension to show it in, instead of the system's own

    >>> show(7.716666, "speed"), show(121.92, "length", doubt=3.0)
    ('15.0 kn', '400 ft')
    """
    wanted = dimension_of(dimension)
    if not math.isfinite(value):
        return "not known"
    spelling = show_unit(value, dimension, system) if unit is None else unit
    pint_unit = unit_spelled(spelling, wanted)
    if pint_unit is None:
        raise _unit_refusal(wanted, spelling, quote(spelling))
    factor, offset = scale(pint_unit, wanted.si)
    magnitude = (value - offset) / factor
    decimals = _decimals(magnitude, wanted.figures if figures is None else figures)
    if doubt is not None and doubt > 0.0:
        share = float(f"{doubt / factor:e}")  # 0.9999999 is 1: its first figure is one, not nine
        leading_one = f"{share:e}".startswith("1")
        decimals = _decimals(share, 2 if leading_one else 1)
    return f"{_plain(magnitude, min(decimals, 12))} {spelling}".rstrip()


def show_given(value: float, dimension: str, system: System = "us") -> str:
    """Text of a value that somebody gave, such as the mass of a weight: "32 oz", not "32.0 oz"."""
    text = show(value, dimension, system, figures=5)
    number, _, spelling = text.partition(" ")
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return f"{number} {spelling}".rstrip()


def show_turned(value: float, dimension: str, system: System = "us") -> str:
    """Text of a value that somebody gave, in whatever units; where those were others, to three figures.

    >>> show_turned(121.92, "length"), show_turned(121.92, "length", "metric"), show_turned(60.96, "length", "metric")
    ('400 ft', '122 m', '61.0 m')
    """
    number, _, spelling = show_given(value, dimension, system).partition(" ")
    whole, _, part = number.lstrip("-").partition(".")
    if part and len((whole + part).lstrip("0")) > TURNED_FIGURES:
        number = show(value, dimension, system, figures=max(TURNED_FIGURES, len(whole))).partition(" ")[0]
    return f"{number} {spelling}".rstrip()
