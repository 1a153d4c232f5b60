"""A counting walk: kind by kind through the room, expected against counted, stopped and taken up again at will.

What is counted is kept at once, and may be counted anew, but changes nothing until the walk is finished: then each
count becomes an event of the moment it was made. A walk that is dropped leaves no trace in the counts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from spreadwright.stock.event import Event, happened
from spreadwright.stock.kinds import KIND_NAMES
from spreadwright.stock.piece import Piece
from spreadwright.stock.replay import State


@dataclass(frozen=True, slots=True)
class Counted:
    """How many fit ones of a piece were counted, and when."""

    number: int
    at: datetime


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop of the walk: the piece, where it should lie, how many fit ones are expected, what was counted so far."""

    piece: Piece
    place: str
    expected: int
    counted: int | None

    @property
    def difference(self) -> int | None:
        """Counted less expected; None where it was not counted yet."""
        return None if self.counted is None else self.counted - self.expected


@dataclass(frozen=True)
class Walk:
    """A walk with all its stops, in walking order.

    id, boat (id, empty: the whole room), started, who; ended: None while it is open
    """

    id: str
    boat: str
    started: datetime
    who: str
    ended: datetime | None
    stops: tuple[Stop, ...]

    @property
    def next(self) -> Stop | None:
        """The first stop that was not counted yet, None when all were."""
        return next((stop for stop in self.stops if stop.counted is None), None)

    @property
    def done(self) -> int:
        """How many stops were counted."""
        return sum(stop.counted is not None for stop in self.stops)

    @property
    def differences(self) -> tuple[Stop, ...]:
        """The stops where counted and expected differ."""
        return tuple(stop for stop in self.stops if stop.difference)

    def kinds(self) -> dict[str, tuple[Stop, ...]]:
        """The stops kind by kind, in walking order; kinds that are not there are left out."""
        by_kind = {kind: tuple(stop for stop in self.stops if stop.piece.kind == kind) for kind in KIND_NAMES}
        return {kind: stops for kind, stops in by_kind.items() if stops}


def stops_of(pieces: Sequence[Piece], states: Mapping[str, State], counted: Mapping[str, Counted]) -> tuple[Stop, ...]:
    """The stops of a walk through these pieces, in their order; expected: how many fit ones there are by now."""
    stops = []
    for piece in pieces:
        state, found = states.get(piece.id, State()), counted.get(piece.id)
        stops.append(Stop(piece, state.place, state.fit, None if found is None else found.number))
    return tuple(stops)


def as_events(counted: Mapping[str, Counted], who: str) -> list[Event]:
    """The counts of a walk as events, each at the moment it was made."""
    return [
        happened(piece, "count", found.number, at=found.at, who=who, note="walk") for piece, found in counted.items()
    ]
