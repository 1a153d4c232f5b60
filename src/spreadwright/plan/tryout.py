"""Try a spread by hand: swap a mark or a weight and see at once how the lines run; only what changed is towed anew.

A `Tryout` belongs to one trip and remembers what it has towed: `steady` is the straight course, `run` the S-turn,
`with_ranges` says how sure all of it is. The numerics are those of the plan: what is shown is computed on the fine
mesh, so a plan's own spread tried by hand gives the plan's own numbers. The ranges of `steady` are quick ones (see
edges.py), there before the eye has moved; those of `with_ranges` are sampled, follow a moment later.
They make way: whoever asks for `steady` or `run` meanwhile is answered first.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterator, Sequence
from contextlib import contextmanager
from itertools import combinations
from typing import Generic, TypeVar

from spreadwright.plan import tryout_steady, tryout_turn
from spreadwright.plan.build import Stopped
from spreadwright.plan.tryout_hand import against_rig, against_spread, fished
from spreadwright.plan.tryout_sampled import MANY, Pause, SampledRig, Sampler, gaps_between, ranges
from spreadwright.plan.tryout_steady import Steady
from spreadwright.plan.tryout_value import HandRod, HandSpread, TriedPair, TriedRanges, TriedRod, TriedRun, TriedSpread
from spreadwright.rig.strike import FishedRig
from spreadwright.spread.motions import SHOWN, Passage, passages, track_of
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure, Sea

MOST_LINES, MOST_IN_DOUBT, MOST_PAIRS = 64, 24, 2000  # remembered; a line's motion takes a megabyte, in doubt six

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


class Precedence:
    """Lets whoever is to be answered at once go before those whose work takes longer."""

    def __init__(self) -> None:
        self._asking = 0
        self._free = threading.Condition()

    @contextmanager
    def first(self) -> Iterator[None]:
        """While this is held, others wait."""
        with self._free:
            self._asking += 1
        try:
            yield
        finally:
            with self._free:
                self._asking -= 1
                self._free.notify_all()

    def wait(self) -> None:
        """Wait until nobody is to be answered at once."""
        with self._free:
            self._free.wait_for(lambda: not self._asking)


class Tryout:
    """One trip's spreads made by hand. May be asked from several threads: they wait for one another."""

    def __init__(self, trip: Trip, samples: int = MANY) -> None:
        self.trip = trip
        self.sea = Sea(density=trip.water.density)
        self._sampler = Sampler(trip, self.sea, samples)
        self._steady: Remembered[FishedRig, Steady | Failure] = Remembered(4 * MOST_LINES)
        self._passages: Remembered[FishedRig, Passage | Failure] = Remembered(MOST_LINES)
        self._strikes: Remembered[FishedRig, str] = Remembered(4 * MOST_LINES)
        self._sampled: Remembered[FishedRig, SampledRig | Failure] = Remembered(MOST_IN_DOUBT)
        self._pairs: Remembered[Pair, TriedPair] = Remembered(MOST_PAIRS)
        self._apart: Remembered[Pair, tuple[float, dict[int, float]]] = Remembered(MOST_PAIRS)
        self._lock, self._sampling, self._precedence = threading.Lock(), threading.Lock(), Precedence()

    def steady(self, spread: HandSpread) -> TriedSpread:
        """The spread straight ahead, each line with its doubts. Raises Faults for pieces that the trip has not."""
        rigs = fished(self.trip, spread)
        rods = []
        for hand, rig in zip(spread.rods, rigs, strict=True):
            with self._precedence.first(), self._lock:
                found = self._steady.get(rig, lambda rig=rig: self._straight(rig))  # type: ignore[misc]
            rods.append(_tried(hand, rig, found, against_rig(self.trip, hand, rig)))
        return TriedSpread(rods=tuple(rods), reasons=against_spread(self.trip, spread))

    def run(self, spread: HandSpread) -> TriedRun:
        """The spread through the S-turn with every pair's gap. Raises Faults as `steady` does."""
        rigs = fished(self.trip, spread)
        with self._precedence.first(), self._lock:
            towed = self._towed(rigs)
            strikes = [self._strike(hand, rig) for hand, rig in zip(spread.rods, rigs, strict=True)]
            pairs = [self._pair(a, b, towed) for a, b in _pairs_of(rigs, towed)]
        return tryout_turn.tried_run(track_of(self.trip.pattern), rigs, towed, strikes, pairs)

    def with_ranges(self, spread: HandSpread, stop: Callable[[], bool] = lambda: False) -> TriedRanges:
        """How sure depths, pulls and gaps are, sampled; rods that could not be towed are left out.

        Raises Faults as `steady` does, Stopped soon after `stop` says so; what was towed by then is not lost.
        """
        rigs = fished(self.trip, spread)

        def pause() -> None:
            self._precedence.wait()
            if stop():
                raise Stopped("how sure it is")

        with self._sampling:
            pause()
            sampled = self._in_samples(rigs, pause)
            with self._lock:
                towed = self._towed(rigs)
                straight = {rig: self._steady.get(rig, lambda rig=rig: self._straight(rig)) for rig in rigs}  # type: ignore[misc]
                pairs = {(a, b): self._pair(a, b, towed) for a, b in _pairs_of(rigs, towed)}
            known = [
                (rig, steady, passage, sample) for rig in rigs
                if isinstance(steady := straight[rig], Steady) and isinstance(passage := towed[rig], Passage)
                and isinstance(sample := sampled[rig], SampledRig)
            ]  # fmt: skip
            if not known:
                return TriedRanges(pairs=(), rods=(), depths=None, samples=0, of_plan=False)
            spreads = self._sampler.spreads(
                [rig for rig, *_ in known],
                [sample for *_, sample in known],
                lambda i, j: self._gaps((known[i][0], known[i][3]), (known[j][0], known[j][3]), pause),
                pause,
            )
        running = {rig for rig, *_ in known}
        told = [pair for both, pair in pairs.items() if running.issuperset(both)]
        return ranges(self.trip, spreads, [each[:3] for each in known], sorted(told, key=lambda pair: pair.gap))

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

    def _in_samples(self, rigs: Sequence[FishedRig], pause: Pause) -> dict[FishedRig, SampledRig | Failure]:
        wanted = [rig for rig in rigs if rig not in self._sampled]
        new = dict(zip(wanted, self._sampler.tow(wanted, pause), strict=True))
        return {rig: self._sampled.get(rig, lambda rig=rig: new[rig]) for rig in rigs}  # type: ignore[misc]

    def _gaps(
        self, one: tuple[FishedRig, SampledRig], other: tuple[FishedRig, SampledRig], pause: Pause
    ) -> tuple[float, dict[int, float]]:
        return self._apart.get((one[0], other[0]), lambda: gaps_between(one[1], other[1], pause))


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
