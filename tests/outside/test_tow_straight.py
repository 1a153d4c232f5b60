"""Straight tows against closed forms, independent solvers, WHOI Cable and the published WHOI example (A1 to A6).

Tolerances are those of the check values; the name of each test says what its evidence is.
"""

from math import atan2, degrees, hypot, inf, pi, radians, sqrt
from typing import Any

import numpy as np
import pytest
from tests.outside import core
from tests.outside.references import cases, closed_forms, steady_tow, straight_tow

from spreadwright.tow.line import Body, Line, Sea, Section

SEA = Sea(density=cases.DENSITY, gravity=cases.GRAVITY, surface=False)
LEAD = Body(mass=cases.LEAD_MASS, volume=cases.LEAD_VOLUME, drag_area=cases.LEAD_DRAG_AREA, added_mass=0.0)


def cable(length, diameter, wet_weight, normal_drag, tangential_drag=0.0, stiffness=inf, tangential_force=0.0):
    """One section of a given weight in water."""
    density = cases.DENSITY + wet_weight / cases.GRAVITY / (pi / 4 * diameter**2)
    return Section(
        length=length,
        diameter=diameter,
        density=density,
        stiffness=stiffness,
        normal_drag=normal_drag,
        tangential_drag=tangential_drag,
        tangential_force=tangential_force,
    )


def one_line(section, body):
    return Line("one", (0.0, 0.0, 0.0), (section,), (body,))


def pulled(horizontal, vertical):
    """A body that is little but a steady pull, backward and down: 100 g without weight in water."""
    return Body(mass=0.1, volume=0.1 / cases.DENSITY, force=(-horizontal, 0.0, -vertical))


@pytest.mark.parametrize("knots", [12, 15, 18])
def test_closed_form_neutral_line_a3(knots):
    speed = knots * cases.KNOT
    expected = closed_forms.neutral_line(
        cases.LEAD_WET_WEIGHT, cases.body_drag(speed), cases.broadside(speed), cases.LINE_LENGTH
    )
    section = cable(cases.LINE_LENGTH, cases.LINE_DIAMETER, 0.0, cases.LINE_NORMAL_DRAG)
    got = core.straight(one_line(section, LEAD), speed, SEA, scale=0.25)
    assert got.drop() == pytest.approx(expected.depth, rel=2e-3)
    assert got.astern() == pytest.approx(expected.layback, rel=2e-3)
    assert got.tensions == pytest.approx(expected.tension, rel=2e-3)
    assert got.top_angle == pytest.approx(expected.top_angle, rel=2e-2)


def test_closed_form_constant_friction_a4():
    cotangent, tension, broadside, friction = 0.8, 12.5, 36.0, 0.72
    speed = 7.5
    normal_drag = broadside / (0.5 * cases.DENSITY * cases.LINE_DIAMETER * speed**2)
    vertical = tension / sqrt(1 + cotangent**2)
    section = cable(60.0, cases.LINE_DIAMETER, 0.0, normal_drag, tangential_force=friction)
    got = core.straight(one_line(section, pulled(cotangent * vertical, vertical)), speed, SEA, scale=0.25)
    assert got.tip_tension == pytest.approx(55.7, rel=2e-3)
    assert [got.astern(), got.drop()] == pytest.approx([59.8203931, 2.2557275], rel=2e-3)


@pytest.mark.parametrize("ratio", [0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5])
def test_closed_form_critical_angle_of_a_long_heavy_cable_a1(ratio):
    speed, diameter, normal_drag = 3.0, 0.01, 1.2
    broadside = cases.broadside(speed, normal_drag, diameter)
    section = cable(400.0, diameter, ratio * broadside, normal_drag)
    start = 0.2 * broadside  # a body of the weight of a fraction of a metre's drag, hanging straight down
    got = core.straight(one_line(section, pulled(0.0, start)), speed, SEA, segments=200)
    assert got.top_angle == pytest.approx(closed_forms.critical_angle(ratio), rel=5e-3)


@pytest.mark.parametrize(
    ("ratio", "friction", "angle"),
    [(0.1, 0.0, 60), (0.1, 0.0, 30), (0.1, 0.02, 45), (0.01, 0.02, 30), (0.5, 0.02, 60), (0.5, 0.02, 45)],
)
def test_quadrature_cable_functions_a2(ratio, friction, angle):
    """A hanging weight without drag; length from sigma, then tension, layback and depth from tau, xi and eta."""
    expected = closed_forms.cable_functions(ratio, friction, radians(angle))
    speed, diameter, normal_drag, weight = 3.0, 0.01, 1.2, 500.0
    broadside = cases.broadside(speed, normal_drag, diameter)
    length = expected.sigma * weight / broadside
    section = cable(length, diameter, ratio * broadside, normal_drag, tangential_force=friction * broadside)
    got = core.straight(one_line(section, pulled(0.0, weight)), speed, SEA, scale=0.125)
    scale = weight / broadside
    assert got.tip_tension / weight == pytest.approx(expected.tau, rel=2e-3)
    assert [got.astern() / scale, got.drop() / scale] == pytest.approx([expected.xi, expected.eta], rel=2e-3)
    assert degrees(got.top_angle) == pytest.approx(angle, rel=5e-3)


@pytest.mark.parametrize("knots", [10, 12, 15, 18, 20])
def test_independent_ode_straight_table_a5(knots):
    speed = knots * cases.KNOT
    reference = straight_tow.straight_tow(
        straight_tow.Cable(
            cases.LINE_LENGTH,
            cases.LINE_DIAMETER,
            cases.LINE_WET_WEIGHT,
            cases.LINE_NORMAL_DRAG,
            cases.LINE_TANGENTIAL_DRAG,
        ),
        cases.LEAD_WET_WEIGHT,
        cases.body_drag(speed),
        speed,
        cases.DENSITY,
    )
    got = core.straight(trolling_line(), speed, SEA, scale=0.125)
    assert got.drop() == pytest.approx(reference.depth, rel=1e-3)
    assert got.astern() == pytest.approx(reference.layback, rel=1e-3)
    assert got.tip_tension == pytest.approx(reference.tension, rel=1e-3)


@pytest.mark.parametrize(
    ("knots", "depth", "layback", "tension"),
    [(12, 2.86416, 59.73348, 47.07238), (18, 2.01317, 59.89417, 98.06119)],
)
def test_other_code_whoi_cable_a5(knots, depth, layback, tension):
    """WHOI Cable (jgobat/cable, e9cd811), static 2-D, 3200 nodes, run for the check values."""
    got = core.straight(trolling_line(), knots * cases.KNOT, SEA, scale=0.125)
    assert [got.drop(), got.astern(), got.tip_tension] == pytest.approx([depth, layback, tension], rel=1e-3)


def trolling_line(stiffness=inf):
    """The line of A5: 60 m of 1 mm, slightly heavy, skin drag, a kilogram of lead at its end."""
    section = cable(
        cases.LINE_LENGTH,
        cases.LINE_DIAMETER,
        cases.LINE_WET_WEIGHT,
        cases.LINE_NORMAL_DRAG,
        cases.LINE_TANGENTIAL_DRAG,
        stiffness,
    )
    return one_line(section, LEAD)


WHOI_SLED = Body(
    mass=cases.SLED_MASS,
    volume=cases.SLED_BUOYANCY / cases.DENSITY / cases.GRAVITY,
    drag_area=cases.SLED_DRAG_AREA,
)


def whoi_line():
    section = cable(
        cases.CABLE_LENGTH,
        cases.CABLE_DIAMETER,
        cases.CABLE_WET_WEIGHT,
        cases.CABLE_NORMAL_DRAG,
        cases.CABLE_TANGENTIAL_DRAG,
        cases.CABLE_STIFFNESS,
    )
    return one_line(section, WHOI_SLED)


@pytest.mark.parametrize(
    ("speed", "layback", "depth", "tension"),
    [(0.514 * 5, 895.383, 400.294, 11837.18), (3.07, 928.191, 331.234, 12100.63)],
)
def test_other_code_whoi_towing_example_a6(speed, layback, depth, tension):
    """The same example run in WHOI Cable for the check values; 1 % asked."""
    got = core.straight(whoi_line(), speed, SEA, segments=200)
    assert [got.astern(), got.drop(), got.tip_tension] == pytest.approx([layback, depth, tension], rel=1e-2)


@pytest.mark.parametrize(("speed", "depth", "layback"), [(0.514 * 5, 400.0, 895.0), (3.07, 330.0, None)])
def test_published_whoi_towing_example_a6(speed, depth, layback):
    """Gobat, Grosenbaugh and Triantafyllou 1997, WHOI-97-15, App. E, figures E.1 and E.2, read to 5 m."""
    got = core.straight(whoi_line(), speed, SEA, segments=200)
    assert got.drop() == pytest.approx(depth, abs=5)
    if layback is not None:
        assert got.astern() == pytest.approx(layback, abs=5)


def test_published_sled_forces_a6():
    """The pull of the sled on the cable's end: 6871.04 N by its published constants."""
    got = core.straight(whoi_line(), 3.07, SEA, segments=200)
    assert got.tensions[-1] == pytest.approx(6871.04, rel=1e-2)
    assert hypot(cases.SLED_WET_WEIGHT, cases.body_drag(3.07, cases.SLED_DRAG_AREA)) == pytest.approx(6871.04, abs=0.01)


# a nylon and a braid rig through the surface, with weight, leader and lure; round and slender bodies
RIGS = {
    "nylon round": (1.3e3, 12.0, "isotropic", 60.0, 1.1),
    "nylon slender": (1.3e3, 12.0, "slender", 90.0, 0.7),
    "braid slender": (2.0e4, 0.0, "slender", 30.0, 2.3),
}
TIP_HEIGHT = 2.0


def rig(name, segments_law="core"):
    """A rig as the core's line and as the reference's pieces and loads."""
    stiffness, stiffening, law, mark, mass = RIGS[name]
    weight_area = 3.0e-4 * mass ** (2 / 3)
    sections = (
        Section(mark, 1.05e-3, 1140.0, stiffness, stiffening),
        Section(8.0, 1.8e-3, 1140.0, 4.0e3),
    )
    slender: dict[str, Any] = {"axial_area": weight_area, "normal_area": 30 * weight_area}
    lure_slender: dict[str, Any] = {"axial_area": 9e-4, "normal_area": 5e-3}
    round_: dict[str, Any] = {"drag_area": weight_area}
    lure_round: dict[str, Any] = {"drag_area": 9e-4}
    weight_drag, lure_drag = (slender, lure_slender) if law == "slender" else (round_, lure_round)
    line = Line(
        name,
        (0.0, 0.0, TIP_HEIGHT),
        sections,
        (
            Body(mass, mass / 11340, law, **weight_drag),
            Body(0.2, 0.12e-3, law, **lure_drag),
        ),
    )
    pieces = tuple(
        steady_tow.Piece(
            s.length,
            s.diameter,
            s.density,
            s.normal_drag,
            s.tangential_drag,
            s.stiffness,
            s.stiffening,
            stretch_power=0.5,
        )
        for s in sections
    )
    loads = (steady_tow.Load(mass, mass / 11340, **weight_drag), steady_tow.Load(0.2, 0.12e-3, **lure_drag))
    return line, pieces, loads


@pytest.mark.parametrize("name", RIGS)
@pytest.mark.parametrize("knots", [10, 12, 15, 18, 20])
def test_independent_ode_depth_through_the_surface(name, knots):
    """Depth of weight and lure of a converged line within 0.2 % of the ODE, 10 to 20 kn, tip 2 m above water."""
    speed = knots * cases.KNOT
    line, pieces, loads = rig(name)
    sea = Sea()
    water = steady_tow.Water(sea.density, sea.gravity, sea.air_density, half_width=sea.ramp)
    reference = steady_tow.straight(pieces, loads, speed, water, TIP_HEIGHT)
    got = core.straight(line, speed, sea, scale=0.25)
    assert [got.depth(0), got.depth(1)] == pytest.approx([reference.depth(0), reference.depth(1)], rel=2e-3)
    assert got.astern() == pytest.approx(-reference.lure[0], rel=2e-3)
    assert got.tip_tension == pytest.approx(reference.tension, rel=2e-3)
    assert got.top_angle == pytest.approx(reference.top_angle, rel=1e-2)


def test_order_of_convergence_of_the_straight_shape_is_two():
    """Error in depth against the ODE falls by about four with each halving (A5 with a little stretch)."""
    speed, stretchy = 15 * cases.KNOT, 5e3
    piece = steady_tow.Piece(
        cases.LINE_LENGTH,
        cases.LINE_DIAMETER,
        cases.LINE_DENSITY,
        cases.LINE_NORMAL_DRAG,
        cases.LINE_TANGENTIAL_DRAG,
        stretchy,
        stretch_power=0.5,
    )
    load = steady_tow.Load(cases.LEAD_MASS, cases.LEAD_VOLUME, cases.LEAD_DRAG_AREA)
    exact = steady_tow.straight((piece,), (load,), speed, steady_tow.Water(cases.DENSITY, cases.GRAVITY)).drop()
    errors = [
        abs(core.straight(trolling_line(stretchy), speed, SEA, scale=scale).drop() - exact)
        for scale in (0.5, 0.25, 0.125)
    ]
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    assert orders.min() > 1.7, (errors, orders)


@pytest.mark.parametrize("scale", [1.0, 0.5, 0.25, 0.125])
@pytest.mark.parametrize("pull", [(8.0, 10.0), (0.0, 500.0)])
def test_a_pull_without_mass_is_held_on_every_mesh(pull, scale):
    """A massless body that only pulls: the line's own tension there is the pull."""
    body = Body(mass=0.0, volume=0.0, force=(-pull[0], 0.0, -pull[1]))
    got = core.straight(one_line(cable(20.0, 0.01, 3.0, 1.2), body), 3.0, SEA, scale=scale)
    assert got.tensions[-1] == pytest.approx(hypot(*pull), rel=0.05)


def test_the_angle_of_the_top_segment_is_from_the_horizontal():
    """Guards the adapter: a line that hangs straight down stands at 90 degrees."""
    got = core.straight(one_line(cable(20.0, 1e-5, 0.0, 1.2), pulled(0.0, 50.0)), 1.0, SEA, segments=10)
    assert got.top_angle == pytest.approx(atan2(1, 0), abs=5e-3)
