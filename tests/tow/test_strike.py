"""The strike: steps and mesh converge, the reel slips as it should, two fish, and what cannot be computed is told."""

import math

import numpy as np
import pytest
from tests.tow.samples import BRAID, NYLON, rig, weight

from spreadwright.tow.line import Body, Failure, Line, Sea, Section
from spreadwright.tow.mesh import Grading
from spreadwright.tow.strike import Brake, Fish, Strike, StrikeResult, StrikeSettings, strike

SPEED = 7.7
AREA = 6.7e-3
RUN = Fish(-1, 15.0, (-8.0, 0.0, 0.0), AREA, (-0.5 * 1025.0 * AREA * 64.0, 0.0, 0.0))
REEL = Brake(static=110.0, running=100.0, spool_mass=0.4, rod_give=0.6 / 100.0)


def done(result: StrikeResult | Failure) -> StrikeResult:
    assert isinstance(result, StrikeResult), result
    return result


@pytest.fixture(scope="module")
def cases() -> list[Strike]:
    """Eight cases of one batch: nylon and braid, slipping and locked, on the lure, on the weight, on both, none."""
    heavy = rig(NYLON, 30.0, weight(1.4))
    braid = rig(BRAID, 30.0, weight(1.4))
    on_weight = Fish(0, 15.0, (-8.0, 0.0, 0.0), AREA, RUN.thrust)
    return [
        Strike(heavy, (RUN,), REEL),
        Strike(braid, (RUN,), REEL),
        Strike(heavy, (RUN,)),
        Strike(braid, (RUN,)),
        Strike(heavy, (on_weight,), REEL),
        Strike(heavy, (RUN, on_weight), REEL),
        Strike(heavy, (), REEL),
        Strike(heavy, (Fish(-1, 15.0, (0.0, -8.0, 0.0), AREA, (0.0, RUN.thrust[0], 0.0)),), REEL),
    ]


@pytest.fixture(scope="module")
def usual(cases) -> list[StrikeResult]:
    return [done(result) for result in strike(cases, SPEED)]


def peaks(results: list[StrikeResult]) -> np.ndarray:
    return np.array([[result.peak_tip, *result.peak_sections] for result in results])


def test_half_the_step_changes_the_peaks_little(cases, usual):
    finer = [done(result) for result in strike(cases, SPEED, settings=StrikeSettings(step=2.5e-4, store_every=4))]
    assert peaks(usual) == pytest.approx(peaks(finer), rel=0.03)


def test_half_the_mesh_changes_the_peaks_little(cases, usual):
    finer = [done(result) for result in strike(cases, SPEED, settings=StrikeSettings(grading=Grading(scale=0.5)))]
    assert peaks(usual) == pytest.approx(peaks(finer), rel=0.05)


def test_without_a_fish_nothing_happens(usual):
    calm = usual[6]
    assert calm.tip == pytest.approx(calm.tip[0], rel=1e-3)
    assert calm.paid_out[-1] == 0.0
    assert calm.sections[-1] == pytest.approx(calm.before[1:], rel=1e-3)


def test_every_strike_pulls_harder_than_the_tow(usual):
    for result in usual[:6]:
        assert (result.peak_sections[-1] > 1.5 * result.before[-1]) == (result is not usual[4])


def test_braid_is_harsher_than_nylon_and_a_locked_reel_than_one_that_slips(usual):
    nylon, braid, nylon_locked, braid_locked = (result.peak_sections[-1] for result in usual[:4])
    assert nylon < braid
    assert nylon < nylon_locked < braid_locked
    assert usual[0].paid_out[-1] > 1.0
    assert usual[2].paid_out[-1] == 0.0


def test_the_weight_taken_the_leader_bears_no_more_than_in_the_tow(usual):
    taken = usual[4]
    assert taken.peak_sections[0] > 1.5 * taken.before[1]
    assert taken.peak_sections[-1] < usual[0].peak_sections[-1]


def test_two_fish_pull_more_line_than_one(usual):
    assert usual[5].paid_out[-1] > usual[0].paid_out[-1]


def test_line_runs_out_only_over_the_starting_drag_and_settles_at_the_running_one():
    """A slow steady pull: the reel starts at 150 N and then runs at 100 N, give or take its spool's swing."""
    line = Line("pulled", (0.0, 0.0, 0.0), (Section(20.0, 1e-3, 1.0, 4e3),), (Body(1e-4, force=(-10.0, 0.0, 0.0)),))
    slow = Strike(line, (Fish(0, 1e7, (-1.0, 0.0, 0.0)),), Brake(150.0, 100.0, 0.05))
    sea = Sea(density=0.0, gravity=0.0, air_density=0.0, surface=False)
    result = done(strike([slow], 0.0, sea, StrikeSettings(duration=3.0, grading=Grading(2.0, 2.0, 0.0)))[0])
    started = int(np.argmax(result.paid_out > 0.0))
    assert result.tip[:started].max() == pytest.approx(150.0, abs=1.0)
    assert result.times[started] == pytest.approx((150.0 - 10.0) / (4e3 / 20.0) / 1.0, rel=0.01)
    assert result.peak_tip < 152.0
    stretched = 20.05 + 3.0  # EA (L / rest - 1) = T
    assert result.paid_out[-1] == pytest.approx(stretched / (1.0 + result.tip[-1] / 4e3) - 20.0, abs=0.02)


@pytest.mark.parametrize(
    ("first", "mesh"),
    [(20.0, Grading(2.0, 5.0, 0.1)), (50.0, Grading(2.0, 5.0, 0.1)), (50.0, Grading(200.0, 200.0, 0.0))],
)
def test_line_that_has_run_out_rubs_like_the_rest(first, mesh):
    """Straight away at 4 m/s: rho/2 Cf pi d u^2 = 0.367 N on every metre out (closed form), wherever it came from."""
    section = Section(first, 0.95e-3, 1140.0, 2e5, tangential_drag=0.015)
    line = Line("run", (0.0, 0.0, 0.0), (section,), (Body(1e-3, force=(-100.0, 0.0, 0.0)),))
    run = Strike(line, (Fish(0, 1e7, (-4.0, 0.0, 0.0), added_mass=0.0),), Brake(100.0, 100.0, 0.15, 6e-3))
    settings = StrikeSettings(step=0.01, duration=(100.0 - first) / 4.0, store_every=5, grading=mesh)
    result = done(strike([run], 0.0, Sea(gravity=0.0, surface=False), settings)[0])
    out = first + result.paid_out[-1]
    assert out == pytest.approx(100.0, rel=0.01)
    friction = 0.5 * 1025.0 * 0.015 * math.pi * 0.95e-3 * 16.0 * out
    assert result.ends[-1, 0, 1] - result.tip[-1] == pytest.approx(friction, rel=0.015)
    assert result.tip[-1] == pytest.approx(100.0, rel=0.01)


def test_the_fish_pays_for_the_lure_it_takes():
    """Momentum is shared at the jump: 15 kg at 8 m/s take 2 kg that move at 7.7 m/s the other way."""
    line = rig(NYLON, 30.0, weight(1.4))
    bodies = (line.bodies[0], Body(2.0, 1e-4, drag_area=8e-4, added_mass=0.0))
    fish = Fish(-1, 15.0, (-8.0, 0.0, 0.0), added_mass=0.0)
    heavy = Line("heavy", line.tip, line.sections, bodies)
    result = done(strike([Strike(heavy, (fish,), REEL)], SPEED, settings=StrikeSettings(duration=0.01))[0])
    assert result.velocities[0, -1, 0] == pytest.approx((15.0 * -8.0 + 2.0 * SPEED) / 17.0, rel=1e-9)


def test_what_cannot_be_is_refused():
    line = rig()
    for wrong in (Brake(10.0, 20.0), Brake(spool_mass=0.0), Brake(rod_give=-1.0)):
        with pytest.raises(ValueError, match="reel runs at no more than it starts at"):
            strike([Strike(line, (), wrong)], SPEED)


def test_a_line_without_a_steady_shape_is_named():
    nowhere = rig(name="nowhere")
    result = strike([Strike(nowhere, (RUN,), REEL)], math.nan)[0]
    assert isinstance(result, Failure)
    assert result.line == "nowhere"
    assert result.reason == "no steady shape found to start from"
