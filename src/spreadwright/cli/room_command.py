"""`spreadwright room`: the tackle room: what is there, what happened to it, what needs work, what to look at."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Annotated

import typer

from spreadwright.cli import room_count, room_events, room_exchange, room_restore
from spreadwright.cli.plain_words import PlainWords
from spreadwright.cli.room_shared import AsJson, OfBoat, OfKind, StoreAt, Who, boat_id, day_asked, opened, put, room_of
from spreadwright.cli.running import AT_FAULT

room = typer.Typer(
    help="The tackle room: count, inspect, use, buy, make up; every count can be traced back to what happened.",
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)


@room.command()
def fill(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A trip file (.toml), or a spreadsheet (.csv).")],
    boat: OfBoat = "",
    who: Who = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Put the gear of a trip file or spreadsheet into the room; what is there already keeps its history.

    A trip file only adds what is not there. A spreadsheet also counts: counts that differ become events.
    """
    with opened(where, as_json, begin=True) as store:
        owner = boat_id(store, boat)
        if file.suffix.lower() == ".csv":
            from spreadwright.store.room_sheet import take_sheet

            done = take_sheet(store, _text(file), str(file), boat=owner, who=who)
            new, counted, changed = done.new, done.counted, done.changed
        else:
            from spreadwright.stock.fill import from_trip
            from spreadwright.store.room_work import put_in
            from spreadwright.tackle import read_trip

            new, counted, changed = len(put_in(store, from_trip(read_trip(file), owner), who)), 0, 0
        said = f"{new} new pieces or lots, {counted} counts that differed, {changed} descriptions changed."
        put(as_json, {"new": new, "counted": counted, "changed": changed}, said)


def _text(file: Path) -> str:
    try:
        return file.read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is no UTF-8 text"
        typer.echo(f"{file}: could not be read ({reason}). Save it as CSV in UTF-8.", err=True)
        raise typer.Exit(AT_FAULT) from None


@room.command()
def show(
    kind: Annotated[str, typer.Argument(metavar="[KIND]", help="One kind, such as lure; all if left out.")] = "",
    day: Annotated[
        str, typer.Option(metavar="DATE", help="As it stood at the end of that day (UTC).", show_default=False)
    ] = "",
    boat: OfBoat = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Show what is there: how many are fit, what needs work, where it lies; today, or on any day before."""
    from spreadwright.cli.room_words import room_value, room_words

    with opened(where, as_json) as store:
        from spreadwright.stock.replay import end_of
        from spreadwright.stock.room import Room
        from spreadwright.store.room import read_room

        on = day_asked("--day", day)
        if on and on > datetime.datetime.now(datetime.UTC).date():
            typer.echo(f"{on} is still to come: this is the room as it stands now.", err=True)
        found = read_room(store, end_of(on) if on else None).of(boat_id(store, boat) or None)
        if kind:
            found = Room(tuple(piece for piece in found.pieces if piece.kind == kind.strip().lower()), found.states)
        put(as_json, room_value(found), room_words(found, store.place.shown, kind))


@room.command()
def history(
    name: Annotated[str, typer.Argument(help="The piece, by name or id.")],
    kind: OfKind = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Show everything that happened to a piece."""
    from spreadwright.cli.room_words import history_words, line_value

    with opened(where, as_json) as store:
        from spreadwright.store.room import history_of, read_room

        piece = read_room(store).find(name, kind)
        lines = history_of(store, piece.id)
        value = {"piece": piece.id, "name": piece.name, "history": [line_value(line) for line in lines]}
        put(as_json, value, history_words(piece, lines))


@room.command()
def work(boat: OfBoat = "", where: StoreAt = None, as_json: AsJson = False) -> None:
    """Show the work list: what is wrong with what, and what is usually done about it."""
    from spreadwright.cli.room_words import work_words

    with opened(where, as_json) as store:
        from spreadwright.stock.inspection import work_list

        found = room_of(store, boat)
        entries = work_list(found.pieces, found.states)
        rows = [
            {"fault": w.fault.id, "piece": w.piece.id, "kind": w.piece.kind, "name": w.piece.name, "what": w.fault.what,
             "quantity": w.fault.quantity, "since": w.fault.since.isoformat(), "remedy": w.remedy}
            for w in entries
        ]  # fmt: skip
        put(as_json, {"work": rows}, work_words(entries))


@room.command()
def due(boat: OfBoat = "", where: StoreAt = None, as_json: AsJson = False) -> None:
    """Show what is due for a look by age or hours trolled, overdue first."""
    from spreadwright.cli.room_words import due_words

    with opened(where, as_json) as store:
        from spreadwright.stock.inspection import due_list, today_utc
        from spreadwright.store.room_lists import kept_intervals

        found = room_of(store, boat)
        entries = due_list(found.pieces, found.states, today_utc(), kept_intervals(store))
        rows = [
            {"piece": d.piece.id, "kind": d.piece.kind, "name": d.piece.name, "overdue": d.overdue,
             "day": d.day.isoformat() if d.day else None, "hours_left": d.hours_left, "reason": d.reason}
            for d in entries
        ]  # fmt: skip
        put(as_json, {"due": rows}, due_words(entries))


@room.command()
def looks(
    kind: Annotated[str, typer.Argument(metavar="KIND", help="Such as 'lure' or 'shock leader'.")],
    as_json: AsJson = False,
) -> None:
    """Show what to look and feel for on a kind of gear."""
    from spreadwright.stock.inspection import LOOKS

    if kind.strip().lower() not in LOOKS:
        typer.echo(f"{kind}: kinds are {', '.join(LOOKS)}.", err=True)
        raise typer.Exit(AT_FAULT)
    found = LOOKS[kind.strip().lower()]
    rows = [{"how": look.how, "fault": look.fault, "remedy": look.remedy} for look in found]
    put(as_json, {"looks": rows}, "\n".join(f"{look.how}: {look.fault}? {look.remedy}" for look in found))


for module in (room_count, room_events, room_exchange, room_restore):
    for command in module.COMMANDS:
        room.command(name=command.__name__.removesuffix("_"), cls=PlainWords)(command)
