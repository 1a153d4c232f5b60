"""Makes a page from its template with what every page shows: the trip, the way around, units, the session's token."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from fastapi import Request
from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.responses import HTMLResponse

from spreadwright.sheets.figures import plain, tied
from spreadwright.web.kept import KeptTrip
from spreadwright.web.sessions import Session
from spreadwright.web.shared import units_for

# (page, words): the pages of one trip, and those that belong to the boat's house.
TRIP_PAGES = (
    ("spread", "Spread"),
    ("plan", "Plan"),
    ("rigs", "Rigs"),
    ("lists", "Lists"),
    ("day", "Day"),
    ("study", "Study"),
    ("measure", "Readings"),
    ("trip", "Trip file"),
)
HOUSE_PAGES: tuple[tuple[str, str], ...] = (("/", "Trips"), ("/room", "Tackle room"), ("/log", "Logbook"))

_pages = Environment(
    loader=FileSystemLoader(Path(__file__).parent / "templates"),
    autoescape=select_autoescape(default=True),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_pages.filters["plain"] = plain
_pages.filters["tied"] = tied


def page(request: Request, template: str, kept: KeptTrip | None = None, status: int = 200, **said: Any) -> HTMLResponse:
    """One page; `said` is what its own template shows."""
    session: Session | None = request.scope.get("session_of")
    said.setdefault("here", "")
    jobs = request.app.state.parts.jobs

    def work_state(kind: str) -> str:
        job = jobs.get(f"{kind} {kept.name}") if kept is not None else None
        return job.state if job is not None else ""

    always = {
        "kept": kept, "token": session.token if session else "", "path": request.url.path,
        "query": request.url.query, "units": units_for(session, kept) if session else "us",
        "trip_pages": TRIP_PAGES, "house_pages": HOUSE_PAGES, "work_state": work_state,
    }  # fmt: skip
    made = _pages.get_template(template).render(**always, **said)
    return HTMLResponse(made, status)


def make_templates() -> None:
    """Read every template, which the first page of each would else wait for."""
    for name in _pages.list_templates():
        _pages.get_template(name)


def way_back(wished: str) -> str:
    """The page to go back to: a path of ours, or the list of trips for anything else."""
    return wished if re.fullmatch(r"/(?!/)[\w/?=&.-]{0,300}", wished, re.ASCII) else "/"
