"""The drag coefficients that the core takes by default lie within handbook ranges (A11)."""

from math import log10, pi

import fluids
import pytest
from tests.outside.references import cases

from spreadwright.rig.hydrodynamics import HEAD_DRAG, LINE_DRAG, SKIRT_DRAG, weight_drag
from spreadwright.tackle.weight import TrollingWeight
from spreadwright.tow.line import Section

VISCOSITY = 1.05e-6  # m2/s, seawater near 20 C (ITTC 7.5-02-01-03 gives 1.05e-6 at 20 C)
PLAIN = Section(length=60.0, diameter=1e-3, density=1140.0, stiffness=1300.0)


@pytest.mark.parametrize("knots", [2, 10, 15, 20])
@pytest.mark.parametrize("diameter", [0.4e-3, 1e-3, 2e-3])
def test_handbook_cross_flow_drag_of_a_line(knots, diameter):
    """Hoerner, Fluid-Dynamic Drag, ch. 3: circular cylinder 1.1 to 1.2 for Re 1e3 to 2e5, taken as within 10 %."""
    reynolds = knots * cases.KNOT * diameter / VISCOSITY
    assert 3e2 < reynolds < 2e5
    assert 1.1 * 0.9 <= PLAIN.normal_drag <= 1.2 * 1.1


def test_handbook_skin_friction_of_a_line():
    """At least the flat plate's (ITTC 1957: 0.075/(log10 Re - 2)^2), at most MoorDyn's sample nylon (0.05)."""
    reynolds = 15 * cases.KNOT * PLAIN.length / VISCOSITY
    plate = 0.075 / (log10(reynolds) - 2) ** 2
    assert plate <= PLAIN.tangential_drag <= 0.05


def test_handbook_added_mass_of_a_line_is_that_of_a_circular_cylinder():
    """Potential flow: one displaced mass a length."""
    assert PLAIN.added_mass == 1.0


def test_handbook_ittc_line_values():
    """The ITTC 1957 line at its printed values, so that the bound above is the right one."""
    for reynolds, value in ((1e5, 0.00833333), (1e6, 0.0046875), (1e7, 0.003), (1e8, 0.00208333)):
        assert 0.075 / (log10(reynolds) - 2) ** 2 == pytest.approx(value, abs=1e-8)


@pytest.mark.parametrize(
    ("reynolds", "value"), [(1e3, 0.4674), (1e4, 0.4108), (5e4, 0.4591), (1e5, 0.4667), (2e5, 0.4706)]
)
def test_other_library_sphere_drag_backs_the_table_value(reynolds, value):
    """Sphere 0.47 +- 15 % (Hoerner's table) over a trolling weight's Reynolds numbers, by fluids.drag_sphere."""
    assert fluids.drag.drag_sphere(reynolds) == pytest.approx(value, abs=0.01)
    assert fluids.drag.drag_sphere(reynolds) == pytest.approx(0.47, rel=0.15)


def test_worked_example_broadside_drag_of_a_metre_of_line():
    """36.62 N/m: 1 mm, Cn 1.2, 15 kn in 1025 kg/m3 (A3); skin drag 0.959 N/m at Ct 0.01 (A5)."""
    speed = 15 * cases.KNOT
    assert cases.broadside(speed) == pytest.approx(36.621371, rel=1e-7)
    assert 0.5 * cases.DENSITY * 0.01 * pi * 1e-3 * speed**2 == pytest.approx(0.958739, rel=1e-5)


# Hoerner's table, on frontal area, as copied in several public files (check-values A11): +-15 %
SPHERE, HALF_SPHERE, CONE_60, LONG_CYLINDER, SHORT_CYLINDER, STREAMLINED = 0.47, 0.42, 0.50, 0.82, 1.15, 0.04
FLAT_FOREBODY = 0.8  # Hoerner 1965, fig. 20, p. 3-12: pressure drag of a flat face on a long body


@pytest.mark.parametrize("material", sorted(LINE_DRAG))
def test_handbook_range_of_every_line_material(material):
    """Usual values within 10 % of the cylinder's 1.1 to 1.2; the doubt reaches no further than laid cable's 1.5."""
    drag = LINE_DRAG[material]
    assert 1.1 * 0.9 <= drag.across.usual <= 1.2 * 1.1
    assert drag.across.high <= 1.5
    assert 0.0017 < drag.along.low < drag.along.high <= 0.05


def cast(shape):
    given = {"name": "32 oz", "mass": "32 oz", "shape": shape, "count": 1, "cable_strength": "400 lb"}
    return TrollingWeight.model_validate(given)


@pytest.mark.parametrize("shape", ["torpedo", "egg", "ball"])
def test_handbook_range_of_trolling_weights(shape):
    """Along: between a streamlined body and a long cylinder end on. Across: up to a cylinder's 1.2."""
    weight = cast(shape)
    drag = weight_drag(weight)
    along = drag.axial.usual / (pi / 4 * weight.diameter**2)
    across = drag.side.usual / (weight.length * weight.diameter)
    if drag.round:
        assert along == pytest.approx(SPHERE, rel=0.15)
    else:
        assert STREAMLINED < along < LONG_CYLINDER
        assert SPHERE * 0.85 < across <= 1.2
    assert drag.axial.low < drag.axial.usual < drag.axial.high


def test_handbook_range_of_lure_heads():
    """Each head lies between its nearest shapes of the table; the table itself is good to 15 %."""
    assert STREAMLINED < HEAD_DRAG["bullet"] <= HALF_SPHERE * 1.15
    assert HEAD_DRAG["cone"] == pytest.approx(CONE_60, rel=0.15)
    assert FLAT_FOREBODY * 0.85 <= HEAD_DRAG["flat"] <= SHORT_CYLINDER
    assert HEAD_DRAG["bullet"] < HEAD_DRAG["jet"] < HEAD_DRAG["flat"]
    assert PLAIN.tangential_drag < SKIRT_DRAG  # a fluttering skirt rubs more than a taut line
