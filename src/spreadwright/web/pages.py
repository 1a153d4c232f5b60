"""The pages of a trip: its file, the spread, the plan, rigs and cards; pairing and units. Words, no numbers."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Form, Path, Query, Request, UploadFile
from fastapi.responses import JSONResponse
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.plan.worded import in_units
from spreadwright.quantity import System
from spreadwright.sheets.cards import CardKind, cards_pdf
from spreadwright.sheets.deck import deck_sheet
from spreadwright.sheets.drawing import spread_drawing
from spreadwright.sheets.figures import plain
from spreadwright.sheets.rig_picture import strike_picture
from spreadwright.sheets.wording import (
    against_the_rule,
    buy_in_words,
    by_set_out,
    cautions_grave_first,
    closest_in_words,
    crew_in_words,
    notes_in_words,
    reasons_in_words,
    sentence,
    slips_in_words,
    turns_in_words,
    weakest_in_words,
)
from spreadwright.store.open import open_store
from spreadwright.tackle.trip_file import LARGEST_FILE
from spreadwright.web.guard import cookie_of
from spreadwright.web.lists_pages import lists_as_they_stand
from spreadwright.web.page_making import page, way_back
from spreadwright.web.rig_tables import rig_tables
from spreadwright.web.shared import AskedTrip, Asker, ThisServer, by_form, trip_named, units_for
from spreadwright.web.tables import plan_tables

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]


@router.get("/")
def trips(request: Request, parts: ThisServer) -> Response:
    """All trips, and the place to add one."""
    return page(request, "trips.html", here="/", trips=parts.kept.all())


@router.post("/trips", dependencies=FORM)
async def add_trip(
    parts: ThisServer, file: UploadFile | None = None, text: Annotated[str, Form()] = ""
) -> RedirectResponse:
    """Keep a trip file that was sent as a file or as text. Its name plays no part in where it is kept."""
    if file is not None and file.size:
        data = await file.read(LARGEST_FILE + 1)
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise Faults([Fault("the trip", "bytes that are no text", "a trip file is text in UTF-8",
                                "save it again as UTF-8 text")]) from None  # fmt: skip
    kept = parts.kept.add(text.replace("\r\n", "\n"))
    return RedirectResponse(f"/trips/{kept.name}/spread", 303)


def faults_page(request: Request, faults: Faults) -> Response:
    """Everything that is wrong with what was sent, on a page of its own."""
    return page(request, "faults.html", faults=faults, status=400)


def refusal_page(request: Request, status: int, said: str) -> Response:
    """Something that cannot be had, in words."""
    return page(request, "refusal.html", said=said, status=status)


@router.post("/units", dependencies=FORM)
def units(asker: Asker, units: Annotated[System, Form()], back: Annotated[str, Form()] = "/") -> RedirectResponse:
    """Switch the units of everything this browser is shown."""
    asker.units = units
    return RedirectResponse(way_back(back), 303)


@router.get("/pair")
def pair(request: Request, code: Annotated[str, Query(max_length=40)] = "") -> Response:
    """Ask for the code that the terminal shows; the picture there brings it along."""
    if request.scope.get("session_of") is not None:
        return RedirectResponse("/", 303)
    return page(request, "pair.html", code=code, wrong=False)


@router.post("/pair")
def paired(request: Request, parts: ThisServer, code: Annotated[str, Form(max_length=40)] = "") -> Response:
    """Let the machine in that knows the code, once."""
    if not parts.pairing.redeem(code):
        return page(request, "pair.html", code="", wrong=True, status=403)
    session = parts.sessions.new()
    return RedirectResponse("/", 303, {"set-cookie": cookie_of(request.scope, session)})


@router.get("/trips/{trip}")
def trip(request: Request, kept: AskedTrip) -> Response:
    """The trip's file, to read and to change."""
    return page(request, "trip.html", kept, here="trip")


@router.post("/trips/{trip}/text", dependencies=[*FORM, Depends(trip_named)])
def change_trip(parts: ThisServer, text: Annotated[str, Form()] = "") -> RedirectResponse:
    """Keep a changed text as a trip of its own; the file it came from is never written."""
    made = parts.kept.add(text.replace("\r\n", "\n"))
    return RedirectResponse(f"/trips/{made.name}/spread", 303)


@router.post("/trips/{trip}/remove", dependencies=FORM)
def remove_trip(kept: AskedTrip, parts: ThisServer) -> RedirectResponse:
    """Remove an uploaded trip."""
    parts.kept.remove(kept.name)
    return RedirectResponse("/", 303)


@router.post("/trips/{trip}/again", dependencies=FORM)
def read_again(kept: AskedTrip, parts: ThisServer) -> RedirectResponse:
    """Read an opened trip's file again, after a change with another program."""
    fresh = parts.kept.read_again(kept.name) or kept
    return RedirectResponse(f"/trips/{fresh.name}", 303)


@router.get("/trips/{trip}/spread")
def spread(request: Request, kept: AskedTrip, asker: Asker) -> Response:
    """The spread, drawn: play it, drag it, swap its gear."""
    drawn = spread_drawing(kept.plan, width=760, system=units_for(asker, kept)) if kept.plan is not None else ""
    return page(request, "spread.html", kept, here="spread", drawn=drawn)


@router.get("/trips/{trip}/compare")
def compare(request: Request, kept: AskedTrip) -> Response:
    """Two spreads side by side."""
    return page(request, "compare.html", kept, here="spread")


@router.get("/trips/{trip}/plan")
def plan(request: Request, kept: AskedTrip, parts: ThisServer, asker: Asker) -> Response:
    """The plan in full, and how else it can be made."""
    made, system = kept.plan, units_for(asker, kept)
    beside = kept.opened is not None and kept.opened.with_name("day.toml").exists()
    there = {"readings": bool(parts.kept.extra(kept, "measure.json")),
             "day": beside or bool(parts.kept.extra(kept, "day.toml"))}  # fmt: skip
    if made is None:
        return page(request, "no_plan.html", kept, here="plan", **there)
    made = in_units(made, system)
    slips = slips_in_words(made, system)
    short = [("Closest", closest_in_words(made, system)), ("To buy", buy_in_words(made)),
             ("Weakest", weakest_in_words(made)), *([("Drag", slips)] if slips else [])]  # fmt: skip
    notes = {plain(rod.rod): notes_in_words(rod) for rod in by_set_out(made)}
    return page(
        request, "plan.html", kept, here="plan", plan=made, boat=crew_in_words(made), run=turns_in_words(made, system),
        short=short, tables=plan_tables(made, system), notes=notes, gaps=against_the_rule(made, system),
        reasons=reasons_in_words(made), cautions=cautions_grave_first(made),
        doubts=[sentence(each) for each in made.doubts], others=[sentence(each.words) for each in made.others],
        gains=[sentence(each.words) for each in made.gains if each.wider > 0.0 or each.more_apart > 0.0], **there,
    )  # fmt: skip


@router.get("/trips/{trip}/rigs")
def rigs(request: Request, kept: AskedTrip, asker: Asker, rod: Annotated[int, Query(ge=0, le=999)] = 0) -> Response:
    """One rod's rig from reel to hook, with the others a step away."""
    if kept.rigs is None:
        return page(request, "no_rigs.html", kept, here="rigs")
    made, system = kept.rigs, units_for(asker, kept)
    number = rod if rod < len(made.rigs) else 0
    rig = made.rigs[number]
    alone = made.model_copy(update={"rigs": (rig,)})
    return page(
        request, "rigs.html", kept, here="rigs", rigs=made.rigs, rig=rig, number=number,
        tables=rig_tables(rig, system), picture=strike_picture(alone, system), notice=made.notice,
        of_plan=kept.plan is not None,
    )  # fmt: skip


@router.get("/trips/{trip}/cards/{kind}.pdf")
def card(kept: AskedTrip, parts: ThisServer, asker: Asker, kind: Annotated[CardKind, Path()]) -> Response:
    """One kind of card to print; lists are those of the page Lists, counted against the tackle room."""
    if kept.plan is None:
        return JSONResponse({"detail": "There is no plan yet: make it first."}, 404)
    system = units_for(asker, kept)
    with open_store(parts.settings.store) as store:
        lists = lists_as_they_stand(store, kept, kept.plan, system).lists
    made = cards_pdf(kept.plan, (kind,), system=system, trip=kept.trip, lists=lists)
    named = f'inline; filename="{kind}.pdf"'
    return Response(made, media_type="application/pdf", headers={"content-disposition": named})


@router.get("/trips/{trip}/deck.html")
def deck(kept: AskedTrip, asker: Asker) -> Response:
    """The deck sheet, to be kept on a phone: always sent as a file, never shown under this server's name."""
    if kept.plan is None:
        return JSONResponse({"detail": "There is no plan yet: make it first."}, 404)
    made = deck_sheet(kept.plan, system=units_for(asker, kept), trip=kept.trip)
    named = 'attachment; filename="deck-sheet.html"'
    return Response(made, media_type="text/html", headers={"content-disposition": named})
