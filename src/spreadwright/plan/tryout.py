"""Try a spread by hand: swap a mark or a weight and see at once how the lines run; only what changed is towed anew.

A `Tryout` belongs to one trip and remembers what it has towed: `steady` is the straight course, `run` the S-turn,
`with_ranges` adds how sure the gaps are. The numerics are those of the plan: what is shown is computed on the fine
mesh, so a plan's own spread tried by hand gives the plan's own numbers; ranges are quick ones (see edges.py).
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterator, Sequence
from itertools import combinations
from typing import Generic, TypeVar

from spreadwright.plan import tryout_steady, tryout_turn
from spreadwright.plan.tryout_hand import against_rig, against_spread, fished
from spreadwright.plan.tryout_steady import Steady
from spreadwright.plan.tryout_turn import Doubted
from spreadwright.plan.tryout_value import HandRod, HandSpread, TriedPair, TriedRod, TriedRun, TriedSpread
from spreadwright.rig.strike import FishedRig
from spreadwright.spread.motions import SHOWN, Passage, passages, track_of
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure, Sea

MOST_LINES, MOST_IN_DOUBT, MOST_PAIRS = 64, 24, 2000  # remembered; a line's motion takes a megabyte, in doubt five

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")
Pair = tuple[FishedRig, FishedRig]


class Remembered(Generic[Key, Value]):
    """Results by key; the one unused for longest is forgotten first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._held: OrderedDict[Key, Value] = OrderedDict()

    def __contains__(self, key: Key) -> bool:
        return key in self._held

    def get(self, key: Key, make: Callable[[], Value]) -> Value:
        """The result of that key, made if it is not there."""
        value = self._held[key] if key in self._held else make()
        self.put(key, value)
        return value

    def put(self, key: Key, value: Value) -> None:
        """Remember a result, and forget another one if there are too many."""
        self._held[key] = value
        self._held.move_to_end(key)
        while len(self._held) > self._most:
            self._held.popitem(last=False)


class Tryout:
    """One trip's spreads made by hand. May be asked from several threads: they wait for one another."""

    def __init__(self, trip: Trip) -> None:
        self.trip = trip
        self.sea = Sea(density=trip.water.density)
        self._steady: Remembered[FishedRig, Steady | Failure] = Remembered(4 * MOST_LINES)
        self._passages: Remembered[FishedRig, Passage | Failure] = Remembered(MOST_LINES)
        self._strikes: Remembered[FishedRig, str] = Remembered(4 * MOST_LINES)
        self._doubted: Remembered[FishedRig, Doubted] = Remembered(MOST_IN_DOUBT)
        self._pairs: Remembered[Pair, TriedPair] = Remembered(MOST_PAIRS)
        self._ranged: Remembered[Pair, TriedPair] = Remembered(MOST_PAIRS)
        self._lock = threading.Lock()

    def steady(self, spread: HandSpread) -> TriedSpread:
        """The spread straight ahead, each line with its doubts. Raises Faults for pieces that the trip has not."""
        rigs = fished(self.trip, spread)
        rods = []
        for hand, rig in zip(spread.rods, rigs, strict=True):
            with self._lock:
                found = self._steady.get(rig, lambda rig=rig: self._straight(rig))  # type: ignore[misc]
            rods.append(_tried(hand, rig, found, against_rig(self.trip, hand, rig)))
        return TriedSpread(rods=tuple(rods), reasons=against_spread(self.trip, spread))

    def run(self, spread: HandSpread) -> TriedRun:
        """The spread through the S-turn with every pair's gap. Raises Faults as `steady` does."""
        rigs = fished(self.trip, spread)
        with self._lock:
            towed = self._towed(rigs)
            strikes = [self._strike(hand, rig) for hand, rig in zip(spread.rods, rigs, strict=True)]
            pairs = [self._pair(a, b, towed) for a, b in _pairs_of(rigs, towed)]
        return tryout_turn.tried_run(track_of(self.trip.pattern), rigs, towed, strikes, pairs)

    def with_ranges(self, spread: HandSpread) -> tuple[TriedPair, ...]:
        """The gaps of `run` with their ranges: every line towed again with each uncertain input at its edges."""
        rigs = fished(self.trip, spread)
        with self._lock:
            towed = self._towed(rigs)
            found = [self._ranged_pair(a, b, towed) for a, b in _pairs_of(rigs, towed)]
        return tuple(sorted(found, key=lambda pair: pair.gap))

    def _straight(self, rig: FishedRig) -> Steady | Failure:
        return tryout_steady.tow(rig, self.trip.pattern.speed, self.sea)

    def _strike(self, hand: HandRod, rig: FishedRig) -> str:
        return self._strikes.get(rig, lambda: tryout_turn.parts_in_strike(self.trip, hand, rig))

    def _towed(self, rigs: Sequence[FishedRig]) -> dict[FishedRig, Passage | Failure]:
        """Every rig through the S-turn on the fine mesh; those not yet known are towed together."""
        wanted = [rig for rig in rigs if rig not in self._passages]
        fresh = passages([rig.towed() for rig in wanted], track_of(self.trip.pattern), self.sea, SHOWN)
        new = dict(zip(wanted, fresh, strict=True))
        return {rig: self._passages.get(rig, lambda rig=rig: new[rig]) for rig in rigs}  # type: ignore[misc]

    def _pair(self, a: FishedRig, b: FishedRig, towed: dict[FishedRig, Passage | Failure]) -> TriedPair:
        one, other = towed[a], towed[b]
        assert isinstance(one, Passage)
        assert isinstance(other, Passage)
        return self._pairs.get((a, b), lambda: tryout_turn.pair(self.trip, a, b, one, other))

    def _ranged_pair(self, a: FishedRig, b: FishedRig, towed: dict[FishedRig, Passage | Failure]) -> TriedPair:
        def ranged() -> TriedPair:
            pair = self._pair(a, b, towed)
            one, other = self._in_doubt(a), self._in_doubt(b)
            return pair.model_copy(update={"range": tryout_turn.gap_range(pair.gap, one, other)})

        return self._ranged.get((a, b), ranged)

    def _in_doubt(self, rig: FishedRig) -> Doubted:
        return self._doubted.get(rig, lambda: tryout_turn.tow_in_doubt(self.trip, rig, self.sea))


def _pairs_of(rigs: Sequence[FishedRig], towed: dict[FishedRig, Passage | Failure]) -> Iterator[Pair]:
    """Pairs of the rigs that could be towed."""
    return combinations([rig for rig in rigs if isinstance(towed[rig], Passage)], 2)


def _tried(hand: HandRod, rig: FishedRig, found: Steady | Failure, reasons: tuple[str, ...]) -> TriedRod:
    known = found if isinstance(found, Steady) else None
    return TriedRod(
        hand=hand, rod=rig.outfit.name, station=rig.station.name, mark=rig.mark, weight=rig.weight.name,
        shock_leader=rig.shock_leader.name, bite_leader=rig.bite_leader.name, lure=rig.lure.name, tip=rig.station.tip,
        line=known.line if known else (), joints=known.joints if known else (0, 0, 0),
        astern=known.astern if known else 0.0, weight_depth=known.weight_depth if known else None,
        lure_depth=known.lure_depth if known else None, pull=known.pull if known else None,
        angle=known.angle if known else None, failed=found.reason if isinstance(found, Failure) else "",
        reasons=reasons,
    )  # fmt: skip
