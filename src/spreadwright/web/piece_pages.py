"""The page of one piece in the tackle room: how it stands, what happens to it, making it up, photos, its history.

What the commands `spreadwright room use, buy, make, retire, trolled, move, photo, history` do, by the same functions.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal, InvalidOperation
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Form, HTTPException, Path, Request, UploadFile
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import System
from spreadwright.sheets.figures import plain
from spreadwright.stock.amounts import read_amount, show_amount
from spreadwright.stock.event import REASONS, EventKind, happened
from spreadwright.stock.inspection import LOOKS
from spreadwright.stock.lists.value import Taken
from spreadwright.stock.piece import Piece
from spreadwright.stock.replay import Line
from spreadwright.stock.room import Room
from spreadwright.store.open import Store, open_store
from spreadwright.store.room import history_of, read_room, record
from spreadwright.store.room_photos import LARGEST, add_photo, photo_content, photos_of, remove_photo
from spreadwright.store.room_work import make_up
from spreadwright.web.page_making import page
from spreadwright.web.shared import Asker, ThisServer, by_form, units_for
from spreadwright.web.tables import Row, Table
from spreadwright.web.uploads import sent_bytes

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
Several = Annotated[list[str], Form(default_factory=list)]
OurId = Annotated[str, Path(pattern="^[0-9a-f]{32}$")]
MOST_PHOTOS = 40  # of one piece
LONGEST = 200  # letters of a word or note
PARTS = ("coil", "crimp", "hook", "snap swivel", "other")  # kinds that something is made up from
PART_ROWS = 3
# What can be said to have happened, and the event it becomes.
EVENTS: dict[str, EventKind] = {
    "use": "use", "buy": "buy", "retire": "retire", "trolled": "trolled", "move": "moved", "look": "inspect",
    "fault": "fault",
}  # fmt: skip


def _piece_in(room: Room, identity: str) -> Piece:
    try:
        return room.piece(identity)
    except KeyError:
        raise HTTPException(404, "There is no such piece in the room. Look at the tackle room.") from None


@router.get("/room/piece/{piece}")
def piece(request: Request, parts: ThisServer, asker: Asker, piece: OurId) -> Response:
    """One piece: how it stands, its photos, what happened to it, and forms for what happens next."""
    with open_store(parts.settings.store) as store:
        return _piece_page(request, store, piece, units_for(asker))


def _piece_page(request: Request, store: Store, identity: str, system: System, said: str = "") -> Response:
    room = read_room(store)
    one = _piece_in(room, identity)
    state = room.state(one)
    return page(
        request, "piece.html", here="/room", one=one, state=state, said=said, photos=photos_of(store, one.id),
        fit=show_amount(one.sort, state.fit, system), reasons=REASONS, looks=LOOKS.get(one.kind, ()),
        work=[(show_amount(one.sort, each.quantity, system), each) for each in state.work],
        history=_history(one, history_of(store, one.id), system), part_rows=range(1, PART_ROWS + 1),
        made_from=[each for each in room.of(one.boat or None).pieces if each.kind in PARTS and each.id != one.id],
    )  # fmt: skip


def _history(one: Piece, lines: Sequence[Line], system: System) -> Table:
    """What happened, newest first."""
    rows = []
    for line in reversed(lines):
        event = line.event
        number = show_amount(one.sort, event.quantity, system) if event.quantity or event.kind == "count" else ""
        told = (number, f"{event.hours:g} h" if event.hours else "", event.why, event.note,
                f"{event.price} each" if event.price is not None else "", event.who)  # fmt: skip
        fit = show_amount(one.sort, line.after, system)
        rows.append(Row(f"{event.at:%Y-%m-%d %H:%M}", (event.kind, plain(", ".join(t for t in told if t)), fit)))
    return Table("What happened, newest first (UTC)", ("When", "What", "More", "Fit after"), tuple(rows), wordy=True)


@router.post("/room/piece/{piece}", dependencies=FORM)
def it_happened(
    request: Request, parts: ThisServer, asker: Asker, piece: OurId, what: Text = "", number: Text = "",
    why: Text = "", price: Text = "", hours: Text = "", who: Text = "", note: Text = "",
) -> Response:  # fmt: skip
    """Something happened to a piece: gone, bought, retired, trolled, moved, looked over, at fault."""
    kind = EVENTS.get(what)
    if kind is None:
        raise _wrong("what happened", what, f"one of {', '.join(EVENTS)}", "press one of the page's buttons")
    with open_store(parts.settings.store) as store:
        one = _piece_in(read_room(store), piece)
        more: dict[str, Any] = {"why": _words(why), "who": _words(who), "note": _words(note)}
        if kind == "use" and not more["why"]:
            more["why"] = "lost"
        amount = read_amount(one.sort, number) if kind not in ("trolled", "moved", "inspect") else 0
        if kind == "buy":
            more["price"] = _money(price)
        if kind == "trolled":
            more["hours"] = _hours(hours)
        record(store, happened(one.id, kind, amount, **more))
        return _piece_page(request, store, piece, units_for(asker), "Noted.")


def _words(text: str) -> str:
    """A short note on one line, without signs that nobody can see."""
    return "".join(letter for letter in text if letter.isprintable()).strip()[:LONGEST]


def _money(text: str) -> Decimal | None:
    if not text.strip():
        return None
    try:
        price = Decimal(text.strip())
    except InvalidOperation:
        price = Decimal("NaN")
    if not price.is_finite() or not 0 <= price < 10**9:
        raise _wrong("price", text, "a price is a number with a point", "write it as 12.50")
    return price


def _hours(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise _wrong("hours", text, "hours in the water are a number above zero", "write them as 6.5") from None


@router.post("/room/piece/{piece}/make", dependencies=FORM)
def made_up(
    request: Request, parts: ThisServer, asker: Asker, piece: OurId, takes: Several, amounts: Several,
    number: Text = "1", who: Text = "",
) -> Response:  # fmt: skip
    """Pieces were made up at the bench: what they take leaves the shelf in the same moment, or nothing happens.

    takes    ids of the parts, empty where a row of the form was not used; amounts: of each, for all that were made
    """
    with open_store(parts.settings.store) as store:
        room = read_room(store)
        one = _piece_in(room, piece)
        count = read_amount(one.sort, number)
        asked = [(part, amount) for part, amount in zip(takes, [*amounts, *[""] * len(takes)], strict=False) if part]
        taken = []
        for part, amount in asked[:20]:
            from_shelf = room.find(part)
            taken.append(Taken(kind=from_shelf.kind, name=from_shelf.name,
                               amount=read_amount(from_shelf.sort, amount)))  # fmt: skip
        make_up(store, one.kind, one.name, count, taken, boat=one.boat or None, who=_words(who))
        said = f"{show_amount(one.sort, count)} made up; {len(taken)} sorts of parts taken from the shelf."
        return _piece_page(request, store, piece, units_for(asker), said)


@router.post("/room/photo", dependencies=FORM)
def keep_photo(
    parts: ThisServer, piece: Text = "", note: Text = "", file: UploadFile | None = None
) -> RedirectResponse:
    """Keep a photo of a piece: a JPEG, PNG or WebP picture by what is in it, whatever it is called."""
    with open_store(parts.settings.store) as store:
        one = _piece_in(read_room(store), piece)
        if len(photos_of(store, one.id)) >= MOST_PHOTOS:
            raise _wrong("photo", f"photo {MOST_PHOTOS + 1}", f"{MOST_PHOTOS} photos a piece", "remove one first")
        add_photo(store, one.id, sent_bytes(file, LARGEST), note=_words(note))
    return RedirectResponse(f"/room/piece/{one.id}#photos", 303)


@router.get("/room/photo/{photo}")
def photo(parts: ThisServer, photo: OurId) -> Response:
    """A photo as it was kept. Its type is what its content is, and nothing in it is ever run."""
    with open_store(parts.settings.store) as store:
        try:
            kind, content = photo_content(store, photo)
        except Faults as faults:
            raise HTTPException(404, faults.faults[0].rule.capitalize() + ".") from None
    return Response(content, media_type=kind, headers={"content-disposition": "inline"})


@router.post("/room/piece/{piece}/photo/{photo}/remove", dependencies=FORM)
def drop_photo(request: Request, parts: ThisServer, asker: Asker, piece: OurId, photo: OurId) -> Response:
    """Remove a photo of a piece for good."""
    with open_store(parts.settings.store) as store:
        one = _piece_in(read_room(store), piece)
        if photo not in {each.id for each in photos_of(store, one.id)}:
            raise _wrong("photo", photo, "this photo is not there (any more)", "load the page again")
        remove_photo(store, photo)
        return _piece_page(request, store, piece, units_for(asker), "The photo is removed.")


def _wrong(place: str, given: str, rule: str, next_step: str) -> Faults:
    return Faults([Fault(place, given[:60] or "nothing", rule, next_step)])
