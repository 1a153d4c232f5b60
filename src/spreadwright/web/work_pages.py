"""Long work that a form began: followed as it goes, and stopped, from its page or through the JSON interface.

A piece of work goes by its kind and by the trip it belongs to, or `house` where it belongs to none.
"""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Form, Header, Path, Request
from fastapi.responses import StreamingResponse
from starlette.responses import RedirectResponse

from spreadwright.web import answers
from spreadwright.web.api import CHANGES, REFUSED, followed, stopped
from spreadwright.web.page_making import way_back
from spreadwright.web.shared import ThisServer, by_form

router = APIRouter()
HOUSE = "house"
Kind = Annotated[str, Path(pattern="^(tracks|rates|measure|study|tow)$", description="which long work")]
Of = Annotated[str, Path(pattern="^([0-9a-f]{20}|house)$", description="a trip's name, or house")]


@router.post("/jobs/{kind}/{of}/stop", dependencies=[Depends(by_form)], include_in_schema=False)
def stop_by_form(parts: ThisServer, kind: Kind, of: Of, back: Annotated[str, Form()] = "/") -> RedirectResponse:
    """Ask work to stop, and go back to its page."""
    parts.jobs.stop(f"{kind} {of}")
    return RedirectResponse(way_back(back), 303)


@router.post(
    "/api/jobs/{kind}/{of}/stop", summary="Stop work of a page", dependencies=CHANGES, responses=REFUSED,
    tags=["long work"],
)  # fmt: skip
def stop(parts: ThisServer, kind: Kind, of: Of) -> answers.JobAnswer:
    """Ask work to stop; it may take a moment."""
    return stopped(parts, f"{kind} {of}")


@router.get(
    "/api/jobs/{kind}/{of}/steps", summary="Follow work of a page", response_class=StreamingResponse,
    responses={**REFUSED, 200: {"content": {"text/event-stream": {}}, "description": "steps as they come"}},
    tags=["long work"],
)  # fmt: skip
def steps(
    request: Request,
    parts: ThisServer,
    kind: Kind,
    of: Of,
    last_event_id: Annotated[str, Header(description="the last step heard; the stream goes on after it")] = "0",
) -> StreamingResponse:
    """The steps of work as server-sent events, until it ends; after a dropped connection from where it broke."""
    return followed(request, parts, f"{kind} {of}", last_event_id)
