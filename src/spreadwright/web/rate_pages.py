"""What the log says works: rates with ranges, the next hour's change by lot, swaps that would tell, what the log feeds.

What the commands `spreadwright log rates, suggest, uses` show. Rates are worked out once for a log that stays the same;
a long log's are worked out in the background, told as they come.
"""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Form, Query, Request
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.factors import NAMES
from spreadwright.logbook.rate_words import counted, percent, two_figures
from spreadwright.logbook.rates import FactorRates, RateReport, rate_report
from spreadwright.logbook.suggest import Suggestion, suggest
from spreadwright.plan.log_use import changed_trip_file, knowledge, learnt, log_uses
from spreadwright.sheets.figures import plain
from spreadwright.store.log_content import log_content
from spreadwright.store.log_keep import log_of
from spreadwright.store.open import Store, open_store
from spreadwright.web.jobs import Job, Tell
from spreadwright.web.kept import KeptTrip
from spreadwright.web.page_making import page
from spreadwright.web.shared import Parts, ThisServer, by_form
from spreadwright.web.tables import Row, Table

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
TripAsked = Annotated[str, Query(max_length=40)]
COMPARED = 3  # comparisons told in words for each factor
LONG = 4000  # hours out and strikes together: rates of a longer log take over a second, and are worked out beside
REMEMBERED = 16  # reports kept in memory
CHANGED = ("lure", "weight", "mark", "distance", "station", "colour", "wash")  # what a captain changes on a rod


class Reports:
    """Rates by what they were worked out from; the oldest are forgotten first."""

    def __init__(self) -> None:
        self._held: OrderedDict[str, RateReport] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, key: str) -> RateReport | None:
        """The report of that log and question, if it is held."""
        with self._lock:
            return self._held.get(key)

    def put(self, key: str, report: RateReport) -> RateReport:
        """Hold a report."""
        with self._lock:
            self._held[key] = report
            while len(self._held) > REMEMBERED:
                self._held.popitem(last=False)
        return report


_reports = Reports()


def report_or_work(parts: Parts, store: Store, kept: KeptTrip | None, by: str, again: bool = False) -> RateReport | Job:
    """The rates by one factor, or all where `by` is empty; for a long log the work that finds them, until it is done.

    again   begin anew after the work was stopped or came to nothing
    """
    key = f"{log_content(store)} {kept.name if kept is not None else ''} {by}"
    known = _reports.get(key)
    if known is not None:
        return known
    book = log_of(store)
    beside = knowledge(store, book, kept.trip if kept is not None else None)
    wanted = (by,) if by else NAMES
    if len(book.exposures) + len(book.strikes) < LONG:
        return _reports.put(key, rate_report(book, beside, wanted))

    def work(tell: Tell) -> None:
        made: list[RateReport] = []
        for number, name in enumerate(wanted):
            if not tell(f"working out what works, by {name}", number, len(wanted)):
                raise RuntimeError("it was asked to stop")
            made.append(rate_report(book, beside, (name,)))
        _reports.put(key, _together(made))

    job = parts.jobs.get("rates house")
    if job is not None and job.state in ("stopped", "failed") and not again:
        return job
    return parts.jobs.start("rates house", work)


def _together(made: list[RateReport]) -> RateReport:
    """Reports by one factor each as one."""
    remarks = dict.fromkeys(remark for each in made for remark in each.remarks)
    return made[0].model_copy(update={
        "days": max(each.days for each in made), "factors": tuple(f for each in made for f in each.factors),
        "remarks": tuple(remarks),
    })  # fmt: skip


@router.get("/log/rates")
def rates(
    request: Request, parts: ThisServer, trip: TripAsked = "", by: Annotated[str, Query(max_length=40)] = "",
    again: Annotated[str, Query(max_length=3)] = "",
) -> Response:  # fmt: skip
    """What works: strikes an hour by each factor, with sentences and ranges. trip: whose shelf knows the colours."""
    kept, by = parts.kept.get(trip), by if by in NAMES else ""
    with open_store(parts.settings.store) as store:
        found = report_or_work(parts, store, kept, by, again == "yes")
    asked: dict[str, Any] = {"factors": NAMES, "by": by, "of_trip": trip, "trips": parts.kept.all(), "here": "/log"}
    if isinstance(found, Job):
        return page(request, "rates.html", job=found, report=None, head="", found=[], **asked)
    days = "1 day" if found.days == 1 else f"{found.days} days"
    head = f"{counted(found.strikes)} in {found.hours:.0f} rod-hours on {days}."
    shown = [(each.factor, _shown(each), _rate_table(each)) for each in found.factors]
    return page(request, "rates.html", job=None, report=found, head=head, found=shown, **asked)


def _shown(rates: FactorRates) -> list[str]:
    """The comparisons with the next best, and all that is said beside comparisons."""
    compared = len(rates.comparisons)
    return [*rates.sentences[: min(compared, COMPARED)], *rates.sentences[compared:]]


def _rate_table(rates: FactorRates) -> Table:
    rows = tuple(
        Row(plain(level.level), (f"{level.strikes} in {level.hours:.1f}", two_figures(level.rate),
                                 f"{two_figures(level.low)} to {two_figures(level.high)}"))
        for level in rates.levels
    )  # fmt: skip
    heads = (rates.factor.capitalize(), "Strikes in rod-hours", "An hour", "Nine times in ten")
    return Table(f"Strikes an hour by {rates.factor}", heads, rows)


@router.get("/log/suggest")
def suggestion(
    request: Request, parts: ThisServer, trip: TripAsked = "", by: Annotated[str, Query(max_length=40)] = "lure",
    lot: Annotated[int | None, Query(ge=0, lt=10**6)] = None,
) -> Response:  # fmt: skip
    """The next hour's change, drawn by lot, and the swaps that would tell causes apart. lot: draws the same again."""
    kept, by = parts.kept.get(trip), by if by in CHANGED else "lure"
    if lot is None:
        of = kept.name if kept is not None else ""
        return RedirectResponse(f"/log/suggest?by={by}&trip={of}&lot={secrets.randbelow(10**6)}", 303)
    with open_store(parts.settings.store) as store:
        book = log_of(store)
        known = knowledge(store, book, kept.trip if kept is not None else None)
        more = [each.name for each in kept.trip.shelf.lures if each.count > 0] if kept and by == "lure" else []
        drawn = suggest(book, lot, by, more, known=known)
        swaps = [(each.factor, mixed) for each in rate_report(book, known, (by,)).factors for mixed in each.confounded]
    return page(
        request, "suggest.html", here="/log", by=by, factors=CHANGED, of_trip=kept.name if kept else "", lot=lot,
        trips=parts.kept.all(), swaps=swaps, again=secrets.randbelow(10**6),
        why_not=drawn if isinstance(drawn, str) else "", drawn=None if isinstance(drawn, str) else drawn,
        table_of=None if isinstance(drawn, str) else _choices(drawn),
    )  # fmt: skip


def _choices(drawn: Suggestion) -> Table:
    rows = tuple(
        Row(plain(each.level), (percent(each.best), f"{each.strikes:.0f} in {each.hours:.1f}",
                                two_figures(each.rate), plain(", ".join(each.fished_on)) or "none"),
            "goes on" if drawn.change and each.level == drawn.take else "")
        for each in sorted(drawn.choices, key=lambda each: -each.best)
    )  # fmt: skip
    heads = (drawn.factor.capitalize(), "Best of all", "Strikes in rod-hours", "An hour", "Fished now on")
    return Table("What it was drawn from", heads, rows, wordy=True)


@router.get("/log/uses")
def uses(request: Request, parts: ThisServer, trip: TripAsked = "") -> Response:
    """What the log feeds: loss rates to the spares, preferences to the choice of lures."""
    kept = parts.kept.get(trip)
    with open_store(parts.settings.store) as store:
        found = log_uses(store, kept.trip if kept is not None else None)
    return page(request, "uses.html", here="/log", uses=found, asked=kept, trips=parts.kept.all())


@router.post("/log/uses", dependencies=FORM)
def trip_with_log(parts: ThisServer, trip: Text = "") -> RedirectResponse:
    """Keep a trip of its own with the log's say in its wishes; the trip it is made from stays as it is."""
    kept = parts.kept.get(trip)
    if kept is None:
        step = "choose one of the list of trips"
        raise Faults([Fault("the trip", trip[:40] or "none", "a changed trip is made from a trip", step)])
    with open_store(parts.settings.store) as store:
        text = changed_trip_file(kept.text, kept.trip, learnt(store, kept.trip))
    return RedirectResponse(f"/trips/{parts.kept.add(text).name}", 303)
