"""A store's archive as a folder of plain CSV files, one a table, with photos as files beside them.

A cell that a spreadsheet would take for a formula (it starts with = + - @ or a tab) gets an apostrophe in front, and so
does one that starts with an apostrophe or is an empty text where nothing at all could also stand. One apostrophe is
taken off again on the way back, so that the round trip is exact.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import BigInteger, Column, Double, Integer, LargeBinary, Table

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import quote
from spreadwright.store.archive import Archive, Rows, every_table

_RISKY = ("=", "+", "-", "@", "\t", "\r", "'")
STEPS = "steps.json"
_LONGEST_CELL = 100_000_000  # characters: a kept list is one cell, and longer than csv allows by itself


def write_folder(archive: Archive, folder: Path) -> None:
    """Write the archive into a folder, which is made; it must be empty. Raises Faults where that cannot be."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.iterdir()):
            rule = "an export goes into a folder of its own"
            raise Faults([Fault("folder", f"{folder} is not empty", rule, "name a new folder")])
        (folder / STEPS).write_text(json.dumps(list(archive.steps), indent=1) + "\n", encoding="utf-8")
        for table in every_table():
            _write(table, archive.tables.get(table.name, []), folder)
    except OSError as error:
        rule = "an export goes into a folder that you may write to"
        raise Faults([Fault("folder", f"{folder}: {error.strerror}", rule, "name another folder")]) from None


def _write(table: Table, rows: Rows, folder: Path) -> None:
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.name for column in table.columns])
    for row in rows:
        cells = []
        for column in table.columns:
            value = row[column.name]
            if isinstance(value, bytes):
                name = f"{table.name}-{row['id']}.{column.name}"
                (folder / name).write_bytes(value)
                value = name
            cells.append(_cell(value, column))
        writer.writerow(cells)
    # utf-8-sig: spreadsheets take a file without the mark for their own old encoding
    (folder / f"{table.name}.csv").write_bytes(out.getvalue().encode("utf-8-sig"))


def _cell(value: Any, column: Column[Any]) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        risky = value.startswith(_RISKY) or (not value and column.nullable)
        return f"'{value}" if risky else value
    return repr(value)


def read_folder(folder: Path) -> tuple[Archive, dict[tuple[str, int], str]]:
    """The archive in a folder, and where each of its rows stands. Raises Faults with every cell that cannot be read."""
    faults: list[Fault] = []
    places: dict[tuple[str, int], str] = {}
    tables: dict[str, Rows] = {}
    try:
        steps = json.loads((folder / STEPS).read_text(encoding="utf-8"))
        if not isinstance(steps, list) or not all(isinstance(name, str) for name in steps):
            raise ValueError
    except (OSError, ValueError):
        rule = f"a folder of an export holds {STEPS}, a list of names"
        raise Faults([Fault(str(folder), f"no {STEPS} that can be read", rule, "export anew")]) from None
    for table in every_table():
        file = folder / f"{table.name}.csv"
        if file.exists():
            tables[table.name] = list(_read(table, file, faults, places))
    if faults:
        raise Faults(faults[:200], str(folder))
    return Archive(tuple(steps), tables), places


def _read(
    table: Table, file: Path, faults: list[Fault], places: dict[tuple[str, int], str]
) -> Iterator[dict[str, Any]]:
    try:
        csv.field_size_limit(_LONGEST_CELL)
        text = file.read_bytes().decode("utf-8-sig")
        lines = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        faults.append(Fault(file.name, f"cannot be read ({error})", "a table is a CSV file in UTF-8", "save it so"))
        return
    columns = {column.name: column for column in table.columns}
    head = lines[0] if lines else []
    for name in head:
        if name not in columns or head.count(name) > 1:
            rule = f"columns are: {', '.join(columns)}, each once"
            faults.append(Fault(f"{file.name} row 1", quote(name), rule, "correct the heading"))
            return
    for at, (number, cells) in enumerate((n, line) for n, line in enumerate(lines[1:], start=2) if line):
        place = places[table.name, at] = f"{file.name} row {number}"
        if len(cells) != len(head):
            rule = f"a row has as many cells as the heading, {len(head)}"
            faults.append(Fault(place, f"{len(cells)} cells", rule, "look for a comma too many, or too few"))
            continue
        row = {}
        for name, cell in zip(head, cells, strict=True):
            try:
                row[name] = _value(cell, columns[name], file.parent)
            except (ValueError, OSError):
                words = "a whole number" if isinstance(columns[name].type, BigInteger | Integer) else "a number"
                words = "the name of a file beside it" if isinstance(columns[name].type, LargeBinary) else words
                faults.append(Fault(f"{place}, {name}", quote(cell), f"this must be {words}", "correct the cell"))
        yield row


def _value(cell: str, column: Column[Any], folder: Path) -> Any:
    """A cell's value. Raises ValueError or OSError for one that is none of its column."""
    if cell == "" and column.nullable:
        return None
    if isinstance(column.type, BigInteger | Integer):
        return int(cell)
    if isinstance(column.type, Double):
        return float(cell)
    if isinstance(column.type, LargeBinary):
        if not cell or Path(cell).name != cell:
            raise ValueError("no plain file name")
        return (folder / cell).read_bytes()
    return cell.removeprefix("'")
