"""Marks: stretch and its inverse, slack length, doubt carried along."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rig import rigs

from spreadwright.rig import marks
from spreadwright.tackle.span import Span

stiffnesses = st.floats(10.0, 1e5)
stiffenings = st.one_of(st.just(0.0), st.floats(1e-12, 100.0))


@given(st.floats(0.0, 0.5), stiffnesses, stiffenings)
def test_stretch_is_the_inverse_of_tension(stretch, stiffness, stiffening):
    tension = marks.tension_at(stretch, stiffness, stiffening)
    assert marks.stretch_at(tension, stiffness, stiffening) == pytest.approx(stretch, rel=1e-9, abs=1e-12)


@given(st.floats(1.0, 500.0), st.floats(0.0, 500.0), stiffnesses, stiffenings)
def test_measured_slack_and_standing_distance_lead_back(distance, tension, stiffness, stiffening):
    slack = marks.slack_length_for(distance, tension, stiffness, stiffening)
    assert slack <= distance
    assert marks.distance_of(slack, tension, stiffness, stiffening) == pytest.approx(distance)


def test_slack_line_carries_nothing_and_stiff_line_does_not_stretch():
    assert marks.tension_at(-0.1, 1000.0) == 0.0
    assert marks.stretch_at(100.0, math.inf) == 0.0


@pytest.mark.parametrize("args", [(-1.0, 100.0, 0.0), (1.0, 0.0, 0.0), (1.0, 10.0, -1.0), (math.nan, 10.0, 0.0)])
def test_what_makes_no_sense_is_refused(args):
    with pytest.raises(ValueError, match="must"):
        marks.stretch_at(*args)


def test_tension_that_changes_along_the_line_is_second_order():
    """A tension that falls evenly, Hooke's law: slack = L ln((1+e1)/(1+e0))/(e1-e0), by integration."""
    exact = 100.0 * math.log(1.2 / 1.0) / 0.2

    def error(pieces):
        places = [100.0 * at / pieces for at in range(pieces + 1)]
        tensions = [200.0 * at / pieces for at in range(pieces + 1)]
        return abs(marks.slack_length_along(places, tensions, 1000.0) - exact)

    assert error(20) < 0.01
    assert math.log2(error(10) / error(20)) == pytest.approx(2.0, abs=0.05)


def test_places_must_rise_and_match():
    with pytest.raises(ValueError, match="rise"):
        marks.slack_length_along([0.0, 0.0], [1.0, 1.0], 100.0)
    with pytest.raises(ValueError, match="as many"):
        marks.slack_length_along([0.0, 1.0], [1.0], 100.0)


def test_more_tension_and_softer_line_mean_less_to_measure():
    mark = marks.measure_mark(100.0, Span(100.0, 150.0, 200.0), Span(800.0, 1000.0, 2000.0), 4.9)
    assert mark.slack_length.low < mark.slack_length.usual < mark.slack_length.high < 100.0
    assert 100.0 < mark.tied_at_wanted_stands_at.low < mark.tied_at_wanted_stands_at.high
    assert mark.slack_length.low == pytest.approx(marks.slack_length_for(100.0, 200.0, 800.0, 4.9))


def test_nylon_stretches_several_per_cent_at_trolling_tension():
    """Common practice, no source: nylon stretches several per cent while trolling."""
    line = rigs.outfit().line
    stretch = marks.stretch_at(150.0, line.stiffness, line.stiffening)
    assert 0.02 < stretch < 0.2
    assert marks.stiffness_of(line).usual == pytest.approx(line.stiffness)


@pytest.mark.parametrize("distance", [-1.0, math.nan, math.inf])
def test_a_distance_is_a_distance(distance):
    with pytest.raises(ValueError, match="distance"):
        marks.slack_length_for(distance, 1.0, 100.0)
    with pytest.raises(ValueError, match="distance"):
        marks.measure_mark(distance, Span.exactly(1.0), Span.exactly(100.0))
