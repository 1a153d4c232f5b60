"""Readings from the boat: put in one by one or as a file, what they say of drag, and what to read next.

What the command `spreadwright measure` does; the work goes on in the background. The rigs whose lures' depths count are
those of the trip's plan, or, without one, those that were read.
"""

from __future__ import annotations

from typing import Annotated

import tomlkit
from fastapi import APIRouter, Depends, Form, HTTPException, Request, UploadFile
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.plan.calibration import Calibration
from spreadwright.plan.calibration_file import readings_from_text
from spreadwright.plan.calibration_make import calibrate, rigs_of
from spreadwright.plan.calibration_words import sentences
from spreadwright.web import answers
from spreadwright.web.api import CHANGES, REFUSED
from spreadwright.web.jobs import Job, Tell
from spreadwright.web.kept import KeptTrip
from spreadwright.web.measure_tables import measure_tables
from spreadwright.web.page_making import page
from spreadwright.web.shared import AskedTrip, Asker, Parts, ThisServer, by_form, units_for
from spreadwright.web.uploads import sent_text

router = APIRouter()
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
# What one reading says, in the order of the form: (key of the readings file, words, example).
RIG = (("station", "Station"), ("weight", "Weight"), ("leader", "Shock leader"), ("bite_leader", "Bite leader"),
       ("lure", "Lure"))  # fmt: skip
READ = (
    ("speed", "Speed through the water", "12 kn"), ("speed_error", "Speed, give or take", "0.3 kn"),
    ("pull", "Pull at the rod tip", "31 lb"), ("pull_error", "Pull, give or take", "2 lb"),
    ("angle", "Line below level at the tip", "9 deg"), ("angle_error", "Angle, give or take", "1 deg"),
    ("weight_depth", "Depth of the weight", "6 ft"), ("lure_depth", "Depth of the lure", "7 ft"),
    ("depth_error", "Depths, give or take", "0.5 ft"),
)  # fmt: skip


class ReadingsText(BaseModel):
    """A readings file's text."""

    model_config = ConfigDict(extra="forbid")
    text: Annotated[str, Field(max_length=300_000, description="readings, as docs/calibration.md describes them")]


@router.get("/trips/{trip}/measure", include_in_schema=False)
def measure(request: Request, kept: AskedTrip, parts: ThisServer, asker: Asker) -> Response:
    """The readings so far, what they say, and what to read next."""
    made, system = made_of(parts, kept), units_for(asker, kept)
    shelf = kept.trip.shelf
    there = {"station": kept.trip.boat.stations, "weight": shelf.weights, "leader": shelf.shock_leaders,
             "bite_leader": shelf.bite_leaders, "lure": shelf.lures}  # fmt: skip
    return page(
        request, "measure.html", kept, here="measure", text=parts.kept.extra(kept, "readings.toml"), made=made,
        job=parts.jobs.get(f"measure {kept.name}"), tables=measure_tables(made, system) if made else [],
        said=sentences(made, system) if made else (), rig=[(key, words, there[key]) for key, words in RIG], read=READ,
    )  # fmt: skip


def made_of(parts: Parts, kept: KeptTrip) -> Calibration | None:
    """What a trip's readings say, if that was worked out."""
    text = parts.kept.extra(kept, "measure.json")
    try:
        return Calibration.model_validate_json(text) if text else None
    except ValueError:
        return None  # written by another version: worked out anew when asked for


@router.post("/trips/{trip}/measure/text", dependencies=FORM, include_in_schema=False)
def change_readings(
    kept: AskedTrip, parts: ThisServer, text: Text = "", file: UploadFile | None = None
) -> RedirectResponse:
    """Keep the readings as a whole, sent as a file or as text. All their faults are told at once."""
    _keep(parts, kept, sent_text(file, "the readings", text))
    return RedirectResponse(f"/trips/{kept.name}/measure", 303)


def _keep(parts: Parts, kept: KeptTrip, text: str) -> None:
    readings_from_text(text, kept.trip)
    parts.kept.put_extra(kept, "readings.toml", text)


@router.post("/trips/{trip}/measure/add", dependencies=FORM, include_in_schema=False)
async def add_reading(request: Request, kept: AskedTrip, parts: ThisServer) -> RedirectResponse:
    """Add one reading by hand; what is left out is what the trip file fixes."""
    form = await request.form()
    asked = ("rod", "mark", *(key for key, _ in RIG), *(key for key, *_ in READ))
    said = {key: value.strip() for key in asked if isinstance(value := form.get(key, ""), str) and value.strip()}
    before = parts.kept.extra(kept, "readings.toml").rstrip()
    lines = [f"{key} = {tomlkit.item(value).as_string()}" for key, value in said.items()]
    _keep(parts, kept, "\n".join([*([before, ""] if before else []), "[[readings]]", *lines, ""]))
    return RedirectResponse(f"/trips/{kept.name}/measure", 303)


@router.post("/trips/{trip}/measure", dependencies=FORM, include_in_schema=False)
def begin(kept: AskedTrip, parts: ThisServer) -> RedirectResponse:
    """Begin to work out what the readings say."""
    start_measuring(parts, kept)
    return RedirectResponse(f"/trips/{kept.name}/measure", 303)


def start_measuring(parts: Parts, kept: KeptTrip) -> Job:
    """Work out a trip's readings in the background. Raises Faults where there are none, or they are wrong."""
    text = parts.kept.extra(kept, "readings.toml")
    if not text:
        raise Faults([Fault("the readings", "none", "at least one reading is needed", "add one on this page")])
    moments = readings_from_text(text, kept.trip)

    def work(tell: Tell) -> None:
        made = calibrate(kept.trip, moments, rigs_of(kept.trip, moments, kept.plan), tell)
        parts.kept.put_extra(kept, "measure.json", made.to_json())

    return parts.jobs.start(f"measure {kept.name}", work)


@router.get("/api/trips/{trip}/measure", summary="What the readings say", responses=REFUSED, tags=["readings"])
def calibration(kept: AskedTrip, parts: ThisServer) -> Calibration:
    """What a trip's readings say of drag, in SI units, as `spreadwright measure --json` writes it."""
    made = made_of(parts, kept)
    if made is None:
        raise HTTPException(404, "Nothing was worked out from readings yet: send some.")
    return made


@router.post(
    "/api/trips/{trip}/measure", status_code=202, summary="Work out readings", dependencies=CHANGES, responses=REFUSED,
    tags=["readings"],
)  # fmt: skip
def measure_readings(kept: AskedTrip, parts: ThisServer, sent: ReadingsText) -> answers.JobAnswer:
    """Keep a trip's readings and begin to work them out."""
    _keep(parts, kept, sent.text)
    return answers.job_answer(start_measuring(parts, kept))
