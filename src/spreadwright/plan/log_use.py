"""What the log feeds: loss rates to the spares, preferences to the choice of lures; and what it needs from a trip."""

from __future__ import annotations

from datetime import UTC, tzinfo
from pathlib import Path
from typing import Literal

import tomlkit

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
from spreadwright.store.room_losses import learnt_rates
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
    guessed, after = rates(), learnt_rates(store, boat)
    said = [f"Losses in {book.hours:.0f} line-hours, for the spares:"] if losses else ["No line-hours: no loss rates."]
    said += [
        f"{each.sentence} The guess before the log was {100 * guessed[each.cause].mean:.1f} in a hundred; spares are "
        f"now counted with {100 * after[each.cause].mean:.1f}."
        for each in losses
    ]
    return LogUses(hours=book.hours, losses=losses, lures=told.lures, sentences=(*said, *told.sentences))


def liked_colours(trip: Trip, told: Preferences) -> tuple[str, ...]:
    """Colours of the trip's shelf, best first, by what the log says of the lures that show them; empty where it says
    nothing. Only those that do better than even, so that a poor colour is not preferred for being listed."""
    shown: dict[str, list[float]] = {}
    for lure in trip.shelf.lures:
        for colour in lure.colours if lure.name in told.lures else ():
            shown.setdefault(colour, []).append(told.lures[lure.name])
    liking = {colour: sum(each) / len(each) for colour, each in shown.items()}
    return tuple(sorted((c for c in liking if liking[c] > 0.5), key=lambda c: (-liking[c], c)))


def with_log(trip: Trip, told: Preferences) -> tuple[Trip, tuple[str, ...]]:
    """The trip with the log's say in its wishes, and the sentences that show it; the captain's own colours first."""
    colours = liked_colours(trip, told)
    own = trip.wishes.preferred_colours
    both = tuple(dict.fromkeys((*own, *colours)))[:20]
    if both == own:
        return trip, (*told.sentences, "The log changes nothing in the colours preferred.")
    wishes = trip.wishes.model_copy(update={"preferred_colours": both})
    said = f"Preferred colours by the log: {', '.join(colours)}" + (
        f"; after your own: {', '.join(own)}." if own else "."
    )
    return trip.model_copy(update={"wishes": wishes}), (*told.sentences, said)


def changed_trip_file(text: str, trip: Trip, told: Preferences) -> str:
    """The trip file's text with the log's say in it, its reasons as comments; all else stays as it was written."""
    changed, sentences = with_log(trip, told)
    if changed is trip:
        return text
    written = tomlkit.parse(text)
    if "wishes" not in written:
        written["wishes"] = tomlkit.table()
    wishes = written["wishes"]
    assert isinstance(wishes, tomlkit.items.Table)
    wishes["preferred_colours"] = list(changed.wishes.preferred_colours)
    for sentence in sentences:
        wishes.add(tomlkit.comment(sentence))
    return tomlkit.dumps(written)


def planned_rig(plan_file: Path, rod: str) -> FishedRig:
    """The rig that a stored plan gives a rod. Raises Faults where there is no such plan; KeyError for no such rod."""
    plan = stored_plan(plan_file)
    assert isinstance(plan, Plan)
    its = plan.rod(rod)
    return FishedRig(
        station=its.station, mark=its.mark, weight=its.weight, shock_leader=its.shock_leader,
        bite_leader=its.bite_leader, lure=its.lure,
    )  # fmt: skip
