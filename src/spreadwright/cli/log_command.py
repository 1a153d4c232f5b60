"""`spreadwright log`: what happened, taken in from deck sheet, table, track or by hand, and what it tells."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from spreadwright.cli.log_add import add
from spreadwright.cli.log_asked import (
    BoatName,
    Json,
    Place,
    TripOption,
    Where,
    Zone,
    asked,
    faulty,
    opened,
    place_asked,
    shown,
    time_asked,
    trip_asked,
    zone_asked,
)
from spreadwright.cli.running import NONE_COMPUTED, Tell, with_progress
from spreadwright.cli.width import terminal_width

log = typer.Typer(
    name="log",
    help="The logbook: lines in the water, strikes, tracks, and what they say about what works.",
    no_args_is_help=True,
)
By = Annotated[
    list[str] | None, typer.Option(metavar="FACTOR", help="distance, station, mark, weight, lure, colour, wash, light, "
                                   "turn, depth or speed; may be repeated; all if left out.")
]  # fmt: skip


log.command("add")(add)


@log.command("undo")
def undo(
    entry: Annotated[str, typer.Argument(metavar="ID", help="The entry's id, or its first eight digits.")],
    store: Where = "",
    as_json: Json = False,
) -> None:
    """Take an entry back. Nothing is erased: the log says that it was taken back, and that can be taken back too."""
    with opened(store, as_json) as kept:
        import uuid

        from spreadwright.logbook.entry import Entry
        from spreadwright.store.log_keep import add_entries, kept_log

        whole = kept_log(kept)
        meant = [name for name in whole.entries if name.startswith(entry.lower())] if len(entry) >= 4 else []
        if len(meant) != 1:
            given = f"{entry!r}, which {len(meant)} entries begin with" if meant else repr(entry)
            rule = "an id is written with at least its first four signs" if len(entry) < 4 else "no entry has that id"
            rule = "more of it must be written, so that it names one entry" if meant else rule
            raise faulty("the id", given, rule, "see the ids in `spreadwright log list`")
        back = Entry(id=uuid.uuid4().hex, kind="undo", of=meant[0], at=time_asked("", zone_asked("")))
        add_entries(kept, whole.sheets[whole.sheet_of[meant[0]]], [back])
        shown(as_json, lambda: back.model_dump_json(exclude_defaults=True), lambda: f"Taken back ({back.id[:8]}).\n")


@log.command("import")
def take_in(
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE...", help="Deck sheets' exports (JSON) or tables (CSV).")
    ],
    trip: Annotated[str, typer.Option(metavar="TITLE", help="The trip of a table; its file's name if left out.")] = "",
    boat: str = "",
    zone: Zone = "",
    leave_out_faulty: Annotated[
        bool, typer.Option("--leave-out-faulty", help="Take the sound entries in even if others are faulty.")
    ] = False,
    store: Where = "",
    as_json: Json = False,
) -> None:
    """Take in the deck sheet's export or a table. Reading a file twice, or two phones in any order, changes nothing."""
    with opened(store, as_json, begin=True) as kept:
        from spreadwright.store.log_import import import_file

        told: list[dict[str, Any]] = []
        words: list[str] = []
        where = zone_asked(zone) if zone else None
        for path in files:
            found = import_file(kept, path, where, trip, boat, leave_out_faulty)
            words += [f"{found.source}: {found.added.sentence}", *found.remarks]
            words += (
                [f"{len(found.left_out)} faults:\n" + "\n".join(map(str, found.left_out))] if found.left_out else []
            )
            told.append({"file": found.source, "sheet": found.sheet.id, "new": found.added.new,
                         "known": found.added.known, "fuller": found.added.fuller,
                         "left_out": len(found.left_out), "remarks": list(found.remarks)})  # fmt: skip
        shown(as_json, lambda: json.dumps({"format": "spreadwright log import", "version": 1, "files": told}, indent=1),
              lambda: "\n".join(words) + "\n")  # fmt: skip


@log.command("list")
def show_list(
    last: Annotated[int, typer.Option(min=0, help="How many strikes to show.")] = 30,
    table: Annotated[bool, typer.Option("--csv", help="Write all entries that stand as a CSV table.")] = False,
    units: Annotated[str, typer.Option(help="us or metric.")] = "us",
    zone: Zone = "",
    boat: BoatName = "",
    store: Where = "",
    as_json: Json = False,
) -> None:
    """List trips, hours and strikes; --json writes the whole log as it can be taken in again elsewhere."""
    where = asked(lambda: zone_asked(zone), as_json)
    with opened(store, as_json) as kept:
        from spreadwright.logbook.csv_log import csv_text
        from spreadwright.logbook.entry import standing
        from spreadwright.sheets.log_report import book_text
        from spreadwright.store.log_import import whole_log_text
        from spreadwright.store.log_keep import kept_bites, kept_log

        whole = kept_log(kept, boat or None)
        if table:
            typer.echo(csv_text(standing(whole.entries)), nl=False)
            return

        system = "metric" if units == "metric" else "us"
        shown(as_json, lambda: whole_log_text(whole),
              lambda: book_text(whole.book(), kept_bites(kept)[0], where, system, last, terminal_width()))  # type: ignore[arg-type]  # fmt: skip


@log.command("rates")
def show_rates(
    by: By = None,
    trip: TripOption = None,
    place: Place = "",
    zone: Zone = "",
    boat: BoatName = "",
    store: Where = "",
    as_json: Json = False,
) -> None:
    """What works: strikes an hour by each factor, with the doubt, who is likely better, and what would settle it."""
    with opened(store, as_json) as kept:
        from spreadwright.logbook.factors import NAMES
        from spreadwright.logbook.rates import RateReport, rate_report
        from spreadwright.plan.log_use import knowledge
        from spreadwright.sheets.log_report import rates_text
        from spreadwright.store.log_keep import log_of

        unknown = [name for name in by or () if name not in NAMES]
        if unknown:
            raise faulty("--by", repr(unknown[0]), f"factors are {', '.join(NAMES)}", "name one of them")
        asked, where, shelf = place_asked(place), zone_asked(zone), trip_asked(trip)

        def work(_: Tell) -> RateReport:
            book = log_of(kept, boat or None)
            return rate_report(book, knowledge(kept, book, shelf, asked, where), tuple(by or NAMES))

        report = with_progress(work, quiet=as_json)
        shown(as_json, lambda: report.model_dump_json(indent=1), lambda: rates_text(report, terminal_width()))
        if not report.factors:
            raise typer.Exit(NONE_COMPUTED)


@log.command("track")
def take_track(
    files: Annotated[list[Path] | None, typer.Argument(metavar="[FILE]...", help="GPX 1.1 or NMEA 0183 logs.")] = None,
    trip: TripOption = None,
    strikes_only: Annotated[
        bool, typer.Option("--strikes-only", help="Tow the bitten lines only, not all day.")
    ] = False,
    boat: BoatName = "",
    store: Where = "",
    as_json: Json = False,
) -> None:
    """Take in recorded tracks; with the trip file, tow the logged lines along them: depth and speed at each bite."""
    with opened(store, as_json, begin=bool(files)) as kept:
        from spreadwright.logbook.track_file import read_track
        from spreadwright.store.log_tracks import add_track

        sentences: list[str] = []
        for path in files or ():
            track = read_track(path)
            sentences += track.report.sentences
            if len(track) and not add_track(kept, track):
                sentences.append(f"{path.name} was kept already.")
        bites: list[dict[str, Any]] = []
        if trip is not None:
            found = _towed(kept, trip, boat, not strikes_only, as_json)
            sentences += found[0]
            bites = found[1]
        elif files:
            sentences.append("Name the trip file (--trip TRIP.toml) to tow the logged lines along the track.")
        if not files and trip is None:
            raise faulty("the command", "neither a track nor a trip file", "one of them is needed", "name a track")
        told = {"format": "spreadwright track", "version": 1, "sentences": sentences, "bites": bites}
        from spreadwright.sheets.wrapping import wrapped

        shown(as_json, lambda: json.dumps(told, indent=1), lambda: wrapped(sentences, terminal_width()) + "\n")


def _towed(kept: Any, trip: Path, boat: str, whole_day: bool, quiet: bool) -> tuple[list[str], list[dict[str, Any]]]:
    """Tow the logged lines and keep what comes of it: sentences, and the bites as JSON has them."""
    from spreadwright.plan.at_the_bite import AtTheBite, at_the_bite
    from spreadwright.sheets.log_report import bite_words
    from spreadwright.store.log_keep import log_of, put_bites
    from spreadwright.store.log_tracks import kept_track

    shelf = trip_asked(trip)
    assert shelf is not None
    book = log_of(kept, boat or None)

    def work(tell: Tell) -> AtTheBite:
        return at_the_bite(shelf, book, kept_track(kept), whole_day, tell)

    found = with_progress(work, quiet=quiet)
    put_bites(kept, found.bites, found.ran)
    entries = {strike.entry.id: strike.entry for strike in book.strikes}
    words = [f"{len(found.bites)} of {len(book.strikes)} strikes lie on the track.", *found.sentences]
    words += [f"{entries[b.entry].at:%Y-%m-%d %H:%M:%S} UTC, {entries[b.entry].rod}: {bite_words(b, shelf.units)}"
              for b in found.bites]  # fmt: skip
    return words, [bite.model_dump(mode="json") for bite in found.bites]


@log.command("suggest")
def show_suggestion(
    by: Annotated[str, typer.Option(metavar="FACTOR", help="What to change: lure, colour, weight, mark ...")] = "lure",
    trip: TripOption = None,
    seed: Annotated[int | None, typer.Option(min=0, help="Draw the same lot again.", show_default=False)] = None,
    boat: BoatName = "",
    store: Where = "",
    as_json: Json = False,
) -> None:
    """Draw the next hour's change by lot: what may be best is tried as often as it may be best."""
    with opened(store, as_json) as kept:
        import secrets

        from spreadwright.logbook.factors import NAMES
        from spreadwright.logbook.suggest import suggest
        from spreadwright.plan.log_use import knowledge
        from spreadwright.sheets.log_report import suggestion_text
        from spreadwright.store.log_keep import log_of

        if by not in NAMES:
            raise faulty("--by", repr(by), f"factors are {', '.join(NAMES)}", "name one of them")
        shelf, book = trip_asked(trip), log_of(kept, boat or None)
        more = [lure.name for lure in shelf.shelf.lures if lure.count > 0] if shelf and by == "lure" else []
        lot = secrets.randbelow(10**6) if seed is None else seed
        found = suggest(book, lot, by, more, known=knowledge(kept, book, shelf))
        if isinstance(found, str):
            typer.echo(f"No suggestion: {found}.\nnext: {_how_to_have_one(by)}", err=True)
            raise typer.Exit(NONE_COMPUTED)
        shown(as_json, lambda: found.model_dump_json(indent=1), lambda: suggestion_text(found, terminal_width()))


_ADDED = ("lure", "weight", "mark", "station")  # what `log add out` says of a line


def _how_to_have_one(by: str) -> str:
    if by not in _ADDED:
        return f"ask by {', '.join(_ADDED[:-1])} or {_ADDED[-1]}, such as `spreadwright log suggest --by lure`"
    more = "; with --trip TRIP.toml the lures on the trip's shelf are drawn from too" if by == "lure" else ""
    return f"log the lines that are out, two of them with another {by}: `spreadwright log add out ROD --{by} ...`{more}"


@log.command("uses")
def show_uses(
    trip: TripOption = None,
    write: Annotated[
        Path | None, typer.Option(metavar="NEW.toml", help="Write the trip file with the log's say in its wishes.")
    ] = None,
    boat: BoatName = "",
    store: Where = "",
    as_json: Json = False,
) -> None:
    """Show what the log feeds: loss rates to the spares, preferences to the choice of lures."""
    with opened(store, as_json) as kept:
        from spreadwright.cli.running import put_file
        from spreadwright.plan.log_use import changed_trip_file, learnt, log_uses
        from spreadwright.sheets.wrapping import wrapped

        shelf = trip_asked(trip)
        found = log_uses(kept, shelf, boat or None)
        if write is not None:
            if shelf is None or trip is None:
                raise faulty(
                    "--write", str(write), "a changed trip file is made from a trip file", "name it with --trip"
                )
            text = trip.read_text(encoding="utf-8-sig")
            put_file(write, changed_trip_file(text, shelf, learnt(kept, shelf, boat or None)))
        shown(
            as_json, lambda: found.model_dump_json(indent=1), lambda: wrapped(found.sentences, terminal_width()) + "\n"
        )
