"""Papers, licences and catch limits as the captain entered them, and how old each entry is.

This program does not know the law anywhere. It keeps what was entered with the date on which it
was checked, and says when an entry has run out, runs out before the trip, or has not been looked
at for a while. Limits change by place and date, sometimes overnight: the authority's own notice
decides, not this list.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import IntEnum

# Assumed: how old a check may be before it is called stale; each is an argument.
STALE_PAPER_DAYS = 365
STALE_LIMIT_DAYS = 30

NOTICE = (
    "These are the entries as you made them, not the law. Ask the authority for the water you fish, "
    "close to the day of the trip."
)


@dataclass(frozen=True, slots=True)
class Paper:
    """A document, licence or permit as entered.

    valid_until   last day it holds; None when it does not run out, or nobody entered it
    checked_on    when someone last looked at it; None if never
    """

    name: str
    holder: str = ""
    number: str = ""
    valid_until: date | None = None
    checked_on: date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class CatchLimit:
    """A limit on what may be kept, as entered; nothing is filled in for a field left empty.

    kept       how many, None where not entered
    per        what that number is for, such as "person and day" or "boat"
    length     least or greatest length in the captain's words, such as "fork length 70 cm"
    season     in the captain's words
    source     where the captain read it
    """

    species: str
    area: str
    kept: int | None = None
    per: str = ""
    length: str = ""
    season: str = ""
    source: str = ""
    checked_on: date | None = None


class Concern(IntEnum):
    """How much an entry asks for attention; the greater, the more."""

    FINE = 0
    LOOK_AGAIN = 1
    NOT_VALID = 2


@dataclass(frozen=True, slots=True)
class PaperFinding:
    """What was found about one entry: what was given, and the next step."""

    entry: str
    concern: Concern
    words: str
    next_step: str


def _age(entry: str, checked_on: date | None, trip: date, stale_days: int) -> PaperFinding:
    again = "check it with the authority and enter today's date"
    if checked_on is None:
        return PaperFinding(entry, Concern.LOOK_AGAIN, "no date was entered for when it was checked", again)
    days = (trip - checked_on).days
    if days < 0:
        return PaperFinding(
            entry,
            Concern.LOOK_AGAIN,
            f"its check is dated {checked_on.isoformat()}, after the trip",
            "correct the date",
        )
    if days > stale_days:
        return PaperFinding(
            entry,
            Concern.LOOK_AGAIN,
            f"checked on {checked_on.isoformat()}, {days} days before the trip (more than {stale_days})",
            again,
        )
    return PaperFinding(entry, Concern.FINE, f"as entered and checked on {checked_on.isoformat()}", "take it along")


def _paper(paper: Paper, trip: date, stale_days: int) -> PaperFinding:
    entry = f"{paper.name} ({paper.holder})" if paper.holder else paper.name
    if paper.valid_until is not None and paper.valid_until < trip:
        return PaperFinding(
            entry,
            Concern.NOT_VALID,
            f"entered as valid until {paper.valid_until.isoformat()}, before the trip on {trip.isoformat()}",
            "renew it, or correct the entry",
        )
    return _age(entry, paper.checked_on, trip, stale_days)


def _limit(limit: CatchLimit, trip: date, stale_days: int) -> PaperFinding:
    entry = f"limit for {limit.species}, {limit.area}" if limit.area else f"limit for {limit.species}"
    if not limit.source:
        return PaperFinding(
            entry,
            Concern.LOOK_AGAIN,
            "no source was entered",
            "enter where you read it, so that it can be checked again",
        )
    found = _age(entry, limit.checked_on, trip, stale_days)
    if found.concern is Concern.FINE:
        return PaperFinding(entry, found.concern, found.words, "read the authority's notice again on the day")
    return found


def review(
    papers: Iterable[Paper],
    limits: Iterable[CatchLimit],
    trip: date,
    stale_paper_days: int = STALE_PAPER_DAYS,
    stale_limit_days: int = STALE_LIMIT_DAYS,
) -> tuple[PaperFinding, ...]:
    """Every entry against the date of the trip, the most pressing first.

    Ages count to the day of the trip. An entry without a date is never called fine.
    """
    found = [_paper(paper, trip, stale_paper_days) for paper in papers]
    found += [_limit(limit, trip, stale_limit_days) for limit in limits]
    return tuple(sorted(found, key=lambda one: -one.concern))
