"""The tackle room in and out: the stocktake as a spreadsheet, the whole store as one file, copies to go back to.

What the commands `spreadwright room fill FILE.csv, export, import, restore` do. What is sent is checked whole first: a
file with mistakes changes nothing, and every mistake is told with its place.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Form, Query, Request, UploadFile
from starlette.responses import Response

from spreadwright.faults import Fault, Faults
from spreadwright.stock.sheet import sheet_text
from spreadwright.store.archive import put_into, take_out
from spreadwright.store.archive_json import from_json, to_json
from spreadwright.store.open import open_store
from spreadwright.store.place import place_of
from spreadwright.store.restore import Copy, copies, restore
from spreadwright.store.room import read_room
from spreadwright.store.room_boats import every_boat, find_boat
from spreadwright.store.room_sheet import take_sheet
from spreadwright.web.guard import LARGER_REQUESTS
from spreadwright.web.page_making import page
from spreadwright.web.shared import Parts, ThisServer, by_form
from spreadwright.web.uploads import sent_bytes, sent_text

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]


@dataclass(frozen=True)
class ShownCopy:
    """A copy of the store as the page lists it: its name, what it holds in words, and whether it is sound."""

    name: str
    said: str
    sound: bool


@router.get("/room/files")
def files(request: Request, parts: ThisServer) -> Response:
    """What can be taken out and put in."""
    return _files_page(request, parts)


def _files_page(request: Request, parts: Parts, said: str = "") -> Response:
    where = parts.settings.store
    with open_store(where) as store:
        pieces, boats = len(read_room(store).pieces), every_boat(store)
    place = place_of(where)
    found = [_shown(each) for each in copies(place)] if place.file is not None else []
    return page(request, "room_files.html", here="/room", said=said, pieces=pieces, boats=boats, copies=found)


def _shown(copy: Copy) -> ShownCopy:
    held = copy.wrong or f"{copy.pieces} pieces or lots, {copy.events} events, {copy.entries} entries of the log"
    return ShownCopy(copy.name, f"{copy.made:%Y-%m-%d %H:%M} UTC: {held}", not copy.wrong)


def _attached(content: bytes, kind: str, name: str) -> Response:
    return Response(content, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'})


@router.get("/room/stocktake.csv")
def stocktake(parts: ThisServer, boat: Annotated[str, Query(max_length=80)] = "") -> Response:
    """The stocktake as one spreadsheet; of one boat's gear and what all share, if asked."""
    with open_store(parts.settings.store) as store:
        room = read_room(store).of(find_boat(store, boat).id if boat else None)
    return _attached(sheet_text(room).encode("utf-8-sig"), "text/csv; charset=utf-8", "stocktake.csv")


@router.post("/room/stocktake", dependencies=FORM)
def take_stocktake(
    request: Request, parts: ThisServer, file: UploadFile | None = None, boat: Text = "", who: Text = ""
) -> Response:
    """Take a spreadsheet in: new rows become pieces, counts that differ become events; or nothing, with all faults."""
    text = sent_text(file, "the spreadsheet")
    with open_store(parts.settings.store) as store:
        owner = find_boat(store, boat).id if boat else ""
        done = take_sheet(store, text, "the spreadsheet", boat=owner, who=who.strip()[:80])
    said = f"{done.new} new pieces or lots, {done.counted} counts that differed, {done.changed} descriptions changed."
    return _files_page(request, parts, said)


@router.get("/room/archive.json")
def archive(parts: ThisServer) -> Response:
    """Everything in the store, room, logbook, lists and photos, as one JSON file."""
    with open_store(parts.settings.store) as store:
        whole = to_json(take_out(store))
    return _attached(whole.encode(), "application/json", "spreadwright-store.json")


@router.post("/room/archive", dependencies=FORM)
def take_archive(request: Request, parts: ThisServer, file: UploadFile | None = None) -> Response:
    """Put such a file into a store that holds nothing yet; one with mistakes changes nothing."""
    data = sent_bytes(file, LARGER_REQUESTS["/room/archive"])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = ""
    with open_store(parts.settings.store) as store:
        rows = put_into(store, from_json(text))
    return _files_page(request, parts, f"{rows} rows taken in.")


@router.post("/room/restore", dependencies=FORM)
def bring_back(request: Request, parts: ThisServer, chosen: Text = "", sure: Text = "") -> Response:
    """Bring the store back to one of its copies; what is there now becomes a copy too."""
    place = place_of(parts.settings.store)
    known = {each.name for each in copies(place)}
    if chosen not in known or sure != "yes":
        given = chosen[:60] if chosen not in known else "no tick that this is meant"
        rule, step = "a copy of the list is brought back, on your word", "choose one, and tick that you mean it"
        raise Faults([Fault("copy", given or "nothing", rule, step)])
    done = restore(place, chosen)
    kept = f" What was there before is kept as {done.before}." if done.before else ""
    return _files_page(request, parts, f"The store stands as in {done.copy.name}.{kept}")
