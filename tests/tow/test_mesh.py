"""Where nodes go: at every joint exactly, close together near them, and half as far apart on half the scale."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spreadwright.tow.line import Line, Section
from spreadwright.tow.mesh import Grading, node_places, section_counts


def line(*lengths):
    return Line(
        "one", (0.0, 0.0, 2.0), tuple(Section(each, 1e-3, 1140.0, 1000.0) for each in lengths), (None,) * len(lengths)
    )


@given(
    lengths=st.lists(st.floats(0.2, 300.0), min_size=1, max_size=4),
    finest=st.floats(0.1, 2.0),
    growth=st.floats(0.0, 0.5),
    entry=st.none() | st.floats(0.0, 1.0),
)
@settings(max_examples=80, deadline=None)
def test_nodes_rise_and_lie_on_every_joint(lengths, finest, growth, entry):
    one, grading = line(*lengths), Grading(finest, 6.0, growth)
    entry = None if entry is None else entry * one.length
    counts = section_counts(one, grading, entry)
    nodes = node_places(one, counts, grading, entry)
    assert len(nodes) == sum(counts) + 1
    assert (np.diff(nodes) > 0.0).all()
    joints = nodes[np.cumsum(counts)]
    assert joints == pytest.approx(np.cumsum(lengths), rel=1e-14)
    assert nodes[0] == 0.0


@given(length=st.floats(3.0, 300.0), scale=st.sampled_from([2.0, 1.0, 0.5]))
@settings(max_examples=40, deadline=None)
def test_segments_keep_to_the_wished_length(length, scale):
    """h(s) = scale * min(finest + growth * distance to the nearest bend, coarsest), but for rounding of the count.

    A long section is sampled at 200 places only, between which the segments are alike: 15 % of room.
    """
    one, grading = line(length), Grading(0.6, 6.0, 0.12, scale)
    counts = section_counts(one, grading)
    nodes = node_places(one, counts, grading)
    middle = 0.5 * (nodes[1:] + nodes[:-1])
    wish = scale * np.minimum(0.6 + 0.12 * np.minimum(middle, length - middle), 6.0)
    sizes = np.diff(nodes)
    assert (sizes < 1.15 * wish).all()
    assert (sizes > wish * (1.0 - 1.0 / counts[0]) * 0.87).all()


@pytest.mark.parametrize("entry", [None, 17.0])
def test_half_the_scale_is_twice_the_count(entry):
    one, grading = line(80.0, 5.0, 2.0), Grading()
    coarse = np.array(section_counts(one, grading, entry))
    fine = np.array(section_counts(one, grading.scaled(0.5), entry))
    assert (fine <= 2 * coarse).all()
    assert (fine >= 2 * coarse - 1).all(), "the count is rounded up"


def test_nodes_are_close_together_where_the_line_meets_the_water():
    one, grading = line(200.0), Grading()
    without, with_entry = (
        node_places(one, section_counts(one, grading, entry), grading, entry) for entry in (None, 60.0)
    )
    sizes = [np.diff(nodes)[np.searchsorted(nodes, 60.0) - 1] for nodes in (without, with_entry)]
    assert sizes[0] > 5.0
    assert sizes[1] < 0.8


def test_worked_example_even_mesh():
    """Ten metres in segments of a metre and a quarter: eight of them."""
    grading = Grading(1.25, 1.25, 0.0)
    assert section_counts(line(10.0), grading) == [8]
    assert node_places(line(10.0), [8], grading) == pytest.approx(np.linspace(0.0, 10.0, 9))
