"""The plan's shopping: what it uses up beyond the trip file's shelf, or beyond what is fit in a tackle room.

Without a store the plan is counted against the trip file alone. With one it takes the very numbers of
`spreadwright lists`, so that the two cannot say different things, and the plan says which it was.
"""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.plan.refuse import gear_of
from spreadwright.plan.rods import Chosen
from spreadwright.plan.value import Plan, Shopping
from spreadwright.rig.assemble import Gear, assemble, crimp_for
from spreadwright.rig.chain import Chain
from spreadwright.stock.fill import guard_of
from spreadwright.stock.lists.make import to_get
from spreadwright.stock.shortage import Missing, Used, shortage
from spreadwright.store.open import Store
from spreadwright.store.room_lists import what_to_count
from spreadwright.tackle.trip import Trip


def shelf_shopping(trip: Trip, chosen: Sequence[Chosen]) -> tuple[Shopping, ...]:
    """What is short against the counts and wished spares of the trip file."""
    used = []
    for each in chosen:
        rig, shelf, outfit = each.rig, trip.shelf, trip.outfits[each.rig.rod]
        gear = gear_of(trip, rig.rod, rig.weight, rig.shock, rig.bite, each.lure)
        crimps, guard = crimps_of(assemble(outfit, gear), gear), guard_of(outfit, trip.units)
        used.append(
            Used(
                outfit.name, shelf.weights[rig.weight].name, shelf.shock_leaders[rig.shock].name,
                shelf.bite_leaders[rig.bite].name, shelf.lures[each.lure].name,
                gear.swivel.name if gear.swivel else "", crimps, guard.name if guard else "",
            )
        )  # fmt: skip
    return tuple(map(_item, shortage(trip, used)))


def _item(missing: Missing) -> Shopping:
    return Shopping(kind=missing.kind, name=missing.name, quantity=missing.quantity, reason=missing.reason)


def crimps_of(chain: Chain, gear: Gear) -> tuple[str, ...]:
    """Names of the crimps a rig takes: for each crimped end the narrowest on the shelf that its leader goes through."""
    names = []
    for crimp in chain.of_kind("crimp"):
        leader = chain.link(crimp.name.split("'s ")[0])
        fitting = crimp_for(leader.diameter, gear.crimps)
        names.append(fitting.name if fitting else f"crimp for {1000.0 * leader.diameter:.1f} mm leader")
    return tuple(names)


def with_room(plan: Plan, trip: Trip, store: Store) -> Plan:
    """The plan with its shopping counted against the store's tackle room, as `spreadwright lists` counts it."""
    counting = what_to_count(store, trip)
    missing = to_get(trip, plan.rods, counting.room, loss_rates=counting.loss_rates)
    return plan.model_copy(update={"shopping": tuple(map(_item, missing)), "counted": counting.words})
