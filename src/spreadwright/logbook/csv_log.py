"""Reads and writes the log as a table in CSV, one entry a row; every fault of the table at once, with row and column.

Columns (any order; only time, kind and rod are always needed): see COLUMNS and docs/logbook.md. Numbers carry their
units, as in a trip file. Times carry their zone, or the zone is given beside the file.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Any

from pydantic import ValidationError

from spreadwright import quantity
from spreadwright.faults import Fault, Faults
from spreadwright.logbook.deck_log import faults_of
from spreadwright.logbook.entry import Entry, as_json, identity_of

MOST_ROWS = 100_000
MOST_FAULTS = 100


@dataclass(frozen=True, slots=True)
class Column:
    """A column: what it holds, and its dimension where it is a quantity ("" for words)."""

    name: str
    words: str
    dimension: str = ""
    example: str = ""
    of_rig: bool = False


COLUMNS = (
    Column("time", "date, time and zone", example="2031-03-08T06:41:07Z"),
    Column("kind", "line out, line in, strike or note", example="strike"),
    Column("rod", "the rod's name", example="red 130"),
    Column("station", "where it stood", example="port corner", of_rig=True),
    Column("mark", "distance on the slack line", "length", "200 ft", of_rig=True),
    Column("weight", "trolling weight by name", example="64 oz torpedo", of_rig=True),
    Column("shock_leader", "shock leader by name", example="30 ft of 300 lb", of_rig=True),
    Column("bite_leader", "bite leader by name", example="3 ft of 270 lb wire", of_rig=True),
    Column("lure", "lure by name", example="black-purple jet 9 in", of_rig=True),
    Column("took", "lure, weight, both or unknown", example="lure"),
    Column("outcome", "missed, lost, cut off, broke off or landed", example="landed"),
    Column("species", "of the fish", example="wahoo"),
    Column("length", "of the fish", "length", "48 in"),
    Column("mass", "of the fish", "mass", "35 lb"),
    Column("latitude", "in degrees, north positive", example="26.5"),
    Column("longitude", "in degrees, east positive", example="-70.25"),
    Column("turn", "straight, port, starboard or unknown", example="port"),
    Column("speed", "of the boat", "speed", "15 kn"),
    Column("water_temperature", "of the sea", "temperature", "26 degC"),
    Column("note", "anything else"),
    Column("id", "left empty, or the id of an entry that was exported"),
)
NEEDED = ("time", "kind", "rod")
_BY_NAME = {column.name: column for column in COLUMNS}
_KINDS = {"line out": "line_out", "out": "line_out", "line in": "line_in", "in": "line_in"}


def csv_entries(text: str, zone: tzinfo | None = None, source: str = "the table") -> tuple[Entry, ...]:
    """The entries of a CSV text. Raises Faults with every fault of the table, and nothing else.

    zone   of times that carry none; where it is None, each time must carry its own
    A row without an id gets one made from all that it says, so that reading a file twice adds nothing.
    """
    rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"))))
    header = [name.strip().lower().replace(" ", "_") for name in rows[0]] if rows else []
    faults = _header_faults(header, len(rows))
    if faults:
        raise Faults(faults, source)
    entries: list[Entry] = []
    seen: dict[str, int] = {}
    for number, cells in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        found = _row(number, header, cells, zone, seen)
        if isinstance(found, Entry):
            entries.append(found)
        else:
            faults += found
    if faults:
        raise Faults(faults[:MOST_FAULTS], source)
    return tuple(entries)


def _header_faults(header: list[str], rows: int) -> list[Fault]:
    known = ", ".join(_BY_NAME)
    if not header:
        return [Fault("row 1", "nothing", "the first row names the columns", f"name them from: {known}", line=1)]
    faults = [Fault(f"row 1, column {place}", quantity.quote(name), f"the columns are: {known}",
                    "rename or remove that column", line=1)
              for place, name in enumerate(header, start=1) if name not in _BY_NAME]  # fmt: skip
    faults += [Fault("row 1", f"no column {name}", f"'{name}' is needed: {_BY_NAME[name].words}",
                     f"add a column {name}", line=1)
               for name in NEEDED if name not in header]  # fmt: skip
    faults += [Fault("row 1", f"{name} twice", "each column stands once", "remove one of them", line=1)
               for name in sorted({n for n in header if n in _BY_NAME and header.count(n) > 1})]  # fmt: skip
    if rows > MOST_ROWS:
        faults.append(Fault("the table", f"{rows} rows", f"at most {MOST_ROWS} rows", "split the file by year"))
    return faults


def _row(
    number: int, header: list[str], cells: list[str], zone: tzinfo | None, seen: dict[str, int]
) -> Entry | list[Fault]:
    place = f"row {number}"
    if len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
        return [Fault(place, f"{len(cells)} cells", f"the header names {len(header)} columns",
                      "put texts that hold a comma in quotes", line=number)]  # fmt: skip
    given = {name: cell.strip() for name, cell in zip(header, cells, strict=False) if cell.strip()}
    faults: list[Fault] = []
    values: dict[str, Any] = {}
    for name, cell in given.items():
        column = _BY_NAME[name]
        try:
            values[name] = _value(column, cell, zone)
        except quantity.QuantityError as error:
            faults.append(Fault(f"{place}.{name}", error.given, error.rule, error.next_step, line=number))
    values = {key: value for key, value in values.items() if value is not None}
    if ("latitude" in values) != ("longitude" in values):
        faults.append(
            Fault(place, "one of latitude and longitude", "a position has both", "add the other", line=number)
        )
    entry = _entry_values(values)
    if "id" not in entry:
        said = identity_of("row", *(f"{key}={given[key]}" for key in sorted(given)))
        seen[said] = seen.get(said, 0) + 1  # two rows that say the same are two entries
        entry["id"] = identity_of(said, seen[said])
    try:
        read = Entry.model_validate(entry)
    except ValidationError as error:
        told = {fault.place for fault in faults}
        own = faults_of(error.errors(), place, given.get("rod", ""), number, given)
        faults += [_plain(fault) for fault in own if _plain(fault).place not in told and not _refused(fault, faults)]
        return faults
    return faults or read


def _refused(fault: Fault, faults: list[Fault]) -> bool:
    """Nothing is missing that was there and could not be read."""
    return any(fault.place.split(".")[-1] in (each.place.split(".")[-1], "at") for each in faults) and (
        fault.given in ("nothing", "an entry without it")
    )


def _plain(fault: Fault) -> Fault:
    """The column's own name for the key inside."""
    place = fault.place.replace(".rig.", ".").replace(".at", ".time")
    return Fault(place, fault.given, fault.rule.replace("'at'", "'time'"), fault.next_step, fault.item, fault.line)


def _value(column: Column, cell: str, zone: tzinfo | None) -> Any:
    if column.dimension:
        return quantity.read(cell, column.dimension)
    if column.name in ("latitude", "longitude"):
        try:
            return float(cell)
        except ValueError:
            raise quantity.QuantityError(
                quantity.quote(cell), "this is a number of degrees", f"write it as {column.example}"
            ) from None
    if column.name == "kind":
        return _KINDS.get(cell.lower().replace("_", " "), cell.lower())
    if column.name == "time":
        return _moment(cell, zone)
    return cell


def _moment(cell: str, zone: tzinfo | None) -> datetime:
    try:
        at = datetime.fromisoformat(cell)
    except ValueError:
        raise quantity.QuantityError(
            quantity.quote(cell), "a time is year-month-day, hours:minutes and its zone", "write 2031-03-08T06:41:07Z"
        ) from None
    if at.tzinfo is None:
        if zone is None:
            raise quantity.QuantityError(
                quantity.quote(cell), "a time needs its zone", "add Z for universal time, or give the zone of the file"
            )
        at = at.replace(tzinfo=zone)
    return at


def _entry_values(values: Mapping[str, Any]) -> dict[str, Any]:
    """The row as an entry has it: rig's parts in a rig, the position as a pair."""
    rig = {name: value for name, value in values.items() if _BY_NAME[name].of_rig}
    rest = {name: value for name, value in values.items()
            if not _BY_NAME[name].of_rig and name not in ("time", "latitude", "longitude")}  # fmt: skip
    if "time" in values:
        rest["at"] = values["time"]
    if rig:
        rest["rig"] = rig
    if "latitude" in values and "longitude" in values:
        rest["position"] = (values["latitude"], values["longitude"])
    return rest


def csv_text(entries: Iterable[Entry]) -> str:
    """Entries as a table that `csv_entries` reads back to the same entries (undo entries are left out: see docs)."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([column.name for column in COLUMNS])
    for entry in sorted(entries, key=lambda e: (e.at, e.id)):
        if entry.kind != "undo":
            said = _said(entry)
            writer.writerow([said.get(column.name, "") for column in COLUMNS])
    return out.getvalue()


_SI = {"length": "m", "mass": "kg", "speed": "m/s", "temperature": "K"}


def _said(entry: Entry) -> dict[str, str]:
    whole = as_json(entry)
    flat = {**whole, **whole.get("rig", {})}
    flat["time"] = entry.at.isoformat()
    if entry.position is not None:
        flat["latitude"], flat["longitude"] = entry.position
    said = {}
    for column in COLUMNS:
        value = flat.get(column.name)
        if value is not None and not isinstance(value, dict):
            said[column.name] = f"{value!r} {_SI[column.dimension]}" if column.dimension else str(value)
    return said
