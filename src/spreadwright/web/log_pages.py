"""The pages of the logbook: what happened, entries by hand, and files taken in and out.

They show what the command `log` shows, from the same store and the same functions. Times are UTC.
"""

from __future__ import annotations

import uuid
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Form, Request, UploadFile
from pydantic import ValidationError
from starlette.responses import Response

from spreadwright.day.light import UnknownZone, zone_named
from spreadwright.faults import Fault, Faults
from spreadwright.logbook.csv_log import csv_text
from spreadwright.logbook.deck_log import faults_of
from spreadwright.logbook.entry import OUTCOMES, Entry, standing
from spreadwright.logbook.fold import hand_sheet
from spreadwright.quantity import QuantityError, System, read, show_turned
from spreadwright.sheets.figures import plain
from spreadwright.sheets.log_report import book_text
from spreadwright.store.log_import import import_file, whole_log_text
from spreadwright.store.log_keep import add_entries, kept_bites, kept_log
from spreadwright.store.open import Store, open_store
from spreadwright.web.kept import KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import Asker, Parts, ThisServer, by_form, units_for
from spreadwright.web.uploads import as_file

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
LAST = 8  # entries that can be taken back from the page
KINDS = {"strike": "Strike", "line_out": "Line out", "line_in": "Line in", "note": "Note"}
SIZES = {"mark": "length", "length": "length", "mass": "mass"}


@router.get("/log")
def log(request: Request, parts: ThisServer, asker: Asker) -> Response:
    """The logbook: trips, hours on the water, the last strikes."""
    with open_store(parts.settings.store) as store:
        return _log_page(request, store, asker, "")


@router.post("/log", dependencies=FORM)
def take_in(
    request: Request, parts: ThisServer, asker: Asker, file: UploadFile | None = None, trip: Text = "",
    zone: Text = "", leave_out: Text = "",
) -> Response:  # fmt: skip
    """Take a deck sheet's export, a whole log or a table in; however often and in whatever order, entries count once.

    trip, zone   for a table (CSV), which does not say them: the trip's title, and the zone of its times
    leave_out    "yes" takes the sound entries of an export even if others are faulty
    """
    where = zone_named(zone.strip()) if zone.strip() else None
    if isinstance(where, UnknownZone):
        raise Faults([Fault("zone", where.given[:60], where.rule, where.next_step)])
    with open_store(parts.settings.store) as store:
        with as_file(file, "the file") as path:
            found = import_file(store, path, where, trip.strip()[:80] or "a table", "", leave_out == "yes")
        left_out = f" What is faulty was left out ({len(found.left_out)} faults)." if found.left_out else ""
        return _log_page(request, store, asker, found.added.sentence + left_out)


@router.get("/log/entries.csv")
def as_table(parts: ThisServer) -> Response:
    """Every entry that stands, as a table that can be taken in again."""
    with open_store(parts.settings.store) as store:
        text = csv_text(standing(kept_log(store).entries))
    return Response(text, media_type="text/csv; charset=utf-8",
                    headers={"content-disposition": 'attachment; filename="logbook.csv"'})  # fmt: skip


@router.get("/log/entries.json")
def as_whole(parts: ThisServer) -> Response:
    """The whole log with its sheets, as it can be taken in elsewhere."""
    with open_store(parts.settings.store) as store:
        text = whole_log_text(kept_log(store))
    return Response(text, media_type="application/json",
                    headers={"content-disposition": 'attachment; filename="logbook.json"'})  # fmt: skip


@router.post("/log/entry", dependencies=FORM)
def add_by_hand(
    request: Request, parts: ThisServer, asker: Asker, kind: Text = "", rod: Text = "", at: Text = "", trip: Text = "",
    planned: Text = "", mark: Text = "", weight: Text = "", lure: Text = "", took: Text = "", outcome: Text = "",
    species: Text = "", length: Text = "", mass: Text = "", note: Text = "",
) -> Response:  # fmt: skip
    """Add one entry by hand: a line out or in, a strike, a note. Everything that is wrong is told at once."""
    kept = parts.kept.get(trip)
    faults: list[Fault] = []
    system = units_for(asker, kept)
    sizes = {
        name: _size(name, given, system, faults) for name, given in (("mark", mark), ("length", length), ("mass", mass))
    }
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


def _size(name: str, given: str, system: System, faults: list[Fault]) -> float | None:
    try:
        return read(given, SIZES[name]) if given.strip() else None
    except QuantityError as error:
        step = error.next_step
        if name == "mass":  # a fish is weighed in pounds or kilograms, not in the ounces of trolling weights
            step = step.replace(" oz'", " lb'" if system == "us" else " kg'")
        faults.append(Fault(name, error.given, error.rule, step))
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
        mark = show_turned(entry.rig.mark, "length", units_for(asker)) if entry.rig.mark is not None else ""
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
