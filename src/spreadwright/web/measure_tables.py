"""Tables of a calibration for its page: drag before and after, lures' depths, the readings, what to read next."""

from __future__ import annotations

from spreadwright.plan.calibration import Calibration, Narrowed
from spreadwright.plan.calibration_words import NAMES, coefficient_in_words, error_said
from spreadwright.plan.value import Estimate
from spreadwright.quantity import System, show
from spreadwright.sheets.figures import estimate, given, percent, plain
from spreadwright.web.tables import Row, Table


def measure_tables(made: Calibration, system: System) -> list[Table]:
    """All tables of a calibration in the order in which they are read."""
    return [_next(made, system), _depths(made, system), _drag(made, system), _readings(made, system)]


def _drag(made: Calibration, system: System) -> Table:
    rows = tuple(
        Row(plain(coefficient_in_words(each)), (
            _range(each, each.before, system), _range(each, each.after, system), percent(each.known),
        )) for each in made.coefficients
    )  # fmt: skip
    heads = ("Drag of", "Before", "Now", "Doubt gone")
    return Table("Drag before and after: usual (low to high)", heads, rows, wordy=True)


def _range(each: Narrowed, value: Estimate, system: System) -> str:
    if each.unit == "-":
        digits = 4 if each.what == "line along" else 2
        return f"{value.usual:.{digits}f} ({value.low:.{digits}f} to {value.high:.{digits}f})"
    usual, low, high = (show(part, "area", system, figures=2) for part in (value.usual, value.low, value.high))
    return f"{usual} ({low.split()[0]} to {high.split()[0]})"


def _depths(made: Calibration, system: System) -> Table:
    rows = tuple(
        Row(plain(each.rod), (
            f"{given(each.mark, 'length', system)}, {plain(each.weight)}, {plain(each.lure)}",
            estimate(each.before, "length", system), estimate(each.after, "length", system),
        )) for each in made.depths
    )  # fmt: skip
    said = f"Depth of the lures, straight at {show(made.speed, 'speed', system, figures=3)}"
    return Table(said, ("Rod", "Fished", "Before", "Now"), rows, wordy=True, note="Drag's doubt only.")


def _readings(made: Calibration, system: System) -> Table:
    rows = []
    for each in made.readings:
        name, dimension = NAMES[each.what]
        error = error_said(each.error, dimension, system).split()[0]
        before, now = (show(part, dimension, system, doubt=each.error) for part in (each.before, each.after))
        said = f"{plain(each.rod)}, {given(each.speed, 'speed', system)}: {name}"
        rows.append(Row(said, (f"{given(each.given, dimension, system)} ± {error}", before, now)))
    heads = ("Reading", "Read", "Should have shown before", "Now")
    return Table("The readings, and what should have shown", heads, tuple(rows), wordy=True)


def _next(made: Calibration, system: System) -> Table:
    rows = []
    for each in made.next:
        name, dimension = NAMES[each.what]
        mark, speed = given(each.mark, "length", system), show(each.speed, "speed", system, figures=2)
        rows.append(Row(f"{plain(each.rod)} at {mark}, {speed}: {name}", (
            error_said(each.error, dimension, system), percent(each.gain),
            f"± {show(each.doubt, 'length', system, figures=2)}",
        )))  # fmt: skip
    heads = ("Read", "To within", "Takes away of the doubt", "Depths are then known")
    return Table("What to read next, the best first", heads, tuple(rows), wordy=True)
