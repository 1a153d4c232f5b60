"""Steady shapes: balance of all forces added up anew in plain numpy, mirror images, neighbours, order, failures."""

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.tow import samples
from tests.tow.samples import KNOT, shape

from spreadwright.tow import lanes
from spreadwright.tow.line import Body, Failure, Line, Sea, Section
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import TOLERANCE, Shape, grouped, settle, steady_straight, steady_turn
from spreadwright.tow.system import newton_correction

SPEED = 15 * KNOT
ROUND = samples.weight(0.5, "isotropic")


def wetted(height: np.ndarray, ramp: float) -> np.ndarray:
    """The ramp from water (1) to air (0)."""
    h = np.clip(height / ramp, -1.0, 1.0)
    return 0.5 - 0.75 * h + 0.25 * h**3


def forces_on_the_line(found: Shape, sea: Sea, turn: float) -> np.ndarray:
    """Sum [N] of drag, weight, buoyancy and centrifugal force on all that hangs on the rod tip.

    Written out from docs/theory.md, segment by segment, without the core's code; the wetted share by quadrature.
    Velocities are those of the frame: SPEED along x, or turning about the circle's centre.
    """
    line, places = found.line, found.places
    total = np.zeros(3)
    centre = np.array([0.0, SPEED / turn if turn else 0.0, 0.0])

    def flow(place):
        return -np.array([SPEED, 0.0, 0.0]) if not turn else -turn * np.array([-(place - centre)[1], place[0], 0.0])

    def outward(place):
        return turn**2 * (place - centre) * np.array([1.0, 1.0, 0.0])

    ends = np.cumsum([section.length for section in line.sections])
    tip_half = np.zeros(3)
    for k in range(len(places) - 1):
        section = line.sections[int(np.searchsorted(ends, found.arclength[k] + 1e-9))]
        rest = found.arclength[k + 1] - found.arclength[k]
        chord = places[k + 1] - places[k]
        length = np.linalg.norm(chord)
        along = chord / length
        middle = 0.5 * (places[k] + places[k + 1])
        thin = section.diameter / math.sqrt(length / rest)  # a stretched line keeps its volume
        heights = places[k, 2] + np.linspace(0.0, 1.0, 2001) * chord[2]
        rho = sea.above + (sea.density - sea.above) * np.trapezoid(wetted(heights, sea.ramp), dx=1 / 2000)
        u = flow(middle)
        s = u @ along
        across = u - s * along
        drag = 0.5 * rho * thin * length * section.normal_drag * np.linalg.norm(across) * across
        drag += 0.5 * rho * math.pi * thin * length * section.tangential_drag * abs(s) * s * along
        volume = section.area * rest
        up = np.array([0.0, 0.0, sea.gravity])
        force = drag + (rho - section.density) * volume * up
        added = section.added_mass * rho * volume * (np.eye(3) - np.outer(along, along))
        inertia = section.density * volume * np.eye(3) + added
        for end in (places[k], places[k + 1]):
            total += 0.5 * force + 0.5 * inertia @ outward(end)
        if k == 0:  # the tip's half of inertia hangs on the rod, not on the line
            tip_half = 0.5 * inertia @ outward(places[0])
    for node, body in zip(found.joints, line.bodies, strict=True):
        if body is not None:
            assert body.law == "isotropic"
            place = places[node]
            rho = sea.above + (sea.density - sea.above) * float(wetted(place[2], sea.ramp))
            u = flow(place)
            total += 0.5 * rho * body.drag_area * np.linalg.norm(u) * u
            total += (rho * body.volume - body.mass) * np.array([0.0, 0.0, sea.gravity])
            total += (body.mass + rho * body.added_mass * body.volume) * outward(place)
    return total - tip_half


@pytest.mark.parametrize("sea", [Sea(), Sea(surface=False)], ids=["from the air", "all under water"])
@pytest.mark.parametrize("main", [samples.NYLON, samples.BRAID, samples.WIRE], ids=["nylon", "braid", "wire"])
@pytest.mark.parametrize("radius", [math.inf, 60.0, -60.0], ids=["straight", "to port", "to starboard"])
def test_the_rod_tip_carries_all_forces(main, sea, radius):
    line = samples.rig(main, sinker=ROUND, port=1.5)
    if math.isinf(radius):
        found = shape(steady_straight([line], SPEED, sea)[0])
    else:
        found = shape(steady_turn([line], SPEED, radius, sea)[0])
    expected = forces_on_the_line(found, sea, 0.0 if math.isinf(radius) else SPEED / radius)
    assert found.tip_pull == pytest.approx(expected, abs=2e-4 * float(np.linalg.norm(expected)))
    assert found.tension[0] == pytest.approx(np.linalg.norm(found.tip_pull))


@pytest.mark.parametrize("radius", [math.inf, 70.0], ids=["straight", "turn"])
@pytest.mark.parametrize(
    "main",
    [samples.NYLON, samples.BRAID, samples.WIRE],
    ids=["nylon", "braid", "wire"],
)
def test_one_more_newton_correction_changes_nothing(main, radius):
    """A plain correction, without pseudo-time, from the shape called settled: it has moved for the last time."""
    sea, line = Sea(surface=False), samples.rig(main)
    batch, solved = settle([line], SPEED, radius, sea, Grading())
    assert solved.all()
    rows, turn = batch.rows(), 0.0 if math.isinf(radius) else SPEED / radius
    if turn:
        rows[:, 1, :] -= radius
    rows[:, 3, :] = (SPEED if not turn else 0.0) - turn * rows[:, 1, :]
    rows[:, 4, :] = turn * rows[:, 0, :]
    rows[:, 5, :] = 0.0
    newton_correction(
        batch.segments, batch.table, batch.bodies, sea.density, sea.above, sea.gravity, sea.ramp,
        1.0, 0.0, 0.0, turn, 1.0, 0.0,
    )  # fmt: skip
    left = rows[1:, lanes.CHANGE // lanes.ROW : lanes.CHANGE // lanes.ROW + 3, 0]
    assert np.abs(left).max() < TOLERANCE * line.length


def test_a_straight_tow_stays_in_the_plane_of_its_rod_tip():
    found = shape(steady_straight([samples.rig(port=2.5)], SPEED)[0])
    assert found.places[:, 1] == pytest.approx(np.full(len(found.places), 2.5), abs=1e-9)
    assert (found.tension > 0.0).all()
    assert np.isnan(found.radii).all()
    assert 0.0 < found.tip_angle < math.radians(30.0)


@pytest.mark.parametrize("law", ["slender", "isotropic"])
def test_port_and_starboard_are_mirror_images(law):
    port = samples.rig(sinker=samples.weight(0.5, law), port=3.0)
    starboard = samples.rig(sinker=samples.weight(0.5, law), port=-3.0)
    one, other = shape(steady_turn([port], SPEED, 50.0)[0]), shape(steady_turn([starboard], SPEED, -50.0)[0])
    assert one.places * np.array([1.0, -1.0, 1.0]) == pytest.approx(other.places, abs=1e-6)
    assert one.tension == pytest.approx(other.tension, rel=1e-6)


def test_a_wide_turn_tends_to_the_straight_tow():
    line = samples.rig(port=1.0)
    at_rest = shape(steady_straight([line], SPEED)[0])
    offs = [
        np.abs(shape(steady_turn([line], SPEED, radius)[0]).places - at_rest.places).max() for radius in (1e4, 1e5, 1e6)
    ]
    assert offs[0] > offs[1] > offs[2]
    assert offs[2] < 5e-3


def spread() -> list[Line]:
    mains = (samples.NYLON, samples.BRAID, samples.WIRE)
    return [
        samples.rig(
            mains[i % 3], length=30.0 + 5.0 * i, sinker=samples.weight(0.2 + 0.2 * i), port=i - 4.0, name=str(i)
        )
        for i in range(8)
    ]


@pytest.mark.parametrize(
    ("sea", "far"), [(Sea(surface=False), 3e-4), (Sea(), 1e-3)], ids=["all under water", "from the air"]
)
@pytest.mark.parametrize("radius", [math.inf, 70.0], ids=["straight", "turn"])
def test_a_line_does_not_feel_shorter_neighbours(radius, sea, far):
    """With seven shorter lines in the batch the longest one keeps its mesh, and so its shape to `far` [m].

    From the air the mesh is graded to where the line meets the water, which a coarser run finds that differs a little.
    """
    lines = spread()
    both = [
        steady_straight(group, SPEED, sea) if math.isinf(radius) else steady_turn(group, SPEED, radius, sea)
        for group in (lines, lines[-1:])
    ]
    among, alone = shape(both[0][-1]), shape(both[1][0])
    assert len(among.places) == len(alone.places)
    assert among.places == pytest.approx(alone.places, abs=far)
    assert among.tension == pytest.approx(alone.tension, rel=far)


def test_longer_neighbours_only_refine_the_mesh():
    """A short line is given as many segments as its longest neighbour: its shape moves by the mesh's error."""
    lines = spread()
    among, alone = shape(steady_straight(lines, SPEED)[0]), shape(steady_straight(lines[:1], SPEED)[0])
    assert len(among.places) > len(alone.places)
    assert among.joint_places == pytest.approx(alone.joint_places, abs=0.01)


def test_results_come_in_the_order_of_the_lines():
    lines = spread()
    single = Line("single", (0.0, 0.0, 2.0), (samples.NYLON,), (samples.weight(),))
    mixed = [lines[5], single, lines[0], *lines[1:5], replace(single, name="again"), lines[7], lines[6], lines[2]]
    found = steady_straight(mixed, SPEED)
    assert [shape(each).line.name for each in found] == [line.name for line in mixed]
    assert sorted(i for group in grouped(mixed) for i in group) == list(range(len(mixed)))
    assert all(len({len(mixed[i].sections) for i in group}) == 1 and len(group) <= 8 for group in grouped(mixed))


def test_no_lines_no_results():
    assert steady_straight([], SPEED) == []


HOPELESS = samples.rig(sinker=Body(math.nan), name="hopeless")


@pytest.mark.parametrize("radius", [math.inf, 60.0], ids=["straight", "turn"])
def test_failure_is_a_value_with_the_lines_name_and_its_neighbours_live(radius):
    lines = [*spread()[:3], HOPELESS, *spread()[3:]]  # the hopeless one is neither first nor last of its eight
    found = steady_straight(lines, SPEED) if math.isinf(radius) else steady_turn(lines, SPEED, radius)
    turn = "" if math.isinf(radius) else " in a turn of 60.0 m"
    assert found[3] == Failure("hopeless", f"no steady shape found at 7.72 m/s{turn}")
    assert all(np.isfinite(shape(each).places).all() for i, each in enumerate(found) if i != 3)


@pytest.mark.parametrize("place", [0, 3, 6, 7])
def test_a_hopeless_line_anywhere_among_eight_takes_no_other_with_it(place):
    """Lines of one length stay in the order given, so the first and the last place in the batch are tried too."""
    lines = [samples.rig(port=i - 4.0, name=str(i)) for i in range(8)]
    lines[place] = HOPELESS
    found = steady_straight(lines, SPEED)
    assert [isinstance(each, Failure) for each in found] == [i == place for i in range(8)]


def test_a_line_that_cannot_follow_a_turn_takes_no_other_with_it():
    """Seven short lines and one of 250 m in a circle of 25 m: alone, each of the seven has its shape."""
    short = [samples.rig(length=20.0 + 2.0 * i, name=str(i)) for i in range(7)]
    assert all(isinstance(steady_turn([line], SPEED, 25.0)[0], Shape) for line in short)
    found = steady_turn([*short, samples.rig(samples.BRAID, length=250.0)], SPEED, 25.0)
    assert [isinstance(each, Failure) for each in found] == [False] * 7 + [True]


def test_a_line_that_does_not_stretch_hardly_does():
    wire = replace(samples.WIRE, stiffness=math.inf)
    found = shape(steady_straight([samples.rig(wire)], SPEED)[0])
    run = np.linalg.norm(np.diff(found.places, axis=0), axis=1).sum()
    assert run == pytest.approx(64.0, rel=1e-3)
    assert run > 64.0


def test_only_air_above_a_line_too_short_to_reach_the_water():
    line = Line("short", (0.0, 0.0, 6.0), (Section(5.0, 1e-3, 1140.0, 1000.0),), (Body(2.0, 2e-4),))
    found = shape(steady_straight([line], 2 * KNOT)[0])
    assert (found.places[:, 2] > 0.9).all()
    hanging = found.places[-1]
    assert hanging[2] == pytest.approx(6.0 - 5.0 * (1.0 + 2.0 * 9.80665 / 1000.0), abs=0.01)
