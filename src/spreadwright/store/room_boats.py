"""Boats and their crews in the store: each boat has its own gear beside what all share."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import insert, select
from sqlalchemy.exc import IntegrityError

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import quote
from spreadwright.stock.piece import new_id
from spreadwright.store.open import Store
from spreadwright.store.tables import boats, crew


@dataclass(frozen=True, slots=True)
class CrewMember:
    """Somebody who fishes from a boat, and what they do aboard."""

    id: str
    name: str
    duty: str


@dataclass(frozen=True, slots=True)
class OwnBoat:
    """A boat with its crew."""

    id: str
    name: str
    note: str
    crew: tuple[CrewMember, ...] = ()


def every_boat(store: Store) -> tuple[OwnBoat, ...]:
    """All boats with their crews, by name."""
    with store.reading() as connection:
        people = connection.execute(select(crew)).all()
        rows = connection.execute(select(boats)).all()
    aboard: dict[str, list[CrewMember]] = {row.id: [] for row in rows}
    for person in sorted(people, key=lambda person: str(person.name)):
        aboard[person.boat_id].append(CrewMember(person.id, person.name, person.duty))
    return tuple(
        OwnBoat(row.id, row.name, row.note, tuple(aboard[row.id]))
        for row in sorted(rows, key=lambda row: str(row.name))
    )


def find_boat(store: Store, name: str) -> OwnBoat:
    """The boat of that name (or id). Raises Faults, with the names there are, if there is none."""
    every = every_boat(store)
    wanted = name.strip().casefold()
    for boat in every:
        if wanted in (boat.id, boat.name.casefold()):
            return boat
    names = ", ".join(boat.name for boat in every) or "none yet"
    step = "correct the name, or add the boat with `spreadwright room boat NAME`"
    raise Faults([Fault("boat", quote(name), f"boats in this store: {names}", step)])


def add_boat(store: Store, name: str, note: str = "") -> OwnBoat:
    """A new boat. Raises Faults for a name that is empty, too long or taken."""
    called = _name(name, "boat")
    if any(boat.name.casefold() == called.casefold() for boat in every_boat(store)):
        raise Faults([Fault("boat", quote(name), "there is a boat of that name already", "choose another name")])
    made = OwnBoat(new_id(), called, note)
    try:
        with store.writing() as connection:
            connection.execute(insert(boats).values(id=made.id, name=called, note=note))
    except IntegrityError:
        raise Faults([Fault("boat", quote(name), "there is a boat of that name already", "choose another")]) from None
    return made


def sign_on(store: Store, boat: OwnBoat, name: str, duty: str = "") -> CrewMember:
    """Put somebody on a boat's crew. Raises Faults where they are on it already, or the boat is gone."""
    member = CrewMember(new_id(), _name(name, "crew"), duty.strip())
    try:
        with store.writing() as connection:
            connection.execute(insert(crew).values(id=member.id, boat_id=boat.id, name=member.name, duty=member.duty))
    except IntegrityError:
        rule = f"a name stands once on the crew of {boat.name}"
        raise Faults([Fault("crew", quote(name), rule, "choose another name")]) from None
    return member


def _name(given: str, place: str) -> str:
    name = " ".join(given.split())
    if not 1 <= len(name) <= 80 or not name.isprintable():
        raise Faults([Fault(place, quote(given), "a name has 1 to 80 printable characters", "write it again")])
    return name
