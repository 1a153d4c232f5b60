"""What one spare of a kind costs or weighs, from the pieces of that kind in the room: for the trade-off curve."""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import quote
from spreadwright.stock.piece import Piece
from spreadwright.stock.room import Room
from spreadwright.tackle.line import Strand

# Weight of one [kg] where the gear does not say: common practice, no source.
USUAL_MASS = {"hook": 0.03, "snap swivel": 0.025}


def unit_costs(room: Room, kinds: Sequence[str], by: str) -> dict[str, float]:
    """Price (the captain's money) or weight [kg] of one spare by kind: the mean over the room's pieces of that kind.

    by   "price" or "weight". Raises Faults for another word, and names every kind for which nothing is known.
    """
    if by not in ("price", "weight"):
        raise Faults([Fault("--by", quote(by), "the curve is by price or by weight", "write one of them")])
    found = {kind: [cost for piece in room.pieces if piece.kind == kind for cost in _cost(piece, by)] for kind in kinds}
    unknown = [kind for kind, costs in found.items() if not costs and not (by == "weight" and kind in USUAL_MASS)]
    if unknown:
        step = (
            "`spreadwright room export FILE.csv --sheet`, fill in its price column, `spreadwright room fill FILE.csv`"
            if by == "price"
            else "add a piece of that kind with `room fill TRIP.toml` or a spreadsheet"
        )
        raise Faults([Fault(kind, f"no {by} known", f"the curve needs a {by} for each kind", step) for kind in unknown])
    return {kind: sum(costs) / len(costs) if costs else USUAL_MASS[kind] for kind, costs in found.items()}


def _cost(piece: Piece, by: str) -> list[float]:
    if by == "price":
        return [float(piece.price)] if piece.price else []
    if isinstance(piece.what, Strand):
        return [piece.what.mass_per_length * piece.what.length]
    mass = getattr(piece.what, "mass", None)
    return [float(mass)] if mass else []
