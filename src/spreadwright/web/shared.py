"""What every page and answer starts from: the server's parts, who asks, in which units, and about which trip."""

from __future__ import annotations

import asyncio
import json
import threading
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass, field
from typing import Annotated, TypeVar

import anyio
import anyio.to_thread
from fastapi import Depends, Header, HTTPException, Path, Request

from spreadwright.plan.build import make_plan
from spreadwright.plan.rig_make import rig_answers
from spreadwright.quantity import System
from spreadwright.spread.kept import Kept as Computed
from spreadwright.web.jobs import Job, Jobs, Tell
from spreadwright.web.kept import Kept, KeptTrip
from spreadwright.web.sessions import Pairing, Session, Sessions
from spreadwright.web.settings import Settings

T = TypeVar("T")

LISTEN_EVERY = 0.15  # [s]
KEEP_ALIVE = 15.0  # [s] without a step before a sign of life is sent


@dataclass(frozen=True)
class Parts:
    """What one server is made of."""

    settings: Settings
    kept: Kept
    jobs: Jobs
    sessions: Sessions
    pairing: Pairing
    computed: Computed = field(default_factory=lambda: Computed(most_lines=2500))  # used by the jobs only, one by one


def parts_of(request: Request) -> Parts:
    """The server's parts."""
    parts: Parts = request.app.state.parts
    return parts


def session_of(request: Request) -> Session:
    """Who asks; the door lets nobody in without."""
    session: Session | None = request.scope.get("session_of")
    if session is None:
        raise HTTPException(401, "Pair this device first.")
    return session


ThisServer = Annotated[Parts, Depends(parts_of)]
Asker = Annotated[Session, Depends(session_of)]
TripName = Annotated[str, Path(pattern="^[0-9a-f]{20}$", description="a trip's name, as the list of trips gives it")]


def trip_named(trip: TripName, parts: ThisServer) -> KeptTrip:
    """The trip of that name; 404 if there is none."""
    kept = parts.kept.get(trip)
    if kept is None:
        raise HTTPException(404, "There is no trip of that name here. Look at the list of trips.")
    return kept


AskedTrip = Annotated[KeptTrip, Depends(trip_named)]


def by_header(
    asker: Asker,
    x_spreadwright_token: Annotated[str, Header(description="the token of this session, from any page")] = "",
) -> None:
    """Only a page of ours knows the session's token: 403 without it."""
    if not asker.owns(x_spreadwright_token):
        raise HTTPException(403, "Load the page again: this request did not carry its token.")


async def by_form(request: Request, asker: Asker) -> None:
    """The same for a form, which carries the token in a hidden field."""
    form = await request.form()
    token = form.get("token", "")
    if not isinstance(token, str) or not asker.owns(token):
        raise HTTPException(403, "Load the page again: this form did not carry its token.")


def units_for(asker: Session, kept: KeptTrip | None = None) -> System:
    """The units the captain switched to, or the trip's own."""
    return asker.units or (kept.trip.units if kept is not None else "us")


def start_plan(parts: Parts, kept: KeptTrip) -> Job:
    """Make a trip's plan in the background; its lines are towed once more, so that the page draws them at once."""

    def work(tell: Tell) -> None:
        plan = make_plan(kept.trip, tell, kept=parts.computed)
        parts.kept.put_plan(kept, plan)
        kept.tryout.run(kept.start())

    return parts.jobs.start(f"plan {kept.name}", work)


def start_rigs(parts: Parts, kept: KeptTrip) -> Job:
    """Answer about a trip's rigs in the background: those of its plan, or those the trip file fixes."""

    def work(tell: Tell) -> None:
        parts.kept.put_rigs(kept, rig_answers(kept.trip, "", kept.plan, tell))

    return parts.jobs.start(f"rigs {kept.name}", work)


async def while_heard(request: Request, work: Callable[[Callable[[], bool]], T]) -> T:
    """What `work` gives, done in a thread; it is told to stop once the browser no longer waits for the answer."""
    gone = threading.Event()

    async def listen() -> None:
        while not await request.is_disconnected():
            await anyio.sleep(LISTEN_EVERY)
        gone.set()

    listening = asyncio.create_task(listen())
    try:
        return await anyio.to_thread.run_sync(work, gone.is_set)
    finally:
        listening.cancel()


async def steps_as_events(request: Request, job: Job, heard: int) -> AsyncIterator[str]:
    """A job's steps as server-sent events, from the one after `heard` to its end."""
    quiet = 0.0
    while True:
        over = job.over
        for step in job.after(heard):
            heard = step.number
            told = {"state": step.state, "words": step.words, "done": step.done, "total": step.total}
            quiet = 0.0
            yield f"id: {step.number}\ndata: {json.dumps(told)}\n\n"
        if over or await request.is_disconnected():
            return
        quiet += LISTEN_EVERY
        if quiet >= KEEP_ALIVE:
            quiet = 0.0
            yield ": still at it\n\n"
        await anyio.sleep(LISTEN_EVERY)
