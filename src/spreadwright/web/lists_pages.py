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

from spreadwright.faults import Fault, Faults
from spreadwright.plan.value import Plan
from spreadwright.quantity import System
from spreadwright.sheets.wording import by_clear, by_set_out
from spreadwright.stock.lists.make import make_lists
from spreadwright.stock.lists.text import list_text, lists_text
from spreadwright.stock.lists.value import Item, ListName, TripLists
from spreadwright.store.open import Store, open_store
from spreadwright.store.room_lists import (
    KeptLists,
    boat_of_trip,
    bought,
    keep_lists,
    kept_lists,
    tick,
    what_to_count,
)
from spreadwright.store.room_work import make_up
from spreadwright.web.kept import Kept, KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import AskedTrip, Asker, ThisServer, by_form, units_for

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Several = Annotated[list[str], Form(default_factory=list)]


@dataclass(frozen=True)
class Listed:
    """A trip's lists as they stand: ticked holds ids of items; own_shelf: the trip's shelf stood in for the room;
    takes_in: ids of what can be taken into the room once it is bought; makes_up: of what can be made up from parts that
    are in the room."""

    lists: TripLists
    ticked: frozenset[str]
    own_shelf: bool
    takes_in: frozenset[str]
    makes_up: frozenset[str]


def lists_as_they_stand(store: Store, kept: KeptTrip, plan: Plan, system: System) -> Listed:
    """Make a trip's lists against the store's room, or the trip's shelf where that room is empty."""
    trip, found = kept.trip, what_to_count(store, kept.trip)
    made = make_lists(
        trip, plan.rods, found.room, loss_rates=found.loss_rates, intervals=found.intervals, system=system,
        counted=found.words,
    )  # fmt: skip
    here = set() if found.own_shelf else {(piece.kind, piece.name) for piece in found.room.pieces}
    takes_in = frozenset(item.id for item in made.list("buy").items if (item.kind, item.name) in here and item.amount)
    makes_up = frozenset(item.id for item in made.list("bench").items if _can_be_made(item, here))
    before = _before(store, kept)
    ticked = before.ticked & _ids(made) if before is not None else frozenset()
    return Listed(made, ticked, found.own_shelf, takes_in, makes_up)


def _can_be_made(item: Item, here: set[tuple[str, str]]) -> bool:
    """True where the piece itself and all that it takes, coil among it, are sorts of gear in the room."""
    of = {(each.kind, each.name) for each in item.takes} | {(item.kind, item.name)}
    return of <= here and any(each.kind == "coil" for each in item.takes)


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
    made = keep_lists(store, listed.lists, boat_of_trip(store, kept.trip))
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
    kept: AskedTrip, parts: ThisServer, asker: Asker, done: Several, was: Several,
    take_in: Annotated[str, Form()] = "", made: Annotated[str, Form()] = "",
) -> RedirectResponse:  # fmt: skip
    """Keep the ticks. Only what changed since the page was shown is changed, so two phones do not undo one another.

    done     ids of what is ticked; was: of what was ticked when the page was shown
    take_in  id of what was bought and goes into the room, ticked in the same moment
    made     id of what was made up at the bench, and how many: its parts leave the shelf in the same moment
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
        if made:
            _make_up(store, listed, made, boat_of_trip(store, kept.trip))
        for item in sorted((set(done) ^ set(was)) - {take_in}):
            tick(store, ours, item, item in done)
    return back


def _make_up(store: Store, listed: Listed, asked: str, owner: str) -> None:
    """Make up an item of the bench list as it stands. Raises Faults where the list is another by now.

    asked   the item's id and how many the page showed, so that a second press does not make it twice
    """
    there = {
        f"{item.id} {item.amount}": item for item in listed.lists.list("bench").items if item.id in listed.makes_up
    }
    item = there.get(asked)
    if item is None:
        rule = "what the bench list asks for is made up once, as the list stands now"
        raise Faults([Fault("bench", "an item that is made up by now, or changed", rule, "load the page again")])
    make_up(store, item.kind, item.name, item.amount, item.takes, boat=owner or None)


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
