"""Which rig of a rod is looked at: the plan's, what the trip file fixes, or else the first that passes the checks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Protocol, TypeVar

from spreadwright.faults import Fault, Faults
from spreadwright.plan.refuse import reason_against
from spreadwright.plan.value import Plan
from spreadwright.rig.assemble import Gear, gear_from_shelf
from spreadwright.rig.strike import FishedRig
from spreadwright.tackle.boat import Station
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.trip import Trip

FROM_PLAN = "as the plan chose it"
FIXED = "fixed in the trip file"
FIRST = "the first in the trip file's order that passes the checks, on the rod's first mark"
NONE_PASSES = "the first in the trip file's order; none passes the checks"


class _Named(Protocol):
    @property
    def name(self) -> str: ...


class _Counted(_Named, Protocol):
    @property
    def count(self) -> int: ...


Titled = TypeVar("Titled", bound=_Named)
Piece = TypeVar("Piece", bound=_Counted)


@dataclass(frozen=True)
class PickedRig:
    """One rod's rig, its pieces with swivel, hook and crimps, and where it comes from."""

    rod: int
    rig: FishedRig
    gear: Gear
    chosen_by: str


def pick_rig(trip: Trip, rod: int, plan: Plan | None = None) -> PickedRig:
    """The rig of one rod. Raises Faults where the plan names what the trip file does not hold."""
    if plan is not None:
        return _planned(trip, rod, plan)
    outfit, lock = trip.outfits[rod], trip.lock(trip.outfits[rod].name)
    mark = outfit.tied_mark(lock.mark) if lock is not None and lock.mark is not None else None
    station = _station(trip, outfit)
    picked: PickedRig | None = None
    for rig in _rigs(trip, rod, outfit.marks[0] if mark is None else mark, station):
        gear = _gear(trip, rig)
        whole = lock is not None and all((lock.weight, lock.leader, lock.bite_leader, lock.lure))
        if whole or not reason_against(trip, rod, gear):
            return PickedRig(rod, rig, gear, FIXED if whole else FIRST)
        picked = picked or PickedRig(rod, rig, gear, NONE_PASSES)
    if picked is None:
        raise Faults([Fault(
            f"rod {outfit.name}", "no rig to look at",
            "a rig needs a weight, both leaders and a lure of a count over 0",
            "raise a count, or free what is fixed for this rod",
        )])  # fmt: skip
    return picked


def _planned(trip: Trip, rod: int, plan: Plan) -> PickedRig:
    outfit, shelf = trip.outfits[rod], trip.shelf
    found = next((each for each in plan.rods if each.rod == outfit.name), None)
    if found is None:
        raise Faults([Fault(
            f"rod {outfit.name}", "not in the plan", f"the plan fishes {', '.join(each.rod for each in plan.rods)}",
            "make the plan anew from this trip file, or leave --plan out",
        )])  # fmt: skip
    rig = FishedRig(
        outfit, _named(trip.boat.stations, found.station, "station"), found.mark,
        _named(shelf.weights, found.weight, "weight"), _named(shelf.shock_leaders, found.shock_leader, "shock leader"),
        _named(shelf.bite_leaders, found.bite_leader, "bite leader"), _named(shelf.lures, found.lure, "lure"),
    )  # fmt: skip
    return PickedRig(rod, rig, _gear(trip, rig), FROM_PLAN)


def _named(pieces: Sequence[Titled], name: str, what: str) -> Titled:
    for piece in pieces:
        if piece.name == name:
            return piece
    raise Faults([Fault(
        f"the plan's {what}", name, f"the trip file holds {', '.join(each.name for each in pieces)}",
        "make the plan anew from this trip file, or leave --plan out",
    )])  # fmt: skip


def _station(trip: Trip, outfit: Outfit) -> Station:
    lock = trip.lock(outfit.name)
    own = (lock.station if lock is not None else None) or outfit.station
    if own is not None:
        return next(each for each in trip.boat.stations if each.name == own)
    taken = {other.station for other in trip.outfits} | {each.station for each in trip.fixed}
    return next((each for each in trip.boat.stations if each.name not in taken), trip.boat.stations[0])


def _rigs(trip: Trip, rod: int, mark: float, station: Station) -> Iterator[FishedRig]:
    """Every rig the shelf and the captain's own words allow on a rod, in the file's order."""
    lock, shelf = trip.lock(trip.outfits[rod].name), trip.shelf
    weight, leader, bite, lure = (
        (None,) * 4 if lock is None else (lock.weight, lock.leader, lock.bite_leader, lock.lure)
    )
    for pieces in product(
        _wanted(shelf.weights, weight), _wanted(shelf.shock_leaders, leader), _wanted(shelf.bite_leaders, bite),
        _wanted(shelf.lures, lure),
    ):  # fmt: skip
        yield FishedRig(trip.outfits[rod], station, mark, *pieces)


def _wanted(pieces: Sequence[Piece], name: str | None) -> list[Piece]:
    """The piece that is fixed, or all of which there is one at least."""
    return [each for each in pieces if (each.name == name if name else each.count > 0)]


def _gear(trip: Trip, rig: FishedRig) -> Gear:
    return gear_from_shelf(trip.shelf, rig.outfit, rig.shock_leader, rig.bite_leader, rig.lure, rig.weight)
