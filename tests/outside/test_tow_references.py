"""The independent references against the printed check values (A1 to A9), before the core is held to them.

Numbers: check-values section (a), "derived" there unless named otherwise; the published ones name their source.
"""

from math import degrees, inf, radians

import pytest
from tests.outside.references import cases, catenary, closed_forms, steady_tow, straight_tow

CRITICAL = {
    0.01: 5.72479, 0.02: 8.08928, 0.05: 12.75775, 0.1: 17.96424, 0.2: 25.17839,
    0.5: 38.66828, 1: 51.82729, 2: 65.53020, 5: 78.89647,
}  # fmt: skip

CABLE_FUNCTIONS = [
    # w/R, f, phi, tau, sigma, xi, eta
    (0.1, 0.0, 60, 1.058308, 0.613790, 0.167685, 0.583077),
    (0.1, 0.0, 45, 1.098125, 1.121615, 0.480541, 0.981251),
    (0.1, 0.0, 30, 1.162396, 2.212042, 1.357670, 1.623956),
    (0.1, 0.02, 60, 1.071001, 0.617499, 0.169007, 0.586513),
    (0.1, 0.02, 45, 1.121808, 1.133856, 0.487203, 0.991314),
    (0.1, 0.02, 30, 1.210568, 2.258705, 1.392297, 1.653936),
    (0.01, 0.02, 60, 1.017240, 0.584174, 0.157112, 0.555637),
    (0.01, 0.02, 45, 1.029411, 1.021146, 0.425564, 0.898844),
    (0.01, 0.02, 30, 1.049633, 1.800585, 1.049678, 1.362084),
    (0.5, 0.02, 60, 1.407539, 0.829556, 0.247846, 0.781896),
    (0.5, 0.02, 45, 2.036350, 2.381958, 1.231599, 1.977422),
]

NEUTRAL = [
    # kn, drag, broadside, tension, top angle, depth, layback
    (12, 5.637422, 23.437677, 10.554890, 0.428004, 2.249045, 59.753509),
    (15, 8.808472, 36.621371, 12.538515, 0.325116, 1.709412, 59.857851),
    (18, 12.684200, 52.734774, 15.508517, 0.278885, 1.431586, 59.907635),
]

TURNS = [
    # R, body radius, depth, top tension
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

TROLLING_PIECE = steady_tow.Piece(
    cases.LINE_LENGTH, cases.LINE_DIAMETER, cases.LINE_DENSITY, cases.LINE_NORMAL_DRAG, cases.LINE_TANGENTIAL_DRAG
)
LEAD = steady_tow.Load(cases.LEAD_MASS, cases.LEAD_VOLUME, cases.LEAD_DRAG_AREA)
DEEP = steady_tow.Water(cases.DENSITY, cases.GRAVITY)


@pytest.mark.parametrize(("ratio", "angle"), CRITICAL.items())
def test_closed_form_critical_angle_a1(ratio, angle):
    assert degrees(closed_forms.critical_angle(ratio)) == pytest.approx(angle, abs=5e-6)


@pytest.mark.parametrize("row", CABLE_FUNCTIONS)
def test_quadrature_cable_functions_a2(row):
    ratio, friction, angle, *expected = row
    got = closed_forms.cable_functions(ratio, friction, radians(angle))
    assert [got.tau, got.sigma, got.xi, got.eta] == pytest.approx(expected, abs=1e-6)  # printed to six decimals


@pytest.mark.parametrize("row", NEUTRAL)
def test_closed_form_neutral_line_a3(row):
    knots, drag, broadside, tension, angle, depth, layback = row
    speed = knots * cases.KNOT
    assert cases.body_drag(speed) == pytest.approx(drag, abs=1e-6)
    assert cases.broadside(speed) == pytest.approx(broadside, abs=1e-6)
    got = closed_forms.neutral_line(
        cases.LEAD_WET_WEIGHT, cases.body_drag(speed), cases.broadside(speed), cases.LINE_LENGTH
    )
    assert got.tension == pytest.approx(tension, abs=1e-6)
    assert degrees(got.top_angle) == pytest.approx(angle, abs=1e-6)
    assert [got.depth, got.layback] == pytest.approx([depth, layback], abs=1e-6)


@pytest.mark.parametrize("knots", [12, 15, 18])
def test_closed_form_and_ode_of_the_neutral_line_agree_a3(knots):
    speed = knots * cases.KNOT
    drag = cases.body_drag(speed)
    closed = closed_forms.neutral_line(cases.LEAD_WET_WEIGHT, drag, cases.broadside(speed), cases.LINE_LENGTH)
    cable = straight_tow.Cable(cases.LINE_LENGTH, cases.LINE_DIAMETER, 0.0, cases.LINE_NORMAL_DRAG)
    ode = straight_tow.straight_tow(cable, cases.LEAD_WET_WEIGHT, drag, speed, cases.DENSITY)
    assert [ode.depth, ode.layback, ode.tension] == pytest.approx(
        [closed.depth, closed.layback, closed.tension], rel=1e-8
    )


def test_closed_form_constant_friction_a4():
    got, cotangent = closed_forms.neutral_line_with_friction(12.5, 36, 0.72, 0.8, 60)
    assert cotangent == pytest.approx(75.5125751, rel=1e-8)
    assert got.tension == pytest.approx(55.7, rel=1e-12)
    assert [got.layback, got.depth] == pytest.approx([59.8203931, 2.2557275], rel=3e-8)


@pytest.mark.parametrize(
    ("knots", "depth", "layback", "tension", "whoi"),
    [
        (12, 2.8642, 59.7333, 47.0723, (2.86416, 59.73348, 47.07238)),
        (18, 2.0132, 59.8938, 98.0610, (2.01317, 59.89417, 98.06119)),
    ],
)
def test_other_code_straight_table_a5(knots, depth, layback, tension, whoi):
    speed = knots * cases.KNOT
    cable = straight_tow.Cable(
        cases.LINE_LENGTH,
        cases.LINE_DIAMETER,
        cases.LINE_WET_WEIGHT,
        cases.LINE_NORMAL_DRAG,
        cases.LINE_TANGENTIAL_DRAG,
    )
    got = straight_tow.straight_tow(cable, cases.LEAD_WET_WEIGHT, cases.body_drag(speed), speed, cases.DENSITY)
    assert [got.depth, got.layback, got.tension] == pytest.approx([depth, layback, tension], abs=6e-5)
    # WHOI Cable, static 2-D, 3200 nodes, run for the check values
    assert [got.depth, got.layback, got.tension] == pytest.approx(whoi, rel=1e-4)


@pytest.mark.parametrize(
    ("speed", "stiffness", "layback", "depth", "tension", "angle"),
    [
        (0.514 * 5, inf, 894.676, 400.078, 11837.15, 18.156),
        (3.07, inf, 927.464, 331.057, 12100.23, 15.191),
        (3.07, cases.CABLE_STIFFNESS, 928.219, 331.180, 12101.17, None),
    ],
)
def test_published_towing_example_a6(speed, stiffness, layback, depth, tension, angle):
    cable = straight_tow.Cable(
        cases.CABLE_LENGTH,
        cases.CABLE_DIAMETER,
        cases.CABLE_WET_WEIGHT,
        cases.CABLE_NORMAL_DRAG,
        cases.CABLE_TANGENTIAL_DRAG,
        stiffness,
        stretch_power=1,
    )
    drag = cases.body_drag(speed, cases.SLED_DRAG_AREA)
    got = straight_tow.straight_tow(cable, cases.SLED_WET_WEIGHT, drag, speed, cases.DENSITY)
    assert [got.layback, got.depth] == pytest.approx([layback, depth], abs=6e-4)
    assert got.tension == pytest.approx(tension, abs=6e-3)
    if angle is not None:
        assert degrees(got.top_angle) == pytest.approx(angle, abs=1e-3)


def test_closed_form_rigid_catenary_a7():
    assert catenary.half_length(100, 50) == pytest.approx(52.10953055, abs=1e-8)
    assert catenary.sag(100, 50) == pytest.approx(12.76259652, abs=1e-8)
    parameter = catenary.parameter_of_level_span(100, 120)
    assert parameter == pytest.approx(46.95415231, rel=1e-8)
    assert catenary.sag(parameter, 50) == pytest.approx(29.23437976, rel=1e-8)


@pytest.mark.parametrize(
    ("case", "horizontal", "low", "high", "rel"),
    [
        # MoorPy tests/test_catenary.py rows 5 and 4 (published with the code); its forces act on the line's ends
        ((89.9, 59.2, 130, 7.51e8, 881.05), 31373.229, -26650.341, 87886.159, 1e-5),
        ((400, 200, 500, 7.51e12, 200), 43694.581, -22365.599, 77634.401, 1e-5),
        # FRyDoM bench, hanging cable, with the weight that its own end forces imply
        ((100, 50, 170, 5e8, 410.294), 11470, -24030, 45720, 5e-3),
    ],
)
def test_other_code_elastic_catenary_a7(case, horizontal, low, high, rel):
    got = catenary.elastic_catenary(*case)
    assert [got.horizontal, got.low_vertical, got.high_vertical] == pytest.approx([horizontal, low, high], rel=rel)


@pytest.mark.parametrize(
    ("circle", "radius", "depth", "tension"),
    [
        (200, 197.069788, 43.305237, 12.363346),
        (100, 94.621911, 44.907527, 11.922224),
        (60, 52.557055, 47.685602, 11.227658),
    ],
)
def test_closed_form_drag_free_turn_a8(circle, radius, depth, tension):
    speed = 15 * cases.KNOT
    got = closed_forms.drag_free_turn(
        cases.LEAD_MASS,
        cases.LEAD_WET_WEIGHT,
        cases.LEAD_DRAG_AREA,
        cases.DENSITY,
        speed / circle,
        circle,
        cases.LINE_LENGTH,
    )
    assert [got.radius, got.depth, got.tension] == pytest.approx([radius, depth, tension], abs=1e-6)


def test_closed_form_tractrix_a8():
    assert closed_forms.tractrix_radius(100, 60) == pytest.approx(80, abs=1e-12)


@pytest.mark.parametrize("row", TURNS)
def test_shooting_steady_turn_a9(row):
    circle, radius, depth, tension = row
    got = steady_tow.turn((TROLLING_PIECE,), (LEAD,), 15 * cases.KNOT / circle, circle, DEEP)
    # The printed case rounds the line's mass to 0.0009 kg/m beside its wet weight; here the two follow one density.
    assert [got.radius(), got.drop(), got.tension] == pytest.approx([radius, depth, tension], rel=1e-4)


@pytest.mark.parametrize("knots", [10, 12, 15, 18, 20])
def test_two_forms_of_the_straight_tow_agree(knots):
    """Angle-and-tension form against tension-vector form, elastic and inextensible."""
    speed = knots * cases.KNOT
    for stiffness in (inf, 1200.0):
        cable = straight_tow.Cable(
            cases.LINE_LENGTH,
            cases.LINE_DIAMETER,
            cases.LINE_WET_WEIGHT,
            cases.LINE_NORMAL_DRAG,
            cases.LINE_TANGENTIAL_DRAG,
            stiffness,
        )
        plane = straight_tow.straight_tow(cable, cases.LEAD_WET_WEIGHT, cases.body_drag(speed), speed, cases.DENSITY)
        piece = steady_tow.Piece(
            cases.LINE_LENGTH,
            cases.LINE_DIAMETER,
            cases.LINE_DENSITY,
            cases.LINE_NORMAL_DRAG,
            cases.LINE_TANGENTIAL_DRAG,
            stiffness,
        )
        vector = steady_tow.straight((piece,), (LEAD,), speed, DEEP)
        assert [vector.drop(), -vector.lure[0], vector.tension] == pytest.approx(
            [plane.depth, plane.layback, plane.tension], rel=1e-7
        )


def test_a_turn_of_large_radius_tends_to_the_straight_tow_a8():
    speed = 15 * cases.KNOT
    straight = steady_tow.straight((TROLLING_PIECE,), (LEAD,), speed, DEEP)
    miss = []
    for circle in (5e3, 1e4):
        turn = steady_tow.turn((TROLLING_PIECE,), (LEAD,), speed / circle, circle, DEEP)
        miss.append(abs(turn.drop() - straight.drop()))
    assert miss[1] < 0.6 * miss[0] < 0.02


def test_a_ramp_far_above_the_tow_point_changes_nothing():
    speed = 15 * cases.KNOT
    surfaced = steady_tow.Water(cases.DENSITY, cases.GRAVITY, half_width=0.05)
    deep = steady_tow.straight((TROLLING_PIECE,), (LEAD,), speed, DEEP, tip_height=-5)
    same = steady_tow.straight((TROLLING_PIECE,), (LEAD,), speed, surfaced, tip_height=-5)
    assert same.depth() == pytest.approx(deep.depth(), rel=1e-8)
    assert same.tension == pytest.approx(deep.tension, rel=1e-8)


def test_the_width_of_the_surface_ramp_hardly_matters():
    speed = 15 * cases.KNOT
    depths = [
        steady_tow.straight(
            (TROLLING_PIECE,), (LEAD,), speed, steady_tow.Water(half_width=width, smoothness=order), tip_height=2.0
        ).depth()
        for width, order in ((0.01, 1), (0.05, 1), (0.05, 2))
    ]
    assert depths == pytest.approx([depths[0]] * 3, rel=2e-3)
