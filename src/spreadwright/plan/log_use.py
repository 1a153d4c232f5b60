"""What the log feeds: loss rates to the spares, preferences to the choice of lures; and what it needs from a trip."""

from __future__ import annotations

from datetime import UTC, tzinfo
from pathlib import Path
from typing import Literal

from spreadwright.logbook.entry import FishedRig, Record
from spreadwright.logbook.factors import Knowledge, usual_place
from spreadwright.logbook.fold import Logbook
from spreadwright.logbook.losses import LossRate, loss_rates
from spreadwright.logbook.preferences import Preferences, preferences
from spreadwright.plan.stored import stored_plan
from spreadwright.plan.value import Plan
from spreadwright.stock.losses import rates
from spreadwright.store.log_keep import kept_bites, log_of
from spreadwright.store.open import Store
from spreadwright.tackle.trip import Trip


def knowledge(
    store: Store, book: Logbook, trip: Trip | None = None, place: tuple[float, float] | None = None, zone: tzinfo = UTC
) -> Knowledge:
    """What is known beside the log: colours from the trip's shelf, bites and hours from tracks, a place for the light.

    place   (lat, lon) [deg]; without it the middle of the places that strikes carry, or that the track gives them
    """
    bites, ran = kept_bites(store)
    found = place or usual_place(book.strikes)
    if found is None:
        found = next((bite.place for bite in bites.values() if bite.place is not None), None)
    colours = {lure.name: lure.colours for lure in trip.shelf.lures} if trip else {}
    return Knowledge(colours, bites, ran, found, zone, trip.units if trip else "us")


def learnt(store: Store, trip: Trip, boat: str | None = None) -> Preferences:
    """What the log would have the choice prefer among the lures on the trip's shelf."""
    book = log_of(store, boat)
    return preferences(book, [lure.name for lure in trip.shelf.lures], knowledge(store, book, trip))


class LogUses(Record):
    """What the log tells the rest of the program: losses for the spares, preferences for the choice of lures."""

    format: Literal["spreadwright log uses"] = "spreadwright log uses"
    version: Literal[1] = 1
    hours: float
    losses: tuple[LossRate, ...]
    lures: dict[str, float]
    sentences: tuple[str, ...]


def log_uses(store: Store, trip: Trip | None = None, boat: str | None = None) -> LogUses:
    """Loss rates and lure preferences by the log, with the sentences that say what they rest on."""
    book = log_of(store, boat)
    told = preferences(book, [lure.name for lure in trip.shelf.lures] if trip else (), knowledge(store, book, trip))
    losses = loss_rates(book)
    guessed = rates()
    said = [f"Losses in {book.hours:.0f} line-hours, for the spares:"] if losses else ["No line-hours: no loss rates."]
    for each in losses:
        after = guessed[each.cause].after(each.losses, each.line_hours).mean
        said.append(
            f"{each.sentence} The guess before the log was {100 * guessed[each.cause].mean:.1f} in a hundred; spares "
            f"are now counted with {100 * after:.1f}."
        )
    return LogUses(hours=book.hours, losses=losses, lures=told.lures, sentences=(*said, *told.sentences))


def planned_rig(plan_file: Path, rod: str) -> FishedRig:
    """The rig that a stored plan gives a rod. Raises Faults where there is no such plan; KeyError for no such rod."""
    plan = stored_plan(plan_file)
    assert isinstance(plan, Plan)
    its = plan.rod(rod)
    return FishedRig(
        station=its.station, mark=its.mark, weight=its.weight, shock_leader=its.shock_leader,
        bite_leader=its.bite_leader, lure=its.lure,
    )  # fmt: skip
