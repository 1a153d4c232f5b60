"""Never a hang, never a NaN: whatever comes from the documented ranges ends in a result or in a named failure.

Ranges: 2 to 20 kn, turns from 15 m up, weights from nothing to 5 kg, lines of 5 to 300 m of nylon, braid or wire,
slender and round bodies, lures heavy and light or none, rod tips 0.5 to 6 m above the water.
"""

import math
import time

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.tow import samples
from tests.tow.samples import KNOT

from spreadwright.tow.line import Body, Failure, Line, Section
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import steady_straight, steady_turn
from spreadwright.tow.track import Sway, s_turn
from spreadwright.tow.water import jonswap_waves, make_flow

LONGEST = 10.0  # [s] of processor time for one line; a usual one takes a hundredth to a tenth
# material: density [kg/m3], modulus [Pa], stiffening [-], thinnest and thickest [m]
MATERIALS = {
    "nylon": (1140.0, 1.5e9, 0.0, 0.5e-3, 2.0e-3),
    "nylon that stiffens": (1140.0, 1.2e9, 12.0, 0.5e-3, 2.0e-3),
    "braid": (970.0, 60e9, 0.0, 0.25e-3, 1.0e-3),
    "wire": (7900.0, 150e9, 0.0, 0.4e-3, 1.2e-3),
}


def section(material: str, length: float, thickness: float) -> Section:
    density, modulus, stiffening, thin, thick = MATERIALS[material]
    diameter = thin + thickness * (thick - thin)
    return Section(length, diameter, density, modulus * math.pi / 4 * diameter**2, stiffening)


def body(mass: float, density: float, slender: bool) -> Body:
    volume = mass / density
    diameter = max((volume / 2.0 / math.pi) ** (1 / 3), 2e-3)
    face = math.pi / 4 * diameter**2
    if slender:
        return Body(mass, volume, "slender", axial_area=0.3 * face, normal_area=8.8 * diameter**2)
    return Body(mass, volume, drag_area=0.5 * face)


@st.composite
def lines(draw) -> Line:
    main = section(draw(st.sampled_from(sorted(MATERIALS))), draw(st.floats(5.0, 300.0)), draw(st.floats(0.0, 1.0)))
    leader = section(draw(st.sampled_from(["nylon", "wire"])), draw(st.floats(0.5, 6.0)), draw(st.floats(0.0, 1.0)))
    sinker = body(draw(st.floats(0.0, 5.0)), draw(st.sampled_from([900.0, 7800.0, 11340.0])), draw(st.booleans()))
    lure = draw(st.none() | st.builds(samples.lure, st.floats(1e-4, 3e-3), st.floats(0.0, 0.5)))
    tip = (draw(st.floats(-1.0, 1.0)), draw(st.floats(-4.0, 4.0)), draw(st.floats(0.5, 6.0)))
    return Line("any", tip, (main, leader), (sinker, lure))


speeds = st.floats(2.0, 20.0).map(lambda knots: knots * KNOT)
radii = st.floats(15.0, 500.0).flatmap(lambda radius: st.sampled_from([radius, -radius]))
often = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
seldom = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def assert_told(result, start: float, *numbers: str) -> None:
    """A result with nothing but numbers, or a failure that says which line and why; within the time."""
    assert time.process_time() - start < LONGEST
    if isinstance(result, Failure):
        assert result.line == "any"
        assert result.reason.startswith(("no steady shape found", "a step of the manoeuvre did not converge"))
    else:
        for name in numbers:
            assert np.isfinite(getattr(result, name)).all(), name


@given(lines(), speeds)
@often
def test_straight(line, speed):
    start = time.process_time()
    assert_told(steady_straight([line], speed)[0], start, "places", "tension", "tip_pull")


@given(lines(), speeds, radii)
@often
def test_turn(line, speed, radius):
    start = time.process_time()
    assert_told(steady_turn([line], speed, radius)[0], start, "places", "tension", "tip_pull", "radii", "speeds")


def manoeuvre(speed: float, radius: float):
    """To one side and back, ten seconds each at most."""
    change = math.copysign(min(1.5, 10.0 * speed / abs(radius)), radius)
    return s_turn(speed, abs(radius), (change, -change), lead_in=1.0, lead_out=4.0)


@given(lines(), speeds, radii)
@seldom
def test_march(line, speed, radius):
    start = time.process_time()
    found = march([line], manoeuvre(speed, radius), settings=Settings(workers=1))[0]
    assert_told(found, start, "places", "pulls", "speeds")


@given(
    lines(), speeds, radii, st.floats(0.1, 2.0), st.floats(3.5, 9.0), st.floats(-math.pi, math.pi), st.integers(0, 9)
)
@seldom
def test_march_in_waves_current_and_wash_on_a_boat_that_rolls(line, speed, radius, height, period, direction, seed):
    track = manoeuvre(speed, radius)
    times = np.linspace(0.0, track.duration + 1.0, 1500)
    swing = 2.0 * math.pi / period * times
    sway = Sway(times, 0.4 * height * np.sin(swing), 0.1 * height * np.cos(swing), 0.05 * height * np.sin(swing + 1.0))
    jets = np.array([[0.8, 0.6, 0.45, 9.0], [-0.8, 0.6, 0.45, 9.0]])
    waves = jonswap_waves(height, period, direction, seed, count=12)
    flow = make_flow((0.5, -0.8), (0.01, 0.0), waves=waves, jets=jets, track=track)
    start = time.process_time()
    found = march([line], track, flow=flow, settings=Settings(grading=Grading(scale=2.0), workers=1), sway=sway)[0]
    assert_told(found, start, "places", "pulls", "speeds")


def drawn(count: int, seed: int) -> list[Line]:
    """Lines drawn evenly from the ranges (lengths evenly by their logarithm), the same every time."""
    random = np.random.default_rng(seed)
    materials = sorted(MATERIALS)
    return [
        Line(
            str(i),
            (0.0, random.uniform(-4.0, 4.0), random.uniform(0.5, 6.0)),
            (
                section(materials[i % 4], math.exp(random.uniform(math.log(5.0), math.log(300.0))), random.uniform()),
                section("nylon", random.uniform(0.5, 6.0), random.uniform()),
            ),
            (body(random.uniform(0.0, 5.0), 11340.0, i % 3 > 0), samples.lure(random.uniform(2e-4, 2e-3))),
        )
        for i in range(count)
    ]


@pytest.mark.parametrize("knots", [2.0, 6.0, 12.0, 20.0])
def test_hardly_any_straight_tow_of_fishing_gear_fails(knots):
    """With a lure at its end and a weight: at most one in fifty."""
    found = steady_straight(drawn(48, int(knots)), knots * KNOT)
    assert sum(isinstance(each, Failure) for each in found) <= 1


@pytest.mark.parametrize(("knots", "radius"), [(6.0, 30.0), (12.0, 45.0), (15.0, -60.0), (20.0, 150.0)])
def test_hardly_any_turn_fails_that_a_line_can_follow(knots, radius):
    """Up to lines as long as the radius is wide; far beyond, a line falls slack inside the circle and none is found."""
    followed = [line for line in drawn(96, int(knots)) if line.length < abs(radius)]
    assert len(followed) > 20
    found = steady_turn(followed, knots * KNOT, radius)
    assert sum(isinstance(each, Failure) for each in found) <= 1


def test_no_manoeuvre_of_fishing_gear_fails():
    some = drawn(32, 5)
    for speed, radius in ((12 * KNOT, 45.0), (18 * KNOT, 30.0)):
        found = march(some, manoeuvre(speed, radius))
        assert [each for each in found if isinstance(each, Failure)] == []
