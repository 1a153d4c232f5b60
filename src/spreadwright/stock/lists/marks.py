"""Which reels to re-mark and where: the mark as tied, where the gear then runs, and the slack line to measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spreadwright.quantity import System, show, show_turned
from spreadwright.stock.lists.needed import PlannedRod
from spreadwright.stock.lists.value import Item, RoomList, item_id
from spreadwright.stock.replay import OpenFault
from spreadwright.stock.room import Room
from spreadwright.tackle.outfit import MARK_TOLERANCE

HOW = (
    "the plan is computed for the marks as they are tied: re-mark only to run the gear at the mark's length",
    "lengths are of slack line from the snap at the weight, double line and wind-on included",
    "tie waxed floss, then pull the line tight and look whether the mark slips",
)


def remark_list(rods: Sequence[PlannedRod], room: Room, system: System) -> RoomList:
    """One item a rod whose gear does not run at its mark's own distance, or whose mark is on the work list."""
    items = [item for rod in rods if (item := _item(rod, room, system)) is not None]
    return RoomList(name="re-mark", items=tuple(items), notes=HOW if items else ())


def _item(rod: PlannedRod, room: Room, system: System) -> Item | None:
    measure = rod.slack_to_measure
    doubt = max(measure.high - measure.usual, measure.usual - measure.low)
    worn = [fault.what for fault in _faults(rod.rod, room) if "mark" in fault.what]
    off = abs(measure.usual - rod.mark) > max(doubt, MARK_TOLERANCE)
    if not off and not worn:
        return None
    mark = show_turned(rod.mark, "length", system)
    details = []
    if off:
        runs = rod.runs_at
        at = show(runs.usual, "length", system, doubt=max(runs.high - runs.usual, runs.usual - runs.low))
        slack = show(measure.usual, "length", system, doubt=doubt)
        spread = show(doubt, "length", system, figures=2)
        details.append(f"with the {mark} mark at the tip the gear runs near {at}")
        details.append(f"for {mark}, tie the mark at {slack} of slack line (give or take {spread})")
    details += [f"on the work list: {what}" for what in worn]
    return Item(id=item_id("re-mark", rod.rod), group=rod.rod, said=f"{rod.rod}: mark {mark}", details=tuple(details))


def _faults(rod: str, room: Room) -> Iterator[OpenFault]:
    for piece in room.pieces:
        if (piece.kind, piece.name) == ("rod and reel", rod):
            yield from room.state(piece).work
