"""Line sizes: table, rule of the next size, denier."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.faults import Fault
from spreadwright.tackle import line_sizes
from spreadwright.tackle.span import Span


@pytest.mark.parametrize("size", sorted(line_sizes.JAFS_NYLON))
def test_size_and_diameter_lead_back_to_each_other(size):
    diameter = line_sizes.nylon_diameter(size)
    assert isinstance(diameter, Span)
    assert line_sizes.nylon_size(diameter.low) == size
    assert line_sizes.nylon_size(diameter.high - 2e-6) == size


@pytest.mark.parametrize("size", [0.0, 0.7, 12.0, math.nan])
def test_a_size_not_in_the_table_is_a_fault(size):
    assert isinstance(line_sizes.nylon_diameter(size), Fault)


@pytest.mark.parametrize("millimetres", [0.05, 0.57, 2.0, math.nan])
def test_a_diameter_outside_the_table_is_a_fault(millimetres):
    assert isinstance(line_sizes.nylon_size(millimetres * 1e-3), Fault)


@given(st.sampled_from([size for size in line_sizes.JAFS_NYLON if size >= 0.5]))
def test_the_square_root_rule_holds_within_its_stated_doubt(size):
    estimate = line_sizes.nylon_diameter_estimate(size)
    standard = line_sizes.JAFS_NYLON[size] * 1e-3
    assert estimate.low <= standard <= estimate.high


@pytest.mark.parametrize("size", [0.4, -1.0, math.nan, math.inf])
def test_the_square_root_rule_refuses_what_it_was_not_checked_for(size):
    with pytest.raises(ValueError, match="square-root rule"):
        line_sizes.nylon_diameter_estimate(size)


@given(st.floats(0.1, 50.0))
def test_braid_weighs_what_its_solid_circle_weighs(size):
    area = math.pi * line_sizes.pe_solid_diameter(size) ** 2 / 4
    assert area * line_sizes.PE_DENSITY == pytest.approx(line_sizes.pe_mass_per_length(size))
    assert line_sizes.pe_outer_diameter(size).low > line_sizes.pe_solid_diameter(size)


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan])
def test_a_braid_size_is_positive(size):
    with pytest.raises(ValueError, match="positive"):
        line_sizes.pe_mass_per_length(size)
