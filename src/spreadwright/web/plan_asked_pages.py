"""A plan made as the captain asks: for a bad day, with the log's word, readings, the day's sea, with rods lost or out.

What the options of `spreadwright plan` do. The plan that comes of it takes the place of the one before.
"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Form
from starlette.responses import RedirectResponse

from spreadwright.faults import Fault, Faults
from spreadwright.plan.again import without_rods
from spreadwright.plan.build import make_plan
from spreadwright.plan.day_answer import sea_met
from spreadwright.plan.log_use import learnt
from spreadwright.plan.shopping import with_room
from spreadwright.store.open import open_store
from spreadwright.web.day_pages import day_of
from spreadwright.web.jobs import Tell
from spreadwright.web.measure_pages import made_of
from spreadwright.web.shared import AskedTrip, ThisServer, by_form

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
Several = Annotated[list[str], Form(default_factory=list)]


@router.post("/trips/{trip}/plan", dependencies=FORM)
def plan_as_asked(
    kept: AskedTrip, parts: ThisServer, use: Several, lost: Several, out: Several, samples: Text = "", seed: Text = ""
) -> RedirectResponse:
    """Begin to make the plan.

    use        any of: cautious, others, store (the log's word, and shopping counted against the room), readings, day
    lost, out  rods lost with their rigs, and rods whose lines are out and stay, against the plan so far
    """
    trip, asked = kept.trip, _numbers(samples, seed)
    asked |= {name: True for name in ("cautious", "others") if name in use}
    if lost or out:
        if kept.plan is None:
            raise _wrong("rods lost or out", "no plan", "they are told against the plan so far", "make a plan first")
        trip = without_rods(trip, kept.plan, lost, out)
    if "readings" in use:
        asked["calibration"] = made_of(parts, kept)
        if asked["calibration"] is None:
            raise _wrong("readings", "none worked out", "a plan counts with readings once they are worked out",
                         "do that on the page Readings")  # fmt: skip
    if "day" in use:
        day = day_of(parts, kept)
        if day is None:
            raise _wrong("the day", "no day file", "a plan counts with a day's sea once there is one",
                         "add it on the page Day")  # fmt: skip
        asked["met"] = sea_met(day)
    where = parts.settings.store

    def work(tell: Tell) -> None:
        if "store" in use:
            with open_store(where) as store:
                asked["learnt"] = learnt(store, trip)
        made = make_plan(trip, tell, **asked, kept=parts.computed)
        if "store" in use:
            with open_store(where) as store:
                made = with_room(made, trip, store)
        parts.kept.put_plan(kept, made)
        kept.tryout.run(kept.start())

    parts.jobs.start(f"plan {kept.name}", work)
    return RedirectResponse(f"/trips/{kept.name}/plan", 303)


def _numbers(samples: str, seed: str) -> dict[str, Any]:
    """How many ways it may be, and their seed, where they are given. Raises Faults with all that is wrong."""
    faults, found = [], {}
    for name, given, low, high in (("samples", samples, 16, 4096), ("seed", seed, 0, 10**9)):
        text = given.strip()
        if text and not (text.isascii() and text.isdigit() and len(text) < 11 and low <= int(text) <= high):
            faults.append(Fault(name, text[:40], f"a whole number from {low} to {high}", "correct it, or leave it out"))
        elif text:
            found[name] = int(text)
    if faults:
        raise Faults(faults)
    return found


def _wrong(place: str, given: str, rule: str, next_step: str) -> Faults:
    return Faults([Fault(place, given, rule, next_step)])
