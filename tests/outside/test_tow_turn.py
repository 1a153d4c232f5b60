"""Steady circular turns against closed forms, independent shooting and MoorDyn (A8, A9)."""

import json
from math import hypot, inf, pi, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.outside import core
from tests.outside.references import cases, closed_forms, steady_tow

from spreadwright.tow.line import Body, Line, Sea, Section

SEA = Sea(density=cases.DENSITY, gravity=cases.GRAVITY, surface=False)
SPEED = 15 * cases.KNOT
LEAD = Body(mass=cases.LEAD_MASS, volume=cases.LEAD_VOLUME, drag_area=cases.LEAD_DRAG_AREA, added_mass=0.0)
MOORDYN = json.loads((Path(__file__).parent / "references" / "moordyn_turns.json").read_text(encoding="ascii"))

STRETCHY = 5e3  # N, so that the small stretch of a line "that does not stretch" is no part of the errors

# check-values A9: rotating-frame shooting, verified there by MoorDyn in the time domain
A9 = [
    (2000, 1999.4702, 2.2832, 69.7471),
    (500, 498.2114, 2.1122, 69.4035),
    (100, 94.7200, 1.6779, 65.0643),
    (50, 42.0601, 1.6545, 57.1637),
    (40, 30.9310, 1.7548, 52.8263),
    (35, 25.1511, 1.8817, 49.7048),
    (25, 12.4688, 2.9638, 40.1474),
    (22, 7.7624, 4.7347, 36.0424),
    (20, 4.3123, 8.7147, 33.0261),
]


def towed(section, body, tip=(0.0, 0.0, 0.0)):
    return Line("one", tip, (section,), (body,))


def trolling_section(stiffness=inf):
    return Section(
        length=cases.LINE_LENGTH,
        diameter=cases.LINE_DIAMETER,
        density=cases.LINE_DENSITY,
        stiffness=stiffness,
        normal_drag=cases.LINE_NORMAL_DRAG,
        tangential_drag=cases.LINE_TANGENTIAL_DRAG,
    )


def thread():
    """60 m of next to nothing: no drag, no weight in water, 50 micrograms."""
    return Section(60.0, 1e-6, cases.DENSITY, inf, normal_drag=0.0, tangential_drag=0.0, added_mass=0.0)


@pytest.mark.parametrize("circle", [200.0, 100.0, 60.0])
def test_closed_form_drag_free_turn_a8(circle):
    """Held to 1e-6 at the length at which the line runs: a line "that does not stretch" does, a little."""
    got = core.turning(towed(thread(), LEAD), SPEED, circle, SEA, segments=10)
    length = float(np.linalg.norm(got.places[-1] - got.places[0]))
    assert length == pytest.approx(60.0, rel=2e-6)
    expected = closed_forms.drag_free_turn(
        cases.LEAD_MASS, cases.LEAD_WET_WEIGHT, cases.LEAD_DRAG_AREA, cases.DENSITY, SPEED / circle, circle, length
    )
    assert [got.radius(), got.drop()] == pytest.approx([expected.radius, expected.depth], rel=1e-6)
    assert got.tensions == pytest.approx(expected.tension, rel=1e-6)


def test_closed_form_tractrix_a8():
    """A body that can only move along its line: circle radius sqrt(R^2 - L^2), 80 m for R = 100, L = 60.

    What is left of side slip goes with the root of mass over side area; at the length at which the line runs.
    """
    misses = []
    for side_area in (10.0, 1000.0):
        wheel = Body(1e-3, 1e-3 / cases.DENSITY, "slender", axial_area=1e-2, normal_area=side_area, added_mass=0.0)
        got = core.turning(towed(thread(), wheel), SPEED, 100.0, SEA, segments=10)
        length = float(np.linalg.norm(got.places[-1] - got.places[0]))
        misses.append(got.radius() - closed_forms.tractrix_radius(100, length))
        assert got.drop() == pytest.approx(0, abs=1e-4)
    assert misses[1] == pytest.approx(0, abs=5e-6 * 80)
    assert misses[0] / misses[1] == pytest.approx(10, rel=0.1)


def test_closed_form_line_that_cannot_slip_sideways_lies_on_the_tow_circle_a8():
    section = Section(
        60.0, cases.LINE_DIAMETER, cases.DENSITY, inf, normal_drag=1e5, tangential_drag=0.02, added_mass=0.0
    )
    body = Body(1e-4, 1e-4 / cases.DENSITY, drag_area=1e-5)
    got = core.turning(towed(section, body), SPEED, 100.0, SEA, segments=240)
    assert got.radius() == pytest.approx(100.0, rel=1e-3)
    assert np.hypot(got.places[:, 0], got.places[:, 1]) == pytest.approx(100.0, rel=1e-3)


def test_closed_form_a_wide_turn_tends_to_the_straight_tow_a8():
    line = towed(trolling_section(), LEAD)
    straight = core.straight(line, SPEED, SEA, scale=0.25)
    misses = [abs(core.turning(line, SPEED, r, SEA, scale=0.25).drop() - straight.drop()) for r in (1e4, 4e4, 1.6e5)]
    assert misses[1] < 0.35 * misses[0]
    assert misses[2] < 0.35 * misses[1] < 1e-3


@pytest.mark.parametrize("row", A9)
def test_independent_shooting_steady_turn_a9(row):
    circle, radius, depth, tension = row
    got = core.turning(towed(trolling_section(), LEAD), SPEED, circle, SEA, scale=0.25)
    assert got.radius() == pytest.approx(radius, rel=1e-2)
    assert got.drop() == pytest.approx(depth, rel=1e-2)
    assert got.tip_tension == pytest.approx(tension, rel=1e-2)


@pytest.mark.parametrize("row", A9)
def test_independent_shooting_sixty_segments_a9(row):
    circle, radius, depth, tension = row
    got = core.turning(towed(trolling_section(), LEAD), SPEED, circle, SEA, scale=0.5)
    assert [got.radius(), got.drop(), got.tip_tension] == pytest.approx([radius, depth, tension], rel=3e-2)


def test_property_the_body_cuts_the_corner_and_tension_falls_with_the_circle_a9():
    """Observed for this parameter set in the check values, not a theorem."""
    line = towed(trolling_section(), LEAD)
    circles = [row[0] for row in A9]
    got = [core.turning(line, SPEED, circle, SEA, scale=0.25) for circle in circles]
    assert all(each.radius() < circle for each, circle in zip(got, circles, strict=True))
    assert np.all(np.diff([each.tip_tension for each in got]) < 0)


def test_property_depth_in_a_turn_is_shallowest_near_radius_over_length_one_a9():
    line = towed(trolling_section(), LEAD)
    drops = {circle: core.turning(line, SPEED, circle, SEA, scale=0.25).drop() for circle, *_ in A9}
    assert min(drops, key=drops.__getitem__) in (50, 100)
    assert drops[20] > 2 * drops[25] > 2 * drops[35]


def stored(circle):
    return sorted((row for row in MOORDYN["rows"] if row["circle"] == circle), key=lambda row: row["segments"])


@pytest.mark.parametrize("scale", [0.5, 0.25, 0.125, 0.0625])
@pytest.mark.parametrize("circle", [25.0, 22.0, 20.0])
def test_a_tight_turn_is_found_on_every_mesh_a9(circle, scale):
    """Below half the line's length the body sinks steeply; the solver must find the shape on fine meshes too."""
    row = next(each for each in A9 if each[0] == circle)
    got = core.turning(towed(trolling_section(), LEAD), SPEED, circle, SEA, scale=scale)
    assert got.drop() == pytest.approx(row[2], rel=1e-2)


@pytest.mark.parametrize("circle", [100.0, 50.0])
@pytest.mark.parametrize("value", ["radius", "drop"])
def test_other_code_moordyn_steady_turn_refined_a9(circle, value):
    """The core's converged turn against MoorDyn at 60 to 480 segments (stored runs).

    MoorDyn's own estimate of its error at N is its step from N/2 to N (first order in 1/N).
    """
    got = core.turning(towed(trolling_section(stiffness=2e4), LEAD), SPEED, circle, SEA, scale=0.0625)
    ours = got.radius() if value == "radius" else got.drop()
    theirs = np.array([row[value] for row in stored(circle)])
    closes_in(np.abs(theirs - ours), theirs)


def closes_in(misses, theirs):
    """MoorDyn's two finest runs lie within their own error estimate of the core, nearer with each refinement."""
    assert np.all(misses[-2:] < np.abs(np.diff(theirs))[-2:]), (misses, theirs)
    assert np.all(misses[1:] < 0.6 * misses[:-1]), (misses, theirs)


@pytest.mark.parametrize("circle", [100.0, 50.0])
def test_other_code_moordyn_tension_in_a_steady_turn_a9(circle):
    """MoorDyn's tension here is that of the top segment: its middle, half a segment down the line."""
    got = core.turning(towed(trolling_section(stiffness=2e4), LEAD), SPEED, circle, SEA, scale=0.0625)
    halves = [0.5 * cases.LINE_LENGTH / row["segments"] for row in stored(circle)]
    theirs = np.array([row["tension"] for row in stored(circle)])
    closes_in(np.abs(theirs - np.interp(halves, got.arclength, got.tensions)), theirs)


def test_order_of_convergence_of_the_steady_turn_is_two():
    circle = 50.0
    piece = steady_tow.Piece(
        cases.LINE_LENGTH,
        cases.LINE_DIAMETER,
        cases.LINE_DENSITY,
        cases.LINE_NORMAL_DRAG,
        cases.LINE_TANGENTIAL_DRAG,
        STRETCHY,
        stretch_power=0.5,
    )
    load = steady_tow.Load(cases.LEAD_MASS, cases.LEAD_VOLUME, cases.LEAD_DRAG_AREA)
    water = steady_tow.Water(cases.DENSITY, cases.GRAVITY)
    exact = steady_tow.turn((piece,), (load,), SPEED / circle, circle, water)
    line = towed(trolling_section(STRETCHY), LEAD)
    got = [core.turning(line, SPEED, circle, SEA, scale=scale) for scale in (0.5, 0.25, 0.125)]
    for errors in (
        [abs(each.drop() - exact.drop()) for each in got],
        [abs(each.radius() - exact.radius()) for each in got],
    ):
        orders = np.log2(np.array(errors[:-1]) / errors[1:])
        assert orders.min() > 1.7, (errors, orders)


@pytest.mark.parametrize("circle", [120.0, 60.0, 40.0])
@pytest.mark.parametrize("law", ["isotropic", "slender"])
def test_independent_shooting_turn_through_the_surface(circle, law):
    """Weight, leader and lure from a tip 2 m up, 3 m aft and 4 m to port of the boat's origin, turning to port."""
    tip = (-3.0, 4.0, 2.0)
    weight: dict[str, Any] = {"axial_area": 3e-4, "normal_area": 9e-3} if law == "slender" else {"drag_area": 3e-4}
    lure: dict[str, Any] = {"axial_area": 9e-4, "normal_area": 5e-3} if law == "slender" else {"drag_area": 9e-4}
    sections = (Section(60.0, 1.05e-3, 1140.0, 1.3e3, 12.0), Section(8.0, 1.8e-3, 1140.0, 4.0e3))
    bodies = (Body(1.1, 1.1 / 11340, law, **weight), Body(0.2, 0.12e-3, law, **lure))
    sea = Sea()
    pieces = tuple(
        steady_tow.Piece(
            s.length, s.diameter, s.density, s.normal_drag, s.tangential_drag, s.stiffness, s.stiffening,
            stretch_power=0.5,
        )
        for s in sections
    )  # fmt: skip
    loads = tuple(
        steady_tow.Load(b.mass, b.volume, b.drag_area, b.added_mass, b.axial_area, b.normal_area) for b in bodies
    )
    water = steady_tow.Water(sea.density, sea.gravity, sea.air_density, half_width=sea.ramp)
    tip_circle = hypot(tip[0], circle - tip[1])
    got = core.turning(Line("one", tip, sections, bodies), SPEED, circle, sea, scale=0.25)
    guess = (got.radius(), got.depth())  # where the search starts; its answer meets the tip to a micrometre or fails
    expected = steady_tow.turn(pieces, loads, SPEED / circle, tip_circle, water, tip[2], guess=guess)
    for joint in (0, 1):
        assert got.depth(joint) == pytest.approx(expected.depth(joint), rel=3e-3)
        assert got.radius(joint) == pytest.approx(expected.radius(joint), rel=2e-3)
    assert got.tip_tension == pytest.approx(expected.tension, rel=3e-3)


def test_closed_form_speed_of_a_body_in_a_turn_is_rate_times_radius():
    """Guards the adapter: circle radii are taken about the centre of the boat's turn."""
    got = core.turning(towed(trolling_section(), LEAD), SPEED, 50.0, SEA, scale=0.5)
    assert hypot(*got.places[0, :2]) == pytest.approx(50.0, rel=1e-9)
    assert sqrt(got.places[0, 0] ** 2 + got.places[0, 1] ** 2) * SPEED / 50 == pytest.approx(SPEED)
    assert pi * cases.LINE_DIAMETER**2 / 4 == pytest.approx(cases.LINE_AREA)
