"""A stocktake spreadsheet taken into the room, all of it in one transaction or nothing."""

from __future__ import annotations

from dataclasses import dataclass, replace

from spreadwright.stock.event import Event, happened, now
from spreadwright.stock.kinds import written
from spreadwright.stock.piece import Piece
from spreadwright.stock.sheet import read_sheet
from spreadwright.store.open import Store
from spreadwright.store.room import read_in, start_of, write_events, write_new, write_piece


@dataclass(frozen=True, slots=True)
class Taken:
    """What a sheet did: pieces that are new, counts that differed, places and descriptions that changed."""

    new: int = 0
    counted: int = 0
    changed: int = 0


def take_sheet(store: Store, text: str, source: str = "the sheet", *, boat: str = "", who: str = "") -> Taken:
    """Take a spreadsheet in: new rows become pieces; for those that are there, counts that differ become events.

    An empty count leaves the count as it is (a new piece starts with none). Raises Faults with every located mistake,
    and then nothing has changed.
    """
    rows = read_sheet(text, source, boat)
    at = now()
    with store.writing() as connection:
        room = read_in(connection)
        there = {(p.kind, p.name.casefold()): p for p in room.pieces if p.boat == boat}
        new: list[Piece] = []
        fresh: list[Event] = []
        events: list[Event] = []
        counted = changed = 0
        for row in rows:
            old = there.get((row.piece.kind, row.piece.name.casefold()))
            if old is None:
                new.append(row.piece)
                fresh += start_of(row.piece, row.count or 0, at=at, place=row.place, who=who)
                continue
            piece = replace(row.piece, id=old.id, bag=row.piece.bag or old.bag, note=row.piece.note or old.note,
                            price=old.price if row.piece.price is None else row.piece.price)  # fmt: skip
            if _differs(piece, old):
                write_piece(connection, piece)
                changed += 1
            state = room.state(old)
            if row.count is not None and row.count != state.fit:
                events.append(happened(old.id, "count", row.count, at=at, who=who, note="sheet"))
                counted += 1
            if row.place and row.place != state.place:
                events.append(happened(old.id, "moved", at=at, why=row.place, who=who))
        write_new(connection, new)
        write_events(connection, [*fresh, *events])
    return Taken(len(new), counted, changed)


def _differs(piece: Piece, old: Piece) -> bool:
    same = (piece.name, piece.bag, piece.price, piece.note) == (old.name, old.bag, old.price, old.note)
    return not same or written(piece.what) != written(old.what)
