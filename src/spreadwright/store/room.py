"""The tackle room over a store: add pieces, record what happens to them, and read how everything stands.

Everything that changes counts goes through `record`: all of its events are kept, or none.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from functools import partial

from sqlalchemy import ColumnElement, Connection, func, insert, select, update

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import quote
from spreadwright.stock.amounts import show_amount
from spreadwright.stock.event import Event, event_fault, happened
from spreadwright.stock.kinds import ORDER, kind_of
from spreadwright.stock.piece import Piece
from spreadwright.stock.replay import Line, history, replay
from spreadwright.stock.room import Room
from spreadwright.store.open import Store
from spreadwright.store.room_rows import event_from, event_row, piece_from, piece_row
from spreadwright.store.room_tables import events, pieces


def read_room(store: Store, until: datetime | None = None) -> Room:
    """The whole room as it stands, or as it stood at a moment (UTC)."""
    with store.reading() as connection:
        return read_in(connection, until)


def read_in(connection: Connection, until: datetime | None = None) -> Room:
    """The whole room inside a transaction that holds more; see `read_room`."""
    states = replay(_events(connection), until).states
    return Room(tuple(sorted(_pieces(connection), key=_in_walking_order)), states)


def _in_walking_order(piece: Piece) -> tuple[int, str, str]:
    return ORDER[piece.kind], piece.name.casefold(), piece.boat


def _pieces(connection: Connection) -> list[Piece]:
    return [piece_from(row) for row in connection.execute(select(pieces))]


def _events(connection: Connection, which: ColumnElement[bool] | None = None) -> list[Event]:
    asked = select(events).order_by(events.c.number)
    if which is not None:
        asked = asked.where(which)
    return [event_from(row) for row in connection.execute(asked)]


def history_of(store: Store, piece: str) -> list[Line]:
    """The history of one piece (by id), oldest first."""
    with store.reading() as connection:
        return history(_events(connection, events.c.piece_id == piece))


def all_events(store: Store) -> list[Event]:
    """Every event there is, in the order they were written."""
    with store.reading() as connection:
        return _events(connection)


def add_pieces(store: Store, new: Iterable[Piece], first: Iterable[Event] = ()) -> None:
    """Put new pieces into the room, with the first events of their history, in one transaction.

    Raises Faults where a kind and name is there already for the same owner, or an event cannot be.
    """
    with store.writing() as connection:
        write_new(connection, list(new))
        write_events(connection, list(first))


def write_new(connection: Connection, new: Sequence[Piece]) -> None:
    """Put new pieces into the room inside a writing transaction that holds more; see `add_pieces`."""
    taken = {_key(piece) for piece in _pieces(connection)}
    double = []
    for piece in new:
        if _key(piece) in taken:
            rule = f"there is a {piece.kind} of that name already"
            double.append(Fault("piece", quote(piece.name), rule, "record what came of it, or rename it"))
        taken.add(_key(piece))
    if double:
        raise Faults(double)
    if new:
        connection.execute(insert(pieces), [piece_row(piece) for piece in new])


def _key(piece: Piece) -> tuple[str, str, str]:
    return piece.kind, piece.name.casefold(), piece.boat


def change_piece(store: Store, piece: Piece) -> None:
    """Keep a piece's new name, bag, price, note or description; its id, kind, owner and counts stay.

    Raises Faults if it is gone, or another of its kind and owner is called so.
    """
    with store.writing() as connection:
        write_piece(connection, piece)


def write_piece(connection: Connection, piece: Piece) -> None:
    """Keep a changed piece inside a writing transaction that holds more; see `change_piece`."""
    if any(_key(other) == _key(piece) for other in _pieces(connection) if other.id != piece.id):
        rule = f"another {piece.kind} is called so"
        raise Faults([Fault("piece", quote(piece.name), rule, "choose another name")])
    row = piece_row(piece)
    keep = {key: row[key] for key in ("name", "what", "bag", "price", "note")}
    mine = update(pieces).where(pieces.c.id == piece.id, pieces.c.kind == piece.kind)
    if connection.execute(mine.values(**keep)).rowcount != 1:
        raise Faults([Fault("piece", quote(piece.name), "it is not in the room", "look it up again")])


def record(store: Store, *new: Event) -> None:
    """Keep events, all of them or none. When this returns they are on the disk.

    An event that is there already (same id, same content) is passed over, so that a phone may send it twice. Raises
    Faults where an event makes no sense, names no piece, or would take a count below zero at any time.
    """
    with store.writing() as connection:
        write_events(connection, new)


def write_events(connection: Connection, new: Sequence[Event]) -> None:
    """Keep events inside a writing transaction that holds more; see `record`. Any exception must end it."""
    faults = [fault for event in new if (fault := event_fault(event)) is not None]
    if faults:
        raise Faults(faults)
    fresh = _not_there_yet(connection, new)
    if not fresh:
        return
    touched = {event.piece: None for event in fresh}
    asked = select(pieces.c.id, pieces.c.name, pieces.c.kind).where(pieces.c.id.in_(touched))
    rows = connection.execute(asked).all()
    known, sorts = {row.id: str(row.name) for row in rows}, {row.id: kind_of(row.kind) for row in rows}
    unknown = [name for name in touched if name not in known]
    if unknown:
        rule = "an event belongs to a piece in the room"
        raise Faults([Fault("event", f"piece {each}", rule, "add the piece first") for each in unknown])
    for piece in touched:
        so_far = _events(connection, events.c.piece_id == piece)
        its = (event for event in fresh if event.piece == piece)
        outcome = replay([*so_far, *its], told=partial(show_amount, sorts[piece]))
        faults += [
            Fault(fault.place, fault.given, fault.rule, fault.next_step, known[piece]) for fault in outcome.wrong
        ]
    if faults:
        raise Faults(faults)
    last = connection.execute(select(func.max(events.c.number))).scalar_one() or 0
    connection.execute(insert(events), [event_row(event, last + 1 + i) for i, event in enumerate(fresh)])


def _not_there_yet(connection: Connection, new: Sequence[Event]) -> list[Event]:
    by_id = {event.id: event for event in new}
    there = {event.id: event for event in _events(connection, events.c.id.in_(by_id))}
    for name, old in there.items():
        if event_row(by_id[name], 0) != event_row(old, 0):
            rule = "an event that was written is never changed"
            raise Faults([Fault("event", f"id {name} with other content", rule, "record a new event instead")])
    return [event for name, event in by_id.items() if name not in there]


def start_of(piece: Piece, count: int, *, at: datetime | None = None, place: str = "", who: str = "") -> list[Event]:
    """The first events of a new piece: how many were counted and where it lies."""
    begun = [happened(piece.id, "count", count, at=at, who=who, note="first count")]
    if place:
        begun.append(happened(piece.id, "moved", at=at, why=place, who=who))
    return begun
