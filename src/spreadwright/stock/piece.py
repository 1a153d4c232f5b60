"""A piece or lot in the tackle room: what it is and whose. How many there are follows from its events alone."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from decimal import Decimal

from spreadwright.stock.kinds import Kind, kind_of
from spreadwright.tackle.fields import Tackle


def new_id() -> str:
    """A new id: 32 hex digits that nobody else has."""
    return uuid.uuid4().hex


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece, or a lot of equal ones.

    id     32 hex digits
    kind   a name of KINDS
    name   what it is called; one of its kind and owner has it
    what   the gear itself, its count left at zero
    boat   id of the boat that owns it; empty where all boats share it
    bag    where it travels; empty for the kind's usual bag
    price  of one, if known, in the captain's own money
    note   anything worth remembering
    """

    id: str
    kind: str
    name: str
    what: Tackle
    boat: str = ""
    bag: str = ""
    price: Decimal | None = None
    note: str = ""

    @property
    def sort(self) -> Kind:
        """Its kind, with all that belongs to the kind."""
        return kind_of(self.kind)

    @property
    def travels_in(self) -> str:
        """The bag it is packed in."""
        return self.bag or self.sort.bag


def piece_of(kind: str, what: Tackle, *, boat: str = "", note: str = "") -> Piece:
    """A new piece of some gear; the gear's own count is put to zero, because events hold the count."""
    name = str(getattr(what, "name", ""))
    bare = what.model_copy(update={"count": 0}) if "count" in type(what).model_fields else what
    return Piece(new_id(), kind, name, bare, boat, note=note)
