"""Derivatives: the matrix of a Newton step against central differences of the residual that it belongs to.

Left out of the core's matrix on purpose, and therefore kept at nought here: how added mass changes with direction and
depth (times an acceleration), and how the material's damping changes with direction (times a rate of stretch).
"""

import numpy as np
import pytest
from tests.tow.table import RAMP, Step, System, marching, row, settling

from spreadwright.tow import lanes

SEGMENTS = 5
SIZE = 2e-6  # of the unknown's step [m or m/s]


def random_system(
    seed: int,
    step: Step,
    strain: tuple[float, float] = (0.005, 0.08),
    height: float = -5.0,
    fall: float = 0.3,
    bodies: tuple[int, ...] = (),
    law: str = "slender",
    damping: float = 0.0,
    stiffness: float = 200.0,
) -> System:
    """A chain of random segments from `height` [m] downwards by about `fall` a segment, no acceleration."""
    random = np.random.default_rng(seed)
    count = SEGMENTS + 1
    system = System(SEGMENTS, np.zeros(count * lanes.RECORD), bodies, step)
    rows = system.rows()
    shape = (SEGMENTS, lanes.LANES)
    way = random.normal(size=(SEGMENTS, 3, lanes.LANES)) * 0.5 + np.array([-1.0, 0.0, -fall])[None, :, None]
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    rest = random.uniform(0.5, 2.0, shape)
    chord = way * (rest * (1.0 + random.uniform(*strain, shape)))[:, None, :]
    start = np.stack([np.full(lanes.LANES, v) for v in (40.0, 7.0, height)])[None]
    places = np.concatenate([start, start + np.cumsum(chord, axis=0)])
    row(rows, lanes.X, 3)[:] = places
    fill = {
        lanes.PER_LENGTH: 1.0 / rest,
        lanes.STIFFNESS: stiffness * random.uniform(0.5, 2.0, shape),
        lanes.STIFFENING: random.uniform(0.0, 20.0, shape),
        lanes.DAMPING: damping * random.uniform(0.5, 2.0, shape),
        lanes.NORMAL: random.uniform(1e-3, 3e-3, shape),
        lanes.TANGENTIAL: random.uniform(1e-4, 1e-3, shape),
        lanes.MASS: random.uniform(0.01, 0.5, shape),
        lanes.VOLUME: random.uniform(1e-5, 1e-4, shape),
        lanes.ADDED: random.uniform(1e-5, 1e-4, shape),
    }
    for place, value in fill.items():
        row(rows, place)[:-1, 0] = value
    row(rows, lanes.WATER_SEGMENT, 3)[:] = random.normal(size=(count, 3, lanes.LANES))
    row(rows, lanes.WATER_NODE, 3)[:] = random.normal(size=(count, 3, lanes.LANES))
    row(rows, lanes.LEVEL)[:] = random.uniform(-0.1, 0.1, (count, 1, lanes.LANES))
    turn = step.turn
    velocity = np.stack([6.0 - turn * places[:, 1], turn * places[:, 0], np.zeros((count, lanes.LANES))], axis=1)
    if not damping:
        velocity += random.normal(size=velocity.shape)
    row(rows, lanes.VX, 3)[:] = velocity
    unknown = places if step.drop else velocity
    row(rows, lanes.OLD_PUSH, 3)[:] = step.push * unknown - turn**2 * places * np.array([1.0, 1.0, 0.0])[None, :, None]
    _hang_bodies(rows, random, bodies, law)
    return system


def _hang_bodies(rows, random, bodies, law):
    for node in bodies:
        for place, least, most in (
            (lanes.BODY_MASS, 0.1, 2.0), (lanes.BODY_VOLUME, 1e-5, 2e-4), (lanes.BODY_ADDED, 1e-5, 2e-4),
        ):  # fmt: skip
            row(rows, place)[node] = random.uniform(least, most, (1, lanes.LANES))
        for place in (lanes.BODY_AXIAL, lanes.BODY_SIDE) if law == "slender" else (lanes.BODY_ROUND,):
            row(rows, place)[node] = random.uniform(1e-3, 2e-2, (1, lanes.LANES))
        row(rows, lanes.BODY_FORCE, 3)[node] = random.normal(size=(3, lanes.LANES))


def assert_slopes(system: System, tolerance: float = 2e-7, size: float = SIZE) -> None:
    """Every entry of the matrix agrees, measured by the largest entry of its lane's matrix."""
    got, expected = system.matrix(), system.slopes(size)
    assert np.isfinite(got).all()
    largest = np.abs(expected).max(axis=(1, 2), keepdims=True)
    assert (np.abs(got - expected) / largest).max() < tolerance


STEPS = {
    "marching": marching(0.03),
    "straight": settling(1e4),
    "turning": settling(1e4, turn=0.17),
    "turning the other way, pseudo-step": settling(0.5, turn=-0.17),
}


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS)
@pytest.mark.parametrize(
    ("height", "fall"),
    [(-5.0, 0.3), (6.0, 0.0), (1.2, 0.5), (0.0, 0.02)],
    ids=["wet", "dry", "crossing steeply", "crossing flat"],
)
def test_taut_segments(step, height, fall):
    assert_slopes(random_system(1, step, height=height, fall=fall))


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS)
def test_slack_segments(step):
    assert_slopes(random_system(2, step, strain=(-0.2, -0.01)))


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS)
def test_slack_and_taut_side_by_side(step):
    assert_slopes(random_system(3, step, strain=(-0.08, 0.08)))


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS)
@pytest.mark.parametrize("law", ["slender", "isotropic"])
@pytest.mark.parametrize("node", [1, 3, SEGMENTS], ids=["first", "inner", "end"])
@pytest.mark.parametrize(("height", "fall"), [(-5.0, 0.3), (0.05, 0.02)], ids=["wet", "at the surface"])
def test_bodies(step, law, node, height, fall):
    assert_slopes(random_system(4, step, height=height, fall=fall, bodies=(node,), law=law))


def test_two_bodies_next_to_each_other():
    assert_slopes(random_system(5, marching(0.03), bodies=(SEGMENTS - 1, SEGMENTS)))


@pytest.mark.parametrize("step", [STEPS["marching"], STEPS["straight"]], ids=["marching", "straight"])
def test_damped_segments_that_do_not_stretch_at_the_moment(step):
    assert_slopes(random_system(6, step, damping=30.0))


@pytest.mark.parametrize("step", STEPS.values(), ids=STEPS)
def test_constant_friction_along_a_slack_line(step):
    """On a taut line the core lets this old loading law grow with the stretch in its matrix, not in its force."""
    system = random_system(7, step, strain=(-0.2, -0.01))
    row(system.rows(), lanes.SKIN)[:-1] = 2e-3
    assert_slopes(system)


def test_a_pressed_segment_pushes_back_along_itself():
    """Across itself a pressed segment would buckle: the core leaves that part out, so only the axial part is held."""
    system = random_system(8, settling(1e4, press=50.0), strain=(-0.05, -0.01))
    got, expected = system.matrix(), system.slopes(SIZE)
    places = row(system.rows(), lanes.X, 3)
    for lane in range(lanes.LANES):
        along = (places[-1] - places[-2])[:, lane]
        along /= np.linalg.norm(along)
        stiff = [along @ matrix[lane, -3:, -3:] @ along for matrix in (got, expected)]
        assert stiff[0] == pytest.approx(stiff[1], rel=1e-6)
        assert stiff[0] > 10.0


@pytest.mark.parametrize("rise", [0.0, 5e-5, -5e-5, 2e-4, -2e-4])
@pytest.mark.parametrize("middle", [-0.04, 0.0, 0.03])
def test_segments_level_with_the_surface(rise, middle):
    """A segment that lies in the surface: the mean over its length would be nought by nought.

    Where it rises by less than 0.1 mm the core takes the ramp's slope at its middle, right to parts in a thousand.
    """
    system = random_system(9, settling(1e4))
    rows = system.rows()
    row(rows, lanes.LEVEL)[:] = 0.0
    row(rows, lanes.Z)[:] = middle + rise * (np.arange(SEGMENTS + 1) - 0.5 * SEGMENTS)[:, None, None]
    assert_slopes(system, tolerance=2e-7 if abs(rise) != 5e-5 else 3e-3, size=1e-6)


def test_the_wetted_share_has_no_step_where_the_formula_changes():
    """Just under and just over the rise of 0.1 mm at which the core goes over to the mean of both ends."""
    shares = []
    for rise in (0.99e-4, 1.01e-4):
        system = random_system(10, settling(1e4))
        rows = system.rows()
        row(rows, lanes.LEVEL)[:] = 0.0
        row(rows, lanes.Z)[:] = 0.3 * RAMP
        row(rows, lanes.Z)[1::2] += rise
        shares.append(system.residual(system.table))
    assert np.abs(shares[1] - shares[0]).max() < 1e-4 * np.abs(shares[0]).max()
