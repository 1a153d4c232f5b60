"""Spools: capacity, packing, the radius left."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.faults import Fault
from spreadwright.rig.reel import (
    HEXAGONAL_PACKING,
    Layer,
    Spool,
    WoundSpool,
    capacity,
    packing_from_rating,
    radius_after,
    wind,
)

SPOOL = Spool(0.040, 0.030, 0.015)


def wound(*layers):
    found = wind(SPOOL, layers)
    assert isinstance(found, WoundSpool)
    return found


@given(st.floats(0.0, 1.0))
def test_the_ring_left_holds_the_line_left(share):
    reel = wound(Layer(80.0, 1e-3))
    radius = radius_after(reel, 80.0 * share)
    ring = math.pi * SPOOL.width * (radius**2 - SPOOL.arbor_radius**2)
    line = 80.0 * (1.0 - share) * math.pi * 1e-6 / 4.0
    assert ring * reel.packing == pytest.approx(line, abs=1e-12)


def test_an_empty_spool_is_down_to_its_arbor():
    assert radius_after(wound(Layer(80.0, 1e-3)), 80.0) == pytest.approx(0.015)
    assert radius_after(wound(Layer(80.0, 1e-3)), 0.0) == 0.030


def test_thin_backing_under_thick_line_empties_by_layers():
    two = wound(Layer(200.0, 0.4e-3), Layer(45.0, 1e-3))
    after_main = radius_after(two, 45.0)
    ring = math.pi * SPOOL.width * (after_main**2 - SPOOL.arbor_radius**2) * two.packing
    assert ring == pytest.approx(two.layers[0].volume)
    assert two.line_length == 245.0


def test_packing_and_capacity_are_one_relation():
    packing = packing_from_rating(SPOOL, 1e-3, 70.0)
    assert isinstance(packing, float)
    assert capacity(SPOOL, 1e-3, packing) == pytest.approx(70.0)


def test_too_much_line_and_too_little_are_faults():
    too_much = wind(SPOOL, [Layer(capacity(SPOOL, 1e-3, HEXAGONAL_PACKING) * 1.01, 1e-3)])
    assert isinstance(too_much, Fault)
    assert "91 %" in too_much.rule
    too_little = wind(SPOOL, [Layer(20.0, 1e-3)])
    assert isinstance(too_little, Fault)
    assert "45 %" in too_little.rule


@pytest.mark.parametrize("line_out", [-1.0, 80.1, math.nan])
def test_line_that_is_not_there_cannot_run_out(line_out):
    with pytest.raises(ValueError, match="line out"):
        radius_after(wound(Layer(80.0, 1e-3)), line_out)


@pytest.mark.parametrize("measures", [(0.04, 0.015, 0.030), (0.0, 0.03, 0.015), (0.04, math.nan, 0.015)])
def test_a_spool_that_cannot_be_is_refused(measures):
    with pytest.raises(ValueError, match="spool"):
        Spool(*measures)


@pytest.mark.parametrize(("diameter", "packing"), [(0.0, 0.7), (1e-3, 0.0), (1e-3, 0.95)])
def test_capacity_refuses_what_cannot_be(diameter, packing):
    with pytest.raises(ValueError, match=r"diameter|packing"):
        capacity(SPOOL, diameter, packing)
