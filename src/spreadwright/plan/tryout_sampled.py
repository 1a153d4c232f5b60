"""A hand-made spread in samples of all that is in doubt at once, waves included.

The samples are the first of the plan's own (a Sobol sequence goes on where it stopped), on the same mesh and with the
same steps, so ranges found here differ from the plan's only by there being fewer of them. A rig is towed in every
sample once and remembered: after a change only what changed is towed anew.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from spreadwright.plan.doubt import FAR, NEARER, ROUGH, SEED, Run, Spreads, in_moving_water, moved_of
from spreadwright.plan.inputs import Sample, by_track, samples, sway_of
from spreadwright.plan.rods import chord_angle
from spreadwright.plan.tryout_steady import Steady, towed_in
from spreadwright.plan.tryout_value import TriedPair, TriedRange, TriedRanges
from spreadwright.plan.turn_depths import turn_depths
from spreadwright.rig.strike import FishedRig
from spreadwright.rig.tow_model import TowedRig
from spreadwright.spread.motions import Passage, passages, track_of
from spreadwright.tackle.trip import Trip
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.track import Sway, Track

MANY = 64  # samples: a line of the demo takes a third of a second of computing in them

Pause = Callable[[], None]


@dataclass(frozen=True)
class Water:
    """Samples that share a track, and how the boat moves in each of them."""

    track: Track
    alike: tuple[Sample, ...]
    sways: tuple[Sway, ...]


@dataclass(frozen=True)
class SampledRig:
    """One rig through the turns as usual and in every sample that converged, by the sample's number."""

    usual: Passage
    varied: Mapping[int, Passage]


class Sampler:
    """The samples of one trip. `pause` is called between pieces of work: it may wait, or raise to break off."""

    def __init__(self, trip: Trip, sea: Sea, count: int = MANY) -> None:
        self.trip, self.sea, self.count = trip, sea, count

    @cached_property
    def waters(self) -> tuple[Water, ...]:
        """The samples, track by track."""
        pattern, found = self.trip.pattern, []
        for (faster, wider), alike in by_track(samples(self.count, SEED)).items():
            speed = pattern.speed + faster
            track = track_of(pattern, speed, pattern.turn_radius * wider)
            found.append(Water(track, tuple(alike), tuple(sway_of(each, track, speed, SEED) for each in alike)))
        return tuple(found)

    @cached_property
    def samples(self) -> dict[int, Sample]:
        """The samples by their number."""
        return {each.number: each for water in self.waters for each in water.alike}

    def tow(self, rigs: Sequence[FishedRig], pause: Pause) -> list[SampledRig | Failure]:
        """Rigs towed in every sample; a Failure for one that does not even run as usual on the coarse mesh."""
        if not rigs:
            return []

        def towed(water: Water) -> list[Passage | Failure]:
            pause()
            lines = [towed_in(rig, each.doubts) for rig in rigs for each in water.alike]
            return passages(lines, water.track, self.sea, ROUGH, sways=water.sways * len(rigs))

        usual = passages([rig.towed() for rig in rigs], track_of(self.trip.pattern), self.sea, ROUGH)
        every = [(water, towed(water)) for water in self.waters]  # one by one: a core stays free for quick answers
        found: list[SampledRig | Failure] = []
        for i, own in enumerate(usual):
            varied = {
                sample.number: each
                for water, results in every
                for sample, each in zip(water.alike, results[i * len(water.alike) :], strict=False)
                if isinstance(each, Passage)
            }
            found.append(SampledRig(own, varied) if isinstance(own, Passage) else own)
        return found

    def spreads(
        self, fished: Sequence[FishedRig], rigs: Sequence[SampledRig],
        gaps: Callable[[int, int], tuple[float, Mapping[int, float]]], pause: Pause,
    ) -> Spreads:  # fmt: skip
        """The spread in every sample that all its rigs ran in; gaps: of a pair, see `gaps_between`."""
        pairs = [(i, j) for i in range(len(rigs)) for j in range(i)]
        both = sorted(set.intersection(*(set(rig.varied) for rig in rigs)))
        apart = [gaps(*pair) for pair in pairs]
        still = (0.0,) * len(pairs)
        usual = Run(None, tuple(rig.usual for rig in rigs), tuple(own for own, _ in apart), still)
        varied = tuple(
            Run(self.samples[number], tuple(rig.varied[number] for rig in rigs),
                tuple(each[number] for _, each in apart), still)
            for number in both
        )  # fmt: skip

        def in_sample(sample: Sample) -> list[TowedRig]:
            pause()
            return [towed_in(rig, sample.doubts) for rig in fished]

        moved = in_moving_water(self.trip, in_sample, self.sea, varied, moved_of(self.count))
        return Spreads(usual, tuple(moved), self.count - len(both))


def gaps_between(one: SampledRig, other: SampledRig, pause: Pause) -> tuple[float, dict[int, float]]:
    """How near two rigs come as usual, and in every sample that both ran in [m]."""
    pause()
    both = one.varied.keys() & other.varied.keys()
    apart = {number: _gap(one.varied[number], other.varied[number]) for number in both}
    return _gap(one.usual, other.usual), apart


def _gap(one: Passage, other: Passage) -> float:
    return gear_gap(one.outline, other.outline, FAR, tolerance=NEARER).distance


def ranges(
    trip: Trip, spreads: Spreads, rigs: Sequence[tuple[FishedRig, Steady, Passage]], pairs: Sequence[TriedPair]
) -> TriedRanges:
    """What the samples leave of a spread's numbers; rigs in its order: pieces, straight course, fine motion."""
    place = {rig.outfit.name: i for i, (rig, _, _) in enumerate(rigs)}
    return TriedRanges(
        pairs=tuple(
            pair.model_copy(update={"range": spreads.gap(place[pair.first], place[pair.second], pair.gap)})
            for pair in pairs
        ),
        rods=tuple(_rod(spreads, i, rig.outfit.name, steady) for i, (rig, steady, _) in enumerate(rigs)),
        depths=turn_depths(trip.pattern, [(rig.outfit.name, towed) for rig, _, towed in rigs], spreads),
        samples=len(spreads.varied), of_plan=False,
    )  # fmt: skip


def _rod(spreads: Spreads, i: int, name: str, steady: Steady) -> TriedRange:
    return TriedRange(
        rod=name,
        weight_depth=spreads.measure(i, lambda p: p.depths[0, 0], steady.weight_depth.usual),
        lure_depth=spreads.measure(i, lambda p: p.depths[0, 1], steady.lure_depth.usual),
        pull=spreads.measure(i, lambda p: p.pulls[0, 0], steady.pull.usual),
        angle=spreads.measure(i, chord_angle, steady.angle.usual),
    )
