"""What to pack and in which bag: what the plan fishes, its spares, the rods, and what goes along on every trip."""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.stock.kinds import kind_of
from spreadwright.stock.lists.needed import Need, PlannedRod
from spreadwright.stock.lists.value import Item, RoomList, item_id
from spreadwright.stock.piece import Piece
from spreadwright.stock.room import Room

# Bag -> what goes along on every trip: common practice, no source. Safety gear of the boat is the boat's own list.
ALWAYS: dict[str, tuple[str, ...]] = {
    "tool bag": (
        "2 pairs of leadering gloves", "eye protection", "long dehooker", "crimping tool", "wire and cable cutters",
        "pliers", "hook file", "knife", "drag scale", "waxed floss", "rod lanyards", "first-aid kit", "rags",
    ),
}  # fmt: skip


def pack_list(needs: Sequence[Need], rods: Sequence[PlannedRod], room: Room) -> RoomList:
    """The packing list, bag by bag."""
    items = [_rod(rod, room) for rod in rods]
    items += [_need(need, room) for need in needs if need.fished + need.spare > 0]
    items += [_crimp(piece, room) for piece in room.pieces if piece.kind == "crimp" and room.state(piece).fit > 0]
    items += [
        Item(id=item_id("pack", bag, what), group=bag, said=what) for bag, every in ALWAYS.items() for what in every
    ]
    return RoomList(name="pack", items=tuple(sorted(items, key=lambda item: item.group)))


def _owned(kind: str, name: str, room: Room) -> Piece | None:
    return next((piece for piece in room.pieces if (piece.kind, piece.name) == (kind, name)), None)


def _item(kind: str, name: str, number: int, said: str, details: list[str], room: Room) -> Item:
    piece = _owned(kind, name, room)
    place = room.state(piece).place if piece is not None else ""
    return Item(
        id=item_id("pack", kind, name), group=piece.travels_in if piece is not None else kind_of(kind).bag, said=said,
        details=(*details, *([f"lies in: {place}"] if place else [])), kind=kind, name=name, amount=number,
    )  # fmt: skip


def _need(need: Need, room: Room) -> Item:
    number = need.fished + need.spare
    of_these = [f"{need.fished} fished, {need.spare} spare"] if need.spare and need.fished else []
    of_these += ["spare"] if need.spare and not need.fished else []
    short = [f"{need.short} of them still to get"] if need.short else []
    return _item(need.kind, need.name, number, f"{number} x {need.name}", of_these + short, room)


def _rod(rod: PlannedRod, room: Room) -> Item:
    return _item("rod and reel", rod.rod, 1, f"rod {rod.rod}", [], room)


def _crimp(piece: Piece, room: Room) -> Item:
    number = room.state(piece).fit
    return _item("crimp", piece.name, number, f"{number} x {piece.name}", ["what is left after the bench"], room)
