"""The JSON interface: trips, plans in the making, and spreads tried by hand. Described by /api/openapi.json."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, BackgroundTasks, Depends, Header, HTTPException, Path, Query, Request, Response
from fastapi.responses import StreamingResponse
from pydantic import BaseModel, ConfigDict, Field

from spreadwright.plan.build import Stopped
from spreadwright.plan.tryout_value import HandSpread, TriedRanges
from spreadwright.plan.value import Plan
from spreadwright.quantity import System
from spreadwright.tackle.fields import Name
from spreadwright.web import answers
from spreadwright.web.kept import KeptSpread, KeptTrip
from spreadwright.web.sessions import Session
from spreadwright.web.shared import (
    AskedTrip,
    Asker,
    Parts,
    ThisServer,
    by_header,
    start_plan,
    start_rigs,
    steps_as_events,
    units_for,
    while_heard,
)

router = APIRouter(prefix="/api", tags=["spreads"])
Shown = Annotated[System | None, Query(description="units of the texts, if not this session's")]
REFUSED: dict[int | str, dict[str, Any]] = {
    400: {"model": answers.WrongAnswer, "description": "what was sent is wrong; everything at once"},
    403: {"description": "the session's token was missing"},
    404: {"description": "there is no such thing here"},
}
CHANGES = [Depends(by_header)]


class TripText(BaseModel):
    """A trip file's text."""

    model_config = ConfigDict(extra="forbid")
    text: Annotated[str, Field(max_length=300_000, description="the trip file, as docs/trip-file.md describes it")]


class NamedSpread(BaseModel):
    """A hand-made spread and the name to keep it under."""

    model_config = ConfigDict(extra="forbid")
    name: Annotated[Name, Field(max_length=60)]
    spread: HandSpread


class TripLine(answers.Answer):
    """One trip in the list."""

    name: str
    title: str
    has_plan: bool
    uploaded: bool


def _system(asker: Session, kept: KeptTrip, units: System | None) -> System:
    return units or units_for(asker, kept)


@router.get("/trips", summary="All trips")
def trips(parts: ThisServer) -> list[TripLine]:
    """Every trip that is open or was uploaded."""
    return [_line(each) for each in parts.kept.all()]


def _line(kept: KeptTrip) -> TripLine:
    return TripLine(name=kept.name, title=kept.trip.title, has_plan=kept.plan is not None, uploaded=kept.opened is None)


@router.post("/trips", status_code=201, summary="Keep a trip", dependencies=CHANGES, responses=REFUSED)
def add_trip(sent: TripText, parts: ThisServer) -> TripLine:
    """Keep a trip file's text; the same text twice is one trip."""
    return _line(parts.kept.add(sent.text))


@router.delete("/trips/{trip}", status_code=204, summary="Remove a trip", dependencies=CHANGES, responses=REFUSED)
def remove_trip(kept: AskedTrip, parts: ThisServer) -> Response:
    """Remove an uploaded trip; one that was opened from a file stays."""
    if not parts.kept.remove(kept.name):
        raise HTTPException(404, "This trip was opened from a file of yours: it is not removed from here.")
    return Response(status_code=204)


@router.get("/trips/{trip}", summary="One trip", responses=REFUSED)
def one_trip(kept: AskedTrip, asker: Asker, units: Shown = None) -> answers.TripAnswer:
    """What can be chosen on a trip, and the spread to start from."""
    return answers.trip_answer(kept, _system(asker, kept, units))


@router.get("/trips/{trip}/plan", summary="The plan", responses=REFUSED)
def plan(kept: AskedTrip) -> Plan:
    """The whole plan in SI units, as `spreadwright plan --json` writes it."""
    if kept.plan is None:
        raise HTTPException(404, "There is no plan yet: ask for one.")
    return kept.plan


@router.post("/trips/{trip}/plan", status_code=202, summary="Make the plan", dependencies=CHANGES, responses=REFUSED)
def make_plan(kept: AskedTrip, parts: ThisServer) -> answers.JobAnswer:
    """Begin to make the plan; while one is in the making, nothing new begins."""
    return answers.job_answer(start_plan(parts, kept))


@router.post("/trips/{trip}/rigs", status_code=202, summary="Look at the rigs", dependencies=CHANGES, responses=REFUSED)
def look_at_rigs(kept: AskedTrip, parts: ThisServer) -> answers.JobAnswer:
    """Begin to look at every rig, link by link."""
    return answers.job_answer(start_rigs(parts, kept))


def stopped(parts: Parts, key: str) -> answers.JobAnswer:
    """Long work that was asked to stop; 404 where there is none of that key."""
    job = parts.jobs.stop(key)
    if job is None:
        raise HTTPException(404, "Nothing of that kind is under way.")
    return answers.job_answer(job)


def followed(request: Request, parts: Parts, key: str, last_event_id: str) -> StreamingResponse:
    """The steps of long work after the last one heard, as server-sent events; 404 where there is none of that key."""
    job = parts.jobs.get(key)
    if job is None:
        raise HTTPException(404, "Nothing of that kind is under way.")
    heard = int(last_event_id) if last_event_id.isascii() and last_event_id.isdigit() and len(last_event_id) < 9 else 0
    return StreamingResponse(steps_as_events(request, job, heard), media_type="text/event-stream")


Work = Annotated[str, Path(pattern="^(plan|rigs)$", description="which long work")]


@router.post("/trips/{trip}/{work}/stop", summary="Stop long work", dependencies=CHANGES, responses=REFUSED)
def stop(kept: AskedTrip, work: Work, parts: ThisServer) -> answers.JobAnswer:
    """Ask long work to stop; it may take a moment."""
    return stopped(parts, f"{work} {kept.name}")


@router.get(
    "/trips/{trip}/{work}/steps", summary="Follow long work", response_class=StreamingResponse,
    responses={**REFUSED, 200: {"content": {"text/event-stream": {}}, "description": "steps as they come"}},
)  # fmt: skip
def steps(
    request: Request,
    kept: AskedTrip,
    work: Work,
    parts: ThisServer,
    last_event_id: Annotated[str, Header(description="the last step heard; the stream goes on after it")] = "0",
) -> StreamingResponse:
    """The steps of long work as server-sent events, until it ends; after a dropped connection from where it broke."""
    return followed(request, parts, f"{work} {kept.name}", last_event_id)


@router.post("/trips/{trip}/try", summary="Try a spread straight ahead", dependencies=CHANGES, responses=REFUSED)
def try_straight(kept: AskedTrip, spread: HandSpread, asker: Asker, units: Shown = None) -> answers.SpreadAnswer:
    """How a hand-made spread runs straight ahead, and what speaks against it."""
    return answers.spread_answer(kept.tryout.steady(spread), _system(asker, kept, units))


@router.post("/trips/{trip}/try/run", summary="Try a spread in the S-turn", dependencies=CHANGES, responses=REFUSED)
def try_run(kept: AskedTrip, spread: HandSpread, asker: Asker, units: Shown = None) -> answers.RunAnswer:
    """How it runs through the S-turn: every line's motion, every pair's gap."""
    return answers.run_answer(kept.tryout.run(spread), kept.trip, _system(asker, kept, units))


@router.post("/trips/{trip}/try/ranges", summary="How sure it is", dependencies=CHANGES, responses=REFUSED)
async def try_ranges(
    request: Request, kept: AskedTrip, spread: HandSpread, asker: Asker, after: BackgroundTasks, units: Shown = None
) -> answers.RangesAnswer:  # fmt: skip
    """The gaps and depths again, each with the range that its doubts leave it: the plan's own, or sampled now."""

    def work(stop: Callable[[], bool]) -> TriedRanges:
        planned = kept.planned_ranges(spread)
        if planned is not None:
            after.add_task(kept.tryout.with_ranges, spread)  # so that the first change is soon answered
        return planned or kept.tryout.with_ranges(spread, stop)

    try:
        made = await while_heard(request, work)
    except Stopped:
        raise HTTPException(409, "Nobody waited for this any more.") from None
    return answers.ranges_answer(made, kept.trip, _system(asker, kept, units))


@router.get("/trips/{trip}/spreads", summary="Spreads kept", responses=REFUSED)
def spreads(kept: AskedTrip) -> list[KeptSpread]:
    """The hand-made spreads that were kept, in the order in which they were."""
    return list(kept.spreads)


@router.post("/trips/{trip}/spreads", status_code=201, summary="Keep a spread", dependencies=CHANGES, responses=REFUSED)
def keep_spread(kept: AskedTrip, sent: NamedSpread, parts: ThisServer) -> KeptSpread:
    """Keep a hand-made spread; one of the same name gives way."""
    made = KeptSpread(name=sent.name, spread=sent.spread)
    parts.kept.put_spread(kept, made)
    return made


@router.delete(
    "/trips/{trip}/spreads/{number}", status_code=204, summary="Remove a spread", dependencies=CHANGES,
    responses=REFUSED,
)  # fmt: skip
def drop_spread(
    kept: AskedTrip, number: Annotated[int, Path(ge=0, le=999, description="its place in the list, from 0")],
    parts: ThisServer,
) -> Response:  # fmt: skip
    """Remove a kept spread."""
    if not parts.kept.drop_spread(kept, number):
        raise HTTPException(404, "There is no spread at that place.")
    return Response(status_code=204)
