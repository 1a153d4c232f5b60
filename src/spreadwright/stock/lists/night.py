"""What to check the night before: drags, marks, what is on the work list or overdue, and the crew's own checks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from spreadwright.day.cautions import Work, cautions_for
from spreadwright.quantity import System, show_turned
from spreadwright.stock.inspection import INTERVALS, Interval, due_list, work_list
from spreadwright.stock.lists.needed import Need, PlannedRod
from spreadwright.stock.lists.value import Item, RoomList, item_id
from spreadwright.stock.room import Room

# Common practice, no source.
BOAT_CHECKS = (
    "forecast read again, and the limit agreed at which you stay in or turn back",
    "fuel for out and back with a third in reserve",
    "papers, licences and limits aboard, and checked for the water you fish",
    "batteries of radio, lights, scale and phones charged; spare line, floss and headlamps aboard",
    "somebody ashore knows where you go, with whom, and when you are back",
    "rods, reels and people: lanyards counted",
    "ice",
)


def night_list(
    rods: Sequence[PlannedRod],
    needs: Sequence[Need],
    room: Room,
    system: System,
    today: date,
    intervals: Mapping[str, Interval] = INTERVALS,
) -> RoomList:
    """The checks of the night before, rods first."""
    going = {(need.kind, need.name) for need in needs if need.fished + need.spare} | {
        ("rod and reel", rod.rod) for rod in rods
    }
    items = [*(_rod(rod, system) for rod in rods), *_work(room, going), *_overdue(room, going, today, intervals)]
    items += [Item(id=item_id("night before", said), group="boat and crew", said=said) for said in BOAT_CHECKS]
    notes = tuple(caution.text for caution in cautions_for((Work.LEAVING,)) if caution.grave)
    return RoomList(name="night before", items=tuple(items), notes=notes)


def _rod(rod: PlannedRod, system: System) -> Item:
    drag, mark = show_turned(rod.strike_drag, "force", system), show_turned(rod.mark, "length", system)
    return Item(
        id=item_id("night before", "rod", rod.rod), group="rods", said=f"{rod.rod}: strike drag {drag}, with a scale",
        details=(f"mark at {mark} sound and readable", "snap swivel turns and locks", "hooks sharp and covered"),
    )  # fmt: skip


def _work(room: Room, going: set[tuple[str, str]]) -> list[Item]:
    open_work = work_list([p for p in room.pieces if (p.kind, p.name) in going], room.states)
    return [
        Item(
            id=item_id("night before", "work", work.fault.id), group="work list",
            said=f"{work.fault.quantity} x {work.piece.name}: {work.fault.what}", details=(work.remedy,),
            kind=work.piece.kind, name=work.piece.name, amount=work.fault.quantity,
        )
        for work in open_work
    ]  # fmt: skip


def _overdue(room: Room, going: set[tuple[str, str]], today: date, intervals: Mapping[str, Interval]) -> list[Item]:
    late = due_list([p for p in room.pieces if (p.kind, p.name) in going], room.states, today, intervals)
    return [
        Item(
            id=item_id("night before", "look", each.piece.kind, each.piece.name), group="to be inspected",
            said=f"{each.piece.name} ({each.piece.kind})", details=(each.reason,), kind=each.piece.kind,
            name=each.piece.name,
        )
        for each in late
        if each.overdue
    ]  # fmt: skip
