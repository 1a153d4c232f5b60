"""Every rig and every spread of a trip, found by plain loops: what the search must not fall short of.

Nothing of the search is used here: rigs come from the trip's lists, gaps from the gap computation of each pair.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from spreadwright.plan.refuse import refused_rigs
from spreadwright.plan.value import Plan
from spreadwright.rig.tow_model import towed_rig
from spreadwright.spread.motions import SEARCH, Passage, passages, track_of
from spreadwright.tackle import BiteLeader, Lure, ShockLeader, Trip, TrollingWeight
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.line import Sea

Piece = TrollingWeight | ShockLeader | BiteLeader | Lure
KINDS = ("weight", "shock_leader", "bite_leader", "lure")


@dataclass(frozen=True)
class Rig:
    """What one rod fishes, by the names of the trip file; mark [m]."""

    rod: str
    station: str
    mark: float
    weight: str
    shock_leader: str
    bite_leader: str
    lure: str


Spread = tuple[Rig, ...]


def shelf_of(trip: Trip) -> tuple[Sequence[Piece], ...]:
    """Weights, shock leaders, bite leaders, lures: in the order of KINDS."""
    shelf = trip.shelf
    return shelf.weights, shelf.shock_leaders, shelf.bite_leaders, shelf.lures


def shelf_counts(trip: Trip) -> dict[tuple[str, str], int]:
    """How many there are of each piece, by kind and name."""
    return {
        (kind, piece.name): piece.count for kind, pieces in zip(KINDS, shelf_of(trip), strict=True) for piece in pieces
    }


def rigs_of(trip: Trip, rod: str) -> list[Rig]:
    """Every rig of one rod: its station or any that is nobody's own, its marks, and whatever lies on the shelf.

    Less those that must not be fished because they do not fit or would part: that is no matter of the search.
    """
    outfit = trip.outfit(rod)
    owned = {other.station for other in trip.outfits if other.station}
    stations = [outfit.station] if outfit.station else [s.name for s in trip.boat.stations if s.name not in owned]
    weights, shocks, bites, lures = (
        [(i, piece.name) for i, piece in enumerate(pieces) if piece.count] for pieces in shelf_of(trip)
    )
    number, refused = trip.outfits.index(outfit), refused_rigs(trip)
    return [
        Rig(rod, station, mark, weight[1], shock[1], bite[1], lure[1])
        for station, mark, weight, shock, bite, lure in product(stations, outfit.marks, weights, shocks, bites, lures)
        if (number, weight[0], shock[0], bite[0], lure[0]) not in refused
    ]


def chosen_spread(plan: Plan) -> Spread:
    """The spread of a plan."""
    return tuple(
        Rig(r.rod, r.station, r.mark, r.weight, r.shock_leader, r.bite_leader, r.lure) for r in plan.rods
    )  # fmt: skip


def is_legal(trip: Trip, spread: Sequence[Rig], short: int = 0) -> bool:
    """Each station once, no more pieces than there are (`short` may be bought), marks apart if that is wished."""
    if len({rig.station for rig in spread}) < len(spread):
        return False
    if trip.wishes.one_line_a_mark and len({round(rig.mark, 2) for rig in spread}) < len(spread):
        return False
    counts = shelf_counts(trip)
    used = Counter((kind, getattr(rig, kind)) for rig in spread for kind in KINDS)
    return sum(max(0, n - counts[piece]) for piece, n in used.items()) <= short


class Water:
    """Tows rigs on the trip's pattern, each once, and knows the gap of every pair."""

    def __init__(self, trip: Trip) -> None:
        self.trip = trip
        self._passages: dict[Rig, Passage] = {}
        self._gaps: dict[frozenset[Rig], float] = {}

    def tow(self, rigs: Sequence[Rig]) -> None:
        """Compute rigs together that are not known yet: one by one takes far longer."""
        new = [rig for rig in dict.fromkeys(rigs) if rig not in self._passages]
        trip = self.trip
        by_name = [{piece.name: piece for piece in pieces} for pieces in shelf_of(trip)]
        lines = []
        for rig in new:
            gear = [pieces[getattr(rig, kind)] for pieces, kind in zip(by_name, KINDS, strict=True)]
            station = trip.boat.station(rig.station)
            lines.append(towed_rig(trip.outfit(rig.rod), station, rig.mark, *gear))  # type: ignore[arg-type]
        different = list(dict.fromkeys(lines))
        results = passages(different, track_of(trip.pattern), Sea(density=trip.water.density), SEARCH)
        found = dict(zip(different, results, strict=True))
        for rig, line in zip(new, lines, strict=True):
            passage = found[line]
            assert isinstance(passage, Passage), passage
            self._passages[rig] = passage

    def passage(self, rig: Rig) -> Passage:
        """The rig through the S-turn."""
        self.tow([rig])
        return self._passages[rig]

    def slips(self, rig: Rig) -> bool:
        """Does the rig pull harder in the turns than the reel's drag is set to?"""
        return float(self.passage(rig).pulls[:, 0].max()) > self.trip.outfit(rig.rod).strike_drag

    def gap(self, a: Rig, b: Rig) -> float:
        """The pair's smallest gear-to-line gap [m]."""
        pair = frozenset((a, b))
        if pair not in self._gaps:
            self._gaps[pair] = gear_gap(self.passage(a).outline, self.passage(b).outline).distance
        return self._gaps[pair]

    def smallest(self, spread: Sequence[Rig], give_up: float = -1.0) -> float:
        """The smallest gap of a spread [m], or any gap of it that is under `give_up`."""
        least = float("inf")
        for a, b in combinations(spread, 2):
            least = min(least, self.gap(a, b))
            if least < give_up:
                break
        return least

    def coverage(self, spread: Sequence[Rig]) -> float:
        """Different water, pair by pair: half a point for 10 m or more apart astern, half for 0.5 m in depth."""
        total = 0.0
        for a, b in combinations(spread, 2):
            p, q = self.passage(a), self.passage(b)
            total += 0.5 * (abs(p.astern - q.astern) >= 10.0)
            total += 0.5 * (abs(float(p.depths[0, -1]) - float(q.depths[0, -1])) >= 0.5)
        return total


def every_spread(water: Water, rigs: Sequence[Sequence[Rig]]) -> Iterator[Spread]:
    """Every legal spread of rigs that do not slip, by trying them all."""
    water.tow([rig for own in rigs for rig in own])
    holding = [[rig for rig in own if not water.slips(rig)] for own in rigs]
    for spread in product(*holding):
        if is_legal(water.trip, spread):
            yield spread


def random_spreads(water: Water, count: int, short: int, seed: int) -> list[Spread]:
    """Legal spreads drawn at random; rigs of which the water pulls line off the reel are replaced."""
    random = np.random.default_rng(seed)
    every = [rigs_of(water.trip, outfit.name) for outfit in water.trip.outfits]
    drawn: list[Spread] = []
    while len(drawn) < count:
        spread = tuple(own[random.integers(len(own))] for own in every)
        if is_legal(water.trip, spread, short):
            drawn.append(spread)
    water.tow([rig for spread in drawn for rig in spread])
    return [spread for spread in drawn if not any(water.slips(rig) for rig in spread)]
