"""Puts the server together: the door, the pages, the JSON interface and the files that go with them."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exception_handlers import request_validation_exception_handler
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from spreadwright import __version__
from spreadwright.faults import Faults
from spreadwright.web import (
    api,
    day_pages,
    lists_pages,
    log_pages,
    measure_pages,
    pages,
    piece_pages,
    plan_asked_pages,
    rate_pages,
    room_boats_pages,
    room_files_pages,
    room_pages,
    study_pages,
    tow_pages,
    track_pages,
    work_pages,
)
from spreadwright.web.answers import wrong
from spreadwright.web.guard import Guard
from spreadwright.web.jobs import Jobs
from spreadwright.web.kept import Kept
from spreadwright.web.sessions import Pairing, Sessions
from spreadwright.web.settings import Settings
from spreadwright.web.shared import Parts

PARTS = (
    api, pages, day_pages, lists_pages, room_pages, piece_pages, room_files_pages, room_boats_pages, log_pages,
    rate_pages, track_pages, measure_pages, study_pages, tow_pages, work_pages,
    plan_asked_pages,
)  # fmt: skip
STATIC = Path(__file__).parent / "static"


def make_app(settings: Settings) -> FastAPI:
    """The server's application. Raises Faults where a trip file opened at the start is at fault."""
    sessions = Sessions()
    parts = Parts(settings, Kept(settings.folder, settings.trips), Jobs(), sessions, Pairing())

    @asynccontextmanager
    async def living(_: FastAPI) -> AsyncIterator[None]:
        yield
        parts.jobs.close()

    # No built-in pages about the interface: they would load scripts from outside.
    app = FastAPI(
        title="spreadwright", version=__version__, openapi_url="/api/openapi.json", docs_url=None, redoc_url=None,
        lifespan=living, summary="Trips, plans and spreads tried by hand.",
    )  # fmt: skip
    app.state.parts = parts
    for part in PARTS:
        app.include_router(part.router)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    app.add_exception_handler(Faults, _at_fault)
    app.add_exception_handler(HTTPException, _not_so)
    app.add_exception_handler(RequestValidationError, _not_understood)
    app.add_middleware(GZipMiddleware, minimum_size=1000)
    app.add_middleware(Guard, settings=settings, sessions=sessions)
    return app


async def _at_fault(request: Request, error: Exception) -> Response:
    """What was sent is wrong: all of it at once; forms show it on a page of their own."""
    assert isinstance(error, Faults)
    if not request.url.path.startswith("/api/"):
        return pages.faults_page(request, error)
    return JSONResponse(wrong(error).model_dump(), 400)


async def _not_so(request: Request, error: Exception) -> Response:
    """What cannot be had: as JSON for programs, as a page for people."""
    assert isinstance(error, HTTPException)
    if not request.url.path.startswith("/api/"):
        return pages.refusal_page(request, error.status_code, str(error.detail))
    return JSONResponse({"detail": error.detail}, error.status_code, error.headers)


async def _not_understood(request: Request, error: Exception) -> Response:
    """A form or address that none of our pages makes: as JSON for programs, as a page for people."""
    assert isinstance(error, RequestValidationError)
    if request.url.path.startswith("/api/"):
        return await request_validation_exception_handler(request, error)
    said = "This address or form is not one that these pages make. Go back, load the page again, and try once more."
    return pages.refusal_page(request, 422, said)
