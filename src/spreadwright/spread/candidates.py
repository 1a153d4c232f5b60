"""Every rig that the shelf allows on every rod: stations, marks, weights, leaders and lures, less what is ruled out.

Rigs that are the same in the water share one towed line: lures of the same drag, mass and size are one kind.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from spreadwright.rig.hydrodynamics import lure_drag
from spreadwright.rig.tow_model import USUAL, Doubts, Narrow, TowedRig, as_stated, towed_rig
from spreadwright.tackle.leader import BiteLeader, ShockLeader
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.trip import Shelf, Trip
from spreadwright.tackle.weight import TrollingWeight
from spreadwright.tackle.wishes import Choice


@dataclass(frozen=True, slots=True)
class Candidate:
    """One rig that one rod could fish; numbers point into the trip's lists.

    rod, station, weight, shock, bite: places in outfits, stations and shelf; mark [m]; kind: lure kind;
    lures: the shelf's lures of that kind that this rod may fish; line: place in the towed lines.
    """

    rod: int
    station: int
    mark: float
    weight: int
    shock: int
    bite: int
    kind: int
    lures: tuple[int, ...]
    line: int


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Rigs that are not candidates: what, how many (0 where they were never made up), and why."""

    what: str
    count: int
    reason: str


@dataclass(frozen=True, slots=True)
class Candidates:
    """All candidates, the lines to compute, the lures of each kind, and what was left out."""

    rigs: tuple[Candidate, ...]
    lines: tuple[TowedRig, ...]
    kinds: tuple[tuple[int, ...], ...]
    left_out: tuple[LeftOut, ...]

    def of_rod(self, rod: int) -> tuple[int, ...]:
        """Places in `rigs` of one rod's candidates."""
        return tuple(i for i, rig in enumerate(self.rigs) if rig.rod == rod)


def lure_kinds(lures: tuple[Lure, ...]) -> tuple[tuple[int, ...], ...]:
    """Lures grouped by what the water feels: drag, mass and length."""
    groups: dict[object, list[int]] = {}
    for i, lure in enumerate(lures):
        groups.setdefault((lure_drag(lure), lure.mass, lure.length), []).append(i)
    return tuple(tuple(group) for group in groups.values())


def find_candidates(
    trip: Trip, refused: dict[tuple[int, int, int, int, int], str] | None = None, narrow: Narrow = as_stated
) -> Candidates:
    """All candidates of a trip.

    refused: reasons by (rod, weight, shock, bite, lure) of rigs that are not to be fished (strength, fit); narrow: what
    the captain's readings make of usual drag.
    """
    kinds = lure_kinds(trip.shelf.lures)
    lines: dict[TowedRig, int] = {}
    rigs: list[Candidate] = []
    why: Counter[tuple[str, str]] = Counter()
    for rod, outfit in enumerate(trip.outfits):
        for rig, lures in _possible(trip, rod, outfit, kinds, refused or {}, why):
            station, mark, weight, shock, bite, kind = rig
            found = Candidate(rod, station, mark, weight, shock, bite, kind, lures, -1)
            line = lines.setdefault(line_of(trip, found, USUAL, narrow), len(lines))
            rigs.append(replace(found, line=line))
    left = (*_none_left(trip), *(LeftOut(what, count, reason) for (what, reason), count in sorted(why.items())))
    return Candidates(tuple(rigs), tuple(lines), kinds, left)


def line_of(trip: Trip, rig: Candidate, doubts: Doubts = USUAL, narrow: Narrow = as_stated) -> TowedRig:
    """The line that a candidate tows, with inputs off their usual values as far as the captain's readings leave it."""
    shelf = trip.shelf
    lure = shelf.lures[rig.lures[0]]
    return towed_rig(
        trip.outfits[rig.rod], trip.boat.stations[rig.station], rig.mark, shelf.weights[rig.weight],
        shelf.shock_leaders[rig.shock], shelf.bite_leaders[rig.bite], lure, narrow(doubts, lure.name),
    )  # fmt: skip


Numbers = tuple[int, float, int, int, int, int]


def _possible(
    trip: Trip,
    rod: int,
    outfit: Outfit,
    kinds: tuple[tuple[int, ...], ...],
    refused: dict[tuple[int, int, int, int, int], str],
    why: Counter[tuple[str, str]],
) -> Iterator[tuple[Numbers, tuple[int, ...]]]:
    shelf = trip.shelf
    pieces = product(*map(_there, _parted(shelf)), range(len(kinds)))
    places = product(_stations(trip, outfit), outfit.marks)
    for (station, mark), (weight, shock, bite, kind) in product(places, pieces):
        lures = []
        for lure in kinds[kind]:
            if shelf.lures[lure].count == 0:
                continue
            names = names_of(trip, station, mark, weight, shock, bite, lure)
            reason = forbidden(trip, outfit, names) or refused.get((rod, weight, shock, bite, lure), "")
            if reason:
                why[(f"rod {outfit.name}", reason)] += 1
            else:
                lures.append(lure)
        if lures:
            yield (station, mark, weight, shock, bite, kind), tuple(lures)


def _parted(shelf: Shelf) -> tuple[Sequence[TrollingWeight | ShockLeader | BiteLeader], ...]:
    return shelf.weights, shelf.shock_leaders, shelf.bite_leaders


def _none_left(trip: Trip) -> Iterator[LeftOut]:
    """Pieces that the trip file lists with a count of nought: every rig with one of them is left out."""
    kinds = ("weight", "shock leader", "bite leader", "lure")
    for kind, pieces in zip(kinds, (*_parted(trip.shelf), trip.shelf.lures), strict=True):
        for piece in pieces:
            if piece.count == 0:
                yield LeftOut(f"{kind} {piece.name}", 0, "none of it is on the shelf")


def _there(pieces: Sequence[object]) -> list[int]:
    """Places of the pieces of which there is at least one."""
    return [i for i, piece in enumerate(pieces) if getattr(piece, "count", 1) > 0]


def _stations(trip: Trip, outfit: Outfit) -> list[int]:
    """Stations a rod may stand at: its own, or any that no other rod owns."""
    lock = trip.lock(outfit.name)
    own = (lock.station if lock is not None and lock.station is not None else None) or outfit.station
    if own is not None:
        return [i for i, station in enumerate(trip.boat.stations) if station.name == own]
    taken = {other.station for other in trip.outfits if other is not outfit and other.station is not None}
    taken |= {lock.station for lock in trip.fixed if lock.rod != outfit.name and lock.station is not None}
    return [i for i, station in enumerate(trip.boat.stations) if station.name not in taken]


def names_of(
    trip: Trip, station: int, mark: float, weight: int, shock: int, bite: int, lure: int
) -> dict[str, str | float]:
    """The parts of a rig by the keys and names of the trip file; mark [m]."""
    shelf = trip.shelf
    return {
        "station": trip.boat.stations[station].name,
        "mark": mark,
        "weight": shelf.weights[weight].name,
        "leader": shelf.shock_leaders[shock].name,
        "bite_leader": shelf.bite_leaders[bite].name,
        "lure": shelf.lures[lure].name,
    }


def forbidden(trip: Trip, outfit: Outfit, names: dict[str, str | float]) -> str:
    """Why the captain's own words rule a rig out; empty if they do not."""
    lock = trip.lock(outfit.name)
    if lock is not None and not _matches(lock, outfit, names):
        return "the captain fixed something else for this rod"
    for ban in trip.banned:
        if ban.rod in (None, outfit.name) and _matches(ban, outfit, names):
            return f"banned: {ban.reason}" if ban.reason else "banned by the captain"
    return ""


def _matches(choice: Choice, outfit: Outfit, names: dict[str, str | float]) -> bool:
    for key, wanted in choice.chosen.items():
        if key == "mark":
            if outfit.tied_mark(float(wanted)) != names["mark"]:
                return False
        elif names[key] != wanted:
            return False
    return True
