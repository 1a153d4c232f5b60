"""Hand-made spreads: which pieces they mean, where they start from, and what speaks against them before any towing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Protocol, TypeVar

from spreadwright.faults import Fault, Faults
from spreadwright.plan.refuse import gear_of, reason_against
from spreadwright.plan.rig_choice import pick_rig
from spreadwright.plan.tryout_value import HandRod, HandSpread
from spreadwright.plan.value import Plan
from spreadwright.rig.strike import FishedRig
from spreadwright.spread.candidates import forbidden, names_of
from spreadwright.tackle.trip import Trip


class _Named(Protocol):
    @property
    def name(self) -> str: ...


Piece = TypeVar("Piece", bound=_Named)


def fished(trip: Trip, spread: HandSpread) -> list[FishedRig]:
    """The rigs of a hand-made spread. Raises Faults, all at once, for pieces or rods that the trip has not."""
    faults = [fault for hand in spread.rods for fault in _beyond(trip, hand)]
    for rod, times in Counter(hand.rod for hand in spread.rods).items():
        if times > 1 and rod < len(trip.outfits):
            faults.append(Fault("rods", f"{trip.outfits[rod].name} {times} times", "a rod fishes one line",
                                "leave the others out"))  # fmt: skip
    if faults:
        raise Faults(faults, "the hand-made spread")
    return [fished_rig(trip, hand) for hand in spread.rods]


def fished_rig(trip: Trip, hand: HandRod) -> FishedRig:
    """The pieces that a rod's places mean; IndexError for a place that the trip has not."""
    outfit, shelf = trip.outfits[hand.rod], trip.shelf
    return FishedRig(
        outfit, trip.boat.stations[hand.station], outfit.marks[hand.mark], shelf.weights[hand.weight],
        shelf.shock_leaders[hand.shock_leader], shelf.bite_leaders[hand.bite_leader], shelf.lures[hand.lure],
    )  # fmt: skip


def _beyond(trip: Trip, hand: HandRod) -> list[Fault]:
    """Places of one rod that point beyond the trip's lists."""
    shelf = trip.shelf
    rods = len(trip.outfits)
    limits = {
        "rod": rods, "station": len(trip.boat.stations),
        "mark": len(trip.outfits[hand.rod].marks) if hand.rod < rods else 1000,
        "weight": len(shelf.weights), "shock_leader": len(shelf.shock_leaders),
        "bite_leader": len(shelf.bite_leaders), "lure": len(shelf.lures),
    }  # fmt: skip
    return [
        Fault(f"rods: {what.replace('_', ' ')}", str(getattr(hand, what)),
              f"the trip has {limit}, counted from 0", "choose one that is there")
        for what, limit in limits.items()
        if getattr(hand, what) >= limit
    ]  # fmt: skip


def hand_of_plan(trip: Trip, plan: Plan) -> HandSpread:
    """The plan's spread as one made by hand. Raises Faults where the plan names what the trip has not."""
    rods = []
    for number, outfit in enumerate(trip.outfits):
        if any(each.rod == outfit.name for each in plan.rods):
            rods.append(_places(trip, number, pick_rig(trip, number, plan).rig))
    if not rods:
        raise Faults([Fault("the plan", plan.title, "it must be this trip's", "make the plan anew from this trip")])
    return HandSpread(rods=tuple(rods))


def first_hand(trip: Trip) -> HandSpread:
    """A spread to begin with before there is a plan: for each rod the first rig that passes the checks, at a station
    of its own while there are any; rods beyond the stations stay ashore."""
    taken: set[int] = set()
    rods = []
    for number in sorted(range(len(trip.outfits)), key=lambda i: (not _has_own_station(trip, i), i)):
        hand = _places(trip, number, pick_rig(trip, number).rig)
        free = [i for i in range(len(trip.boat.stations)) if i not in taken]
        if hand.station in taken and not free:
            continue
        station = hand.station if hand.station not in taken else free[0]
        taken.add(station)
        rods.append(hand.model_copy(update={"station": station}))
    return HandSpread(rods=tuple(sorted(rods, key=lambda hand: hand.rod)))


def _has_own_station(trip: Trip, rod: int) -> bool:
    lock = trip.lock(trip.outfits[rod].name)
    return trip.outfits[rod].station is not None or (lock is not None and lock.station is not None)


def _places(trip: Trip, rod: int, rig: FishedRig) -> HandRod:
    shelf = trip.shelf
    mark = min(range(len(rig.outfit.marks)), key=lambda i: abs(rig.outfit.marks[i] - rig.mark))
    return HandRod(
        rod=rod, station=_place(trip.boat.stations, rig.station.name), mark=mark,
        weight=_place(shelf.weights, rig.weight.name), shock_leader=_place(shelf.shock_leaders, rig.shock_leader.name),
        bite_leader=_place(shelf.bite_leaders, rig.bite_leader.name), lure=_place(shelf.lures, rig.lure.name),
    )  # fmt: skip


def _place(pieces: Sequence[Piece], name: str) -> int:
    return next(i for i, piece in enumerate(pieces) if piece.name == name)


def against_rig(trip: Trip, hand: HandRod, rig: FishedRig) -> tuple[str, ...]:
    """What speaks against one rod's rig: the captain's own words, and what does not fit or hold."""
    names = names_of(trip, hand.station, rig.mark, hand.weight, hand.shock_leader, hand.bite_leader, hand.lure)
    gear = gear_of(trip, hand.rod, hand.weight, hand.shock_leader, hand.bite_leader, hand.lure)
    own = rig.outfit.station
    elsewhere = f"this rod's own station is {own}" if own is not None and own != rig.station.name else ""
    said = (forbidden(trip, rig.outfit, names), elsewhere, reason_against(trip, hand.rod, gear))
    return tuple(each for each in said if each)


def against_spread(trip: Trip, spread: HandSpread) -> tuple[str, ...]:
    """What speaks against the spread as a whole: two rods at one station or mark, and more gear than the shelf has."""
    shelf, said = trip.shelf, []
    for number, times in Counter(hand.station for hand in spread.rods).items():
        if times > 1:
            said.append(f"{times} rods stand at {trip.boat.stations[number].name}: a station holds one")
    if trip.wishes.one_line_a_mark:
        marks = Counter(round(trip.outfits[hand.rod].marks[hand.mark], 1) for hand in spread.rods)
        if max(marks.values()) > 1:
            said.append("two lines run at one mark, and the trip asks for one line a mark")
    for what, pieces, kind in (
        ("weight", shelf.weights, "weight"), ("shock leader", shelf.shock_leaders, "shock_leader"),
        ("bite leader", shelf.bite_leaders, "bite_leader"), ("lure", shelf.lures, "lure"),
    ):  # fmt: skip
        for number, used in sorted(Counter(int(getattr(hand, kind)) for hand in spread.rods).items()):
            piece = pieces[number]
            if used > piece.count:
                said.append(
                    f"{what} {piece.name}: {used} fished, {piece.count} on the shelf, {used - piece.count} to buy"
                )
    return tuple(said)
