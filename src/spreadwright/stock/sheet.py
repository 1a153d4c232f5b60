"""The stocktake as one spreadsheet: a row a piece, quantities with their units, read with every mistake located.

The same file is what a captain fills in by hand and what the room writes: numbers the room writes are SI with all their
digits, so that reading them back gives the same piece.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import QuantityError, quote, read
from spreadwright.stock.event import MOST
from spreadwright.stock.kinds import KIND_NAMES, KINDS, Kind, kind_of, written
from spreadwright.stock.piece import Piece, new_id
from spreadwright.stock.room import Room
from spreadwright.tackle.fields import FROM_FILE, Tackle
from spreadwright.tackle.keys import file_keys, nearest

COMMON = ("kind", "name", "count", "place", "bag", "price", "note")
MOST_FAULTS = 200
_LIST_MARK = ";"  # between the entries of a list in one cell, such as colours
_RISKY = ("=", "+", "-", "@", "\t", "\r", "'")
# The SI unit that a field of this name is written in; a plain number for all others.
_UNITS = {
    "mass": "kg", "length": "m", "diameter": "m", "head_diameter": "m", "bore": "m", "strength": "N",
    "cable_strength": "N", "drag_area": "m2", "hooks_apart": "m", "hook_length": "m", "hook_past_skirt": "m",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row as it was read: the piece, how many (None: the cell was empty), where it lies, its row in the sheet."""

    piece: Piece
    count: int | None
    place: str
    row: int


def _keys(kind: Kind) -> dict[str, str]:
    """The columns that say what a piece of a kind is: heading -> field of the model."""
    fields = file_keys(kind.model)
    by_field = {id(info): name for name, info in kind.model.model_fields.items()}
    return {
        heading: by_field[id(info)] for heading, info in fields.items() if by_field[id(info)] not in ("name", "count")
    }


def headings() -> tuple[str, ...]:
    """All headings there are: those every piece has, then those of the kinds, in the kinds' order."""
    return (*COMMON, *dict.fromkeys(heading for kind in KINDS for heading in _keys(kind)))


# ---- writing ----------------------------------------------------------------------------------
def sheet_text(room: Room) -> str:
    """The room as a spreadsheet (CSV): fit counts, where things lie, and what they are."""
    out = io.StringIO(newline="")
    columns = headings()
    writer = csv.DictWriter(out, columns, restval="", lineterminator="\r\n")
    writer.writeheader()
    for piece in room.pieces:
        state = room.state(piece)
        row = {
            "kind": piece.kind, "name": piece.name, "count": _count_text(piece.sort, state.fit), "place": state.place,
            "bag": piece.bag, "price": "" if piece.price is None else str(piece.price), "note": piece.note,
            **_what_text(piece.sort, piece.what),
        }  # fmt: skip
        writer.writerow({name: f"'{cell}" if cell.startswith(_RISKY) else cell for name, cell in row.items()})
    return out.getvalue()


def _count_text(kind: Kind, count: int) -> str:
    return f"{Decimal(count) / 1000} m" if kind.counted == "length" else str(count)


def _what_text(kind: Kind, what: Tackle) -> dict[str, str]:
    values = written(what)
    return {heading: _cell(heading, values[field]) for heading, field in _keys(kind).items() if field in values}


def _cell(heading: str, value: Any) -> str:
    if isinstance(value, list):
        return f"{_LIST_MARK} ".join(map(str, value))
    if isinstance(value, float):
        return f"{value!r} {_UNITS.get(heading, '')}".rstrip()
    return str(value)


# ---- reading ----------------------------------------------------------------------------------
def read_sheet(text: str, source: str = "the sheet", boat: str = "") -> list[SheetRow]:
    """The rows of a spreadsheet; every piece gets a new id and the owner `boat`.

    Raises Faults with everything that is wrong, each with its row and column; then nothing of it may be used.
    """
    head, lines = _table(text, source)
    faults: list[Fault] = []
    rows: list[SheetRow] = []
    seen: dict[tuple[str, str], int] = {}
    for number, cells in lines:
        reader = _Row(number, dict(zip(head, cells, strict=False)), faults)
        if len(cells) > len(head) and any(cells[len(head) :]):
            reader.fault("", f"{len(cells)} cells", f"the heading has {len(head)}", "look for a comma too many")
        row = reader.read(boat)
        if row is None:
            continue
        key = (row.piece.kind, row.piece.name.casefold())
        if key in seen:
            rule = f"row {seen[key]} has this {row.piece.kind} already"
            reader.fault("name", quote(row.piece.name), rule, "put both in one row, or rename one")
        seen.setdefault(key, number)
        rows.append(row)
    if faults:
        raise Faults(faults[:MOST_FAULTS], source)
    if not rows:
        raise Faults(
            [Fault("row 2", "no row", "a sheet has a row for each piece", "add rows below the heading")], source
        )
    return rows


def _table(text: str, source: str) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """Heading and rows (with their number in the sheet), separated by commas, semicolons or tabs."""
    first = text.lstrip("\ufeff").partition("\n")[0]
    mark = max(",;\t", key=first.count)
    try:
        lines = list(csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=mark, strict=True))
    except csv.Error as error:
        rule = "a sheet is a table of cells, saved as CSV"
        raise Faults(
            [Fault("the sheet", f"cannot be read ({error})", rule, "save it as CSV in UTF-8")], source
        ) from None
    head = ["_".join(cell.split()).casefold() for cell in lines[0]] if lines else []
    faults = [
        Fault(f"row 1, column {at + 1}", quote(name), f"headings are: {', '.join(headings())}", _rename(name))
        for at, name in enumerate(head)
        if name and (name not in headings() or head.index(name) != at)
    ]
    faults += [
        Fault("row 1", "nothing", f"there must be a column '{name}'", "add it")
        for name in ("kind", "name")
        if name not in head
    ]
    if faults:
        raise Faults(faults[:MOST_FAULTS], source)
    body = [(number, cells) for number, cells in enumerate(lines[1:], start=2) if any(cell.strip() for cell in cells)]
    return head, body


def _rename(name: str) -> str:
    meant = nearest(name, headings())
    known = "rename or remove it; each heading stands once"
    return f"did you mean '{meant}'?" if meant and name not in headings() else known


@dataclass
class _Row:
    """One row while it is read; what is wrong goes onto the list."""

    number: int
    cells: Mapping[str, str]
    faults: list[Fault]

    def cell(self, name: str) -> str:
        return self.cells.get(name, "").strip().removeprefix("'")

    def fault(self, column: str, given: str, rule: str, next_step: str) -> None:
        place = f"row {self.number}" + (f", {column}" if column else "")
        self.faults.append(Fault(place, given, rule, next_step, self.cell("name")))

    def read(self, boat: str) -> SheetRow | None:
        """The row, or None where it is at fault."""
        before = len(self.faults)
        name = self.cell("kind").casefold()
        if name not in KIND_NAMES:
            meant = nearest(name, KIND_NAMES)
            step = f"did you mean '{meant}'?" if meant else "write one of them"
            self.fault("kind", quote(self.cell("kind")), f"kinds are: {', '.join(KIND_NAMES)}", step)
            return None
        kind = kind_of(name)
        what, count, price = self.what(kind), self.count(kind), self.price()
        for column in ("place", "bag", "note"):
            if len(self.cell(column)) > 400:
                self.fault(column, quote(self.cell(column)), "at most 400 characters", "shorten it")
        if what is None or len(self.faults) > before:
            return None
        named = str(getattr(what, "name", ""))
        piece = Piece(new_id(), kind.name, named, what, boat, self.cell("bag"), price, self.cell("note"))
        return SheetRow(piece, count, self.cell("place"), self.number)

    def what(self, kind: Kind) -> Tackle | None:
        keys = _keys(kind)
        for heading in self.cells:
            if heading and heading not in COMMON and heading not in keys and self.cell(heading):
                rule = f"a {kind.name} has no {heading}; it has: {', '.join(keys)}"
                self.fault(heading, quote(self.cell(heading)), rule, "empty that cell")
        given: dict[str, Any] = {"name": self.cell("name")}
        for heading in keys:
            if self.cell(heading):
                given[heading] = _meant(kind, keys[heading], self.cell(heading))
        if "count" in kind.model.model_fields:
            given["count"] = 0
        try:
            return kind.model.model_validate(given, context=FROM_FILE)
        except ValidationError as refused:
            for error in refused.errors():
                self.refused(error, kind)
            return None

    def refused(self, error: ErrorDetails, kind: Kind) -> None:
        column = str(error["loc"][0]) if error["loc"] else ""
        if error["type"] == "fault":
            context = error["ctx"]
            self.fault(column, context["given"], context["rule"], context["next_step"])
            return
        info = file_keys(kind.model).get(column)
        example = str((info.examples or ["..."])[0]).strip('[]"') if info is not None else "..."
        if error["type"] == "missing" or not self.cell(column):
            meaning = info.description if info is not None else ""
            self.fault(
                column, "nothing", f"a {kind.name} needs its {column}: {meaning}", f"write it, such as {example}"
            )
        else:
            said = error["msg"].removeprefix("Input should be ").removeprefix("Value error, ")
            self.fault(column, quote(self.cell(column)), f"this must be {said}", f"write it as {example}")

    def count(self, kind: Kind) -> int | None:
        text = self.cell("count")
        if not text:
            return None
        if kind.counted == "length":
            return self.length(text)
        if text.isascii() and text.isdigit() and int(text) <= MOST:
            return int(text)
        self.fault("count", quote(text), f"a count is a whole number from 0 to {MOST}", "count again")
        return None

    def length(self, text: str) -> int | None:
        try:
            whole = round(1000.0 * read(text, "length"))
        except QuantityError as error:
            self.fault("count", error.given, error.rule, error.next_step)
            return None
        if 0 <= whole <= MOST:
            return whole
        self.fault("count", quote(text), f"coil is counted from 0 to {MOST // 1000} m", "measure again")
        return None

    def price(self) -> Decimal | None:
        text = self.cell("price")
        if not text:
            return None
        try:
            price = Decimal(text)
        except InvalidOperation:
            price = Decimal(-1)
        if price.is_finite() and 0 <= price < 10_000_000:
            return price
        self.fault("price", quote(text), "a price is a number of zero or more, with a point and no sign", "correct it")
        return None


def _meant(kind: Kind, field: str, cell: str) -> Any:
    """A cell as its field takes it: lists are split, whole numbers are numbers, all else is text."""
    annotation = str(kind.model.model_fields[field].annotation)
    if annotation.startswith("tuple["):
        return [entry.strip() for entry in cell.split(_LIST_MARK) if entry.strip()]
    if "int" in annotation and cell.isascii() and cell.isdigit():
        return int(cell)
    if field == "confidence" and cell.replace(".", "", 1).isdigit() and cell.isascii():
        return float(cell)  # a word, or a number of its own kind: it has no unit
    return cell
