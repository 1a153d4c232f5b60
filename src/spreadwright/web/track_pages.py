"""Tracks in the logbook: recorded positions taken in, what was read of them, and the lines towed along them again.

What the command `spreadwright log track` does, from the same store and the same functions. Times are UTC.
"""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Form, Query, Request, UploadFile
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.fold import Logbook
from spreadwright.logbook.track_file import read_track
from spreadwright.plan.at_the_bite import AtTheBite, at_the_bite
from spreadwright.sheets.figures import plain
from spreadwright.sheets.log_report import bite_words
from spreadwright.store.log_keep import kept_bites, log_of, put_bites
from spreadwright.store.log_tracks import add_track, kept_track, track_names
from spreadwright.store.open import Store, open_store
from spreadwright.web.jobs import Job, Tell
from spreadwright.web.kept import KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import Asker, Parts, ThisServer, by_form, units_for
from spreadwright.web.uploads import as_file

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
MOST_AT_ONCE = 20  # files in one request
LAST = 60  # strikes shown


@router.get("/log/tracks")
def tracks(
    request: Request, parts: ThisServer, asker: Asker, trip: Annotated[str, Query(max_length=40)] = ""
) -> Response:
    """The tracks that are kept, and what they say of each strike. trip: whose towing is followed."""
    with open_store(parts.settings.store) as store:
        return _tracks_page(request, store, asker, (), trip)


def _tracks_page(request: Request, store: Store, asker: Asker, read: tuple[list[str], ...], trip: str) -> Response:
    parts: Parts = request.app.state.parts
    kept = parts.kept.get(trip)
    book, (bites, _) = log_of(store), kept_bites(store)
    system = units_for(asker, kept)
    strikes = [
        (f"{each.entry.at:%Y-%m-%d %H:%M:%S}, {plain(each.entry.rod)}", bite_words(bites[each.entry.id], system))
        for each in reversed(book.strikes)
        if each.entry.id in bites
    ]
    job = parts.jobs.get(f"tracks {kept.name}") if kept is not None else None
    return page(
        request, "tracks.html", here="/log", read=read, tracks=track_names(store), strikes=strikes[:LAST], job=job,
        matched=len(strikes), of=len(book.strikes), trips=parts.kept.all(), asked=kept, told=_told(job, book),
    )  # fmt: skip


def _told(job: Job | None, book: Logbook) -> list[str]:
    """What the last towing found, in sentences."""
    found = job.result if job is not None else None
    if not isinstance(found, AtTheBite):
        return []
    return [f"{len(found.bites)} of {len(book.strikes)} strikes lie on the track.", *found.sentences]


@router.post("/log/tracks", dependencies=FORM)
def take_tracks(request: Request, parts: ThisServer, asker: Asker, files: list[UploadFile] | None = None) -> Response:
    """Take tracks in, GPX 1.1 or NMEA 0183, told apart by what they hold; each is kept once."""
    sent = [each for each in files or [] if each.size]
    if not 1 <= len(sent) <= MOST_AT_ONCE:
        raise Faults([Fault("the track", f"{len(sent)} files", f"from 1 to {MOST_AT_ONCE} files at once",
                            "choose the receiver's own log, and send it again")])  # fmt: skip
    faults: list[Fault] = []
    read: list[list[str]] = []
    with open_store(parts.settings.store) as store:
        for number, file in enumerate(sent, start=1):
            try:
                with as_file(file, "the track" if len(sent) == 1 else f"track {number}") as path:
                    fixes = read_track(path)
            except Faults as wrong:
                faults += wrong.faults
                continue
            told = list(fixes.report.sentences)
            if len(fixes) and not add_track(store, fixes):
                told.append("It was kept already.")
            read.append(told)
        if not read:
            raise Faults(faults)
        read += [[f"{each.place}: {each.given}; {each.rule}; {each.next_step}."] for each in faults]
        return _tracks_page(request, store, asker, tuple(read), "")


@router.post("/log/tracks/tow", dependencies=FORM)
def tow_again(
    parts: ThisServer, trip: Annotated[str, Form()] = "", whole: Annotated[str, Form()] = ""
) -> RedirectResponse:
    """Tow the logged lines along the tracks, in the background. whole: all day, not at the strikes alone."""
    kept = parts.kept.get(trip)
    if kept is None:
        raise Faults([Fault("the trip", trip[:40] or "none", "lines are towed with a trip's boat and gear",
                            "choose the trip that was fished")])  # fmt: skip
    start_towing(parts, kept, whole == "yes")
    return RedirectResponse(f"/log/tracks?trip={kept.name}", 303)


def start_towing(parts: Parts, kept: KeptTrip, whole: bool) -> Job:
    """Begin to tow a trip's logged lines along the tracks; what comes of it is kept in the store."""

    def work(tell: Tell) -> AtTheBite:
        with open_store(parts.settings.store) as store:
            book, track = log_of(store), kept_track(store)
        found = at_the_bite(kept.trip, book, track, whole, tell)
        with open_store(parts.settings.store) as store:
            put_bites(store, found.bites, found.ran)
        return found

    return parts.jobs.start(f"tracks {kept.name}", work)
