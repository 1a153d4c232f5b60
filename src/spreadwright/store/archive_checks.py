"""Checks of an archive before anything is written: columns, types, references, and that every history can be."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import BigInteger, Column, Double, Integer, LargeBinary, Table

from spreadwright.faults import Fault
from spreadwright.quantity import quote
from spreadwright.stock.event import Event, event_fault
from spreadwright.stock.replay import replay
from spreadwright.store.room_rows import event_from, piece_from
from spreadwright.store.room_tables import events, pieces

MOST_FAULTS = 200
Places = Mapping[tuple[str, int], str]
Tables = Mapping[str, Sequence[Mapping[str, Any]]]


def check_archive(tables: Tables, known: Sequence[Table], places: Places) -> list[Fault]:
    """Everything that is wrong, in the order of the tables, up to 200 faults; empty where all is sound."""
    faults = list(_shape(tables, known, places))
    if not faults:
        faults = [*_references(tables, known, places), *_room(tables, places)]
    return faults[:MOST_FAULTS]


def place_of(table: str, row: int, column: str, places: Places) -> str:
    """Where a value stands: in its file if that is known, else by table and row, counted from 1."""
    where = places.get((table, row), f"{table}[{row + 1}]")
    return f"{where}, {column}" if column else where


def _shape(tables: Tables, known: Sequence[Table], places: Places) -> Iterator[Fault]:
    by_name = {table.name: table for table in known}
    for name in tables:
        if name not in by_name:
            yield Fault(name[:80], "a table", f"tables are: {', '.join(by_name)}", "remove it, or correct its name")
    for table in known:
        for at, row in enumerate(tables.get(table.name, [])):
            columns = {column.name: column for column in table.columns}
            for name in row:
                if name not in columns:
                    place = place_of(table.name, at, str(name)[:80], places)
                    yield Fault(place, quote(row[name]), f"columns are: {', '.join(columns)}", "remove or rename it")
            for column in table.columns:
                fault = _value(row, column, place_of(table.name, at, column.name, places))
                if fault is not None:
                    yield fault


def _value(row: Mapping[str, Any], column: Column[Any], place: str) -> Fault | None:
    if column.name not in row:
        return Fault(place, "nothing", f"every row has a {column.name}", "add it")
    value = row[column.name]
    if value is None:
        return None if column.nullable else Fault(place, "nothing", "this must not be empty", "fill it in")
    wanted: tuple[type, ...]
    words: str
    if isinstance(column.type, BigInteger | Integer):
        wanted, words = (int,), "a whole number"
    elif isinstance(column.type, Double):
        wanted, words = (float, int), "a number"
    elif isinstance(column.type, LargeBinary):
        wanted, words = (bytes,), "the content of a file"
    else:
        wanted, words = (str,), "text"
    if isinstance(value, bool) or not isinstance(value, wanted) or (isinstance(value, int) and abs(value) >= 2**63):
        return Fault(place, quote(value), f"this must be {words}", "correct it")
    if isinstance(value, float) and not math.isfinite(value):
        return Fault(place, quote(value), "this must be a number that can be measured", "correct it")
    if isinstance(value, str) and "\0" in value:
        return Fault(place, quote(value), "text holds no zero characters", "take it out")
    return None


def _references(tables: Tables, known: Sequence[Table], places: Places) -> Iterator[Fault]:
    for table in known:
        rows = tables.get(table.name, [])
        seen: set[tuple[Any, ...]] = set()
        keys = [column.name for column in table.primary_key]
        for at, row in enumerate(rows):
            key = tuple(row[name] for name in keys)
            if key in seen:
                place = place_of(table.name, at, ", ".join(keys), places)
                yield Fault(place, quote(key), "an id stands once in its table", "remove the second one")
            seen.add(key)
        for column in table.columns:
            for foreign in column.foreign_keys:
                target = foreign.column
                there = {row[target.name] for row in tables.get(target.table.name, [])}
                for at, row in enumerate(rows):
                    if row[column.name] is not None and row[column.name] not in there:
                        place = place_of(table.name, at, column.name, places)
                        rule = f"it must name a row of {target.table.name}"
                        yield Fault(place, quote(row[column.name]), rule, "add that row, or correct the id")


def _room(tables: Tables, places: Places) -> Iterator[Fault]:
    """The room's own rows must be pieces and events, and every history must be one that can be."""
    for at, row in enumerate(tables.get(pieces.name, [])):
        try:
            piece_from([row[column.name] for column in pieces.columns])
        except (KeyError, ValueError, ArithmeticError) as error:
            place = place_of(pieces.name, at, "what", places)
            said = str(error).splitlines()[0]
            yield Fault(place, quote(row["what"]), f"this must describe a {row['kind']} ({said})", "correct it")
    happened: list[Event] = []
    at_event: dict[str, int] = {}
    for at, row in enumerate(tables.get(events.name, [])):
        try:
            event = event_from([row[column.name] for column in events.columns])
        except (ValueError, ArithmeticError):
            place = place_of(events.name, at, "at, price", places)
            yield Fault(place, quote(row["at"]), "a time in ISO form and a price in digits", "correct it")
            continue
        fault = event_fault(event, place_of(events.name, at, "", places))
        if fault is not None:
            yield fault
        else:
            happened.append(event)
            at_event[event.id] = at
    order = sorted(happened, key=lambda event: tables[events.name][at_event[event.id]]["number"])
    names = {row["id"]: str(row["name"]) for row in tables.get(pieces.name, [])}
    for piece in dict.fromkeys(event.piece for event in order):
        for wrong in replay(event for event in order if event.piece == piece).wrong:
            first = next(event for event in order if event.piece == piece)
            yield replace(wrong, place=place_of(events.name, at_event[first.id], "", places), item=names.get(piece, ""))
