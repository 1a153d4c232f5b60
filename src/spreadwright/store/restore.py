"""Bring an SQLite store back to one of the copies beside it: look at the copies, put one in, keep what was there.

A sound store is brought back inside one transaction of its own, so that others may have it open, nothing that was
acknowledged up to then is missing from the copy that is kept, and a program that is killed half way has changed
nothing. Only a file that is damaged, which nobody can work with, is moved aside and replaced.
"""

from __future__ import annotations

import datetime
import os
import sqlite3
import uuid
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from spreadwright.faults import Fault, Faults
from spreadwright.store.backup import STEPS_KEPT, back_up, backup_folder, backups, copy_whole, let_go
from spreadwright.store.engine import PATIENCE
from spreadwright.store.open import OURS
from spreadwright.store.place import Place
from spreadwright.store.steps import every_step

_SIDE_FILES = ("", "-wal", "-shm")  # a store's file and what SQLite keeps beside it


@dataclass(frozen=True)
class Copy:
    """A copy of a store as it was found.

    name     goes by this name
    made     when it was written (UTC)
    size     [bytes]
    pieces, events   rows it holds of the tackle room; entries: of the logbook
    wrong    why it cannot be brought back; empty for a sound one
    """

    name: str
    file: Path
    made: datetime.datetime
    size: int
    pieces: int = 0
    events: int = 0
    entries: int = 0
    wrong: str = ""


@dataclass(frozen=True)
class Restored:
    """What was brought back, and under which name that which stood there before is kept; empty where nothing was."""

    copy: Copy
    before: str


def copies(place: Place) -> tuple[Copy, ...]:
    """All copies of a store, newest first, each looked through. Raises Faults for a database on a server."""
    return tuple(_looked_at(file) for file in reversed(backups(_file_of(place))))


def _file_of(place: Place) -> Path:
    if place.file is None:
        rule = "a database on a server is backed up and brought back by the server's own tools"
        raise Faults([Fault("store", place.shown, rule, "ask whoever looks after the server")])
    return place.file


def _looked_at(file: Path) -> Copy:
    told = file.stat()
    made = datetime.datetime.fromtimestamp(told.st_mtime, datetime.UTC)
    try:
        with closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True, timeout=PATIENCE)) as connection:
            wrong = _wrong_with(connection)
            if wrong:
                return Copy(file.stem, file, made, told.st_size, wrong=wrong)
            pieces, events, entries = (_rows(connection, table) for table in ("pieces", "events", "log_entries"))
            return Copy(file.stem, file, made, told.st_size, pieces, events, entries)
    except sqlite3.Error as error:
        return Copy(file.stem, file, made, told.st_size, wrong=f"damaged: {error}")


def _wrong_with(connection: sqlite3.Connection) -> str:
    if connection.execute("PRAGMA application_id").fetchone()[0] != OURS:
        return "not made by spreadwright"
    said = connection.execute("PRAGMA integrity_check(1)").fetchone()[0]
    if said != "ok":
        return f"damaged: {said.splitlines()[0]}"
    if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
        return "damaged: rows refer to nothing"
    known = {step.name for step in every_step()}
    unknown = [name for (name,) in connection.execute("SELECT name FROM schema_steps") if name not in known]
    return f"written by a newer spreadwright ({', '.join(sorted(unknown))})" if unknown else ""


def _rows(connection: sqlite3.Connection, table: str) -> int:
    there = connection.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?", (table,)).fetchone()
    return int(connection.execute(f"SELECT count(*) FROM {_quoted(table)}").fetchone()[0]) if there else 0


def restore(place: Place, name: str) -> Restored:
    """Bring the store back to how it stood in the copy of that name; what is there now is kept among the copies.

    Raises Faults, with nothing changed, for a copy that is not there, is damaged or is of a newer program, for a file
    that is no store of ours, and where the disk does not take it.
    """
    file = _file_of(place)
    chosen = _chosen(copies(place), name, file)
    if chosen.wrong:
        sound = next((each.name for each in copies(place) if not each.wrong), "")
        step = f"take a sound one, such as {sound}" if sound else "there is no sound copy; an export may help"
        raise Faults([Fault("copy", f"{chosen.name}: {chosen.wrong}", "only a sound copy is brought back", step)])
    now = datetime.datetime.now(datetime.UTC).strftime("%Y%m%dT%H%M%S%f")
    try:
        state = _state_of(file)
        if state == "sound":
            _overwrite(file, chosen.file, f"replaced-{now}")
        else:
            _replace(file, chosen.file, f"damaged-{now}" if state == "damaged" else "")
    except (OSError, sqlite3.Error) as error:
        step = "close everything else that uses the store, see that the disk has room, and try again"
        raise Faults([Fault("store", f"{file}: {error}", "the store must be there to write", step)]) from error
    let_go(file, "replaced-*.sqlite", STEPS_KEPT)
    return Restored(chosen, {"sound": f"replaced-{now}", "damaged": f"damaged-{now}"}.get(state, ""))


def _chosen(there: Sequence[Copy], name: str, file: Path) -> Copy:
    wanted = name.strip().removesuffix(".sqlite")
    found = [copy for copy in there if copy.name == wanted] or [copy for copy in there if wanted in copy.name]
    if wanted and len(found) == 1:
        return found[0]
    names = ", ".join(copy.name for copy in (found or there)) or "none yet"
    rule = f"a copy is one of those in {backup_folder(file)}"
    raise Faults([Fault("copy", name.strip() or "no name", rule, f"there are: {names}")])


def _state_of(file: Path) -> str:
    """`absent`, `sound` or `damaged`. Raises Faults for a file of something else, which is left as it is."""
    if not file.exists() or file.stat().st_size == 0:
        return "absent"
    try:
        with closing(sqlite3.connect(file, timeout=PATIENCE)) as connection:
            wrong = _wrong_with(connection)
    except sqlite3.OperationalError as error:
        if "locked" in str(error):
            raise
        return "damaged"
    except sqlite3.DatabaseError as error:
        # Only what is no database at all is opened by ourselves: closing it would drop the locks of a live one.
        if "not a database" in str(error) and any(file.read_bytes()[:72]):
            raise Faults([_not_ours(file)]) from None
        return "damaged"
    if wrong.startswith("not made"):
        raise Faults([_not_ours(file)])
    return "damaged" if wrong.startswith("damaged") else "sound"


def _not_ours(file: Path) -> Fault:
    rule = "this file was not made by spreadwright, and is left as it is"
    return Fault("store", str(file), rule, "name the store with --store, or move this file away first")


def _overwrite(file: Path, copy: Path, kept_as: str) -> None:
    """Put the copy's tables in the place of the file's, in one transaction that also keeps what was there."""
    address = file.absolute().as_uri()
    with closing(sqlite3.connect(address, uri=True, timeout=PATIENCE, isolation_level=None)) as connection:
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = OFF")  # tables go and come in any order; the copy was checked
        connection.execute("ATTACH DATABASE ? AS copied", (f"{copy.absolute().as_uri()}?mode=ro",))
        with _all_or_nothing(connection):
            back_up(file, kept_as)  # nobody can write from here on, so it holds all that was acknowledged
            _exchange(connection)


@contextmanager
def _all_or_nothing(connection: sqlite3.Connection) -> Iterator[None]:
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise


def _exchange(connection: sqlite3.Connection) -> None:
    listed = "SELECT name FROM main.sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
    for (table,) in connection.execute(listed).fetchall():
        connection.execute(f"DROP TABLE main.{_quoted(table)}")
    made = "SELECT type, name, sql FROM copied.sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%'"
    parts = connection.execute(made).fetchall()
    tables = [(name, sql) for kind, name, sql in parts if kind == "table"]
    for name, sql in tables:
        connection.execute(sql)  # unqualified, so made in the store itself
        connection.execute(f"INSERT INTO main.{_quoted(name)} SELECT * FROM copied.{_quoted(name)}")
    for kind, _, sql in parts:
        if kind != "table":
            connection.execute(sql)


def _replace(file: Path, copy: Path, kept_as: str) -> None:
    """Put the copy where no store is, or where a damaged one was, which is moved among the copies as it is."""
    made = file.with_name(f".{uuid.uuid4().hex}.unfinished")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        copy_whole(copy, made)
        for side in _SIDE_FILES:
            old = file.with_name(file.name + side)
            if kept_as and old.exists():
                os.replace(old, backup_folder(file) / f"{kept_as}.sqlite{side}")
            old.unlink(missing_ok=True)
        os.replace(made, file)
    finally:
        made.unlink(missing_ok=True)


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'
