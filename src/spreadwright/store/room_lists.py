"""Lists kept in the store, ticked off by any phone, and what was bought taken in; intervals of inspection."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, insert, select, update

from spreadwright.faults import Fault, Faults
from spreadwright.stock.event import happened, now
from spreadwright.stock.fill import shelf_room
from spreadwright.stock.inspection import INTERVALS, Interval
from spreadwright.stock.lists.value import Item, TripLists
from spreadwright.stock.losses import Rate
from spreadwright.stock.piece import new_id
from spreadwright.stock.room import Room
from spreadwright.store.open import Store
from spreadwright.store.room import read_room, write_events
from spreadwright.store.room_boats import every_boat, find_boat
from spreadwright.store.room_losses import learnt_rates
from spreadwright.store.room_rows import moment, moment_text
from spreadwright.store.room_tables import intervals, list_ticks, lists
from spreadwright.tackle.trip import Trip


@dataclass(frozen=True)
class Counting:
    """What a trip's lists are counted against: the room, the loss rates and intervals kept with it, and its words.

    words      as they read after "counted against"
    own_shelf  True where the room is empty, so that the trip file's shelf stands in for it
    """

    room: Room
    loss_rates: Mapping[str, Rate]
    intervals: Mapping[str, Interval]
    words: str
    own_shelf: bool
    owner: str


def what_to_count(store: Store, trip: Trip, boat: str = "") -> Counting:
    """The room of a boat (by name; else that of the trip's boat, where the store has it), or the trip's shelf.

    Every face counts through this, so that the plan, the lists and the cards agree. Raises Faults for an unknown boat.
    """
    owner = find_boat(store, boat).id if boat else boat_of_trip(store, trip)
    whole = read_room(store)
    room = whole.of(owner or None) if whole.pieces else shelf_room(trip)
    words = f"the tackle room in {store.place.shown}, with spares by the losses to expect"
    if not whole.pieces:
        words = "the trip file's shelf (the tackle room is empty), with spares by the losses to expect"
    return Counting(room, learnt_rates(store, boat or None), kept_intervals(store), words, not whole.pieces, owner)


def boat_of_trip(store: Store, trip: Trip) -> str:
    """The id of the trip's boat, where the store has a boat of that name; else empty."""
    wanted = trip.boat.name.strip().casefold()
    return next((boat.id for boat in every_boat(store) if boat.name.casefold() == wanted), "")


@dataclass(frozen=True)
class KeptLists:
    """Lists as they are kept: id, when they were made, the lists, and which items (by id) are ticked off."""

    id: str
    made: datetime
    lists: TripLists
    ticked: frozenset[str]


def keep_lists(store: Store, made: TripLists, boat: str = "") -> KeptLists:
    """Keep a trip's lists, to tick them off. A tick is lost only with its list: lists are never overwritten."""
    kept = KeptLists(new_id(), now(), made, frozenset())
    with store.writing() as connection:
        connection.execute(
            insert(lists).values(
                id=kept.id, boat_id=boat or None, title=made.title, made_at=moment_text(kept.made),
                content=made.model_dump_json(),
            )
        )  # fmt: skip
    return kept


def kept_lists(store: Store, identity: str = "") -> KeptLists:
    """The lists of that id, or the newest. Raises Faults where there are none."""
    asked = select(lists).order_by(lists.c.made_at.desc(), lists.c.id).limit(1)
    if identity:
        asked = asked.where(lists.c.id == identity)
    with store.reading() as connection:
        row = connection.execute(asked).first()
        if row is None:
            step = "make them with `spreadwright lists TRIP.toml --keep`"
            raise Faults(
                [Fault("lists", identity or "none kept yet", "lists are kept before they are ticked off", step)]
            )
        ticks = connection.execute(select(list_ticks.c.item).where(list_ticks.c.list_id == row.id)).scalars()
        return KeptLists(row.id, moment(row.made_at), TripLists.model_validate_json(row.content), frozenset(ticks))


def tick(store: Store, kept: KeptLists, item: str, done: bool = True, who: str = "") -> None:
    """Tick an item (by id) off, or take the tick back; twice is once. Raises Faults for no such item."""
    _item(kept, item)
    mine = (list_ticks.c.list_id == kept.id, list_ticks.c.item == item)
    with store.writing() as connection:
        there = connection.execute(select(list_ticks.c.item).where(*mine)).first() is not None
        if done and not there:
            values = {"list_id": kept.id, "item": item, "ticked_at": moment_text(now()), "who": who}
            connection.execute(insert(list_ticks).values(**values))
        elif not done and there:
            connection.execute(delete(list_ticks).where(*mine))


def bought(store: Store, kept: KeptLists, item: str, amount: int | None = None, who: str = "") -> None:
    """Tick a line of the shopping list off and take what was bought into the room, in one transaction, once.

    amount   how many (millimetres of a coil), where it was not what the list says. Raises Faults for an item that is
    no piece of the room, or was ticked off already.
    """
    line = _item(kept, item)
    room = read_room(store)
    found = [piece for piece in room.pieces if (piece.kind, piece.name) == (line.kind, line.name)]
    if line not in kept.lists.list("buy").items or not found:
        rule = "only pieces that are in the room, and on the shopping list, are taken in"
        raise Faults([Fault("list", line.said, rule, "add the piece to the room first, with its count")])
    with store.writing() as connection:
        mine = (list_ticks.c.list_id == kept.id, list_ticks.c.item == item)
        if connection.execute(select(list_ticks.c.item).where(*mine)).first() is not None:
            raise Faults([Fault("list", line.said, "it was ticked off already", "record more with `room buy`")])
        number = line.amount if amount is None else amount
        write_events(connection, [happened(found[0].id, "buy", number, who=who, note=kept.lists.title)])
        values = {"list_id": kept.id, "item": item, "ticked_at": moment_text(now()), "who": who}
        connection.execute(insert(list_ticks).values(**values))


def _item(kept: KeptLists, item: str) -> Item:
    for each in kept.lists.lists:
        for line in each.items:
            if line.id == item:
                return line
    raise Faults([Fault("list", item, "there is no such item in these lists", "look at the lists again")])


def kept_intervals(store: Store) -> dict[str, Interval]:
    """How long each kind goes between looks: the captain's own where they were set, else the usual."""
    with store.reading() as connection:
        own = {row.kind: Interval(row.days, row.hours) for row in connection.execute(select(intervals))}
    return {**INTERVALS, **own}


def set_interval(store: Store, kind: str, interval: Interval) -> None:
    """Set a kind's own interval. Raises Faults for an unknown kind or for days and hours that are not above zero."""
    if kind not in INTERVALS:
        raise Faults([Fault("kind", kind, f"kinds are: {', '.join(INTERVALS)}", "write one of them")])
    if (interval.days is not None and interval.days < 1) or (interval.hours is not None and not interval.hours > 0.0):
        rule = "an interval is at least a day, and more than no hours"
        raise Faults([Fault("interval", f"{interval.days} days, {interval.hours} h", rule, "correct it")])
    values = {"days": interval.days, "hours": interval.hours}
    with store.writing() as connection:
        if connection.execute(update(intervals).where(intervals.c.kind == kind).values(**values)).rowcount == 0:
            connection.execute(insert(intervals).values(kind=kind, **values))
