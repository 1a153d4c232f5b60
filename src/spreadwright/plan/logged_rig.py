"""The rigs that a log names, found in the trip file: what can be towed, and why the others cannot."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, TypeVar

from spreadwright.logbook.entry import FishedRig as LoggedRig
from spreadwright.rig.strike import FishedRig
from spreadwright.tackle.trip import Trip


class _Named(Protocol):
    @property
    def name(self) -> str: ...


Piece = TypeVar("Piece", bound=_Named)


def logged_rig(trip: Trip, rod: str, rig: LoggedRig) -> FishedRig | str:
    """The rig as tackle, or the reason in words why it cannot be towed.

    A piece that the log leaves out is taken only where the trip file has a single one of its kind.
    """
    try:
        outfit = trip.outfit(rod)
    except KeyError:
        return f"the trip file has no rod {rod!r}"
    if rig.mark is None:
        return "the log does not say its mark"
    stations = [s for s in trip.boat.stations if s.name == outfit.station] if not rig.station and outfit.station else []
    station = stations[0] if stations else _piece(rig.station, trip.boat.stations, "station")
    weight = _piece(rig.weight, trip.shelf.weights, "trolling weight")
    shock = _piece(rig.shock_leader, trip.shelf.shock_leaders, "shock leader")
    bite = _piece(rig.bite_leader, trip.shelf.bite_leaders, "bite leader")
    lure = _piece(rig.lure, trip.shelf.lures, "lure")
    for each in (station, weight, shock, bite, lure):
        if isinstance(each, str):
            return each
    return FishedRig(outfit, station, rig.mark, weight, shock, bite, lure)  # type: ignore[arg-type]


def _piece(name: str, pieces: Sequence[Piece], kind: str) -> Piece | str:
    if name:
        return next((piece for piece in pieces if piece.name == name), f"the trip file has no {kind} {name!r}")
    return pieces[0] if len(pieces) == 1 else f"the log does not say its {kind}"
