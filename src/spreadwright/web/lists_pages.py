"""The Lists page of a trip: what to buy, make up, re-mark, pack and check, against the tackle room, with kept ticks.

Where the tackle room is empty the trip's own shelf takes its place. Ticks lie in the store with the lists they belong
to; lists made anew, after a change of plan or room, take over the ticks of what is still on them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Form, Query, Request
from fastapi.responses import PlainTextResponse
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Faults
from spreadwright.plan.value import Plan
from spreadwright.quantity import System
from spreadwright.sheets.wording import by_clear, by_set_out
from spreadwright.stock.fill import from_trip
from spreadwright.stock.lists.make import make_lists
from spreadwright.stock.lists.text import list_text, lists_text
from spreadwright.stock.lists.value import ListName, TripLists
from spreadwright.stock.replay import replay
from spreadwright.stock.room import Room
from spreadwright.store.open import Store, open_store
from spreadwright.store.room import read_room, start_of
from spreadwright.store.room_boats import every_boat
from spreadwright.store.room_lists import KeptLists, bought, keep_lists, kept_intervals, kept_lists, tick
from spreadwright.store.room_losses import learnt_rates
from spreadwright.tackle import Trip
from spreadwright.web.kept import Kept, KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import AskedTrip, Asker, ThisServer, by_form, units_for

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Several = Annotated[list[str], Form(default_factory=list)]


@dataclass(frozen=True)
class Listed:
    """A trip's lists as they stand: ticked holds ids of items; own_shelf: the trip's shelf stood in for the room;
    takes_in: ids of what can be taken into the room once it is bought."""

    lists: TripLists
    ticked: frozenset[str]
    own_shelf: bool
    takes_in: frozenset[str]


def own_shelf(trip: Trip) -> Room:
    """A room that holds what the trip file's shelf says, and nothing else."""
    found = from_trip(trip)
    events = [event for each in found for event in start_of(each.piece, each.count)]
    return Room(tuple(each.piece for each in found), replay(events).states)


def lists_as_they_stand(store: Store, kept: KeptTrip, plan: Plan, system: System) -> Listed:
    """Make a trip's lists against the store's room, or the trip's shelf where that room is empty."""
    trip = kept.trip
    whole, owner = read_room(store), _owner(store, trip)
    room = whole.of(owner or None) if whole.pieces else own_shelf(trip)
    made = make_lists(
        trip, plan.rods, room, loss_rates=learnt_rates(store), intervals=kept_intervals(store), system=system
    )
    here = {(piece.kind, piece.name) for piece in whole.pieces}
    takes_in = frozenset(item.id for item in made.list("buy").items if (item.kind, item.name) in here and item.amount)
    before = _before(store, kept)
    ticked = before.ticked & _ids(made) if before is not None else frozenset()
    return Listed(made, ticked, not whole.pieces, takes_in)


def _owner(store: Store, trip: Trip) -> str:
    """The id of the trip's boat, where the store has a boat of that name."""
    wanted = trip.boat.name.strip().casefold()
    return next((boat.id for boat in every_boat(store) if boat.name.casefold() == wanted), "")


def _ids(lists: TripLists) -> frozenset[str]:
    return frozenset(item.id for each in lists.lists for item in each.items)


def _before(store: Store, kept: KeptTrip) -> KeptLists | None:
    """The lists that hold this trip's ticks; None where there are none, or they went with another store."""
    if not kept.lists:
        return None
    try:
        return kept_lists(store, kept.lists)
    except Faults:
        return None


def to_tick(store: Store, kept_trips: Kept, kept: KeptTrip, listed: Listed) -> KeptLists:
    """Lists in the store that can be ticked: those there are, or new ones with the old ones' ticks."""
    before = _before(store, kept)
    if before is not None and _ids(listed.lists) <= _ids(before.lists):
        return before
    made = keep_lists(store, listed.lists, _owner(store, kept.trip))
    for item in listed.ticked:
        tick(store, made, item)
    kept_trips.put_lists(kept, made.id)
    return made


@router.get("/trips/{trip}/lists")
def lists(request: Request, kept: AskedTrip, parts: ThisServer, asker: Asker) -> Response:
    """What to buy, make up, re-mark, pack and check, the order to set out and clear, and the cards to print."""
    plan = kept.plan
    if plan is None:
        return page(request, "no_plan.html", kept, here="lists")
    with open_store(parts.settings.store) as store:
        listed = lists_as_they_stand(store, kept, plan, units_for(asker, kept))
    return page(request, "lists.html", kept, here="lists", listed=listed, out=by_set_out(plan), clear=by_clear(plan))


@router.post("/trips/{trip}/lists", dependencies=FORM)
def change_ticks(
    kept: AskedTrip, parts: ThisServer, asker: Asker, done: Several, was: Several, take_in: Annotated[str, Form()] = ""
) -> RedirectResponse:
    """Keep the ticks. Only what changed since the page was shown is changed, so two phones do not undo one another.

    done     ids of what is ticked; was: of what was ticked when the page was shown
    take_in  id of what was bought and goes into the room, ticked in the same moment
    """
    back = RedirectResponse(f"/trips/{kept.name}/lists", 303)
    if kept.plan is None:
        return back
    with kept.lock, open_store(parts.settings.store) as store:  # two first ticks at once make one set of lists
        listed = lists_as_they_stand(store, kept, kept.plan, units_for(asker, kept))
        ours = to_tick(store, parts.kept, kept, listed)
        if take_in:
            amounts = {item.id: item.amount for item in listed.lists.list("buy").items}
            bought(store, ours, take_in, amounts.get(take_in))
        for item in sorted((set(done) ^ set(was)) - {take_in}):
            tick(store, ours, item, item in done)
    return back


@router.get("/trips/{trip}/lists.txt")
def as_text(
    kept: AskedTrip, parts: ThisServer, asker: Asker, only: Annotated[ListName | None, Query()] = None
) -> Response:
    """The lists as plain text, with their ticks, to send to any phone."""
    if kept.plan is None:
        return PlainTextResponse("There is no plan yet: make it first, and the lists follow from it.\n", 404)
    with open_store(parts.settings.store) as store:
        listed = lists_as_they_stand(store, kept, kept.plan, units_for(asker, kept))
    made = listed.lists
    return PlainTextResponse(
        lists_text(made, listed.ticked) if only is None else list_text(made.list(only), listed.ticked)
    )
