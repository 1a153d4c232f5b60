"""The distance of two segments against exact fractions: parallel, crossing, touching, points, long beside short."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.tow.clearance.chains import Floats, every_distance, exact_distance2

from spreadwright.tow.clearance.segments import point_segment_distance, segment_distance2

NUMBER = st.one_of(st.integers(-3, 3).map(float), st.floats(-50.0, 50.0, width=32))
POINT = st.tuples(NUMBER, NUMBER, NUMBER)
TINY = st.floats(-1e-4, 1e-4)


def distance(segment: Floats, other: Floats) -> float:
    return math.sqrt(segment_distance2(*segment[0], *segment[1], *other[0], *other[1]))


@st.composite
def nearly_parallel(draw: st.DrawFn) -> tuple[Floats, Floats]:
    """Two segments side by side, one of them turned and shifted by a little or by nothing."""
    start, along = (np.array(draw(POINT)) for _ in range(2))
    aside, turned = (np.array(draw(st.tuples(TINY, TINY, TINY))) for _ in range(2))
    first, last = sorted(draw(st.tuples(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0))))
    other = np.array([start + aside + first * along, start + aside + turned + last * along])
    return np.array([start, start + along]), other


@st.composite
def crossing(draw: st.DrawFn) -> tuple[Floats, Floats]:
    """Two segments that meet in a point, or miss each other there by a known little."""
    meet, one, two = (np.array(draw(POINT)) for _ in range(3))
    s, t = (draw(st.floats(0.0, 1.0)) for _ in range(2))
    miss = draw(st.floats(0.0, 1.0)) * np.cross(one, two) / max(float(np.linalg.norm(np.cross(one, two))), 1e-9)
    return np.array([meet - s * one, meet + (1 - s) * one]), np.array([meet - t * two, meet + (1 - t) * two]) + miss


ANY = st.tuples(POINT, POINT, POINT, POINT).map(lambda p: (np.array(p[:2]), np.array(p[2:])))


@settings(deadline=None, max_examples=400)
@given(st.one_of(ANY, nearly_parallel(), crossing()))
@example((np.zeros((2, 3)), np.zeros((2, 3))))
@example((np.array([[0.0, 0, 0], [50, 0, 0]]), np.array([[0.0, 1e-5, 0], [50, -1e-5, 0]])))  # crosses at 4e-7 rad
@example((np.array([[0.0, 0, 0], [1, 0, 0]]), np.array([[2.0, 0, 0], [3, 0, 0]])))
def test_it_is_the_least_distance_there_is(pair: tuple[Floats, Floats]) -> None:
    found, exact = distance(*pair), math.sqrt(exact_distance2(*pair))
    size = max(1.0, float(np.abs(pair).max()))
    assert found == pytest.approx(exact, abs=2e-6 * size)
    assert found == pytest.approx(distance(pair[1], pair[0]), abs=2e-6 * size)
    assert found == pytest.approx(distance(pair[0][::-1], pair[1]), abs=2e-6 * size)


@settings(deadline=None)
@given(ANY)
def test_the_brute_force_of_the_other_tests_is_right_too(pair: tuple[Floats, Floats]) -> None:
    size = max(1.0, float(np.abs(pair).max()))
    assert every_distance(*pair)[0, 0] == pytest.approx(math.sqrt(exact_distance2(*pair)), abs=2e-6 * size)


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        ([[0.5, 1.0, -1.0], [0.5, 1.0, 1.0]], 1.0),  # square across the middle
        ([[2.0, 1.0, 0.0], [3.0, 5.0, 0.0]], math.sqrt(2.0)),  # beyond the end
        ([[0.2, 0.0, 3.0], [0.8, 0.0, 3.0]], 3.0),  # beside it
        ([[0.3, 0.0, 0.0], [0.3, 4.0, 0.0]], 0.0),  # touching
    ],
)
def test_distances_known_by_eye(other: list[list[float]], expected: float) -> None:
    assert distance(np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]]), np.array(other)) == pytest.approx(expected)


def test_a_point_s_distance() -> None:
    assert point_segment_distance(3.0, 4.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, -7.0) == pytest.approx(5.0)
