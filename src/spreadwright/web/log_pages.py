"""The pages of the logbook: what happened, entries by hand and from a deck sheet's export, and what works.

They show what the command `log` shows, from the same store and the same functions. Times are UTC.
"""

from __future__ import annotations

import uuid
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Form, Query, Request, UploadFile
from pydantic import ValidationError
from starlette.responses import Response

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.deck_log import deck_log_from_text, faults_of
from spreadwright.logbook.entry import OUTCOMES, Entry, standing
from spreadwright.logbook.factors import NAMES
from spreadwright.logbook.fold import hand_sheet
from spreadwright.logbook.rate_words import counted, two_figures
from spreadwright.logbook.rates import FactorRates, rate_report
from spreadwright.plan.log_use import knowledge
from spreadwright.quantity import QuantityError, read, show_given
from spreadwright.sheets.figures import plain
from spreadwright.sheets.log_report import book_text
from spreadwright.store.log_keep import add_entries, kept_bites, kept_log, log_of
from spreadwright.store.open import Store, open_store
from spreadwright.web.guard import LARGEST_REQUEST
from spreadwright.web.kept import KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import Asker, Parts, ThisServer, by_form, units_for
from spreadwright.web.tables import Row, Table

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
LAST = 8  # entries that can be taken back from the page
COMPARED = 3  # comparisons told in words for each factor
KINDS = {"strike": "Strike", "line_out": "Line out", "line_in": "Line in", "note": "Note"}
SIZES = {"mark": "length", "length": "length", "mass": "mass"}


@router.get("/log")
def log(request: Request, parts: ThisServer, asker: Asker) -> Response:
    """The logbook: trips, hours on the water, the last strikes."""
    with open_store(parts.settings.store) as store:
        return _log_page(request, store, asker, "")


@router.post("/log", dependencies=FORM)
async def take_in(request: Request, parts: ThisServer, asker: Asker, file: UploadFile | None = None) -> Response:
    """Take a deck sheet's export in; however often and in whatever order, every entry counts once."""
    data = await file.read(LARGEST_REQUEST) if file is not None else b""
    try:
        export = deck_log_from_text(data.decode("utf-8-sig"), "the export")
    except UnicodeDecodeError:
        raise Faults([Fault("the export", "bytes that are no text", "a deck sheet's export is text in UTF-8",
                            "send the file that the deck sheet gave")]) from None  # fmt: skip
    if export.faults:
        raise Faults(export.faults, "the export")
    with open_store(parts.settings.store) as store:
        added = add_entries(store, export.sheet, export.entries)
        return _log_page(request, store, asker, added.sentence)


@router.post("/log/entry", dependencies=FORM)
def add_by_hand(
    request: Request, parts: ThisServer, asker: Asker, kind: Text = "", rod: Text = "", at: Text = "", trip: Text = "",
    planned: Text = "", mark: Text = "", weight: Text = "", lure: Text = "", took: Text = "", outcome: Text = "",
    species: Text = "", length: Text = "", mass: Text = "", note: Text = "",
) -> Response:  # fmt: skip
    """Add one entry by hand: a line out or in, a strike, a note. Everything that is wrong is told at once."""
    kept = parts.kept.get(trip)
    faults: list[Fault] = []
    sizes = {name: _size(name, given, faults) for name, given in (("mark", mark), ("length", length), ("mass", mass))}
    moment = _moment(at, faults)
    rig: dict[str, Any] = _planned_rig(kept, rod, faults) if planned and kind == "line_out" else {}
    rig |= {key: said for key, said in (("mark", sizes["mark"]), ("weight", weight), ("lure", lure)) if said}
    words = {"took": took, "outcome": outcome, "species": species, "note": note}
    rest = {**words, "length": sizes["length"], "mass": sizes["mass"], "rig": rig}
    values = {"kind": kind, "rod": rod, "at": moment, **{key: said for key, said in rest.items() if said}}
    entry = _entry(values, faults)
    sheet = (
        hand_sheet(kept.trip.title[:80], kept.trip.boat.name[:80]) if kept else hand_sheet(entry.at.date().isoformat())
    )
    with open_store(parts.settings.store) as store:
        add_entries(store, sheet, [entry])
        return _log_page(request, store, asker, f"Noted: {_said(entry, asker)}.")


def _size(name: str, given: str, faults: list[Fault]) -> float | None:
    try:
        return read(given, SIZES[name]) if given.strip() else None
    except QuantityError as error:
        faults.append(Fault(name, error.given, error.rule, error.next_step))
        return None


def _moment(given: str, faults: list[Fault]) -> datetime:
    """When it happened; now where nothing is given."""
    try:
        at = datetime.fromisoformat(given.strip()) if given.strip() else datetime.now(UTC)
        return at.astimezone(UTC) if at.tzinfo else at.replace(tzinfo=UTC)
    except (ValueError, OverflowError):
        step = "write it as 2031-03-08T06:41, in UTC"
        faults.append(Fault("time", given[:60], "a time is year-month-day and hours:minutes", step))
        return datetime.now(UTC)


def _planned_rig(kept: KeptTrip | None, rod: str, faults: list[Fault]) -> dict[str, Any]:
    """What the trip's plan gives a rod."""
    names = [each.rod for each in kept.plan.rods] if kept is not None and kept.plan is not None else []
    if kept is None or kept.plan is None or rod not in names:
        rule = f"rods of that trip's plan: {', '.join(names)}" if names else "that trip has no plan yet"
        faults.append(Fault("rod", rod[:80] or "none", rule, "choose one of them, or say what it fishes yourself"))
        return {}
    its = kept.plan.rod(rod)
    return {key: getattr(its, key) for key in ("station", "mark", "weight", "shock_leader", "bite_leader", "lure")}


def _entry(values: dict[str, Any], faults: list[Fault]) -> Entry:
    """The entry with a fresh id. Raises Faults with these faults and all others."""
    try:
        entry = Entry.model_validate({"id": uuid.uuid4().hex, **values})
    except ValidationError as error:
        raise Faults([*faults, *faults_of(error.errors(), "this entry")], "this entry") from None
    if faults or entry.kind == "undo":
        step = "press its button beside the entry"
        raise Faults(faults or [Fault("kind", "undo", "an entry is taken back where it stands", step)], "this entry")
    return entry


@router.post("/log/undo", dependencies=FORM)
def take_back(request: Request, parts: ThisServer, asker: Asker, of: Text = "") -> Response:
    """Take an entry back. Nothing is erased: the log says that it was taken back."""
    with open_store(parts.settings.store) as store:
        whole = kept_log(store)
        meant = whole.entries.get(of)
        if meant is None:
            raise Faults([Fault("entry", of[:40] or "none", "only what is in the log is taken back", "load it again")])
        back = Entry(id=uuid.uuid4().hex, kind="undo", of=of, at=datetime.now(UTC))
        add_entries(store, whole.sheets[whole.sheet_of[of]], [back])
        return _log_page(request, store, asker, f"Taken back: {_said(meant, asker)}.")


def _said(entry: Entry, asker: Asker) -> str:
    """An entry in a few words."""
    told = [f"{entry.at:%Y-%m-%d %H:%M}", KINDS.get(entry.kind, entry.kind).lower(), entry.rod]
    if entry.rig is not None:
        mark = show_given(entry.rig.mark, "length", units_for(asker)) if entry.rig.mark is not None else ""
        told += [mark, entry.rig.weight, entry.rig.lure]
    told += [entry.outcome if entry.outcome != "unknown" else "", entry.species, entry.note[:60]]
    return plain(", ".join(each for each in told if each))


def _log_page(request: Request, store: Store, asker: Asker, said: str) -> Response:
    parts: Parts = request.app.state.parts
    whole, (bites, _) = kept_log(store), kept_bites(store)
    trips = parts.kept.all()
    return page(
        request, "log.html", here="/log", text=book_text(whole.book(), bites, UTC, units_for(asker)), said=said,
        last=[(each.id, _said(each, asker)) for each in reversed(standing(whole.entries)[-LAST:])], trips=trips,
        kinds=KINDS, outcomes=[each for each in OUTCOMES if each != "unknown"],
        rods=sorted({outfit.name for kept in trips for outfit in kept.trip.outfits}),
        lures=sorted({lure.name for kept in trips for lure in kept.trip.shelf.lures}),
        weights=sorted({weight.name for kept in trips for weight in kept.trip.shelf.weights}),
    )  # fmt: skip


@router.get("/log/rates")
def rates(
    request: Request, parts: ThisServer, trip: Annotated[str, Query(max_length=40)] = "",
    by: Annotated[str, Query(max_length=40)] = "",
) -> Response:  # fmt: skip
    """What works: strikes an hour by each factor, with sentences and ranges. trip: whose shelf knows the colours."""
    kept = parts.kept.get(trip)
    with open_store(parts.settings.store) as store:
        book = log_of(store)
        known = knowledge(store, book, kept.trip if kept is not None else None)
        report = rate_report(book, known, (by,) if by in NAMES else NAMES)
    days = "1 day" if report.days == 1 else f"{report.days} days"
    head = f"{counted(report.strikes)} in {report.hours:.0f} rod-hours on {days}."
    found = [(each.factor, _shown(each), _rate_table(each)) for each in report.factors]
    return page(
        request, "rates.html", here="/log", report=report, head=head, found=found, factors=NAMES, by=by, of_trip=trip,
        trips=parts.kept.all(),
    )  # fmt: skip


def _shown(rates: FactorRates) -> list[str]:
    """The comparisons with the next best, and all that is said beside comparisons."""
    compared = len(rates.comparisons)
    return [*rates.sentences[: min(compared, COMPARED)], *rates.sentences[compared:]]


def _rate_table(rates: FactorRates) -> Table:
    rows = tuple(
        Row(plain(level.level), (f"{level.strikes} in {level.hours:.1f}", two_figures(level.rate),
                                 f"{two_figures(level.low)} to {two_figures(level.high)}"))
        for level in rates.levels
    )  # fmt: skip
    heads = (rates.factor.capitalize(), "Strikes in rod-hours", "An hour", "Nine times in ten")
    return Table(f"Strikes an hour by {rates.factor}", heads, rows)
