"""A trip once a rod is lost: the lines already out stay as they are, the others are chosen anew.

The lost rod takes its rig with it. A line that is out keeps its station, mark and every piece.
"""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.faults import Fault, Faults
from spreadwright.plan.value import Plan, RodPlan
from spreadwright.tackle.trip import Shelf, Trip
from spreadwright.tackle.wishes import Lock


def without_rods(trip: Trip, plan: Plan, lost: Sequence[str], out: Sequence[str]) -> Trip:
    """The trip to plan again. Raises Faults for rods that are in neither trip nor plan, and if none is left.

    lost: rods gone with their rigs; out: rods whose lines are out and stay as `plan` has them.
    """
    faults = [*_unknown(trip, plan, lost, "lost"), *_unknown(trip, plan, out, "out")]
    both = sorted(set(lost) & set(out))
    faults += [
        Fault(name, "named as lost and as out", "a rod is one or the other", "name it once") for name in both
    ]  # fmt: skip
    left = tuple(outfit for outfit in trip.outfits if outfit.name not in lost)
    if not left:
        faults.append(Fault("the rods", f"{len(lost)} lost", "at least one rod is left", "name fewer as lost"))
    if faults:
        raise Faults(faults)
    kept = tuple(lock for lock in trip.fixed if lock.rod not in (*lost, *out))
    locks = (*kept, *(_as_it_is(plan.rod(name)) for name in dict.fromkeys(out)))
    banned = tuple(ban for ban in trip.banned if ban.rod not in lost)
    shelf = trip.shelf
    for name in dict.fromkeys(lost):
        shelf = _less(shelf, plan.rod(name))
    return trip.model_copy(update={"outfits": left, "fixed": locks, "banned": banned, "shelf": shelf})


def _unknown(trip: Trip, plan: Plan, names: Sequence[str], what: str) -> list[Fault]:
    known = [outfit.name for outfit in trip.outfits if any(rod.rod == outfit.name for rod in plan.rods)]
    return [
        Fault(f"--{what}", f"'{name}'", "a rod of the trip that the plan fishes", f"name one of: {', '.join(known)}")
        for name in names
        if name not in known
    ]


def _as_it_is(rod: RodPlan) -> Lock:
    """A lock on everything that a line in the water has, whatever the checks say: it is out already."""
    return Lock.model_construct(
        rod=rod.rod, station=rod.station, mark=rod.mark, weight=rod.weight, leader=rod.shock_leader,
        bite_leader=rod.bite_leader, lure=rod.lure, anyway=True,
    )  # fmt: skip


def _less(shelf: Shelf, rod: RodPlan) -> Shelf:
    """The shelf without the pieces of one rig, as far as they are counted there."""
    gone = {
        "weights": rod.weight, "shock_leaders": rod.shock_leader, "bite_leaders": rod.bite_leader, "lures": rod.lure,
        "snap_swivels": rod.swivel,
    }  # fmt: skip
    changed = {}
    for kind, name in gone.items():
        pieces = getattr(shelf, kind)
        changed[kind] = tuple(
            piece.model_copy(update={"count": max(0, piece.count - 1)}) if piece.name == name else piece
            for piece in pieces
        )
    return shelf.model_copy(update=changed)
