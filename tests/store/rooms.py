"""Gear and rooms for tests of the tackle room."""

from __future__ import annotations

from spreadwright.stock.gear import Coil
from spreadwright.stock.piece import Piece, piece_of
from spreadwright.store.open import Store
from spreadwright.store.room import add_pieces, start_of
from spreadwright.tackle import BiteLeader, Crimp, Hook, Lure, ShockLeader, SnapSwivel, TrollingWeight
from spreadwright.tackle.fields import Tackle

HOOK = Hook.model_validate({"name": "9/0", "count": 0})
WEIGHT = TrollingWeight.model_validate({"name": "32 oz", "mass": "32 oz", "cable_strength": "480 lb", "count": 0})
SHOCK = ShockLeader.model_validate(
    {"name": "30 ft of 300 lb", "strength": "300 lb", "diameter": "1.8 mm", "length": "30 ft", "count": 0}
)
WIRE = BiteLeader.model_validate(
    {"name": "3 ft of wire", "material": "single strand", "strength": "270 lb", "length": "3 ft", "count": 0}
)
JET = Lure.model_validate(
    {"name": "jet", "head": "jet", "mass": "10 oz", "length": "9 in", "head_diameter": "1.25 in", "hooks": 2,
     "colours": ["black", "purple"], "hook": "9/0", "count": 0}
)  # fmt: skip
SWIVEL = SnapSwivel.model_validate({"name": "300 lb swivel", "strength": "300 lb", "count": 0})
SLEEVE = Crimp.model_validate({"name": "1.8 mm sleeve", "bore": "1.8 mm", "count": 0})
COIL = Coil.model_validate(
    {"name": "300 lb coil", "material": "nylon", "strength": "300 lb", "diameter": "1.8 mm", "length": "100 m"}
)
EVERYTHING: tuple[tuple[str, Tackle, int], ...] = (
    ("trolling weight", WEIGHT, 3), ("shock leader", SHOCK, 2), ("bite leader", WIRE, 4), ("lure", JET, 2),
    ("snap swivel", SWIVEL, 5), ("crimp", SLEEVE, 20), ("hook", HOOK, 6), ("coil", COIL, 100_000),
)  # fmt: skip


def put(store: Store, kind: str, what: Tackle, count: int, *, boat: str = "", place: str = "") -> Piece:
    """Put some gear into a room, counted once."""
    piece = piece_of(kind, what, boat=boat)
    add_pieces(store, [piece], start_of(piece, count, place=place))
    return piece


def full_room(store: Store) -> dict[str, Piece]:
    """A room with one piece or lot of each usual kind, by kind."""
    return {kind: put(store, kind, what, count) for kind, what, count in EVERYTHING}
