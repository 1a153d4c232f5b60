"""Connections: every row within what the trade says, unknown names refused with the nearest."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.faults import Fault
from spreadwright.tackle.connections import KNOWN, MATERIALS, Connection, find_connection, known_names


@pytest.mark.parametrize("connection", KNOWN, ids=lambda each: each.name)
def test_every_row_is_complete(connection):
    assert connection.source
    assert set(connection.materials) <= set(MATERIALS)
    for material in connection.materials:
        kept = connection.efficiency_on(material)
        assert 0.0 < kept.low <= kept.usual <= kept.high <= 1.0
    assert find_connection(connection.name) is connection


def test_names_and_other_names_lead_to_one_connection_only():
    names = [name for each in KNOWN for name in (each.name, *each.other_names)]
    assert len(names) == len(set(names))
    assert find_connection("Haywire") is find_connection("haywire_twist")


@pytest.mark.parametrize(
    ("given_name", "nearest"), [("bimini twst", "bimini twist"), ("palomer", "palomar"), ("Crimpp", "crimp")]
)
def test_a_slip_of_the_pen_is_named_with_the_nearest(given_name, nearest):
    found = find_connection(given_name, place="rod green 80")
    assert isinstance(found, Fault)
    assert found.given == given_name
    assert found.place == "rod green 80"
    assert f"'{nearest}'" in found.next_step
    assert nearest in found.rule


def test_a_name_like_nothing_known_gets_the_list_and_no_guess():
    found = find_connection("zzzz")
    assert isinstance(found, Fault)
    assert "did you mean" not in found.next_step
    assert all(name in found.rule for name in known_names())


def test_a_connection_that_does_not_suit_the_material_is_refused_with_those_that_do():
    found = find_connection("haywire twist", "nylon")
    assert isinstance(found, Fault)
    assert "crimp" in found.next_step
    assert isinstance(find_connection("haywire twist", "single strand"), Connection)
    odd = find_connection("crimp", "rope")
    assert isinstance(odd, Fault)
    assert "nylon" in odd.next_step


def test_braid_keeps_less_than_nylon_in_single_knots():
    knot = find_connection("improved clinch")
    assert isinstance(knot, Connection)
    assert knot.efficiency_on("braid").usual < knot.efficiency_on("nylon").usual


@given(st.text(max_size=60))
def test_no_name_makes_it_raise(name):
    assert isinstance(find_connection(name), Connection | Fault)
