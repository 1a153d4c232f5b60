"""Lines up numbers in columns, in the captain's units and rounded to what is known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright import quantity
from spreadwright.quantity import System

# Decimals that the calculation can answer for, by unit; never more than three figures of the largest number.
MOST_DECIMALS = {"ft": 1, "m": 2, "kn": 1, "lb": 2, "kg": 2, "deg": 1, "s": 1}
FIGURES = 3
LONGEST_LABEL = 34


@dataclass(frozen=True)
class Column:
    """One column: its head, its unit, and its cells, all text."""

    head: str
    unit: str
    cells: tuple[str, ...]


def numbers(values: Sequence[float | None], dimension: str, system: System) -> tuple[str, tuple[str, ...]]:
    """The unit, and SI values [any] as texts with the same count of decimals; a value that is None is a dash."""
    known = [value for value in values if value is not None]
    largest = max((abs(value) for value in known), default=0.0)
    unit = quantity.show_unit(largest, dimension, system)
    worth = quantity.read(f"1 {unit}", dimension)
    whole = math.floor(math.log10(largest / worth)) + 1 if largest > 0.0 else 1
    decimals = max(0, min(MOST_DECIMALS.get(unit, 1), FIGURES - whole))
    cells = ("-" if value is None else f"{round(value / worth, decimals) + 0.0:.{decimals}f}" for value in values)
    return unit, tuple(cells)


def text_of(value: float, dimension: str, system: System) -> str:
    """One SI value [any] with its unit."""
    unit, (cell,) = numbers([value], dimension, system)
    return f"{cell} {unit}"


def number_column(head: str, values: Sequence[float | None], dimension: str, system: System) -> Column:
    """A column of SI values [any] in the captain's unit."""
    unit, cells = numbers(values, dimension, system)
    return Column(head, unit, cells)


def side_column(head: str, values: Sequence[float], system: System) -> Column:
    """A column of places beside the centreline [m], each with its side in words."""
    unit, cells = numbers([abs(value) for value in values], "length", system)
    sides = (
        "" if float(cell) == 0.0 else " port" if value > 0.0 else " stbd"
        for cell, value in zip(cells, values, strict=True)
    )
    return Column(head, unit, tuple(cell + side for cell, side in zip(cells, sides, strict=True)))


def label(text: str) -> str:
    """A name cut to what a column can hold."""
    return text if len(text) <= LONGEST_LABEL else text[: LONGEST_LABEL - 3] + "..."


def laid_out(labels: Sequence[str], head: str, columns: Sequence[Column], indent: str = "  ") -> list[str]:
    """A table as lines of text: labels to the left, numbers to the right under head and unit."""
    wide = max(map(len, [head, *labels]))
    widths = [max(map(len, [column.head, column.unit, *column.cells])) for column in columns]
    rows = [
        (head, [column.head for column in columns]),
        *([("", [column.unit for column in columns])] if any(column.unit for column in columns) else []),
        *((name, [column.cells[at] for column in columns]) for at, name in enumerate(labels)),
    ]
    lines = []
    for name, cells in rows:
        lined = "  ".join(f"{cell:>{width}}" for cell, width in zip(cells, widths, strict=True))
        lines.append(f"{indent}{name:<{wide}}  {lined}".rstrip())
    return lines
