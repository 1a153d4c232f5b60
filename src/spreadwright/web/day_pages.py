"""The page of the day: what the command `day` shows, from the file beside the trip file and the same functions."""

from __future__ import annotations

from pathlib import Path

from fastapi import APIRouter, Request
from starlette.responses import Response

from spreadwright.plan.day_answer import day_answer
from spreadwright.plan.day_file import read_day_file
from spreadwright.sheets.day_report import day_text
from spreadwright.web.page_making import page
from spreadwright.web.shared import AskedTrip, Asker, units_for

router = APIRouter(include_in_schema=False)


@router.get("/trips/{trip}/day")
def day(request: Request, kept: AskedTrip, asker: Asker) -> Response:
    """The day of a trip, from the day file that lies beside the trip file."""
    beside: Path | None = kept.opened.with_name("day.toml") if kept.opened is not None else None
    text = ""
    if beside is not None and beside.exists():
        system = units_for(asker, kept)
        text = day_text(day_answer(kept.trip, read_day_file(beside), None, system), system)
    return page(request, "day.html", kept, here="day", text=text)
