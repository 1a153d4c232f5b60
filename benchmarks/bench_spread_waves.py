"""What waves that move the water do to the demo's gaps, beside waves that move the boat alone.

`pytest benchmarks/bench_spread_waves.py -p no:xdist -s`. Some of the doubt's samples are towed twice: the same boat's
motion, once in still water and once in the orbital motion of the very waves that move the boat (linear theory, phases
alike). docs/spread.md takes its numbers from here.
"""

from __future__ import annotations

import time

import numpy as np

from benchmarks.bench_spread import DEMO, solve
from spreadwright.plan import doubt, inputs
from spreadwright.spread.kept import Kept
from spreadwright.spread.motions import passage_of, track_of
from spreadwright.tackle import read_trip
from spreadwright.tow.line import Sea
from spreadwright.tow.march import Motion, march

SAMPLES = 32
SEED = 1852


def test_waves_that_move_the_water(capsys):
    trip = read_trip(DEMO)
    candidates, _, decision = solve(trip, Kept())
    rigs = [candidates.rigs[i] for i in decision.rigs]
    sea, used, gaps = Sea(density=trip.water.density), [0.0, 0.0], []
    for sample in inputs.samples(SAMPLES, SEED):
        speed = trip.pattern.speed + sample.speed
        track = track_of(trip.pattern, speed, trip.pattern.turn_radius * sample.radius)
        towed = doubt.rigs_with(trip, rigs, sample.doubts)
        sways = [inputs.sway_of(sample, track, speed, SEED)] * len(towed)
        both = []
        for i, flow in enumerate((None, inputs.water_of(sample, SEED))):
            start = time.process_time()
            motions = march([rig.line for rig in towed], track, sea, flow=flow, settings=doubt.ALONE, sway=sways)
            used[i] += time.process_time() - start
            assert all(isinstance(motion, Motion) for motion in motions)
            run = doubt._run(sample, [passage_of(m, r) for m, r in zip(motions, towed, strict=True)])
            assert run is not None
            both.append(run.gaps)
        gaps.append(both)
    still, moving = np.array(gaps).transpose(1, 0, 2)
    change = moving.min(axis=1) - still.min(axis=1)
    low, high = np.quantile(change, [0.05, 0.95])
    with capsys.disabled():
        print(f"\n{SAMPLES} samples: {used[0]:.2f} s of the processor in still water, {used[1]:.2f} s in moving water")
        print(f"smallest gap wider by {change.mean():.3f} m in the mean, {low:.3f} to {high:.3f} m nine times in ten")
        for what, every in (("still", still), ("moving", moving)):
            ends = np.quantile(every.min(axis=1), [0.05, 0.95])
            print(f"smallest gap in {what} water {ends[0]:.2f} to {ends[1]:.2f} m, narrowest {every.min():.2f} m")
