"""Open a store: check that it is sound, bring an older one forward step by step, and hand out transactions."""

from __future__ import annotations

import datetime
import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, insert, inspect, select, text
from sqlalchemy.exc import DBAPIError, OperationalError

from spreadwright.faults import Fault, Faults
from spreadwright.store.backup import back_up_before, back_up_today
from spreadwright.store.engine import PATIENCE, WRITING, make_engine
from spreadwright.store.place import Place, place_of
from spreadwright.store.steps import Step, every_step
from spreadwright.store.tables import schema_steps

OURS = 0x53505257  # SQLite's application_id of our files: the letters SPRW


class Store:
    """An open store. Use it from any thread; close it when done, or use it in a `with` statement."""

    def __init__(self, place: Place, engine: Engine) -> None:
        self.place = place
        self.engine = engine

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that writes: all of it is kept, or nothing. Writers stand in line for up to a minute.

        Once the block is left without an exception, the write is on the disk. Raises Faults where the wait was too
        long or the store cannot be written.
        """
        with self._transaction(self.engine.execution_options(**{WRITING: True})) as connection:
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A transaction that only reads: it sees one moment of the store, whatever others write meanwhile."""
        engine = self.engine if self.place.file else self.engine.execution_options(isolation_level="REPEATABLE READ")
        with self._transaction(engine) as connection:
            yield connection

    @contextmanager
    def _transaction(self, engine: Engine) -> Iterator[Connection]:
        try:
            with engine.begin() as connection:
                yield connection
        except OperationalError as error:
            raise Faults([_unusable(self.place, error)]) from error

    def close(self) -> None:
        """Let go of all connections."""
        self.engine.dispose()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def open_store(where: str | Path | None = None, *, steps: Sequence[Step] | None = None, begin: bool = True) -> Store:
    """Open the store at a path or address; a new file is made where there is none, an older one brought forward.

    where   an SQLite file, postgresql://name@machine/database, or None for the usual place (see place_of)
    steps   the schema steps to take; those of this program where none are given
    begin   False for what only reads: a file that is not there is a fault, and none is made
    Raises Faults where it cannot be opened, is damaged, is something else, or was written by a newer program.
    """
    place = place_of(where)
    if place.file is not None:
        _look_at_file(place, begin)
    store = Store(place, make_engine(place))
    try:
        if place.file is not None:
            _check_sound(store)
        taken_before = _taken(store)
        _take_steps(store, every_step() if steps is None else tuple(steps), keep_a_copy=bool(taken_before))
        if place.file is not None and taken_before:
            back_up_today(place.file)
    except DBAPIError as error:
        store.close()
        raise Faults([_unusable(place, error)]) from error
    except BaseException:
        store.close()
        raise
    return store


def _unusable(place: Place, error: DBAPIError) -> Fault:
    said = str(error.orig).strip().splitlines()[0] if error.orig is not None else str(error)
    if "locked" in said or "lock timeout" in said:
        rule = f"a write waits at most {PATIENCE:.0f} s for others to finish"
        return Fault("store", f"{place.shown}: busy", rule, "wait for the other work to end and try again")
    step = "see that the folder exists and may be written, and that the disk has room"
    if place.file is None:
        step = "see that the server runs, and that name, password and database are right"
    return Fault("store", f"{place.shown}: {said}", "the store must be there to read and to write", step)


def look_for(place: Place) -> None:
    """Nothing, where a store's file and its folder are there. Raises Faults with the next step where they are not.

    Only the program's own folder may be missing: a folder that was named wrongly must not become a new one.
    """
    file = place.file
    if file is None:
        return
    if not place.usual and not file.parent.is_dir():
        rule = f"the folder {file.parent} must be there already"
        step = "look at how the path is written, or make the folder first"
        raise Faults([Fault("store", f"{file}: no such folder", rule, step)])
    if not file.exists():
        step = "look at how the path is written; `room fill`, `log add` and `log import` begin one"
        raise Faults([Fault("store", f"{file}: no store there yet", "this reads a store that is there", step)])


def _look_at_file(place: Place, begin: bool) -> None:
    """A file that is there must be one of ours, or hold nothing yet; only our own folder is made where it is missing.

    Looked at without writing, because a file of something else is left as it is.
    """
    file = place.file
    assert file is not None
    rule = "a store is a file in a folder that you may write to"
    try:
        if place.usual and begin:
            file.parent.mkdir(parents=True, exist_ok=True)
        if not begin or not file.parent.is_dir():
            look_for(place)
        if file.is_dir():
            raise IsADirectoryError(21, "it is a folder")
        if not file.exists() or file.stat().st_size == 0:
            return
        # Never opened by ourselves: on closing it the system would drop every lock that this process holds on it, and
        # others would take the log away that we write to.
        if not os.access(file, os.R_OK):
            raise PermissionError(13, os.strerror(13))
    except OSError as error:
        raise Faults([Fault("store", f"{file}: {error.strerror}", rule, "name another file with --store")]) from None
    if not _is_ours(file):
        rule = "this file was not made by spreadwright, and is left as it is"
        raise Faults([Fault("store", str(file), rule, "name another file with --store; a new one is made")])


def _is_ours(file: Path) -> bool:
    """True for an SQLite file with our mark, and for one in which another process is about to set it."""
    try:
        connection = sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True, timeout=PATIENCE)
    except sqlite3.OperationalError:
        return False
    try:
        # In this order: whoever makes the first table sets the mark in the same moment, so a mark looked for after it
        # is there. The other way round, the first table of another process could come between the two looks.
        if connection.execute("SELECT count(*) = 0 FROM sqlite_master").fetchone()[0]:
            return True
        return bool(connection.execute("PRAGMA application_id").fetchone()[0] == OURS)
    except sqlite3.DatabaseError as error:
        if "locked" in str(error):
            return True  # somebody works with it; whether it is sound is asked later
        # A page that is torn is for the check of soundness to name; what never was a database is not ours.
        return "not a database" not in str(error) and file.read_bytes()[68:72] == OURS.to_bytes(4, "big")
    finally:
        connection.close()


def _check_sound(store: Store) -> None:
    """SQLite's own check of every page, index and reference. Raises Faults for a damaged file."""
    assert store.place.file is not None
    try:
        with store.engine.connect() as connection:
            said = [row[0] for row in connection.execute(text("PRAGMA integrity_check(5)"))]
            orphans = connection.execute(text("PRAGMA foreign_key_check")).fetchall()
    except DBAPIError as error:
        if not isinstance(error.orig, sqlite3.DatabaseError) or "locked" in str(error.orig):
            raise
        said, orphans = [str(error.orig)], []
    if said != ["ok"] or orphans:
        given = f"{store.place.shown}: {said[0] if said != ['ok'] else f'{len(orphans)} rows refer to nothing'}"
        step = "put back the newest sound copy: `spreadwright room restore` lists the copies there are"
        raise Faults([Fault("store", given, "the file must pass SQLite's integrity check", step)])


def _taken(store: Store) -> list[str]:
    with store.reading() as connection:
        return _names_taken(connection)


def _names_taken(connection: Connection) -> list[str]:
    if not inspect(connection).has_table(schema_steps.name):
        return []
    return list(connection.execute(select(schema_steps.c.name).order_by(schema_steps.c.name)).scalars())


def _take_steps(store: Store, steps: Sequence[Step], keep_a_copy: bool) -> None:
    """Take the steps that are missing, each in a transaction of its own that also writes down that it was taken."""
    known = {step.name for step in steps}
    while True:
        taken = _taken(store)
        unknown = [name for name in taken if name not in known]
        if unknown:
            rule = f"this store has taken steps that this program does not know: {', '.join(unknown)}"
            raise Faults([Fault("store", store.place.shown, rule, "use the newer spreadwright that wrote it")])
        missing = [step for step in steps if step.name not in taken]
        if not missing:
            return
        _take(store, missing[0], keep_a_copy)


def _take(store: Store, step: Step, keep_a_copy: bool) -> None:
    with store.writing() as connection:
        taken = _names_taken(connection)
        if step.name in taken:
            return  # another process was quicker
        if keep_a_copy and store.place.file is not None:
            back_up_before(store.place.file, step.name)  # others cannot write while we hold the lock
        if not taken:
            if store.place.file is not None:
                connection.exec_driver_sql(f"PRAGMA application_id = {OURS}")
            schema_steps.create(connection, checkfirst=True)
        from alembic.operations import Operations  # only where a step is taken: most openings take none
        from alembic.runtime.migration import MigrationContext

        step.upgrade(Operations(MigrationContext.configure(connection)))
        now = datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds")
        connection.execute(insert(schema_steps).values(name=step.name, taken_at=now))
