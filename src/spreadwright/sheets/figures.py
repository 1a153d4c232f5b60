"""Numbers of a plan as text in the captain's units, each with how sure it is; used by every sheet.

"6.6 ft ± 1.5" is an estimate and the larger of its two doubts, "6.0 ft (3.7 to 6.5)" one whose doubts differ by more
than a quarter; "6.3 to 7.2 ft ± 1.5" a range through the turns and the larger of the doubts at its edges; "about 26 ft"
or "≈ 26" a number that has no doubt of its own in the plan.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Sequence

from spreadwright.plan.value import Estimate, Plan, Swing
from spreadwright.quantity import System, read, show, show_turned, show_unit

DEGREE = "deg"
FINEST = {"ft": 1, "m": 1, "lb": 0, "kg": 1, "kn": 1, DEGREE: 1}  # decimals beyond which nobody can act
LOPSIDED = 0.25  # share of the larger doubt by which the smaller may be less and still go by the same ±
SMALLEST = 0.05  # of a unit: what is less is none


# Signs in letters, for readers that know no others.
PLAIN_SIGNS = str.maketrans({"±": "+-", "×": "x", "°": " deg", "≈": "~", "─": "-", "–": "-", "’": "'", "…": "..."})
_UNITS = "ft|m|in|cm|mm|lb|oz|kg|g|kn|s|min|h|yd|kN|N|deg|%"
_IN_QUANTITY = re.compile(
    rf"(?<=\d) (?=(?:{_UNITS})(?![\w/]))|(?<=\S) (?=±)|(?<=±) |(?<=≈) |(?<=\d) (?=×)|(?<=×) (?=\w)"
)


def system_of(plan: Plan, system: System | None) -> System:
    """The units asked for, or else those of the plan."""
    return plan.units if system is None else system


def unit_of(dimension: str, system: System) -> str:
    """The unit that a column of this dimension is headed with."""
    return show_unit(0.0, dimension, system)


def with_unit(number: str, unit: str) -> str:
    """The number and its unit, spaced as each unit is written: 4.5° but 15 kn."""
    if unit == DEGREE:
        return f"{number}°"
    return f"{number} {unit}".rstrip()


def _decimals(doubt: float, dimension: str, unit: str) -> int | None:
    """Decimals that leave a doubt one figure, or two where it begins with 1, 2 or 3 (up to 35): rounding then adds
    little to it. Not finer than the unit deserves, unless the doubt would be lost; never coarser than whole units; None
    without a doubt."""
    if doubt <= 0.0:
        return None
    in_unit = doubt / read(f"1 {unit}", dimension)
    lead = math.floor(math.log10(in_unit))
    figures = 2 if in_unit < 3.55 * 10.0**lead else 1
    finest = FINEST.get(unit, 2)
    if in_unit < 0.5 * 10.0**-finest:  # never "± 0.0"
        return min(-lead, 3)
    return min(max(figures - 1 - lead, 0), finest)


def _number(value: float, dimension: str, unit: str, decimals: int | None) -> str:
    """The number alone, in `unit`; to three figures where there are no decimals to keep."""
    if decimals is None:
        return show(value, dimension, figures=3, unit=unit).removesuffix(unit).rstrip()
    exact = float(show(value, dimension, figures=12, unit=unit).removesuffix(unit))
    return f"{round(exact, decimals) + 0.0:.{decimals}f}"


def lopsided(below: float, above: float) -> bool:
    """Do the two doubts of a number differ by more than a quarter of the larger?"""
    return min(below, above) < (1.0 - LOPSIDED) * max(below, above)


def _telling(value: Estimate) -> float:
    """The doubt that says how many figures to show: of a lopsided number the smaller one, or its low end would be
    rounded as roughly as its far end; but no less than 0.3 of the larger."""
    below, above = value.usual - value.low, value.high - value.usual
    return max(min(below, above), 0.3 * value.doubt) if lopsided(below, above) else value.doubt


def _edges(low: float, high: float, dimension: str, unit: str, decimals: int | None) -> str:
    """Where a number lies with its doubt: "(3.7 to 6.5)"."""
    return f"({_number(low, dimension, unit, decimals)} to {_number(high, dimension, unit, decimals)})"


def _estimate_parts(value: Estimate, dimension: str, unit: str, decimals: int | None) -> tuple[str, str]:
    """The number and its doubt, bare: ("6.6", "± 1.5"), or ("6.0", "(3.7 to 6.5)") where the two sides differ, or where
    ± would reach below zero."""
    usual = _number(value.usual, dimension, unit, decimals)
    if value.doubt == 0.0:
        return usual, ""
    below_zero = value.usual - value.doubt < 0.0 <= value.low
    if below_zero or lopsided(value.usual - value.low, value.high - value.usual):
        return usual, _edges(value.low, value.high, dimension, unit, decimals)
    return usual, f"± {_number(value.doubt, dimension, unit, decimals)}"


def estimate(value: Estimate, dimension: str, system: System) -> str:
    """An estimate with its unit: "6.6 ft ± 1.5"."""
    unit = unit_of(dimension, system)
    number, doubt = _estimate_parts(value, dimension, unit, _decimals(_telling(value), dimension, unit))
    return f"{with_unit(number, unit)} {doubt}".rstrip()


def short_estimate(value: Estimate, dimension: str, system: System) -> str:
    """An estimate where there is little room: "6.6 ft ± 1.5", or its ends where its doubts differ: "3.7 to 6.5 ft"."""
    if not lopsided(value.usual - value.low, value.high - value.usual):
        return estimate(value, dimension, system)
    unit = unit_of(dimension, system)
    edges = _edges(value.low, value.high, dimension, unit, _decimals(_telling(value), dimension, unit))
    return with_unit(edges[1:-1], unit)


def estimates(values: Sequence[Estimate], dimension: str, system: System) -> list[str]:
    """A column of estimates, its head names the unit, all with the decimals of the surest: "6.6 ± 1.5"."""
    unit = unit_of(dimension, system)
    decimals = _surest_decimals([value.doubt for value in values], dimension, unit)
    return [" ".join(_estimate_parts(value, dimension, unit, decimals)).rstrip() for value in values]


def swing_doubt(value: Swing) -> float:
    """The larger of the doubts at the two edges of a range, in the range's own unit."""
    return max(value.least - value.low, value.high - value.greatest)


def _swing_parts(value: Swing, dimension: str, unit: str, decimals: int | None) -> tuple[str, str]:
    least, greatest = (_number(edge, dimension, unit, decimals) for edge in (value.least, value.greatest))
    span = least if least == greatest else f"{least} to {greatest}"
    doubt = swing_doubt(value)
    return span, f"± {_number(doubt, dimension, unit, decimals)}" if doubt > 0.0 else ""


def swing(value: Swing, dimension: str, system: System) -> str:
    """A range through the turns with its unit: "6.3 to 7.2 ft ± 1.5"."""
    unit = unit_of(dimension, system)
    span, doubt = _swing_parts(value, dimension, unit, _decimals(swing_doubt(value), dimension, unit))
    return f"{with_unit(span, unit)} {doubt}".rstrip()


def swings(values: Sequence[Swing], dimension: str, system: System) -> list[str]:
    """A column of ranges, its head names the unit: "6.3 to 7.2 ± 1.5"."""
    unit = unit_of(dimension, system)
    decimals = _surest_decimals([swing_doubt(value) for value in values], dimension, unit)
    return [" ".join(_swing_parts(value, dimension, unit, decimals)).rstrip() for value in values]


def _surest_decimals(doubts: Sequence[float], dimension: str, unit: str) -> int | None:
    real = [doubt for doubt in doubts if doubt > 0.0]
    return _decimals(min(real), dimension, unit) if real else None


def derived(value: float, dimension: str, system: System) -> str:
    """A number without a doubt of its own in the plan, for a column: "≈ 26" (two figures, never finer than the unit
    deserves)."""
    unit = unit_of(dimension, system)
    exact = float(show(value, dimension, figures=12, unit=unit).removesuffix(unit))
    decimals = 0 if abs(exact) >= 10.0 else 1
    return f"≈ {round(exact, decimals) + 0.0:.{decimals}f}"


def about(value: float, dimension: str, system: System) -> str:
    """A number that follows from others, to two figures: "about 26 ft", "about 0 ft"."""
    return f"about {rounded(value, dimension, system)}"


def rounded(value: float, dimension: str, system: System) -> str:
    """A number to two figures, where the words around it say that it is about that: "26 ft"."""
    unit = unit_of(dimension, system)
    if abs(value) < SMALLEST * read(f"1 {unit}", dimension):
        return with_unit("0", unit)
    return show(value, dimension, system, figures=2)


def given(value: float, dimension: str, system: System) -> str:
    """A number that somebody gave or tied: "400 ft"; in other units than it was given in, to three figures: "122 m"."""
    number, _, unit = show_turned(value, dimension, system).partition(" ")
    return with_unit(number, unit)


def percent(share: float) -> str:
    """A share [-] in whole per cent: "62 %"."""
    return f"{100.0 * share:.0f} %"


def percent_estimate(share: Estimate | None) -> str:
    """A share with its range: "62 % (48 to 80)"; "not known" if there is none."""
    if share is None:
        return "not known"
    return f"{percent(share.usual)} ({100.0 * share.low:.0f} to {100.0 * share.high:.0f})"


def moment(seconds: float) -> str:
    """A time of the run in whole seconds: "66 s"."""
    return f"{seconds:.0f} s"


def plain(text: str) -> str:
    """A text that somebody wrote, without control characters, on one line: safe to print anywhere."""
    return " ".join("".join(" " if unicodedata.category(sign)[0] == "C" else sign for sign in text).split())


def counted(count: int, thing: str, things: str | None = None) -> str:
    """A count with its word: "1 rod", "6 rods"."""
    return f"{count} {thing if count == 1 else things or thing + 's'}"


def tied(said: str, tie: str = "\u00a0") -> str:
    """The text with the spaces inside quantities replaced, so that "66 s" is never torn in two."""
    return _IN_QUANTITY.sub(tie, said)
