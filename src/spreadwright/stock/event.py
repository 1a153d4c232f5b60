"""What happens to a piece: counted, used, bought, made, retired, inspected, found faulty, repaired, trolled, moved.

Events are only ever added. How many there are, in which state and where, is what follows from them (see replay.py).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from typing import Literal, get_args

from spreadwright.faults import Fault
from spreadwright.stock.piece import new_id

EventKind = Literal[
    "count", "use", "buy", "make", "retire", "inspect", "fault", "repaired", "trolled", "moved"
]  # fmt: skip
EVENT_KINDS: tuple[EventKind, ...] = get_args(EventKind)
MOST = 10_000_000  # pieces, or millimetres of a coil: beyond that a slip of the finger is likelier
_NUMBERED = ("use", "buy", "make", "retire", "fault", "repaired")

# Why a piece was used up. The first four are losses, from which loss rates are learnt.
LOSSES = ("bitten off", "broken off", "lost", "damaged")
REASONS = (*LOSSES, "worn out", "made up", "given away")


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened to one piece.

    id        32 hex digits
    piece     id of the piece
    kind      what happened
    at        when, UTC
    quantity  how many (millimetres of a coil); for a count, how many fit ones were counted
    why       for use: one of REASONS or the captain's words; for fault and inspect: what was found; for moved: where to
    of        for repaired and retire: id of the fault event that is settled by it; empty: of the fit ones
    hours     for trolled: how long it was in the water [h]
    price     for buy: of one
    who       who did it, by name
    note      anything worth remembering
    """

    id: str
    piece: str
    kind: EventKind
    at: datetime
    quantity: int = 0
    why: str = ""
    of: str = ""
    hours: float = 0.0
    price: Decimal | None = None
    who: str = ""
    note: str = ""


def now() -> datetime:
    """This moment, UTC."""
    return datetime.now(UTC)


def happened(
    piece: str, kind: EventKind, quantity: int = 0, *, at: datetime | None = None, why: str = "", of: str = "",
    hours: float = 0.0, price: Decimal | None = None, who: str = "", note: str = "",
) -> Event:  # fmt: skip
    """A new event, now unless a time is given."""
    return Event(new_id(), piece, kind, at or now(), quantity, why, of, hours, price, who, note)


def event_fault(event: Event, place: str = "event") -> Fault | None:
    """What is wrong with an event taken alone, or None. Whether it fits its piece's history is for the replay."""
    return next((found for check in _CHECKS if (found := check(event, place)) is not None), None)


def _kind(event: Event, place: str) -> Fault | None:
    if event.kind in EVENT_KINDS:
        return None
    return Fault(place, repr(event.kind), f"what happens to a piece is one of: {', '.join(EVENT_KINDS)}", "write one")


def _quantity(event: Event, place: str) -> Fault | None:
    least = 1 if event.kind in _NUMBERED else 0
    whole = isinstance(event.quantity, int) and not isinstance(event.quantity, bool)
    if whole and least <= event.quantity <= MOST:
        return None
    return Fault(
        place, str(event.quantity), f"'{event.kind}' takes a whole number from {least} to {MOST}", "correct it"
    )


def _hours(event: Event, place: str) -> Fault | None:
    if event.kind == "trolled":
        fine = 0.0 < event.hours <= 1000.0
        rule = "hours in the water are more than 0 and at most 1000 at a time"
    else:
        fine, rule = event.hours == 0.0, "only 'trolled' has hours"
    return None if fine else Fault(place, f"{event.hours} h", rule, "correct the hours")


def _moment(event: Event, place: str) -> Fault | None:
    if event.at.tzinfo is not None and 1990 <= event.at.year < 2200:
        return None
    return Fault(place, str(event.at), "a time has its zone and lies from 1990 to 2199", "check the clock")


def _words(event: Event, place: str) -> Fault | None:
    if event.kind in ("fault", "moved") and not event.why.strip():
        needs = "what is wrong" if event.kind == "fault" else "where it lies now"
        return Fault(place, "no words", f"'{event.kind}' says {needs}", "add it in a few words")
    if event.kind == "repaired" and not event.of:
        return Fault(place, "no fault named", "what was repaired is a fault on the work list", "name that fault")
    if event.of and event.kind not in ("repaired", "retire"):
        return Fault(place, event.of, f"'{event.kind}' settles no fault", "leave the fault out")
    for text in (event.why, event.note, event.who):
        if len(text) > 2000 or "\0" in text:
            return Fault(place, text[:40], "words here have at most 2000 characters", "shorten them")
    return None


def _price(event: Event, place: str) -> Fault | None:
    if event.price is None or (event.price.is_finite() and 0 <= event.price < 10_000_000):
        return None
    return Fault(place, str(event.price), "a price is zero or more", "correct the price")


_CHECKS: tuple[Callable[[Event, str], Fault | None], ...] = (_kind, _quantity, _hours, _moment, _words, _price)
