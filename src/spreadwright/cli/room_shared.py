"""What the tackle room's commands share: options, the open store, faults, a piece by its name, amounts with units."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING, Annotated, Any

import typer

from spreadwright.cli.running import at_fault, put_json

if TYPE_CHECKING:
    from spreadwright.stock.piece import Piece
    from spreadwright.stock.room import Room
    from spreadwright.store.open import Store

StoreAt = Annotated[
    str | None,
    typer.Option(
        "--store", metavar="WHERE", help="An SQLite file or postgresql:// address; else the usual place.",
        show_default=False,
    ),
]  # fmt: skip
AsJson = Annotated[bool, typer.Option("--json", help="Write the answer as JSON, in SI units.")]
Who = Annotated[str, typer.Option("--who", metavar="NAME", help="Who did it.", show_default=False)]
OfKind = Annotated[
    str, typer.Option("--kind", metavar="KIND", help="Which kind, where two are called so.", show_default=False)
]
OfBoat = Annotated[
    str, typer.Option("--boat", metavar="NAME", help="One boat's gear; all of it if left out.", show_default=False)
]
Note = Annotated[str, typer.Option("--note", metavar="WORDS", help="Anything worth remembering.", show_default=False)]


@contextmanager
def opened(where: str | None, as_json: bool, *, begin: bool = False) -> Iterator[Store]:
    """The store, open; every fault inside is shown and ends the command. begin: a new one is made where none is."""
    from spreadwright.faults import Faults
    from spreadwright.store.open import open_store

    try:
        with open_store(where, begin=begin) as store:
            yield store
    except Faults as faults:
        raise at_fault(faults, as_json) from None


def boat_id(store: Store, name: str) -> str:
    """The id of a boat by name; empty for none."""
    from spreadwright.store.room_boats import find_boat

    return find_boat(store, name).id if name else ""


def room_of(store: Store, boat: str) -> Room:
    """The room, or what one boat may take of it."""
    from spreadwright.store.room import read_room

    return read_room(store).of(boat_id(store, boat) or None)


def day_asked(option: str, text: str) -> date | None:
    """The day of a text; None where nothing is given. Raises Faults."""
    from spreadwright.faults import Fault, Faults

    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        rule = "a date is year-month-day"
        raise Faults([Fault(option, repr(text), rule, "write it as 2031-03-08")], "the command line") from None


def amount_of(piece: Piece, text: str) -> int:
    """How many, as typed: a whole number of pieces, or a length of coil such as '20 ft'. Raises Faults."""
    from spreadwright.stock.amounts import read_amount

    return read_amount(piece.sort, text)


def put(as_json: bool, value: dict[str, Any], said: str) -> None:
    """The answer, as JSON or in words."""
    if as_json:
        put_json(json.dumps(value, ensure_ascii=False, indent=1))
    else:
        from spreadwright.cli.width import fitted

        typer.echo(fitted(said))
