"""Connections to a store: what every one of them is told before it is used, on SQLite and on PostgreSQL.

Writes stand in line, one transaction after the other, on both: SQLite by BEGIN IMMEDIATE, PostgreSQL by one lock that
is held until the transaction ends. A tackle room has few writers and short transactions; in return, what a
transaction reads is still true when it writes, and no write is ever refused because of another.
"""

from __future__ import annotations

import sqlite3
import time
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event

from spreadwright.store.place import Place

PATIENCE = 60.0  # [s] a writer waits for those before it
WRITING = "spreadwright_writing"  # the execution option of a connection that is about to write
_ONE_WRITER = 0x5_9EAD  # the number of PostgreSQL's advisory lock: any, as long as it stays


def make_engine(place: Place) -> Engine:
    """An engine for the place; nothing is opened yet."""
    if place.file is None:
        engine = create_engine(place.url, pool_pre_ping=True, connect_args={"connect_timeout": 10})
        event.listen(engine, "begin", _lock_if_writing)
        return engine
    engine = create_engine(place.url, connect_args={"timeout": PATIENCE, "check_same_thread": False})
    event.listen(engine, "connect", _prepare_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _prepare_sqlite(connection: sqlite3.Connection, _record: Any) -> None:
    connection.isolation_level = None  # the driver must not start transactions of its own
    connection.execute(f"PRAGMA busy_timeout = {int(1000 * PATIENCE)}")
    _use_wal(connection)
    connection.execute("PRAGMA foreign_keys = ON")
    # FULL: a write that was acknowledged is on the disk, also when the power goes.
    connection.execute("PRAGMA synchronous = FULL")


def _use_wal(connection: sqlite3.Connection) -> None:
    """Turn on the write-ahead log; the file remembers it. SQLite does not wait for others here, so we do."""
    deadline = time.monotonic() + PATIENCE
    while True:
        try:
            if connection.execute("PRAGMA journal_mode = WAL").fetchone()[0] == "wal":
                return
        except sqlite3.OperationalError as error:
            if "locked" not in str(error) or time.monotonic() > deadline:
                raise
        if time.monotonic() > deadline:
            return  # a disk that cannot keep a write-ahead log still keeps a journal, and is as safe
        time.sleep(0.01)


def _begin_sqlite(connection: Connection) -> None:
    writing = connection.get_execution_options().get(WRITING, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def _lock_if_writing(connection: Connection) -> None:
    if connection.get_execution_options().get(WRITING, False):
        connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{int(PATIENCE)}s'")
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_ONE_WRITER})")
