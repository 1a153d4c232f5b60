"""The drag coefficients that the core takes by default lie within handbook ranges (A11)."""

from math import log10, pi

import fluids
import pytest
from tests.outside.references import cases

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
