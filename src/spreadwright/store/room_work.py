"""Work that moves several pieces at once, each in one transaction: fill the room, make up leaders, lose a whole rig."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from spreadwright.faults import Fault, Faults
from spreadwright.stock.event import Event, happened, now
from spreadwright.stock.fill import Found
from spreadwright.stock.lists.value import Taken
from spreadwright.stock.piece import Piece
from spreadwright.stock.room import Room
from spreadwright.store.open import Store
from spreadwright.store.room import add_pieces, read_room, record, start_of


def put_in(store: Store, found: Iterable[Found], who: str = "") -> tuple[Found, ...]:
    """Put what was found into the room where a piece of its kind, name and owner is not there yet; returns what was.

    Pieces that are there keep their history: a second filling from the same file changes nothing.
    """
    room = read_room(store)
    there = {(piece.kind, piece.name.casefold(), piece.boat) for piece in room.pieces}
    new = [each for each in found if (each.piece.kind, each.piece.name.casefold(), each.piece.boat) not in there]
    at = now()
    first = [event for each in new for event in start_of(each.piece, each.count, at=at, place=each.place, who=who)]
    add_pieces(store, [each.piece for each in new], first)
    return tuple(new)


def make_up(
    store: Store, kind: str, name: str, count: int, takes: Sequence[Taken], *, boat: str | None = None, who: str = ""
) -> None:
    """Make up pieces from parts: the parts leave the shelf and the pieces come onto it, in one transaction.

    takes   what all of them take: a coil's length in millimetres, crimps, a lure's hooks
    Raises Faults where a part is not in the room or there is too little of it; then nothing has changed.
    """
    room = read_room(store).of(boat)
    at, note = now(), f"for {count} x {name}"
    made = happened(_one(room, kind, name, boat).id, "make", count, at=at, who=who)
    used = [event for part in takes for event in _taken(room, part, boat, note, who, made)]
    record(store, *used, made)


def _taken(room: Room, part: Taken, boat: str | None, note: str, who: str, made: Event) -> list[Event]:
    """Events that take a part, the boat's own before what is shared."""
    events, wanted = [], part.amount
    lots = [piece for piece in room.pieces if (piece.kind, piece.name) == (part.kind, part.name)]
    if not lots:
        raise Faults([_nothing(part.kind, part.name)])
    for piece in sorted(lots, key=lambda piece: piece.boat != (boat or "")):
        share = min(wanted, room.state(piece).fit)
        if share:
            events.append(happened(piece.id, "use", share, at=made.at, why="made up", who=who, note=note))
            wanted -= share
    if wanted:  # the store names what is short
        events.append(happened(lots[0].id, "use", wanted, at=made.at, why="made up", who=who, note=note))
    return events


def lose_rig(
    store: Store, names: Sequence[tuple[str, str]], why: str, *, boat: str | None = None, who: str = ""
) -> None:
    """One of each piece of a rig is gone: (kind, name) of each, in one transaction. Raises Faults; see `record`."""
    room, at = read_room(store).of(boat), now()
    record(store, *(happened(_one(room, *each, boat).id, "use", 1, at=at, why=why, who=who) for each in names))


def _one(room: Room, kind: str, name: str, boat: str | None) -> Piece:
    """The piece of a kind and name: the boat's own, else a shared one; with some left where there are both."""
    lots = [piece for piece in room.pieces if (piece.kind, piece.name) == (kind, name)]
    if not lots:
        raise Faults([_nothing(kind, name)])
    return min(lots, key=lambda piece: (room.state(piece).fit == 0, piece.boat != (boat or "")))


def _nothing(kind: str, name: str) -> Fault:
    return Fault("piece", f"{kind} '{name}'", "there is none of that name in the room", "add it, or correct the name")
