"""The samples of what is uncertain, the chance counted from them, and the same answer for the same seed."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.plan.trips import BLUE, RED, small_trip

from spreadwright.day.boat_motion import response
from spreadwright.plan import doubt, inputs
from spreadwright.plan.build import make_plan
from spreadwright.plan.day_answer import sea_met
from spreadwright.plan.day_file import read_day_file
from spreadwright.spread.candidates import find_candidates
from spreadwright.spread.motions import track_of
from spreadwright.tow.line import Sea
from spreadwright.tow.march import Settings
from spreadwright.tow.water import water_level


def test_every_input_is_even_over_its_limits() -> None:
    at = np.array([sample.at for sample in inputs.samples(256, 7)])
    assert at.min() >= -1.0
    assert at.max() <= 1.0
    assert at.mean(axis=0) == pytest.approx(np.zeros(at.shape[1]), abs=0.02)
    assert at.var(axis=0) == pytest.approx(np.full(at.shape[1], 1.0 / 3.0), abs=0.03)


def test_same_seed_same_samples_and_another_seed_others() -> None:
    assert inputs.samples(64, 3) == inputs.samples(64, 3)
    assert inputs.samples(64, 3) != inputs.samples(64, 4)


def test_the_chance_has_the_exact_interval() -> None:
    """Clopper and Pearson 1934: 4 of 50 gives 2.8 to 17.4 % at 90 % (beta quantiles); none of n: 1 - 0.05^(1/n)."""
    found = doubt.chance(np.array([True] * 4 + [False] * 46))
    assert (found.usual, found.low, found.high) == pytest.approx((0.08, 0.0278, 0.1739), abs=2e-4)
    assert doubt.chance(np.zeros(128, dtype=bool)).high == pytest.approx(1.0 - 0.05 ** (1 / 128), rel=1e-6)


def test_the_sea_moves_the_boat_as_much_as_its_height_says() -> None:
    """Heave of a boat far shorter than the waves is about that of the water: 4 times the deviation is near Hs."""
    track = track_of(small_trip().pattern)
    names = inputs.NAMES
    heights = []
    for number in range(40):
        at = [0.0] * len(names)
        at[names.index("sea")] = 1.0
        sample = inputs._sample(number, np.array(at))
        sway = inputs.sway_of(sample, track, 7.7, seed=1)
        middle = sway.heave - 0.5 * inputs.HULL.length * sway.pitch
        heights.append(4.0 * float(np.std(middle[20:])))
    assert 0.3 < np.mean(heights) < 1.3
    calm = [0.0] * len(names)
    calm[names.index("sea")] = -1.0
    assert np.abs(inputs.sway_of(inputs._sample(0, np.array(calm)), track, 7.7, 1).heave).max() == 0.0


def test_the_water_moves_in_the_waves_that_move_the_boat() -> None:
    """Where the boat is, the surface is that of the waves that it meets: the same heights, phases and frequencies."""
    sample, speed = inputs.samples(16, 3)[5], 7.7
    height, course = inputs.sea_of(sample)
    flow = inputs.water_of(sample, seed=1)
    omega, amplitude = inputs._waves(height)
    met = response(omega, inputs.HULL, speed, course).encounter
    phase = inputs._phases(sample, 1, len(omega))
    for time in (0.0, 3.7, 41.0):
        expected = float((amplitude * np.cos(met * time + phase)).sum())
        assert water_level(flow, speed * time, 0.0, time) == pytest.approx(expected, abs=1e-6)


def test_moving_water_changes_gaps_and_a_flat_sea_does_not() -> None:
    trip = small_trip(rods=(RED, BLUE))
    candidates = find_candidates(trip)
    rigs = [candidates.rigs[candidates.of_rod(rod)[-rod]] for rod in range(2)]  # not both at one place
    sea = Sea(density=trip.water.density)

    def gaps(met: inputs.SeaMet, moved: int) -> NDArray[np.float64]:
        still = doubt.spreads_in_doubt(trip, rigs, sea, count=4, met=met).varied  # too few to be moved
        runs = doubt.in_moving_water(
            trip, lambda sample: doubt.rigs_with(trip, rigs, sample.doubts), sea, still, moved, met=met
        )
        change: NDArray[np.float64] = np.array([run.gaps for run in runs]) - np.array([run.gaps for run in still])
        return change

    flat = inputs.SeaMet(0.0, 0.0)
    assert np.abs(gaps(flat, 2)).max() < 1e-3
    rough = gaps(inputs.SeaMet(1.0, 1.0), 2)
    assert np.abs(rough).max() > 0.01
    assert np.abs(rough[2:]).max() > 0.0  # the others take over the change of one that is like them


def test_same_seed_same_doubt_whatever_the_workers(monkeypatch: pytest.MonkeyPatch) -> None:
    trip = small_trip(rods=(RED, BLUE))
    one = make_plan(trip, samples=16, seed=5)
    rough = doubt.ROUGH
    monkeypatch.setattr(doubt, "ROUGH", Settings(rough.step, 1, rough.tolerance, rough.grading, workers=1))
    assert make_plan(trip, samples=16, seed=5).in_doubt == one.in_doubt
    assert make_plan(trip, samples=16, seed=6).in_doubt != one.in_doubt


def test_the_farther_a_tangle_reaches_the_likelier_it_is() -> None:
    """Counted from the same samples: two lines on one mark with one weight, and a reach beyond their usual gap."""
    alike = [{"rod": rod, "mark": "200 ft", "weight": "32 oz"} for rod in ("red", "blue")]
    near, far = (
        make_plan(small_trip(rods=(RED, BLUE), fixed=alike, wishes={"tangle_reach": reach}), samples=32)
        for reach in ("0.2 ft", "5 ft")
    )
    assert near.in_doubt is not None
    assert far.in_doubt is not None
    assert near.in_doubt.smallest_gap == far.in_doubt.smallest_gap
    assert near.in_doubt.tangle.usual < far.in_doubt.tangle.usual
    assert far.in_doubt.tangle == far.pairs[0].chance  # one pair: its chance is that of the spread


def test_on_a_long_wave_the_boat_lies_along_the_slope() -> None:
    """In waves far longer than the boat her rod tips keep their height above the surface under them."""
    track, names = track_of(small_trip().pattern), inputs.NAMES
    for course in (0.0, 0.25, -0.4, 1.0):
        at = [0.0] * len(names)
        at[names.index("sea")], at[names.index("course")] = 1.0, course
        sway = inputs.sway_of(inputs._sample(3, np.array(at)), track, 3.0, seed=2, met=inputs.SeaMet(period=14.0))
        omega, amplitude = inputs._waves(inputs.HIGHEST_SEA, 14.0)
        k, phase = omega**2 / 9.81, np.random.default_rng([2, 3]).uniform(0.0, 2.0 * np.pi, len(omega))
        turned = np.pi * course
        for x, y in ((0.0, 0.0), (10.0, 0.0), (5.0, 1.5), (0.0, -3.0)):
            angle = np.outer(sway.times, omega - k * 3.0 * np.cos(turned)) + phase
            ahead = (x - 0.5 * inputs.HULL.length) * np.cos(turned) + y * np.sin(turned)
            surface = (amplitude * np.cos(angle - k * ahead)).sum(axis=1)
            tip = sway.heave + sway.roll * y - sway.pitch * x
            off = (tip - surface)[20:]
            assert np.std(off) < 0.35 * np.std(surface[20:]), (course, x, y)


def test_the_days_sea_is_what_the_doubt_counts_with() -> None:
    """A calm day leaves depth in the turns surer than a rough one, and the plan says which sea it counted with."""
    trip = small_trip(rods=(RED, BLUE))
    calm, rough = inputs.SeaMet(0.0, 0.02, 3.0), inputs.SeaMet(1.4, 1.8, 5.5)
    plans = [make_plan(trip, samples=32, met=met) for met in (calm, rough)]
    widths = [sum(rod.lure_depth_swing.high - rod.lure_depth_swing.low for rod in plan.rods) for plan in plans]
    assert widths[1] > widths[0] + 0.05
    assert any("1.4 to 1.8 m" in said for said in plans[1].doubts)
    day = read_day_file(Path(__file__).parents[2] / "examples" / "demo" / "day.toml")
    met = sea_met(day)
    assert 0.0 < met.low < met.high
    assert day.boat is not None
    assert met.hull.length == day.boat.length
