"""The first filling of a tackle room from a trip file: its shelf as pieces with counts, its rods to inspect."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.quantity import System, show_given
from spreadwright.stock.gear import Guard, RodAndReel
from spreadwright.stock.kinds import KINDS
from spreadwright.stock.piece import Piece, piece_of
from spreadwright.stock.replay import State
from spreadwright.stock.room import Room
from spreadwright.tackle.fields import Tackle
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.trip import Trip


@dataclass(frozen=True, slots=True)
class Found:
    """A piece and how many of it somebody found: not in the room yet. place: where it lies, if said."""

    piece: Piece
    count: int
    place: str = ""


def from_trip(trip: Trip, boat: str = "") -> list[Found]:
    """Everything on a trip's shelf, with its count, and each of its rods; boat: id of the owner, empty for shared."""
    found = []
    for kind in KINDS:
        things: Sequence[Tackle] = getattr(trip.shelf, kind.shelf) if kind.shelf else ()
        if kind.name == "bite guard":
            things = guards_of(trip)
        found += [Found(piece_of(kind.name, thing, boat=boat), int(getattr(thing, "count", 0))) for thing in things]
    found += [Found(piece_of("rod and reel", _rod(outfit), boat=boat), 1) for outfit in trip.outfits]
    return found


def guard_of(outfit: Outfit, system: System) -> Guard | None:
    """The bite guard of a rod as a piece of its own, named by what it is; None for a rod without."""
    if outfit.bite_guard is None:
        return None
    guard = outfit.bite_guard
    words = f"{show_given(guard.length, 'length', system)} guard of {show_given(guard.strength, 'force', system)}"
    return Guard(**dict(guard), name=f"{words} {guard.material}")


def guards_of(trip: Trip) -> list[Guard]:
    """The bite guards of all rods, equal ones added up."""
    every = [guard for outfit in trip.outfits if (guard := guard_of(outfit, trip.units))]
    counts: Counter[str] = Counter()
    for guard in every:
        counts[guard.name] += guard.count
    unlike = {guard.name: guard for guard in reversed(every)}
    return [unlike[name].model_copy(update={"count": number}) for name, number in counts.items()]


def shelf_room(trip: Trip) -> Room:
    """A room that holds what the trip file's shelf says, and nothing else."""
    found = from_trip(trip)
    return Room(tuple(each.piece for each in found), {each.piece.id: State(fit=each.count) for each in found})


def _rod(outfit: Outfit) -> RodAndReel:
    line = outfit.line
    length, strength = show_given(line.length, "length", "us"), show_given(line.strength, "force", "us")
    words = f"{length} of {strength} {line.material}"
    return RodAndReel(name=outfit.name, rod=outfit.rod, reel=outfit.reel.name, line=words, count=0)
