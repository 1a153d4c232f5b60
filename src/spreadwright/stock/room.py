"""The tackle room at one moment: all pieces, and how each of them stands."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import quote
from spreadwright.stock.piece import Piece
from spreadwright.stock.replay import NOTHING, State


@dataclass(frozen=True)
class Room:
    """The room at one moment: its pieces by kind and name, and how each of them stands."""

    pieces: tuple[Piece, ...]
    states: Mapping[str, State]

    def state(self, piece: Piece | str) -> State:
        """How a piece (or the piece of an id) stands."""
        return self.states.get(piece if isinstance(piece, str) else piece.id, NOTHING)

    def piece(self, identity: str) -> Piece:
        """The piece of that id; KeyError if there is none."""
        for piece in self.pieces:
            if piece.id == identity:
                return piece
        raise KeyError(identity)

    def of(self, boat: str | None) -> Room:
        """Only what a boat (by id) may take: its own and what is shared. None: everything."""
        if boat is None:
            return self
        return Room(tuple(piece for piece in self.pieces if piece.boat in ("", boat)), self.states)

    def fit(self, kind: str, name: str) -> int:
        """How many fit ones of a kind and name there are, over all owners in this room."""
        return sum(self.state(p).fit for p in self.pieces if (p.kind, p.name) == (kind, name))

    def find(self, name: str, kind: str = "") -> Piece:
        """The piece a captain means by a name (or id), and by its kind where several are called so.

        Raises Faults, with the names that are near, where there is none or more than one.
        """
        wanted = name.strip().casefold()
        found = [p for p in self.pieces if wanted in (p.id, p.name.casefold()) and kind in ("", p.kind)]
        if len(found) == 1:
            return found[0]
        raise Faults([_not_one(name, found, [p.name for p in self.pieces if kind in ("", p.kind)])])


def _not_one(name: str, found: Sequence[Piece], names: Sequence[str]) -> Fault:
    if found:
        kinds = ", ".join(sorted({piece.kind for piece in found}))
        rule = f"{len(found)} pieces are called so: {kinds}"
        return Fault("piece", quote(name), rule, "say which kind is meant, or give the piece's id")
    near = difflib.get_close_matches(name.casefold(), [each.casefold() for each in names], n=1, cutoff=0.5)
    meant = next((each for each in names if near and each.casefold() == near[0]), None)
    step = f"did you mean '{meant}'?" if meant else "see `spreadwright room show` for what there is"
    return Fault("piece", quote(name), "there is no piece of that name in the room", step)
