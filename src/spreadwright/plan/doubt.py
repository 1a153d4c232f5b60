"""How sure the plan's numbers are: the chosen rigs towed again for every sample of what is uncertain.

All inputs vary at once (see inputs.py); a number's range is what 90 % of the samples stay in, put around the value of
the finer mesh that the plan shows. The chance of a tangle is counted from the samples, with the exact (Clopper-Pearson
1934) interval for that count; points of a Sobol sequence lie more evenly than draws at random, so it is on the wide
side. The samples are towed with long steps on a coarse mesh, and each is moved by what that is off for the usual case:
on the demo their smallest gaps are then within 4 cm of those on the search's mesh 19 times out of 20; the range that is
told is about 70 cm wide.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from threading import Event

import numpy as np
from numpy.typing import NDArray

from spreadwright.plan.inputs import ANY_SEA, INPUTS, Sample, SeaMet, by_track, samples, sea_of, sway_of, water_of
from spreadwright.plan.value import Estimate
from spreadwright.rig.tow_model import USUAL, Doubts, Narrow, TowedRig, as_stated
from spreadwright.spread.candidates import Candidate, line_of
from spreadwright.spread.motions import Passage, Progress, passage_of, passages, track_of
from spreadwright.tackle.trip import Trip
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.clearance.winding import WRAP, pair_winding
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading

SAMPLES = 256
SEED = 1852
ROUGH = Settings(step=0.3, store_every=1, grading=Grading().scaled(3.0))
MOVED = 32  # samples towed in moving water as well, at most
ALONE = replace(ROUGH, workers=1)
FAR = 8.0  # [m] gaps beyond it are not told apart
NEARER = 0.05  # [m] lines may come nearer between stored times without being looked for
INSIDE = (0.05, 0.95)  # what 90 % stay in

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Run:
    """The spread in one sample: each rod's way through the turns, and each pair's gap [m] and winding [rad].

    Pairs are numbered (1, 0), (2, 0), (2, 1), (3, 0) and so on. The lines' places are kept for the first moment only.
    """

    sample: Sample | None
    rods: tuple[Passage, ...]
    gaps: tuple[float, ...]
    windings: tuple[float, ...]


def pair_number(first: int, second: int) -> int:
    """The place of a pair of rods among a run's pairs."""
    high, low = max(first, second), min(first, second)
    return high * (high - 1) // 2 + low


@dataclass(frozen=True)
class Spreads:
    """The chosen spread as it usually runs and in every sample that converged; `lost` samples did not."""

    usual: Run
    varied: tuple[Run, ...]
    lost: int = 0

    def estimate(self, value: float, of: Sequence[float] | Floats, usual: float) -> Estimate:
        """`value` with the range that follows from the samples' results `of`, compared with `usual`."""
        if len(of) == 0:
            return Estimate(usual=value, low=value, high=value)
        low, high = np.quantile(np.asarray(of, dtype=float) - usual, INSIDE)
        return Estimate(usual=value, low=value + min(float(low), 0.0), high=value + max(float(high), 0.0))

    def measure(self, rod: int, read: Callable[[Passage], float], value: float | None = None) -> Estimate:
        """An estimate of `read(passage)` for one rod; `value` is shown instead of the samples' own usual, if given."""
        usual = float(read(self.usual.rods[rod]))
        varied = [float(read(run.rods[rod])) for run in self.varied]
        return self.estimate(usual if value is None else value, varied, usual)

    def gap(self, first: int, second: int, value: float) -> Estimate:
        """A pair's gap [m] with its range, about the value shown."""
        pair = pair_number(first, second)
        estimate = self.estimate(value, [run.gaps[pair] for run in self.varied], self.usual.gaps[pair])
        return Estimate(usual=value, low=max(0.0, estimate.low), high=estimate.high)

    def tangles(self, shown: Sequence[float], reach: float) -> NDArray[np.bool_]:
        """Which pairs tangle in which sample (samples, pairs): gear within `reach` [m] of the other line, or a wrap.

        shown: each pair's gap as the plan shows it [m].
        """
        gaps = np.array([run.gaps for run in self.varied]).reshape(len(self.varied), len(shown))
        moved = gaps + np.asarray(shown, dtype=float) - np.asarray(self.usual.gaps)
        windings = np.array([run.windings for run in self.varied]).reshape(gaps.shape)
        return np.asarray((moved < reach) | (np.abs(windings) >= WRAP))


def chance(happened: NDArray[np.bool_]) -> Estimate:
    """The share of samples in which something happened, with its exact 90 % interval."""
    from scipy.stats import binomtest

    count, hits = len(happened), int(happened.sum())
    if count == 0:
        return Estimate(usual=0.0, low=0.0, high=1.0)
    interval = binomtest(hits, count).proportion_ci(0.90, method="exact")
    return Estimate(usual=hits / count, low=float(interval.low), high=float(interval.high))


def rigs_with(trip: Trip, rigs: Sequence[Candidate], doubts: Doubts, narrow: Narrow = as_stated) -> list[TowedRig]:
    """The towed lines of chosen rigs, with inputs off their usual values. Marks err the same way on every rod."""
    return [line_of(trip, rig, doubts, narrow) for rig in rigs]


def spreads_in_doubt(
    trip: Trip, rigs: Sequence[Candidate], sea: Sea, progress: Progress | None = None, count: int = SAMPLES,
    seed: int = SEED, narrow: Narrow = as_stated, met: SeaMet = ANY_SEA,
) -> Spreads:  # fmt: skip
    """Tow the chosen rigs as usual and in `count` samples; those in which a line did not converge are left out."""
    track = track_of(trip.pattern)
    usual = passages(rigs_with(trip, rigs, USUAL, narrow), track, sea, ROUGH)
    if any(isinstance(each, Failure) for each in usual):
        raise ArithmeticError("the chosen spread did not converge a second time; please report this trip file")
    groups, found, done, stopped = list(by_track(samples(count, seed)).items()), list[Run](), 0, Event()

    def one(group: tuple[tuple[float, float], list[Sample]]) -> list[Run]:
        """The samples of one track, in one thread: no thread waits for another until all is done."""
        (faster, wider), alike = group
        speed = trip.pattern.speed + faster
        track = track_of(trip.pattern, speed, trip.pattern.turn_radius * wider)
        lines = [line for sample in alike for line in rigs_with(trip, rigs, sample.doubts, narrow)]
        sways = [sway for sample in alike for sway in [sway_of(sample, track, speed, seed, met)] * len(rigs)]
        towed = passages(lines, track, sea, ALONE, lambda *_: not stopped.is_set(), sways=sways)
        each = [towed[i : i + len(rigs)] for i in range(0, len(towed), len(rigs))]
        return [run for run in map(_run, alike, each) if run is not None]

    with ThreadPoolExecutor(ROUGH.workers) as pool:
        try:
            for (_, alike), runs in zip(groups, pool.map(one, groups), strict=True):
                found += runs
                done += len(alike)
                if progress is not None and not progress("how sure it is", done, count):
                    break
        finally:
            stopped.set()
            pool.shutdown(cancel_futures=True)
    found.sort(key=lambda run: run.sample.number if run.sample else -1)
    found = in_moving_water(
        trip, lambda sample: rigs_with(trip, rigs, sample.doubts, narrow), sea, found, moved_of(count), seed, met
    )
    usual_run = _run(None, usual)
    assert usual_run is not None
    return Spreads(usual_run, tuple(found), done - len(found))


def moved_of(count: int) -> int:
    """How many of so many samples are towed in moving water as well."""
    return min(MOVED, count // 8)


def in_moving_water(
    trip: Trip, rigs_in: Callable[[Sample], Sequence[TowedRig]], sea: Sea, runs: Sequence[Run], moved: int,
    seed: int = SEED, met: SeaMet = ANY_SEA,
) -> list[Run]:  # fmt: skip
    """The runs with their gaps moved by what the water's own motion in waves does to them; rigs_in: those of a sample.

    That costs too much for every sample: the first `moved` ones are towed again in moving water, and each run takes
    over the change of the one whose sea is most like its own in height and course.
    """

    def one(run: Run) -> Floats | None:
        sample = run.sample
        assert sample is not None
        speed = trip.pattern.speed + sample.speed
        track = track_of(trip.pattern, speed, trip.pattern.turn_radius * sample.radius)
        towed = rigs_in(sample)
        sways, flow = [sway_of(sample, track, speed, seed, met)] * len(towed), water_of(sample, seed, met)
        motions = march([rig.line for rig in towed], track, sea, flow, ALONE, sways)
        again = _run(
            sample, [m if isinstance(m, Failure) else passage_of(m, r) for m, r in zip(motions, towed, strict=True)]
        )
        return None if again is None else np.asarray(again.gaps) - run.gaps

    with ThreadPoolExecutor(ROUGH.workers) as pool:
        changes = list(pool.map(one, runs[:moved]))
    donors = [
        (_place_of(run, met), change) for run, change in zip(runs[:moved], changes, strict=True) if change is not None
    ]
    if not donors:
        return list(runs)
    places, every = np.array([place for place, _ in donors]), np.array([change for _, change in donors])
    nearest = [int(np.argmin(((places - _place_of(run, met)) ** 2).sum(axis=1))) for run in runs]
    return [
        replace(run, gaps=tuple(np.maximum(np.asarray(run.gaps) + every[i], 0.0).tolist()))
        for run, i in zip(runs, nearest, strict=True)
    ]


def _place_of(run: Run, met: SeaMet) -> Floats:
    """A run's sea as a place: its height as a share of the highest, outward in the direction of its course."""
    assert run.sample is not None
    height, course = sea_of(run.sample, met)
    share = height / max(met.high, 1e-9)
    return np.array([share, 0.5 * share * math.cos(course), 0.5 * share * math.sin(course)])


def _run(sample: Sample | None, towed: Sequence[Passage | Failure]) -> Run | None:
    """Gaps and windings of one sample's lines; the lines themselves are let go."""
    rods = [each for each in towed if not isinstance(each, Failure)]
    if len(rods) < len(towed):
        return None
    pairs = [(rods[i].outline, rods[j].outline) for i in range(len(rods)) for j in range(i)]
    gaps = tuple(gear_gap(a, b, FAR, tolerance=NEARER).distance for a, b in pairs)
    windings = tuple(pair_winding(a, b) for a, b in pairs)
    thin = [replace(each, outline=replace(each.outline, vertices=each.outline.vertices[:1].copy())) for each in rods]
    return Run(sample, tuple(thin), gaps, windings)


def inputs_of(runs: Sequence[Run]) -> Floats:
    """Where each input stood in each sample (samples, inputs), -1 to 1."""
    return np.array([run.sample.at for run in runs if run.sample is not None]).reshape(-1, len(INPUTS))


def short_and_heavy(rigs: Sequence[tuple[float, float]]) -> tuple[int, int] | None:
    """The pair of rods that the trade argues about: one nearer and heavier than the other, farthest apart.

    rigs: how far astern [m] and how heavy [kg] each runs. Returns (short and heavy, long and light), None without any.
    """
    best, most = None, 0.0
    for i, (near, heavy) in enumerate(rigs):
        for j, (far, light) in enumerate(rigs):
            apart = math.log(far / near) * math.log(heavy / light) if far > near and heavy > light else 0.0
            if apart > most:
                best, most = (i, j), apart
    return best
