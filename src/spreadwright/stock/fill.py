"""The first filling of a tackle room from a trip file: its shelf as pieces with counts, its rods to inspect."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.quantity import show_given
from spreadwright.stock.gear import RodAndReel
from spreadwright.stock.kinds import KINDS
from spreadwright.stock.piece import Piece, piece_of
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
        found += [Found(piece_of(kind.name, thing, boat=boat), int(getattr(thing, "count", 0))) for thing in things]
    found += [Found(piece_of("rod and reel", _rod(outfit), boat=boat), 1) for outfit in trip.outfits]
    return found


def _rod(outfit: Outfit) -> RodAndReel:
    line = outfit.line
    length, strength = show_given(line.length, "length", "us"), show_given(line.strength, "force", "us")
    words = f"{length} of {strength} {line.material}"
    return RodAndReel(name=outfit.name, rod=outfit.rod, reel=outfit.reel.name, line=words, count=0)
