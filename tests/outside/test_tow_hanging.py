"""Lines hung between two ends in a near vacuum against the catenary, MoorPy and the FRyDoM bench (A7).

The core's line runs from its tip to a free end, so the far end's holding force is given as a body's outside force
and the place where that end comes to rest is compared with the published span.
"""

from math import cosh, hypot, inf, pi, sinh

import pytest
from tests.outside import core
from tests.outside.references import cases, catenary

from spreadwright.tow.line import Body, Line, Sea, Section

VACUUM = Sea(density=1e-9, gravity=cases.GRAVITY, air_density=1e-9, surface=False)
DIAMETER = 0.05


def hung(length, stiffness, weight, force):
    """A line of `weight` [N/m] whose far end is held by `force` (x, z) [N]."""
    section = Section(
        length=length,
        diameter=DIAMETER,
        density=weight / cases.GRAVITY / (pi / 4 * DIAMETER**2),
        stiffness=stiffness,
    )
    end = Body(mass=0.0, volume=0.0, force=(force[0], 0.0, force[1]))
    return Line("hung", (0.0, 0.0, 0.0), (section,), (end,))


@pytest.mark.parametrize(
    ("span", "rise", "length", "stiffness", "weight", "horizontal", "low", "high", "rel"),
    [
        # MoorPy tests/test_catenary.py rows 5 and 4: H, VA, VB printed there
        (89.9, 59.2, 130, 7.51e8, 881.05, 31373.229, -26650.341, 87886.159, 1e-4),
        (400, 200, 500, 7.51e12, 200, 43694.581, -22365.599, 77634.401, 1e-4),
        # FRyDoM bench, hanging cable (Orcaflex beside it): tensions 47.14 and 26.63 kN
        (100, 50, 170, 5e8, 410.294, 11472.238, -24027.918, 45722.062, 5e-3),
    ],
)
def test_other_code_elastic_catenary_a7(span, rise, length, stiffness, weight, horizontal, low, high, rel):
    """The low end, held by the published forces, must come to rest at the published place."""
    got = core.straight(hung(length, stiffness, weight, (-horizontal, -low)), 0.0, VACUUM, segments=400)
    assert got.astern() == pytest.approx(span, rel=rel)
    assert got.drop() == pytest.approx(rise, rel=rel)
    assert got.tip_tension == pytest.approx(hypot(horizontal, high), rel=max(rel, 1e-3))
    assert got.tensions.min() == pytest.approx(horizontal, rel=1e-3)


def test_order_of_convergence_of_the_catenary_is_two():
    """Richardson's estimate from two meshes meets MoorPy's row 5 to 1e-5, as the published forces do."""
    exact = catenary.elastic_catenary(89.9, 59.2, 130, 7.51e8, 881.05)
    line = hung(130, 7.51e8, 881.05, (-exact.horizontal, -exact.low_vertical))
    coarse, middle, fine = (core.straight(line, 0.0, VACUUM, segments=n) for n in (100, 200, 400))
    for value, published in ((lambda g: g.astern(), 89.9), (lambda g: g.drop(), 59.2)):
        ratio = (value(coarse) - value(middle)) / (value(middle) - value(fine))
        assert 3.5 < ratio < 4.5
        assert value(fine) + (value(fine) - value(middle)) / 3 == pytest.approx(published, rel=1e-5)


def test_closed_form_rigid_catenary_a7():
    """a = 100 m, half span 50 m: half length 52.10953055, sag 12.76259652, end tension 112.76259652 w."""
    weight, parameter = 10.0, 100.0
    half = 52.10953055
    force = (-weight * parameter, 0.0)  # the lowest point: level pull only
    got = core.straight(hung(half, inf, weight, force), 0.0, VACUUM, segments=400)
    # a line "that does not stretch" is allowed a few hundred-thousandths
    assert got.astern() == pytest.approx(50, rel=5e-5)
    assert got.drop() == pytest.approx(12.76259652, rel=1e-4)
    assert got.tip_tension / weight == pytest.approx(112.76259652, rel=1e-3)
    assert [parameter * sinh(0.5), parameter * (cosh(0.5) - 1)] == pytest.approx([half, 12.76259652], rel=1e-9)


def test_closed_form_level_span_a7():
    """Span 100 m, length 120 m, level: a 46.95415231, sag 29.23437976 (half of it hung from its lowest point)."""
    weight, parameter = 10.0, 46.95415231
    got = core.straight(hung(60.0, inf, weight, (-weight * parameter, 0.0)), 0.0, VACUUM, segments=400)
    assert got.astern() == pytest.approx(50, rel=5e-5)
    assert got.drop() == pytest.approx(29.23437976, rel=1e-4)
