"""Copies of an SQLite store beside it: one before every schema step, one a day; the oldest make room.

Copied through SQLite's own backup, so that a copy is whole while others write, checked, and only then given its name.
A database on a server is backed up by the server's own tools.
"""

from __future__ import annotations

import datetime
import os
import sqlite3
import uuid
from pathlib import Path

from spreadwright.faults import Fault, Faults

DAYS_KEPT = 14
STEPS_KEPT = 10


def backup_folder(file: Path) -> Path:
    """The folder that holds the copies of a store's file."""
    return file.with_name(file.name + ".backups")


def backups(file: Path) -> tuple[Path, ...]:
    """All copies of a store's file there are, oldest first."""
    return tuple(sorted(backup_folder(file).glob("*.sqlite"), key=lambda copy: (copy.stat().st_mtime_ns, copy.name)))


def back_up(file: Path, name: str) -> Path:
    """Copy the store's file as it stands into its folder under that name; a copy of the name stays if it is there.

    Raises Faults where the copy cannot be written or is not sound.
    """
    folder = backup_folder(file)
    target = folder / f"{name}.sqlite"
    unfinished = folder / f".{uuid.uuid4().hex}.unfinished"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        copy_whole(file, unfinished)
        os.replace(unfinished, target)
    except (OSError, sqlite3.Error) as error:
        unfinished.unlink(missing_ok=True)
        rule = "a copy of the store is made before it is changed"
        raise Faults([Fault(str(target), f"could not be written ({error})", rule, "make room on the disk")]) from error
    return target


def copy_whole(file: Path, target: Path) -> None:
    """Copy a store's file through SQLite's own backup into one file that needs nothing beside it; it must be sound."""
    source, copy = sqlite3.connect(file, timeout=60.0), sqlite3.connect(target)
    try:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")  # one file that can be carried away
        if copy.execute("PRAGMA quick_check").fetchone()[0] != "ok":
            raise sqlite3.DatabaseError("the copy is not sound")
    finally:
        copy.close()
        source.close()


def back_up_today(file: Path, today: datetime.date | None = None) -> Path | None:
    """Make today's copy (UTC) unless it is there, and let the oldest go. Returns the copy made, or None."""
    today = today or datetime.datetime.now(datetime.UTC).date()
    name = f"day-{today.isoformat()}"
    if (backup_folder(file) / f"{name}.sqlite").exists():
        return None
    made = back_up(file, name)
    let_go(file, "day-*.sqlite", DAYS_KEPT)
    return made


def back_up_before(file: Path, step: str) -> Path:
    """Make a copy before a schema step, and let the oldest of these go."""
    now = datetime.datetime.now(datetime.UTC).strftime("%Y%m%dT%H%M%S%f")
    made = back_up(file, f"before-{step}-{now}")
    let_go(file, "before-*.sqlite", STEPS_KEPT)
    return made


def let_go(file: Path, pattern: str, kept: int) -> None:
    """Remove the oldest of the copies of that pattern, all but so many."""
    copies = sorted(backup_folder(file).glob(pattern), key=lambda copy: (copy.stat().st_mtime_ns, copy.name))
    for old in copies[:-kept]:
        old.unlink(missing_ok=True)
