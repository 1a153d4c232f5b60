"""Wire strength by diameter: edges of the table, the misprint, what lies outside."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.faults import Fault
from spreadwright.rig import wire


def strength(inches):
    found = wire.wire_strength(inches * wire.INCH)
    assert isinstance(found, wire.WireStrength)
    return found


def test_a_band_runs_from_over_the_last_size_to_its_own():
    assert strength(0.0180).tensile.low == pytest.approx(304 * wire.KSI)
    assert strength(0.01801).tensile.low == pytest.approx(300 * wire.KSI)
    assert strength(0.001).tensile.low == pytest.approx(325 * wire.KSI)


def test_a_size_given_in_millimetres_stays_in_its_band():
    found = wire.wire_strength(0.4572e-3)  # 0.018 in
    assert isinstance(found, wire.WireStrength)
    assert found.tensile.low == pytest.approx(304 * wire.KSI)


def test_the_misprint_is_named_where_it_matters_and_only_there():
    assert "314" in strength(0.013).note
    assert strength(0.012).note == ""
    assert strength(0.014).note == ""


@pytest.mark.parametrize("millimetres", [0.0, -0.5, 2.04, 5.0, float("nan"), float("inf")])
def test_outside_the_table_is_a_fault_with_a_next_step(millimetres):
    found = wire.wire_strength(millimetres * 1e-3)
    assert isinstance(found, Fault)
    assert "0.080 in" in found.rule
    assert "rated strength" in found.next_step


@given(st.floats(0.005, 0.0799), st.floats(1.001, 1.2))
def test_thicker_wire_of_the_same_maker_is_stronger(inches, factor):
    """But for the steps of the table, the largest of which (over 0.063 in) takes 2.4 %."""
    thicker = min(inches * factor, 0.080)
    assert strength(thicker).breaking_load.low > 0.976 * strength(inches).breaking_load.low


def test_tensile_falls_with_diameter_all_along_the_table():
    for least_and_most in (1, 2):
        column = [band[least_and_most] for band in wire.BANDS]
        assert column == sorted(column, reverse=True)


def test_unknown_wire_number_is_a_fault():
    assert isinstance(wire.gauge_diameter(1), Fault)
    assert wire.gauge_diameter(7) == pytest.approx(0.4572e-3)
