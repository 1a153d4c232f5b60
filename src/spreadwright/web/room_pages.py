"""The pages of the tackle room: how everything stands, the counting walk kind by kind, faults, mending and looks.

Each press of a button is one transaction over the functions that the command `spreadwright room` uses.
"""

from __future__ import annotations

import threading
from datetime import date
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Form, Query, Request
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import System
from spreadwright.sheets.figures import plain
from spreadwright.stock.amounts import read_amount, show_amount
from spreadwright.stock.event import MOST, happened
from spreadwright.stock.fill import from_trip
from spreadwright.stock.inspection import LOOKS, Due, due_list, today_utc, work_list
from spreadwright.stock.kinds import KIND_NAMES, kind_of
from spreadwright.stock.piece import Piece
from spreadwright.stock.replay import OpenFault, end_of
from spreadwright.stock.room import Room
from spreadwright.stock.walk import Stop, Walk
from spreadwright.store.open import Store, open_store
from spreadwright.store.room import read_room, record
from spreadwright.store.room_lists import kept_intervals
from spreadwright.store.room_walk import begin_walk, count_in_walk, drop_walk, finish_walk, open_walk
from spreadwright.store.room_work import put_in
from spreadwright.web.page_making import page
from spreadwright.web.shared import Asker, ThisServer, by_form, units_for
from spreadwright.web.tables import Row, Table

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
_counting = threading.Lock()  # a step is read and written in one go


@router.get("/room")
def room(request: Request, parts: ThisServer, asker: Asker, day: date | Literal[""] = "") -> Response:
    """The tackle room kind by kind, the walk that is open, what needs work and what is due for a look; or the counts as
    they stood at the end of a day."""
    with open_store(parts.settings.store) as store:
        return _room_page(request, store, units_for(asker), day=day or None)


def _room_page(request: Request, store: Store, system: System, said: str = "", day: date | None = None) -> Response:
    found = read_room(store, end_of(min(day, date(9000, 1, 1))) if day else None)
    due = due_list(found.pieces, found.states, today_utc(), kept_intervals(store))
    return page(
        request, "room.html", here="/room", tables=_room_tables(found, system), walk=open_walk(store), said=said,
        work=work_list(found.pieces, found.states), due=[(each, _due_words(each)) for each in due if each.overdue],
        day=day.isoformat() if day else "", pieces=found.pieces, amount=_amount_in(system),
        trips=request.app.state.parts.kept.all(),
        faults=sorted({look.fault for kind in {piece.kind for piece in found.pieces} for look in LOOKS[kind]}),
    )  # fmt: skip


def _amount_in(system: System) -> object:
    def amount(piece: Piece, number: int) -> str:
        return show_amount(piece.sort, number, system)

    return amount


def _due_words(due: Due) -> str:
    return due.reason[:1].upper() + due.reason[1:]


def _room_tables(room: Room, system: System) -> list[Table]:
    rows: dict[str, list[Row]] = {}
    for piece in room.pieces:
        state = room.state(piece)
        work = ", ".join(f"{show_amount(piece.sort, each.quantity, system)} {plain(each.what)}" for each in state.work)
        cells = (show_amount(piece.sort, state.fit, system), work or "nothing", plain(state.place) or "not said",
                 state.last_counted.date().isoformat() if state.last_counted else "never")  # fmt: skip
        rows.setdefault(piece.sort.plural, []).append(
            Row(plain(piece.name), cells, "needs work" if work else "", f"/room/piece/{piece.id}")
        )
    heads = ("Piece", "Fit", "Needs work", "Lies in", "Counted")
    return [Table(kind.capitalize(), heads, tuple(own), wordy=True) for kind, own in rows.items()]


@router.post("/room/fill", dependencies=FORM)
def fill(request: Request, parts: ThisServer, asker: Asker, trip: Text = "") -> Response:
    """Put a trip's shelf and rods into the room; what is there already keeps its history."""
    kept = parts.kept.get(trip)
    if kept is None:
        raise _wrong("the trip", trip, "the room is filled from a trip in the list of trips", "choose one of them")
    with open_store(parts.settings.store) as store:
        new = put_in(store, from_trip(kept.trip))
        said = f"{len(new)} sorts of gear put into the room; what was there already is left as it was."
        return _room_page(request, store, units_for(asker), said)


@router.post("/room/faulty", dependencies=FORM)
def faulty(
    request: Request, parts: ThisServer, asker: Asker, piece: Text = "", what: Text = "", number: Text = "1"
) -> Response:
    """Pieces need work: they leave the fit ones and go on the work list."""
    with open_store(parts.settings.store) as store:
        one = read_room(store).find(piece)
        record(store, happened(one.id, "fault", read_amount(one.sort, number), why=what.strip()))
        return _room_page(request, store, units_for(asker), f"On the work list: {one.name}, {what.strip()}.")


@router.post("/room/settled", dependencies=FORM)
def settled(
    request: Request, parts: ThisServer, asker: Asker, fault: Text = "", number: Text = "", settle: Text = "repaired"
) -> Response:
    """So many of a fault are fit again, or are thrown out."""
    kinds: dict[str, Literal["repaired", "retire"]] = {"repaired": "repaired", "retire": "retire"}
    with open_store(parts.settings.store) as store:
        one, open_fault = _fault_of(read_room(store), fault)
        kind = kinds.get(settle)
        if kind is None:
            raise _wrong("what became of it", settle, "a fault is repaired, or its pieces are retired", "choose one")
        amount = read_amount(one.sort, number) if number.strip() else open_fault.quantity
        record(store, happened(one.id, kind, amount, of=open_fault.id))
        became = "fit again" if kind == "repaired" else "retired"
        return _room_page(request, store, units_for(asker), f"{one.name}, {open_fault.what}: {became}.")


def _fault_of(room: Room, identity: str) -> tuple[Piece, OpenFault]:
    for piece in room.pieces:
        for fault in room.state(piece).work:
            if fault.id == identity:
                return piece, fault
    raise _wrong("the fault", identity, "this fault is not on the work list (any more)", "load the page again")


@router.post("/room/looked", dependencies=FORM)
def looked(request: Request, parts: ThisServer, asker: Asker, piece: Text = "") -> Response:
    """Somebody looked a piece or lot over: its time to the next look starts anew."""
    with open_store(parts.settings.store) as store:
        one = read_room(store).find(piece)
        record(store, happened(one.id, "inspect"))
        return _room_page(request, store, units_for(asker), f"{one.name}: looked over today.")


@router.get("/room/count")
def count(
    request: Request, parts: ThisServer, asker: Asker, kind: Annotated[str, Query(max_length=40)] = ""
) -> Response:
    """The open walk at one kind: the one asked for, or the first that is not counted through."""
    with open_store(parts.settings.store) as store:
        walk = open_walk(store)
    return _walk_page(request, walk, kind, units_for(asker))


def _walk_page(request: Request, walk: Walk | None, kind: str, system: System) -> Response:
    kinds = walk.kinds() if walk is not None else {}
    if kind not in kinds:
        following = walk.next if walk is not None else None
        kind = following.piece.kind if following is not None else next(iter(kinds), "")
    names = list(kinds)
    after = names[names.index(kind) + 1] if kind in names and kind != names[-1] else ""
    return page(
        request, "count.html", here="/room", walk=walk, kind=kind, kinds=kinds, stops=kinds.get(kind, ()), after=after,
        amount=_amount_in(system), looks=LOOKS.get(kind, ()),
        plural={name: kind_of(name).plural for name in KIND_NAMES},
    )  # fmt: skip


@router.post("/room/count", dependencies=FORM)
def begin(parts: ThisServer, who: Text = "") -> RedirectResponse:
    """Begin a walk, or go on with the one that is open."""
    named = "".join(letter for letter in who if letter.isprintable()).strip()[:80]
    with open_store(parts.settings.store) as store:
        begin_walk(store, who=named)
    return RedirectResponse("/room/count", 303)


@router.post("/room/count/one", dependencies=FORM)
def count_one(
    request: Request, parts: ThisServer, asker: Asker, walk: Text = "", piece: Text = "", number: Text = "",
    step: Text = "typed",
) -> Response:  # fmt: skip
    """Keep one piece's count: as typed, as expected, or one more or less than counted (or expected) so far.

    A step is taken from what the store holds, so quick presses and two phones add up.
    """
    with _counting, open_store(parts.settings.store) as store:
        stop = _stop(open_walk(store), walk, piece)
        so_far = stop.expected if stop.counted is None else stop.counted
        steps = {"more": so_far + 1, "less": so_far - 1, "expected": stop.expected}
        counted = steps[step] if step in steps else read_amount(stop.piece.sort, number)
        count_in_walk(store, walk, piece, min(MOST, max(0, counted)))
        return _walk_page(request, open_walk(store), stop.piece.kind, units_for(asker))


def _stop(walk: Walk | None, identity: str, piece: str) -> Stop:
    if walk is None or walk.id != identity:
        raise _wrong("walk", "a walk that is over", "counts go into the open walk", "go to the tackle room, begin anew")
    found = next((stop for stop in walk.stops if stop.piece.id == piece), None)
    if found is None:
        raise _wrong("count", piece, "a count belongs to a piece in the room", "load the page again")
    return found


@router.post("/room/count/end", dependencies=FORM)
def end(request: Request, parts: ThisServer, asker: Asker, walk: Text = "", ending: Text = "") -> Response:
    """Finish the walk: every count becomes an event; or drop it, and nothing has happened."""
    with open_store(parts.settings.store) as store:
        if ending == "drop":
            drop_walk(store, walk)
            said = "The walk is dropped; nothing changed."
        elif ending == "finish":
            done = finish_walk(store, walk)
            said = f"Finished: {done.done} of {len(done.stops)} counted, {len(done.differences)} of them differed."
        else:
            raise _wrong("the walk's end", ending, "a walk is finished or dropped", "choose one")
        return _room_page(request, store, units_for(asker), said)


def _wrong(place: str, given: str, rule: str, next_step: str) -> Faults:
    return Faults([Fault(place, given[:60] or "nothing", rule, next_step)])
