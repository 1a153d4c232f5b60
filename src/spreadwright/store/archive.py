"""Everything in a store as one value: taken out, checked, and put into an empty store; the round trip is exact.

What is read from outside is checked whole before anything is written: a file with mistakes changes nothing.
"""

from __future__ import annotations

import importlib
import pkgutil
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, MetaData, Table, func, insert, select
from sqlalchemy.exc import DBAPIError

import spreadwright.store as room_of_stores
from spreadwright.faults import Fault, Faults
from spreadwright.store.archive_checks import check_archive
from spreadwright.store.open import Store, open_store
from spreadwright.store.steps import every_step
from spreadwright.store.tables import metadata, schema_steps

Rows = list[dict[str, Any]]


@dataclass(frozen=True)
class Archive:
    """All rows of all tables, by table, in the order of their keys; steps: the schema steps they were written under."""

    steps: tuple[str, ...]
    tables: Mapping[str, Rows]


def every_table() -> list[Table]:
    """All tables of the program, each after those it refers to; without the record of schema steps."""
    for found in pkgutil.iter_modules(room_of_stores.__path__):
        if found.name.endswith("_tables"):
            importlib.import_module(f"spreadwright.store.{found.name}")
    return [table for table in metadata.sorted_tables if table is not schema_steps]


def take_out(store: Store) -> Archive:
    """Everything in the store, as of one moment."""
    with store.reading() as connection:
        steps = connection.execute(select(schema_steps.c.name)).scalars().all()
        return Archive(tuple(sorted(steps)), {table.name: _rows(connection, table) for table in every_table()})


def _rows(connection: Connection, table: Table) -> Rows:
    rows = [dict(row._mapping) for row in connection.execute(select(table))]
    keys = [column.name for column in table.primary_key]
    return sorted(rows, key=lambda row: tuple(row[key] for key in keys))  # by value: databases sort texts differently


def put_into(store: Store, archive: Archive, places: Mapping[tuple[str, int], str] | None = None) -> int:
    """Put an archive into an empty store, all or nothing; returns how many rows there were.

    places   (table, row from 0) -> where that row stands in its file, for the faults
    Raises Faults where the store is not empty, or with everything that is wrong in the archive.
    """
    archive = _brought_forward(archive)
    tables = every_table()
    faults = check_archive(archive.tables, tables, places or {})
    if faults:
        raise Faults(faults)
    try:
        with store.writing() as connection:
            _must_be_empty(connection, tables)
            for table in tables:
                rows = archive.tables.get(table.name, [])
                if rows:
                    connection.execute(insert(table), rows)
    except DBAPIError as error:
        said = str(error.orig).strip().splitlines()[0]
        rule = "what refers to something must find it there, and ids stand once"
        raise Faults([Fault("archive", said, rule, "export it anew, or correct that row")]) from error
    return sum(len(rows) for rows in archive.tables.values())


def _must_be_empty(connection: Connection, tables: Iterable[Table]) -> None:
    full = [t.name for t in tables if connection.execute(select(func.count()).select_from(t)).scalar_one()]
    if full:
        rule = "an archive is put into an empty store, so that nothing is mixed up"
        given = f"a store with rows in {', '.join(full)}"
        raise Faults([Fault("store", given, rule, "name a new store with --store")])


def _brought_forward(archive: Archive) -> Archive:
    """An archive of an older program as this one would write it: laid into a store of its day, which then takes the
    steps that came later."""
    known = every_step()
    unknown = [name for name in archive.steps if name not in {step.name for step in known}]
    if unknown or not archive.steps:
        rule = f"schema steps this program knows end with {known[-1].name}"
        given = f"an archive written under {', '.join(unknown) or 'no step at all'}"
        raise Faults([Fault("archive", given, rule, "use the spreadwright that wrote it, or a newer one")])
    if len(archive.steps) == len(known):
        return archive
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "older.sqlite"
        then = [step for step in known if step.name in archive.steps]
        with open_store(file, steps=then) as older:
            _lay_in(older, archive.tables)
        with open_store(file) as newer:
            return take_out(newer)


def _lay_in(older: Store, tables: Mapping[str, Sequence[Mapping[str, Any]]]) -> None:
    old = MetaData()
    try:
        with older.writing() as connection:
            old.reflect(connection)
            for table in old.sorted_tables:
                rows = tables.get(table.name, [])
                if rows and table.name != schema_steps.name:
                    connection.execute(insert(table), list(rows))
    except DBAPIError as error:
        rule = "an older archive must be whole to be brought forward"
        raise Faults([Fault("archive", str(error.orig), rule, "export it anew")]) from error
