"""The pages of the house: the logbook with a deck sheet's export taken in, and the day.

They show what the commands `log` and `day` show, from the same store and the same functions.
"""

from __future__ import annotations

from datetime import UTC
from pathlib import Path

from fastapi import APIRouter, Depends, Request, UploadFile
from starlette.responses import Response

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.deck_log import deck_log_from_text
from spreadwright.plan.day_answer import day_answer
from spreadwright.plan.day_file import read_day_file
from spreadwright.sheets.day_report import day_text
from spreadwright.sheets.log_report import book_text
from spreadwright.store.log_keep import add_entries, kept_bites, log_of
from spreadwright.store.open import open_store
from spreadwright.web.guard import LARGEST_REQUEST
from spreadwright.web.page_making import page
from spreadwright.web.shared import AskedTrip, Asker, ThisServer, by_form, units_for

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]


@router.get("/log")
def log(request: Request, parts: ThisServer, asker: Asker) -> Response:
    """The logbook: trips, hours on the water, the last strikes."""
    return _log_page(request, parts, asker, "")


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
    return _log_page(request, parts, asker, added.sentence)


def _log_page(request: Request, parts: ThisServer, asker: Asker, said: object) -> Response:
    told = said() if callable(said) else said
    with open_store(parts.settings.store) as store:
        bites, _ = kept_bites(store)
        text = book_text(log_of(store), bites, UTC, units_for(asker))
    return page(request, "log.html", here="/log", text=text, said=told)


@router.get("/trips/{trip}/day")
def day(request: Request, kept: AskedTrip, asker: Asker) -> Response:
    """The day of a trip, from the day file that lies beside the trip file."""
    beside: Path | None = kept.opened.with_name("day.toml") if kept.opened is not None else None
    text = ""
    if beside is not None and beside.exists():
        system = units_for(asker, kept)
        text = day_text(day_answer(kept.trip, read_day_file(beside), None, system), system)
    return page(request, "day.html", kept, here="day", text=text)
