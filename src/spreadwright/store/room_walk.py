"""Counting walks in the store: begin or go on, count, finish or drop. A count is on the disk at once."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, insert, select, update

from spreadwright.faults import Fault, Faults
from spreadwright.stock.event import MOST, now
from spreadwright.stock.piece import new_id
from spreadwright.stock.walk import Counted, Walk, as_events, stops_of
from spreadwright.store.open import Store
from spreadwright.store.room import read_room, write_events
from spreadwright.store.room_rows import moment, moment_text
from spreadwright.store.room_tables import pieces, walk_counts, walks


def open_walk(store: Store, boat: str = "") -> Walk | None:
    """The walk of a boat (by id; empty: the whole room) that is still open, or None."""
    with store.reading() as connection:
        row = _open_row(connection, boat)
        counted = _counted(connection, row.id) if row is not None else {}
    return _walk(store, row, counted) if row is not None else None


def begin_walk(store: Store, boat: str = "", who: str = "") -> Walk:
    """The open walk of a boat, or a new one: a walk that was stopped goes on where it was."""
    with store.writing() as connection:
        row = _open_row(connection, boat)
        if row is None:
            connection.execute(
                insert(walks).values(
                    id=new_id(), boat_id=boat or None, started_at=moment_text(now()), ended_at=None, ending="", who=who
                )
            )
            row = _open_row(connection, boat)
        assert row is not None
        counted = _counted(connection, row.id)
    return _walk(store, row, counted)


def count_in_walk(store: Store, walk: str, piece: str, number: int) -> None:
    """Keep how many fit ones of a piece were counted (a later count of the same piece takes its place).

    Raises Faults for a number that cannot be, a piece that is not in the room, or a walk that is over.
    """
    if isinstance(number, bool) or not isinstance(number, int) or not 0 <= number <= MOST:
        rule = f"a count is a whole number from 0 to {MOST}"
        raise Faults([Fault("count", str(number), rule, "count again")])
    with store.writing() as connection:
        _still_open(connection, walk)
        if connection.execute(select(pieces.c.id).where(pieces.c.id == piece)).first() is None:
            raise Faults(
                [Fault("count", f"piece {piece}", "a count belongs to a piece in the room", "look it up again")]
            )
        at = {"counted": number, "counted_at": moment_text(now())}
        mine = (walk_counts.c.walk_id == walk, walk_counts.c.piece_id == piece)
        if connection.execute(update(walk_counts).where(*mine).values(**at)).rowcount == 0:
            connection.execute(insert(walk_counts).values(walk_id=walk, piece_id=piece, **at))


def finish_walk(store: Store, walk: str) -> Walk:
    """End a walk: every count becomes an event, in one transaction; what was not counted stays as it was.

    Returns the walk as it was counted. Raises Faults, and leaves the walk open, where more was used since a count than
    was counted: that piece has to be counted again.
    """
    with store.writing() as connection:
        row = _still_open(connection, walk)
        counted = _counted(connection, walk)
    before = _walk(store, row, counted)
    with store.writing() as connection:
        row = _still_open(connection, walk)
        write_events(connection, as_events(_counted(connection, walk), row.who))
        _end(connection, walk, "finished")
    return before


def drop_walk(store: Store, walk: str) -> None:
    """End a walk without any consequence."""
    with store.writing() as connection:
        _still_open(connection, walk)
        _end(connection, walk, "dropped")


def _end(connection: Connection, walk: str, ending: str) -> None:
    connection.execute(update(walks).where(walks.c.id == walk).values(ended_at=moment_text(now()), ending=ending))


def _still_open(connection: Connection, walk: str) -> Row[Any]:
    row = connection.execute(select(walks).where(walks.c.id == walk)).first()
    if row is None or row.ending:
        given = "no walk of that id" if row is None else f"a walk that was {row.ending}"
        raise Faults([Fault("walk", given, "counts go into an open walk", "begin a walk, or go on with the open one")])
    return row


def _open_row(connection: Connection, boat: str) -> Row[Any] | None:
    mine = walks.c.boat_id.is_(None) if not boat else walks.c.boat_id == boat
    asked = select(walks).where(walks.c.ending == "", mine).order_by(walks.c.started_at).limit(1)
    return connection.execute(asked).first()


def _counted(connection: Connection, walk: str) -> dict[str, Counted]:
    rows = connection.execute(select(walk_counts).where(walk_counts.c.walk_id == walk))
    return {row.piece_id: Counted(row.counted, moment(row.counted_at)) for row in rows}


def _walk(store: Store, row: Row[Any], counted: dict[str, Counted]) -> Walk:
    room = read_room(store).of(row.boat_id)
    ended: datetime | None = moment(row.ended_at) if row.ended_at else None
    stops = stops_of(room.pieces, room.states, counted)
    return Walk(row.id, row.boat_id or "", moment(row.started_at), row.who, ended, stops)
