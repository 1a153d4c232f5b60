"""A study of a trip's spread: many speeds, radii, seas and boats at once, as a table and a picture.

What the command `spreadwright study` does, on this machine's cores; the work goes on in the background.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Depends, Form, HTTPException, Request
from pydantic import BaseModel, ConfigDict, Field, ValidationError
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.plan.study import Asked, Case, Outcome, Study
from spreadwright.plan.study_asked import asked_from_words
from spreadwright.plan.study_make import make_study
from spreadwright.plan.study_run import run_here
from spreadwright.plan.study_table import as_csv
from spreadwright.plan.study_words import case_in_words, sentences
from spreadwright.quantity import System, show
from spreadwright.sheets.figures import plain
from spreadwright.sheets.study_picture import study_picture
from spreadwright.spread.motions import Progress
from spreadwright.web import answers
from spreadwright.web.api import CHANGES, REFUSED
from spreadwright.web.jobs import Job, Tell
from spreadwright.web.kept import KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import AskedTrip, Asker, Parts, ThisServer, by_form, trip_named, units_for
from spreadwright.web.tables import Row, Table

router = APIRouter()
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
Several = Annotated[list[str], Form(default_factory=list)]
MOST_ROWS = 400  # cases shown on the page; the table as a file has them all
# The command line's names of what is asked, in the words of the form.
CALLED = {"--speed": "speeds", "--radius": "radii", "--sea": "seas", "--waves-from": "waves from", "--hull": "hull"}


class StudyAsked(BaseModel):
    """What a study is to sweep, each in words with its unit; empty where the trip's own is meant."""

    model_config = ConfigDict(extra="forbid")
    speeds: Annotated[list[str], Field(max_length=100, description="such as 14 kn")] = []
    radii: Annotated[list[str], Field(max_length=100, description="such as 45 m")] = []
    seas: Annotated[list[str], Field(max_length=100, description="calm, 2 ft or 2 ft at 4 s")] = []
    waves_from: Annotated[str, Field(description="where waves come from, off the bow, to port")] = "0 deg"
    seed: Annotated[int, Field(ge=0, lt=2**32, description="which sea is drawn")] = 1
    hulls: Annotated[list[str], Field(max_length=20, description="such as 28 ft x 10 ft x 2 ft")] = []
    boats: Annotated[list[str], Field(max_length=20, description="names of other trips whose boats are swept too")] = []


class StudyShown(BaseModel):
    """A study in one system of units: its sentences, its picture (SVG), its cases in a table."""

    sentences: tuple[str, ...]
    picture: str
    table: Table


class StudyKept(BaseModel):
    """A study as the pages keep it; table: every rod of every case as CSV, in SI units."""

    us: StudyShown
    metric: StudyShown
    counted: tuple[str, ...]
    csv: str


@router.get("/trips/{trip}/study", include_in_schema=False)
def study(request: Request, kept: AskedTrip, parts: ThisServer, asker: Asker) -> Response:
    """What the last study found, and the form for the next."""
    found, system = _kept(parts, kept), units_for(asker, kept)
    shown = getattr(found, system) if found is not None else None
    others = [each for each in parts.kept.all() if each.name != kept.name]
    return page(
        request, "study.html", kept, here="study", job=parts.jobs.get(f"study {kept.name}"), shown=shown, others=others,
        counted=found.counted if found is not None else (), own_speed=show(kept.trip.pattern.speed, "speed", system),
        own_radius=show(kept.trip.pattern.turn_radius, "length", system, figures=3),
    )  # fmt: skip


def _kept(parts: Parts, kept: KeptTrip) -> StudyKept | None:
    text = parts.kept.extra(kept, "study.json")
    try:
        return StudyKept.model_validate_json(text) if text else None
    except ValidationError:
        return None  # written by another version


@router.post("/trips/{trip}/study", dependencies=FORM, include_in_schema=False)
def begin(
    kept: AskedTrip, parts: ThisServer, boats: Several, speeds: Text = "", radii: Text = "", seas: Text = "",
    waves_from: Text = "", seed: Text = "", hulls: Text = "",
) -> RedirectResponse:  # fmt: skip
    """Begin a study; speeds, radii and seas are lists with commas between, hulls with semicolons."""
    if seed.strip() and not (seed.strip().isascii() and seed.strip().isdigit() and len(seed.strip()) < 10):
        raise Faults([Fault("which sea", seed[:40], "a whole number draws the sea", "write it as 1")])
    asked = StudyAsked.model_construct(
        speeds=_several(speeds), radii=_several(radii), seas=_several(seas), hulls=_several(hulls, ";"),
        waves_from=waves_from.strip() or "0 deg", seed=int(seed) if seed.strip() else 1, boats=boats[:20],
    )  # fmt: skip
    start_study(parts, kept, asked)
    return RedirectResponse(f"/trips/{kept.name}/study", 303)


def _several(text: str, mark: str = ",") -> list[str]:
    return [each.strip() for each in text[:2000].split(mark) if each.strip()]


def start_study(parts: Parts, kept: KeptTrip, asked: StudyAsked) -> Job:
    """Begin a study in the background. Raises Faults with everything that is wrong with what is asked."""
    others = [trip_named(name, parts) for name in dict.fromkeys(asked.boats) if name != kept.name]
    all_trips = [kept, *others]
    try:
        wanted = asked_from_words(
            asked.speeds, asked.radii, asked.seas, asked.waves_from, asked.seed, asked.hulls, len(all_trips)
        )
    except Faults as faults:
        raise Faults([replace(each, place=CALLED.get(each.place, each.place)) for each in faults]) from None

    def work(tell: Tell) -> None:
        made = _made(all_trips, wanted, tell)
        parts.kept.put_extra(kept, "study.json", _shown_both(made).model_dump_json())

    return parts.jobs.start(f"study {kept.name}", work)


def _made(all_trips: Sequence[KeptTrip], wanted: Asked, tell: Tell) -> Study:
    def run(cases: Sequence[Case], progress: Progress | None) -> tuple[Outcome, ...]:
        return run_here(cases, os.cpu_count() or 1, progress)

    plans = [each.plan for each in all_trips if each.plan is not None]
    return make_study([each.trip for each in all_trips], plans, wanted, run, tell)


def _shown_both(made: Study) -> StudyKept:
    counted = tuple(plain(each).replace("give --hull to count it", "give a hull to count it") for each in made.counted)
    return StudyKept(us=_shown(made, "us"), metric=_shown(made, "metric"), counted=counted, csv=as_csv(made))


def _shown(made: Study, system: System) -> StudyShown:
    rows = []
    for case, out in zip(made.cases[:MOST_ROWS], made.outcomes, strict=False):
        gap = show(out.gap, "length", system, figures=2) if out.first else "one line alone"
        pair = f"{plain(out.first)} and {plain(out.second)}" if out.first else ""
        rows.append(Row(
            plain(case_in_words(case, made, system)), (out.problem or gap, pair), "can tangle" if out.tangle else ""
        ))  # fmt: skip
    more = len(made.cases) - len(rows)
    note = f"And {more} cases more, in the table as a file." if more else ""
    heads = ("Case", "Smallest gap", "between")
    table = Table("How near the lines come, case by case", heads, tuple(rows), wordy=True, note=note)
    said = tuple(plain(each) for each in sentences(made, system))
    return StudyShown(sentences=said, picture=study_picture(made, system), table=table)


@router.get("/trips/{trip}/study.csv", include_in_schema=False)
def as_table(kept: AskedTrip, parts: ThisServer) -> Response:
    """The whole table of the last study: a row a rod and case, in SI units."""
    found = _kept(parts, kept)
    if found is None:
        raise HTTPException(404, "There is no study yet: begin one.")
    return Response(found.csv, media_type="text/csv; charset=utf-8",
                    headers={"content-disposition": 'attachment; filename="study.csv"'})  # fmt: skip


@router.get("/trips/{trip}/study.svg", include_in_schema=False)
def as_picture(kept: AskedTrip, parts: ThisServer, asker: Asker) -> Response:
    """The picture of the last study, as a file."""
    found = _kept(parts, kept)
    if found is None:
        raise HTTPException(404, "There is no study yet: begin one.")
    picture: str = getattr(found, units_for(asker, kept)).picture
    return Response(picture, media_type="image/svg+xml",
                    headers={"content-disposition": 'attachment; filename="study.svg"'})  # fmt: skip


@router.get("/api/trips/{trip}/study", summary="What the study found", responses=REFUSED, tags=["study"])
def last_study(kept: AskedTrip, parts: ThisServer) -> StudyKept:
    """What the last study of a trip found."""
    found = _kept(parts, kept)
    if found is None:
        raise HTTPException(404, "There is no study yet: ask for one.")
    return found


@router.post(
    "/api/trips/{trip}/study", status_code=202, summary="Begin a study", dependencies=CHANGES, responses=REFUSED,
    tags=["study"],
)  # fmt: skip
def ask_study(kept: AskedTrip, parts: ThisServer, asked: StudyAsked) -> answers.JobAnswer:
    """Begin a study of a trip; while one is under way, nothing new begins."""
    return answers.job_answer(start_study(parts, kept, asked))
