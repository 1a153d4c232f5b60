"""A calibration for the terminal: the answer in short, drag before and after, depths, readings, and what to read next.

Plain text at any width from 60 columns on. Nothing is computed here: every number is the calibration's.
"""

from __future__ import annotations

from rich import box
from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from spreadwright.plan.calibration import Calibration, Narrowed
from spreadwright.plan.calibration_words import NAMES, coefficient_in_words, error_said, sentences
from spreadwright.plan.value import Estimate
from spreadwright.quantity import System, show
from spreadwright.sheets.figures import estimate, given, percent, plain
from spreadwright.sheets.terminal_words import Tied, as_text, put_out, words
from spreadwright.sheets.wording import sentence


def calibration_report(made: Calibration, *, width: int = 80, system: System | None = None) -> str:
    """The whole report as plain text, no line longer than `width` columns (at least 60)."""
    return as_text(_renderable(made, system or made.units), width)


def show_calibration(made: Calibration, system: System | None = None) -> None:
    """Print the report on the standard output."""
    put_out(_renderable(made, system or made.units))


def _renderable(made: Calibration, system: System) -> RenderableType:
    parts: list[RenderableType] = [
        Text(plain(made.title), style="bold"),
        _head("What the readings say"),
        _bullets([plain(each) for each in sentences(made, system)]),
        _head("Drag before and after: usual (low to high)"),
        _drag(made, system),
        _head(f"Depth of the lures, straight at {show(made.speed, 'speed', system, figures=3)}"),
        _depths(made, system),
        _head("The readings, and what should have shown"),
        _readings(made, system),
        _head("What to read next, the best first"),
        _next(made, system),
        _head("What this rests on"),
        _bullets([sentence(plain(each)) for each in made.notes]),
    ]
    return Tied(Group(*parts))


def _head(said: str) -> Text:
    return Text.assemble("\n", (said.upper(), "bold cyan"))


def _bullets(said: list[str]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True)
    table.add_column(ratio=1, overflow="fold")
    for each in said:
        table.add_row("-", words(each))
    return table


def _table(*heads: str, texts: int = 1) -> Table:
    """A table whose first `texts` columns are words and the others numbers."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 1), header_style="bold")
    for i, head in enumerate(heads):
        table.add_column(head, overflow="fold", justify="left" if i < texts else "right")
    return table


def _drag(made: Calibration, system: System) -> Table:
    table = _table("Drag of", "before", "now", "doubt gone")
    for each in made.coefficients:
        table.add_row(
            words(plain(coefficient_in_words(each))), words(_range(each, each.before, system)),
            words(_range(each, each.after, system)), percent(each.known),
        )  # fmt: skip
    return table


def _range(each: Narrowed, value: Estimate, system: System) -> str:
    if each.unit == "-":
        digits = 4 if each.what == "line along" else 2
        return f"{value.usual:.{digits}f} ({value.low:.{digits}f} to {value.high:.{digits}f})"
    usual, low, high = (show(part, "area", system, figures=2) for part in (value.usual, value.low, value.high))
    return f"{usual} ({low.split()[0]} to {high.split()[0]})"


def _depths(made: Calibration, system: System) -> Table:
    table = _table("Rod", "fished", "before", "now", texts=2)
    for each in made.depths:
        fished = f"{given(each.mark, 'length', system)}, {plain(each.weight)}, {plain(each.lure)}"
        table.add_row(
            words(plain(each.rod)), words(fished), words(estimate(each.before, "length", system)),
            words(estimate(each.after, "length", system)),
        )  # fmt: skip
    return table


def _readings(made: Calibration, system: System) -> Table:
    table = _table("Reading", "read", "before", "now", texts=1)
    for each in made.readings:
        name, dimension = NAMES[each.what]
        said = f"{plain(each.rod)}, {given(each.speed, 'speed', system)}: {name}"
        error = error_said(each.error, dimension, system).split()[0]
        read = f"{given(each.given, dimension, system)} ± {error}"
        before, now = (show(part, dimension, system, doubt=each.error) for part in (each.before, each.after))
        table.add_row(words(said), words(read), words(before), words(now))
    return table


def _next(made: Calibration, system: System) -> Table:
    table = _table("Read", "to within", "takes away", "depths then")
    for each in made.next:
        name, dimension = NAMES[each.what]
        mark, speed = given(each.mark, "length", system), show(each.speed, "speed", system, figures=2)
        table.add_row(
            words(f"{plain(each.rod)} at {mark}, {speed}: {name}"),
            words(error_said(each.error, dimension, system)),
            percent(each.gain), words(f"± {show(each.doubt, 'length', system, figures=2)}"),
        )  # fmt: skip
    return table
