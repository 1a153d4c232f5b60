"""All lists of a trip at once, from its plan, its file, the room as it stands and the losses to expect."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from spreadwright.quantity import System
from spreadwright.stock.inspection import INTERVALS, Interval, today_utc
from spreadwright.stock.lists.bench import bench_list, jobs_for
from spreadwright.stock.lists.buy import buy_list
from spreadwright.stock.lists.marks import remark_list
from spreadwright.stock.lists.needed import PlannedRod, needs
from spreadwright.stock.lists.night import night_list
from spreadwright.stock.lists.pack import pack_list
from spreadwright.stock.lists.value import TripLists
from spreadwright.stock.losses import Rate, rates
from spreadwright.stock.room import Room
from spreadwright.stock.spares import USUAL_CHANCE, SpareNeed, spare_needs
from spreadwright.tackle.trip import Trip

HOURS_A_DAY = 8.0  # trolled, where nobody says: common practice, no source


def line_hours(trip: Trip, rods: int, hours: float | None = None) -> float:
    """Line-hours of a trip [h]: lines times hours trolled, 8 h for each of its days where none are given."""
    return rods * (HOURS_A_DAY * max(1, len(trip.dates)) if hours is None else hours)


def make_lists(
    trip: Trip,
    rods: Sequence[PlannedRod],
    room: Room,
    *,
    hours: float | None = None,
    chance: float = USUAL_CHANCE,
    loss_rates: Mapping[str, Rate] | None = None,
    intervals: Mapping[str, Interval] = INTERVALS,
    today: date | None = None,
    system: System | None = None,
) -> TripLists:
    """What to buy, make up, re-mark, pack and check for a trip.

    rods      the plan's rods
    room      what is there: the boat's own and what is shared
    hours     hours trolled on the whole trip [h]; 8 h a day where none are given
    chance    with which the spares are to last
    loss_rates, intervals   learnt and changed ones, else the usual
    """
    units: System = system or trip.units
    spares = spare_needs(line_hours(trip, len(rods), hours), rates() if loss_rates is None else loss_rates, chance)
    wanted = needs(rods, trip, room, {need.kind: need for need in spares})
    jobs = jobs_for(wanted, trip, room)
    made = (
        buy_list(wanted, jobs, trip, room, units),
        bench_list(jobs, wanted, rods, units),
        remark_list(rods, room, units),
        pack_list(wanted, rods, room),
        night_list(rods, wanted, room, units, today or today_utc(), intervals),
    )
    return TripLists(
        title=trip.title, boat=trip.boat.name, units=units, lists=made, notes=_notes(spares, chance, trip, rods, hours)
    )


def _notes(
    spares: Sequence[SpareNeed], chance: float, trip: Trip, rods: Sequence[PlannedRod], hours: float | None
) -> tuple[str, ...]:
    exposure = line_hours(trip, len(rods), hours)
    told = ", ".join(f"{need.spares} {need.kind} ({need.low:.1f} to {need.high:.1f} lost)" for need in spares)
    return (
        f"spares for {exposure:.0f} line-hours that last with {100.0 * chance:.0f} % chance, kind by kind: {told}",
        "loss rates are estimates: the range is the 90 % range of the losses to expect",
    )
