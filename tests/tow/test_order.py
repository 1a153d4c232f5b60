"""Order of convergence: two in time, two in space, and no ringing of a stiff line at a large step.

The order is read off differences between successive refinements, log2 of their ratio; no expected values are stored.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from tests.tow import samples
from tests.tow.samples import KNOT, motion, shape

from spreadwright.tow.line import Body, Sea
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import steady_straight, steady_turn
from spreadwright.tow.system import beyond
from spreadwright.tow.track import Sway, Track, recorded, straight

SPEED = 15 * KNOT
BAND = (1.7, 2.3)
ROUND = samples.weight(0.5, "isotropic")


def smooth_swerve() -> Track:
    """A swerve of 12 m to port and back whose fourth derivative is still continuous: it must not spoil the order."""
    t = np.linspace(0.0, 24.0, 1201)

    def ramp(start: float) -> np.ndarray:
        s = np.clip((t - start) / 10.0, 0.0, 1.0)
        return s**5 * (126 - 420 * s + 540 * s**2 - 315 * s**3 + 70 * s**4)

    return recorded(t, SPEED * t, 12.0 * (ramp(1.0) - ramp(11.0)))


def orders(values: list[np.ndarray]):
    """Observed orders from values on grids that halve, by the largest difference."""
    steps = [np.abs(np.asarray(fine) - np.asarray(coarse)).max() for coarse, fine in pairwise(values)]
    return np.log2(np.array(steps[:-1]) / np.array(steps[1:]))


def assert_second(found: np.ndarray) -> None:
    assert (found > BAND[0]).all(), found
    assert (found < BAND[1]).all(), found


LINES = {
    "nylon": samples.rig(),
    "braid": samples.rig(samples.BRAID),
    "wire": samples.rig(samples.WIRE),
    "nylon, a round weight": samples.rig(sinker=ROUND),
}


@pytest.mark.parametrize("sea", [Sea(), Sea(surface=False)], ids=["from the air", "all under water"])
@pytest.mark.parametrize("line", LINES.values(), ids=LINES)
def test_second_order_in_time(line, sea):
    places, pulls = [], []
    for step in (0.2, 0.1, 0.05, 0.025):
        settings = Settings(step=step, store_every=round(0.4 / step), tolerance=1e-9)
        result = motion(march([line], smooth_swerve(), sea, settings=settings)[0])
        places.append(result.places[:, result.joints].astype(float))
        pulls.append(result.pulls.astype(float))
    assert_second(orders(places))
    assert_second(orders(pulls))


SCALES = (2.0, 1.0, 0.5, 0.25)
# A length of which the even mesh halves exactly at every scale: the order is then free of rounded counts.
EVEN = Grading(finest=1.0, coarsest=1.0, growth=0.0)


def gap(first: np.ndarray, second: np.ndarray) -> float:
    """Smallest distance [m] from places of the second line (M, 3) to anywhere on the first one's segments."""
    a, b = first[:-1, None], first[1:, None]
    chord = b - a
    share = np.clip(((second[None] - a) * chord).sum(-1) / (chord**2).sum(-1), 0.0, 1.0)
    return float(np.linalg.norm(a + share[..., None] * chord - second[None], axis=-1).min())


@pytest.mark.parametrize("sea", [Sea(), Sea(surface=False)], ids=["from the air", "all under water"])
@pytest.mark.parametrize("main", [samples.NYLON, samples.BRAID, samples.WIRE], ids=["nylon", "braid", "wire"])
@pytest.mark.parametrize("grading", [Grading(), EVEN], ids=["graded", "even"])
def test_second_order_in_space_of_a_straight_tow(main, sea, grading):
    line = samples.rig(main, sinker=ROUND)
    shapes = [shape(steady_straight([line], SPEED, sea, grading.scaled(scale))[0]) for scale in SCALES]
    assert_second(orders([each.joint_places[:, 2] for each in shapes]))


@pytest.mark.parametrize("sea", [Sea(), Sea(surface=False)], ids=["from the air", "all under water"])
@pytest.mark.parametrize("grading", [Grading(), EVEN], ids=["graded", "even"])
def test_second_order_in_space_of_a_turn(sea, grading):
    line = samples.rig(sinker=ROUND)
    shapes = [shape(steady_turn([line], SPEED, 60.0, sea, grading.scaled(scale))[0]) for scale in SCALES]
    assert_second(orders([each.joint_places[:, 2] for each in shapes]))
    assert_second(orders([each.radii for each in shapes])[-1:])


def test_second_order_in_space_of_a_manoeuvre_and_of_a_gap():
    lines = [
        samples.rig(sinker=ROUND, port=2.0, name="far"),
        samples.rig(length=30.0, sinker=samples.weight(1.5, "isotropic"), port=-1.0, name="near"),
    ]
    depths, gaps = [], []
    for scale in SCALES:
        settings = Settings(step=0.1, store_every=4, tolerance=1e-9, grading=EVEN.scaled(scale))
        far, near = (motion(each) for each in march(lines, smooth_swerve(), Sea(), settings=settings))
        depths.append(np.stack([each.places[:, each.joints, 2].astype(float) for each in (far, near)]))
        pairs = zip(far.places.astype(float), near.places.astype(float), strict=True)
        gaps.append(np.array([gap(one, other[-1:]) for one, other in pairs]))
    assert_second(orders(depths))
    assert_second(orders(gaps)[-1:])


SLENDER_LURE = Body(0.12, 8e-5, "slender", axial_area=4e-4, normal_area=6e-3)
FINER = (0.5, 0.25, 0.125, 0.0625)
SLENDER = {
    "weight": samples.rig(),
    "weight on braid": samples.rig(samples.BRAID),
    "lure at the end": replace(samples.rig(sinker=ROUND), bodies=(ROUND, SLENDER_LURE)),
    "both": replace(samples.rig(), bodies=(samples.weight(), SLENDER_LURE)),
}


@pytest.mark.parametrize("sea", [Sea(), Sea(surface=False)], ids=["from the air", "all under water"])
@pytest.mark.parametrize("line", SLENDER.values(), ids=SLENDER)
def test_second_order_in_space_with_slender_bodies(line, sea):
    """Their drag goes by the line's direction at a kink, which no segment has: 1.6 on coarse meshes, then rising."""
    shapes = [shape(steady_straight([line], SPEED, sea, EVEN.scaled(scale))[0]) for scale in FINER]
    assert_second(orders([each.joint_places[:, 2] for each in shapes])[-1:])


@pytest.mark.parametrize("line", SLENDER.values(), ids=SLENDER)
def test_second_order_in_space_of_a_turn_with_slender_bodies(line):
    sea = Sea(surface=False)
    shapes = [shape(steady_turn([line], SPEED, 60.0, sea, EVEN.scaled(scale))[0]) for scale in FINER]
    assert_second(orders([each.joint_places[:, 2] for each in shapes])[-1:])


def test_nodes_that_carry_the_bend_on_to_a_body():
    """Two before and two after, none over the ends of the line or over the next body."""
    bodies = np.array([1, 4, 5, 9])
    assert [beyond(bodies, node, 9) for node in bodies] == [(-1, 3), (2, -1), (-1, 7), (7, -1)]


def settling_time(pull: np.ndarray, times: np.ndarray) -> float:
    """Time [s] after which the pull stays within 3 % of where it ends, and no longer swings by more than 1 %."""
    end = pull[-1]
    off = np.abs(pull - end) > 0.03 * end
    swing = np.abs(np.diff(pull, prepend=pull[0])) > 0.01 * end
    return float(times[np.flatnonzero(off | swing)[-1]])


def test_a_stiff_line_does_not_ring_at_a_large_step():
    """The rod tip goes up by 0.3 m within a step, on a wire whose lowest axial period is a twentieth of that step.

    L-stability: the pull has its new value a few steps later. A rule that does not damp what it cannot resolve (the
    trapezoidal one) would swing about it from step to step for good.
    """
    line = samples.rig(samples.WIRE, length=30.0, leader=2.0)
    step, jerk = 0.2, 1.0
    times = np.arange(0.0, 6.0, 0.01)
    heave = 0.3 * np.clip((times - jerk) / step, 0.0, 1.0)
    level = np.zeros_like(times)
    settings = Settings(step=step, store_every=1, tolerance=1e-6)
    result = motion(
        march([line], straight(SPEED, 5.0), Sea(), settings=settings, sway=Sway(times, heave, level, level))[0]
    )
    pull = result.pulls[:, 0].astype(float)
    assert settling_time(pull, result.times) < jerk + 5 * step
    raised = shape(steady_straight([samples.rig(samples.WIRE, length=30.0, leader=2.0, up=2.3)], SPEED)[0])
    assert pull[-1] == pytest.approx(raised.tension[0], rel=0.01)


def test_ringing_would_be_seen():
    times = np.arange(0.0, 5.0, 0.2)
    assert settling_time(40.0 + 2.0 * (-1.0) ** np.arange(25), times) > 4.5
