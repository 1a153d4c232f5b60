"""Keeps the log: takes entries in as often as they come, and gives back what happened."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from spreadwright.logbook.bite import Bite, Ran
from spreadwright.logbook.entry import Entry, Sheet, merged
from spreadwright.logbook.fold import Logbook, fold
from spreadwright.store import log_tables as tables
from spreadwright.store.open import Store

_AT_ONCE = 500  # rows asked for in one query: databases limit how many values one may name


@dataclass(frozen=True, slots=True)
class Added:
    """What an import brought: entries new, known already, and known but now saying more."""

    new: int
    known: int
    fuller: int

    @property
    def sentence(self) -> str:
        """The count in words."""
        more = f", {self.fuller} say more than before" if self.fuller else ""
        return f"{self.new} entries new, {self.known} known already{more}."


def add_entries(store: Store, sheet: Sheet, entries: Iterable[Entry]) -> Added:
    """Take entries in, all or none. Any order and any repetition of imports leaves the same log."""
    given = merged(entries)
    with store.writing() as connection:
        _put_sheet(connection, sheet)
        known = _entries_of(connection, tuple(given))
        both = merged((entry for entry, _ in known.values()), given.values())
        fuller = [both[name] for name, (before, _) in known.items() if both[name] != before]
        fresh = [given[name] for name in given if name not in known]
        for entry in fuller:
            connection.execute(update(tables.entries).where(tables.entries.c.id == entry.id).values(_row(entry)))
        for name, (_, its) in known.items():
            if sheet.id < its:  # an entry that two sheets hold belongs to one of them, whichever came first
                where = tables.entries.c.id == name
                connection.execute(update(tables.entries).where(where).values(sheet_id=sheet.id))
        if fresh:
            connection.execute(insert(tables.entries), [{**_row(entry), "sheet_id": sheet.id} for entry in fresh])
    return Added(len(fresh), len(known) - len(fuller), len(fuller))


def _row(entry: Entry) -> dict[str, str]:
    return {"id": entry.id, "at": entry.at.isoformat(timespec="microseconds"), "body": entry.canonical()}


def _put_sheet(connection: Connection, sheet: Sheet) -> None:
    found = connection.execute(select(tables.sheets).where(tables.sheets.c.id == sheet.id)).first()
    made = sheet.made.isoformat(timespec="microseconds") if sheet.made else None
    if found is None:
        connection.execute(insert(tables.sheets).values(id=sheet.id, trip=sheet.trip, boat=sheet.boat, made_at=made))
        return
    # A sheet exported again later says when it was made anew; its title and boat are those said last in the alphabet,
    # so that the order of imports does not matter.
    said = {"trip": max(found.trip, sheet.trip), "boat": max(found.boat, sheet.boat)}
    later = max(filter(None, (found.made_at, made)), default=None)
    connection.execute(update(tables.sheets).where(tables.sheets.c.id == sheet.id).values(**said, made_at=later))


def _entries_of(connection: Connection, names: Sequence[str]) -> dict[str, tuple[Entry, str]]:
    found: dict[str, tuple[Entry, str]] = {}
    for start in range(0, len(names), _AT_ONCE):
        part = names[start : start + _AT_ONCE]
        asked = select(tables.entries.c.body, tables.entries.c.sheet_id).where(tables.entries.c.id.in_(part))
        for body, sheet in connection.execute(asked):
            entry = Entry.model_validate_json(body)
            found[entry.id] = (entry, sheet)
    return found


@dataclass(frozen=True, slots=True)
class KeptLog:
    """The whole log as kept: entries by id, the sheet of each, the sheets."""

    entries: dict[str, Entry]
    sheet_of: dict[str, str]
    sheets: dict[str, Sheet]

    def book(self) -> Logbook:
        """What happened."""
        return fold(self.entries, self.sheet_of, self.sheets)


def kept_log(store: Store, boat: str | None = None) -> KeptLog:
    """Everything in the log; of one boat by its name, if asked."""
    with store.reading() as connection:
        rows = connection.execute(select(tables.sheets)).all()
        kept = connection.execute(select(tables.entries.c.body, tables.entries.c.sheet_id)).all()
    sheets = {
        row.id: Sheet.model_validate({"id": row.id, "trip": row.trip, "boat": row.boat, "made": row.made_at})
        for row in rows
        if boat is None or row.boat == boat
    }
    pairs = [(Entry.model_validate_json(body), sheet) for body, sheet in kept if sheet in sheets]
    return KeptLog({e.id: e for e, _ in pairs}, {e.id: sheet for e, sheet in pairs}, sheets)


def log_of(store: Store, boat: str | None = None) -> Logbook:
    """What happened, by everything in the log; of one boat by its name, if asked."""
    return kept_log(store, boat).book()


def put_bites(store: Store, found: Iterable[Bite], hours: Iterable[Ran]) -> None:
    """Keep what track and towed lines say; a later word on the same strike or line takes the place of the first."""
    told = [(tables.bites, bite.entry, bite.model_dump_json(exclude_defaults=True)) for bite in found]
    told += [(tables.ran, ran.exposure, ran.model_dump_json(exclude_defaults=True)) for ran in hours]
    with store.writing() as connection:
        for table, name, body in told:
            changed = connection.execute(update(table).where(table.c.entry_id == name).values(body=body))
            if changed.rowcount == 0:
                connection.execute(insert(table).values(entry_id=name, body=body))


def kept_bites(store: Store) -> tuple[dict[str, Bite], dict[str, Ran]]:
    """What track and towed lines said so far: of strikes, and of lines' hours, by the id of their entry."""
    with store.reading() as connection:
        found = connection.execute(select(tables.bites.c.body)).scalars().all()
        hours = connection.execute(select(tables.ran.c.body)).scalars().all()
    bites = (Bite.model_validate_json(body) for body in found)
    runs = (Ran.model_validate_json(body) for body in hours)
    return {bite.entry: bite for bite in bites}, {ran.exposure: ran for ran in runs}
