"""The state of the room is what follows from its events: today's, or any earlier day's, never kept and so never wrong.

Events are taken in the order they happened (ties: in the order they were written down). For each piece:
fit + on the work list + used up + retired = bought + made + what counts have found more (or less) than expected.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from spreadwright.faults import Fault
from spreadwright.stock.event import Event

NEVER_BELOW = "no count ever goes below zero"


@dataclass(frozen=True, slots=True)
class OpenFault:
    """Pieces that need work: id of the fault event, what is wrong, how many, since when."""

    id: str
    piece: str
    what: str
    quantity: int
    since: datetime
    note: str = ""


@dataclass(frozen=True, slots=True)
class State:
    """How a piece or lot stands.

    fit                ready to fish (millimetres for coils); those on the work list lie apart and are not among them
    work               what needs work, oldest first
    used, retired      how many are gone, in all
    found              how many more (or fewer) all counts found than were expected
    place              where it was last said to lie
    since              when the first of it came
    last_counted, last_inspected
    hours, hours_since hours trolled in all, and since it was last inspected [h]
    """

    fit: int = 0
    work: tuple[OpenFault, ...] = ()
    used: int = 0
    retired: int = 0
    found: int = 0
    place: str = ""
    since: datetime | None = None
    last_counted: datetime | None = None
    last_inspected: datetime | None = None
    hours: float = 0.0
    hours_since: float = 0.0

    @property
    def needs_work(self) -> int:
        """How many need work."""
        return sum(fault.quantity for fault in self.work)

    @property
    def there(self) -> int:
        """How many there are, fit or not."""
        return self.fit + self.needs_work


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a piece's history: the event, and how many fit ones there were before and after it."""

    event: Event
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class Replay:
    """What follows from events: the state of every piece that has any, and the events that cannot be."""

    states: Mapping[str, State]
    wrong: tuple[Fault, ...] = ()

    def state(self, piece: str) -> State:
        """The state of a piece; nothing there where it has no events."""
        return self.states.get(piece, NOTHING)


NOTHING = State()


@dataclass(slots=True)
class _Running:
    """A piece's state while its events are taken one by one; `told` puts an amount of it in words."""

    told: Callable[[int], str] = str
    fit: int = 0
    work: dict[str, OpenFault] = field(default_factory=dict)
    used: int = 0
    retired: int = 0
    found: int = 0
    place: str = ""
    since: datetime | None = None
    last_counted: datetime | None = None
    last_inspected: datetime | None = None
    hours: float = 0.0
    hours_since: float = 0.0

    def take(self, event: Event) -> Fault | None:
        """Take one event, or leave all as it is and say why it cannot be."""
        kind = event.kind
        if kind == "use" or (kind in ("retire", "fault") and not event.of):
            if event.quantity > self.fit:
                return _too_few(event, self.fit, "fit", self.told)
            self._leave(event)
        elif kind in ("repaired", "retire"):
            fault = self.work.get(event.of)
            if fault is None or event.quantity > fault.quantity:
                return _too_few(event, fault.quantity if fault else 0, "on the work list with that fault", self.told)
            self._settle(event, fault)
        elif kind in ("buy", "make"):
            self.fit += event.quantity
        else:
            self._note(event)
        if self.since is None and kind in ("buy", "make", "count"):
            self.since = event.at
        return None

    def _leave(self, event: Event) -> None:
        self.fit -= event.quantity
        if event.kind == "use":
            self.used += event.quantity
        elif event.kind == "retire":
            self.retired += event.quantity
        else:
            self.work[event.id] = OpenFault(event.id, event.piece, event.why, event.quantity, event.at, event.note)

    def _settle(self, event: Event, fault: OpenFault) -> None:
        left = fault.quantity - event.quantity
        if left:
            self.work[event.of] = OpenFault(fault.id, fault.piece, fault.what, left, fault.since, fault.note)
        else:
            del self.work[event.of]
        if event.kind == "repaired":
            self.fit += event.quantity
        else:
            self.retired += event.quantity

    def _note(self, event: Event) -> None:
        if event.kind == "count":
            self.found += event.quantity - self.fit
            self.fit, self.last_counted = event.quantity, event.at
        elif event.kind == "inspect":
            self.last_inspected, self.hours_since = event.at, 0.0
        elif event.kind == "trolled":
            self.hours += event.hours
            self.hours_since += event.hours
        elif event.kind == "moved":
            self.place = event.why

    def state(self) -> State:
        return State(
            self.fit, tuple(self.work.values()), self.used, self.retired, self.found, self.place, self.since,
            self.last_counted, self.last_inspected, self.hours, self.hours_since,
        )  # fmt: skip


def _too_few(event: Event, there: int, which: str, told: Callable[[int], str]) -> Fault:
    day = event.at.date().isoformat()
    were = "was" if there == 1 else "were"
    given = f"{told(event.quantity)} {_DONE[event.kind]} on {day}, when {told(there)} {were} {which}"
    step = (
        f"write {told(there)} or less" if there else "see what there is with `spreadwright room show` and `room work`"
    )
    if event.kind == "fault" and not there:
        step = "it may be on the work list already: see `spreadwright room work`"
    return Fault(
        "event", given, NEVER_BELOW, f"{step}; if there are more, count them first (`spreadwright room count`)"
    )


_DONE = {"use": "used", "retire": "retired", "fault": "to be mended", "repaired": "repaired"}


def in_order(events: Iterable[Event]) -> list[Event]:
    """Events as they happened; those of one moment stay in the order they were given."""
    return sorted(events, key=lambda event: event.at)


def replay(events: Iterable[Event], until: datetime | None = None, told: Callable[[int], str] = str) -> Replay:
    """The state of every piece after its events (given in the order they were written), up to a moment if one is given.

    An event that cannot be is left out and named among the wrong ones; a store never lets one in. `told` puts the
    amounts of those in words.
    """
    running: dict[str, _Running] = {}
    wrong: list[Fault] = []
    for event in in_order(events):
        if until is not None and event.at > until:
            break
        piece = running.get(event.piece)
        if piece is None:
            piece = running[event.piece] = _Running(told)
        fault = piece.take(event)
        if fault is not None:
            wrong.append(fault)
    return Replay({name: piece.state() for name, piece in running.items()}, tuple(wrong))


def history(events: Iterable[Event]) -> list[Line]:
    """The history of one piece, oldest first, with how many fit ones there were before and after each event."""
    piece = _Running()
    lines = []
    for event in in_order(events):
        before = piece.fit
        if piece.take(event) is None:
            lines.append(Line(event, before, piece.fit))
    return lines


def end_of(day: date, zone: tzinfo = UTC) -> datetime:
    """The last moment of a day, for `replay(events, until)`."""
    return datetime.combine(day + timedelta(days=1), time(), zone) - timedelta(microseconds=1)
