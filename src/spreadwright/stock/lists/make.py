"""All lists of a trip at once, from its plan, its file, the room as it stands and the losses to expect."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from spreadwright.quantity import System
from spreadwright.stock.inspection import INTERVALS, Interval, today_utc
from spreadwright.stock.lists.bench import Job, bench_list, jobs_for
from spreadwright.stock.lists.buy import buy_list, crimps_short
from spreadwright.stock.lists.marks import remark_list
from spreadwright.stock.lists.needed import Need, PlannedRod, needs
from spreadwright.stock.lists.night import night_list
from spreadwright.stock.lists.pack import pack_list
from spreadwright.stock.lists.value import TripLists
from spreadwright.stock.losses import Rate, rates
from spreadwright.stock.room import Room
from spreadwright.stock.shortage import Missing
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
    counted: str = "",
) -> TripLists:
    """What to buy, make up, re-mark, pack and check for a trip.

    rods      the plan's rods
    room      what is there: the boat's own and what is shared
    hours     hours trolled on the whole trip [h]; 8 h a day where none are given
    chance    with which the spares are to last
    loss_rates, intervals   learnt and changed ones, else the usual
    counted   what the room is, as it reads after "counted against"; said where it is given
    """
    units: System = system or trip.units
    spares, wanted, jobs = _wanted(trip, rods, room, hours, chance, loss_rates)
    made = (
        buy_list(wanted, jobs, trip, room, units),
        bench_list(jobs, wanted, rods, units),
        remark_list(rods, room, units),
        pack_list(wanted, rods, room),
        night_list(rods, wanted, room, units, today or today_utc(), intervals),
    )
    return TripLists(
        title=trip.title, boat=trip.boat.name, units=units, lists=made,
        notes=(*([f"counted against {counted}"] if counted else []), *_notes(spares, chance, trip, rods, hours)),
    )  # fmt: skip


def _wanted(
    trip: Trip,
    rods: Sequence[PlannedRod],
    room: Room,
    hours: float | None,
    chance: float,
    loss_rates: Mapping[str, Rate] | None,
) -> tuple[Sequence[SpareNeed], tuple[Need, ...], tuple[Job, ...]]:
    """Spares by the losses to expect, everything needed with what is short of it, and what the bench makes of that."""
    spares = spare_needs(line_hours(trip, len(rods), hours), rates() if loss_rates is None else loss_rates, chance)
    wanted = needs(rods, trip, room, {need.kind: need for need in spares})
    return spares, wanted, jobs_for(wanted, trip, room)


def to_get(
    trip: Trip,
    rods: Sequence[PlannedRod],
    room: Room,
    *,
    hours: float | None = None,
    chance: float = USUAL_CHANCE,
    loss_rates: Mapping[str, Rate] | None = None,
) -> tuple[Missing, ...]:
    """Pieces to buy or to make up, by the same count as the lists: what `make_lists` spells out aisle by aisle."""
    _, wanted, jobs = _wanted(trip, rods, room, hours, chance, loss_rates)
    pieces = [Missing(need.kind, need.name, need.short, need.why) for need in wanted if need.short]
    return (*pieces, *(Missing("crimp", name, number, why) for name, number, why in crimps_short(jobs, trip, room)))


def _notes(
    spares: Sequence[SpareNeed], chance: float, trip: Trip, rods: Sequence[PlannedRod], hours: float | None
) -> tuple[str, ...]:
    exposure = line_hours(trip, len(rods), hours)
    told = ", ".join(f"{need.spares} {need.kind} ({need.low:.1f} to {need.high:.1f} lost)" for need in spares)
    return (
        f"spares for {exposure:.0f} line-hours that last with {100.0 * chance:.0f} % chance, kind by kind: {told}",
        "loss rates are estimates: the range is the 90 % range of the losses to expect",
    )
