"""The page of the day: what the command `day` shows, from a day file that is kept here or lies beside the trip file."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Form, HTTPException, Request, UploadFile
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.plan.day_answer import DayAnswer, day_answer
from spreadwright.plan.day_file import LARGEST_FILE, DayFile, day_from_text, read_day_file
from spreadwright.quantity import System
from spreadwright.sheets.day_report import day_text
from spreadwright.web.kept import KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import AskedTrip, Asker, Parts, ThisServer, by_form, units_for
from spreadwright.web.uploads import sent_text

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]


def day_of(parts: Parts, kept: KeptTrip) -> DayFile | None:
    """A trip's day: the one kept here, else the file beside the trip file, else None. Raises Faults for a wrong one."""
    text = parts.kept.extra(kept, "day.toml")
    if text:
        return day_from_text(text)
    beside = kept.opened.with_name("day.toml") if kept.opened is not None else None
    return read_day_file(beside) if beside is not None and beside.exists() else None


def _answer(parts: Parts, kept: KeptTrip, on: date | None, system: System) -> DayAnswer | None:
    day = day_of(parts, kept)
    return day_answer(kept.trip, day, on, system) if day is not None else None


@router.get("/trips/{trip}/day")
def day(request: Request, kept: AskedTrip, parts: ThisServer, asker: Asker, on: date | Literal[""] = "") -> Response:
    """The day of a trip; on: another date than the file's."""
    system = units_for(asker, kept)
    found: DayAnswer | None = None
    faults: Sequence[Fault] = ()
    try:
        found = _answer(parts, kept, on or None, system)
    except Faults as wrong:  # told above the forms that mend it: a date, another file
        faults = wrong.faults
    return page(
        request, "day.html", kept, here="day", faults=faults, text=day_text(found, system) if found is not None else "",
        own=parts.kept.extra(kept, "day.toml"), on=on.isoformat() if on else "",
    )  # fmt: skip


@router.get("/trips/{trip}/day.json")
def as_json(kept: AskedTrip, parts: ThisServer, asker: Asker, on: date | Literal[""] = "") -> Response:
    """The whole answer in SI units."""
    found = _answer(parts, kept, on or None, units_for(asker, kept))
    if found is None:
        raise HTTPException(404, "There is no day file for this trip: add one on its page.")
    return Response(found.model_dump_json(indent=1), media_type="application/json",
                    headers={"content-disposition": 'attachment; filename="day.json"'})  # fmt: skip


@router.post("/trips/{trip}/day", dependencies=FORM)
def keep_day(
    kept: AskedTrip, parts: ThisServer, text: Annotated[str, Form()] = "", file: UploadFile | None = None
) -> RedirectResponse:
    """Keep a day file for a trip, sent as a file or as text; it goes before one beside the trip file."""
    written = sent_text(file, "the day", text)
    if len(written.encode()) > LARGEST_FILE:
        given, rule = f"more than {LARGEST_FILE // 1024} KiB", "a day file is a page of text"
        raise Faults([Fault("the day", given, rule, "check that this is the day file")])
    day_from_text(written)
    parts.kept.put_extra(kept, "day.toml", written)
    return RedirectResponse(f"/trips/{kept.name}/day", 303)
