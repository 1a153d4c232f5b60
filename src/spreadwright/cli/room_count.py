"""`spreadwright room count`: the counting walk in the terminal, kind by kind, stopped and taken up again at will."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.room_shared import AsJson, OfBoat, StoreAt, Who, amount_of, boat_id, opened, put
from spreadwright.cli.room_words import stop_words, walk_value, walk_words

if TYPE_CHECKING:
    from spreadwright.stock.walk import Walk
    from spreadwright.store.open import Store


def count(
    found: Annotated[
        list[str] | None, typer.Option("--found", metavar="'NAME=3'", help="What was counted; may be given again.")
    ] = None,
    finish: Annotated[bool, typer.Option("--finish", help="End the walk: counts become history.")] = False,
    drop: Annotated[bool, typer.Option("--drop", help="End the walk as if it had not been.")] = False,
    boat: OfBoat = "",
    who: Who = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Count the fit pieces, kind by kind. Stop at any time; the next `room count` goes on where you were.

    In a terminal it asks piece by piece: Enter for as many as expected, a number, 's' to skip, 'q' to stop. Nothing
    changes until the walk is finished; then every difference becomes part of the history.
    """
    with opened(where, as_json) as store:
        from spreadwright.store.room_walk import begin_walk, drop_walk, finish_walk

        owner = boat_id(store, boat)
        walk = begin_walk(store, owner, who)
        for each in found or ():
            _count_one(store, walk, each)
        if not (found or finish or drop or as_json) and _somebody_is_there():
            _ask(store, walk)
        walk = begin_walk(store, owner, who)
        said = walk_words(walk)
        if drop:
            drop_walk(store, walk.id)
            said = "The walk is dropped; nothing changed."
        elif finish:
            walk = finish_walk(store, walk.id)
            said = f"Finished: {walk_words(walk)}"
        elif walk.next is not None:
            said += f"\nnext: {stop_words(walk.next)}\nCount with --found 'NAME=3', end with --finish or --drop."
        else:
            said += "\nAll counted: end the walk with `spreadwright room count --finish`."
        put(as_json, walk_value(walk), said)


def _somebody_is_there() -> bool:
    return sys.stdin.isatty()


def _count_one(store: Store, walk: Walk, given: str) -> None:
    from spreadwright.faults import Fault, Faults
    from spreadwright.stock.room import Room
    from spreadwright.store.room_walk import count_in_walk

    name, sign, number = given.rpartition("=")
    if not sign:
        raise Faults([Fault("--found", given, "a count is NAME=NUMBER", "write it as --found 'NAME=3'")])
    kind, mark, rest = name.partition(":")
    pieces = Room(tuple(stop.piece for stop in walk.stops), {})
    known = {stop.piece.kind for stop in walk.stops}
    piece = pieces.find(rest, kind.strip()) if mark and kind.strip() in known else pieces.find(name)
    count_in_walk(store, walk.id, piece.id, amount_of(piece, number))


def _ask(store: Store, walk: Walk) -> None:
    """Ask at every stop that was not counted yet, until all are or the captain stops."""
    from spreadwright.faults import Faults
    from spreadwright.stock.amounts import show_amount
    from spreadwright.store.room_walk import count_in_walk

    for stop in walk.stops:
        while stop.counted is None:
            expected = show_amount(stop.piece.sort, stop.expected)
            said = typer.prompt(f"{stop_words(stop)}. Counted (s skip, q stop)", default=expected)
            if said.strip().lower() == "q":
                return
            if said.strip().lower() == "s":
                break
            try:
                number = stop.expected if said == expected else amount_of(stop.piece, said)
                count_in_walk(store, walk.id, stop.piece.id, number)
                break
            except Faults as faults:
                typer.echo(str(faults), err=True)


COMMANDS = (count,)
