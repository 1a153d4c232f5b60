"""Winding against known numbers: helices, passes that come back, closed paths and Gauss's linking integral."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.tow.clearance.chains import Floats, chain_of

from spreadwright.tow.clearance.winding import WRAP, pair_winding, tail_winding

ALONG = np.linspace(0.0, -60.0, 31)
STRAIGHT = np.stack([ALONG, 0.0 * ALONG, -0.05 * ALONG * 0.0 - 2.0], axis=1)  # aft from the tip, 2 m down


def winding(tail: Floats, line: Floats) -> float:
    """The tail's winding (T, 3) round a line (V, 3) that keeps still, or (T, V, 3) that moves."""
    lines = np.broadcast_to(line, (len(tail), *line.shape[-2:]))
    return float(tail_winding(tail.astype(np.float32), np.ascontiguousarray(lines, dtype=np.float32)))


def helix(turns: float, count: int = 400, wide: float = 0.8) -> Floats:
    """From x = -20 m aft to -40 m, `turns` times round the straight line, positive by the right hand along the line."""
    share = np.linspace(0.0, 1.0, count)
    angle = 2.0 * math.pi * turns * share + 0.4
    # along the line is aft, -x: from starboard (-y) to up (z) is the right hand about it
    return np.stack([-20.0 - 20.0 * share, -wide * np.cos(angle), -2.0 + wide * np.sin(angle)], axis=1)


@pytest.mark.parametrize("turns", [0.0, 0.5, 1.0, -1.0, 2.75, -4.0])
def test_a_helix_winds_as_often_as_it_turns(turns: float) -> None:
    assert winding(helix(turns), STRAIGHT) == pytest.approx(2.0 * math.pi * turns, abs=1e-3)


@pytest.mark.parametrize("turns", [1.0, -2.0])
def test_where_line_and_tail_go_together_makes_no_difference(turns: float) -> None:
    tail = helix(turns)
    time = np.linspace(0.0, 1.0, len(tail))[:, None]
    drift = np.concatenate([300.0 * time, 40.0 * np.sin(5.0 * time), 0.3 * np.cos(9.0 * time)], axis=1)
    moved = STRAIGHT[None] + drift[:, None]
    assert winding(tail + drift, moved) == pytest.approx(winding(tail, STRAIGHT), abs=1e-3)


@pytest.mark.parametrize("turns", [1.0, -2.0])
def test_round_a_bent_line(turns: float) -> None:
    """A line on a quarter circle of 40 m, the tail round it at 0.5 m."""
    bend = np.linspace(0.0, 0.5 * math.pi, 60)
    line = np.stack([-40.0 * np.sin(bend), 40.0 * (1.0 - np.cos(bend)), 0.0 * bend - 3.0], axis=1)
    share = np.linspace(0.1, 0.9, 500)
    at = 0.5 * math.pi * share
    centre = np.stack([-40.0 * np.sin(at), 40.0 * (1.0 - np.cos(at)), 0.0 * at - 3.0], axis=1)
    tangent = np.stack([-np.cos(at), np.sin(at), 0.0 * at], axis=1)
    left = np.stack([-np.sin(at), -np.cos(at), 0.0 * at], axis=1)
    up = np.cross(tangent, left)
    angle = 2.0 * math.pi * turns * share
    tail = centre + 0.5 * (left * np.cos(angle)[:, None] + up * np.sin(angle)[:, None])
    assert winding(tail, line) == pytest.approx(2.0 * math.pi * turns * 0.8, abs=0.02)


def test_over_and_back_is_nothing_and_over_and_under_is_a_turn() -> None:
    over = np.stack([np.full(50, -30.0), np.linspace(-1.0, 1.0, 50), np.full(50, -1.5)], axis=1)
    under = np.stack([np.full(50, -30.0), np.linspace(1.0, -1.0, 50), np.full(50, -2.5)], axis=1)
    sides = [np.stack([np.full(9, -30.0), np.full(9, y), np.linspace(*z, 9)], axis=1) for y, z in
             ((1.0, (-1.5, -2.5)), (-1.0, (-2.5, -1.5)))]  # fmt: skip
    assert winding(np.concatenate([over, over[::-1]]), STRAIGHT) == pytest.approx(0.0, abs=1e-4)
    once = np.concatenate([over, sides[0], under, sides[1]])
    assert abs(winding(once, STRAIGHT)) == pytest.approx(2.0 * math.pi, abs=1e-3)
    assert winding(once, STRAIGHT) == pytest.approx(-winding(once[::-1], STRAIGHT), abs=1e-3)


def test_beyond_the_line_s_end_nothing_is_wound() -> None:
    astern = helix(2.0) - np.array([45.0, 0.0, 0.0])  # from 65 m aft of the tip to 85 m, the line ends at 60
    assert winding(astern, STRAIGHT) == 0.0


def test_what_passes_behind_the_line_s_end_is_not_counted_as_round_it() -> None:
    """From port to starboard behind the end: no part of a turn, though the sides differ by half of one."""
    count = 60
    aft = -58.0 - 6.0 * np.sin(np.linspace(0.0, math.pi, count))
    tail = np.stack([aft, np.linspace(1.0, -1.0, count), np.full(count, -1.9)], axis=1)
    assert winding(tail, STRAIGHT) == pytest.approx(0.0, abs=0.1)
    before = tail - np.array([-8.0, 0.0, 0.0])  # the same across the line itself
    assert abs(winding(before, STRAIGHT)) == pytest.approx(math.pi - 2.0 * math.atan(0.1), abs=1e-3)


def crossings(path: Floats) -> int:
    """How often a closed path in the plane (T, 2) goes round the origin, by counting where it crosses a ray."""
    y, z = path[:, 0], path[:, 1]
    after_y, after_z = np.roll(y, -1), np.roll(z, -1)
    rising = (z <= 0.0) & (after_z > 0.0)
    falling = (z > 0.0) & (after_z <= 0.0)
    with np.errstate(all="ignore"):
        at = y + (after_y - y) * (-z / (after_z - z))
    return int((rising & (at > 0.0)).sum() - (falling & (at > 0.0)).sum())


@settings(deadline=None, max_examples=100)
@given(st.lists(st.tuples(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0)), min_size=3, max_size=6), st.floats(0.0, 6.3))
def test_a_closed_path_winds_as_often_as_it_crosses_a_ray(waves: list[tuple[float, float]], phase: float) -> None:
    time = np.linspace(0.0, 2.0 * math.pi, 3000, endpoint=False)
    y = sum(a * np.cos(n * time + phase) for n, (a, _) in enumerate(waves, start=0))
    z = sum(b * np.sin(n * time) + 0.3 * b for n, (_, b) in enumerate(waves, start=0))
    path = np.stack([np.asarray(y + 0.013), np.asarray(z + 0.0 * time + 0.017)], axis=1)
    if np.hypot(path[:, 0], path[:, 1]).min() < 0.02:
        return  # touches the line: no number of turns is right
    tail = np.stack([-30.0 + np.sin(time), path[:, 0], -2.0 + path[:, 1]], axis=1)
    closed = np.concatenate([tail, tail[:1]])
    # from port (y) to up (z) is against the right hand about a line that goes aft
    assert winding(closed, STRAIGHT) == pytest.approx(-2.0 * math.pi * crossings(path), abs=0.01)


def linking(loop: Floats, other: Floats) -> float:
    """Gauss's linking integral of two closed polygons (N, 3), (M, 3), by the solid angle of each pair of their edges.

    Closed form of each term: Klenin and Langowski, Biopolymers 54 (2000) 307, eq. 13 to 16 (from memory).
    """
    total = 0.0
    for a, b in zip(loop, np.roll(loop, -1, axis=0), strict=True):
        for c, d in zip(other, np.roll(other, -1, axis=0), strict=True):
            corners = [c - a, d - a, d - b, c - b]
            normals = [np.cross(p, q) for p, q in zip(corners, [*corners[1:], corners[0]], strict=True)]
            lengths = [float(np.linalg.norm(n)) for n in normals]
            if min(lengths) < 1e-12:
                continue
            units = [n / size for n, size in zip(normals, lengths, strict=True)]
            turned = zip(units, [*units[1:], units[0]], strict=True)
            angle = sum(math.asin(max(-1.0, min(1.0, float(p @ q)))) for p, q in turned)
            total += angle * math.copysign(1.0, float(np.cross(d - c, b - a) @ corners[0]))
    return total / (4.0 * math.pi)


@pytest.mark.parametrize("turns", [0, 1, -1, 3])
def test_a_closed_path_links_the_line_as_gauss_says(turns: int) -> None:
    """The line closed by a wide detour far ahead, the tail's path closed on itself: winding is 2 pi times linking."""
    angle = np.linspace(0.0, 2.0 * math.pi, 24 * max(1, abs(turns)), endpoint=False)
    at = (turns if turns else 1) * angle
    wide = 0.8 + 0.2 * np.cos(angle)
    aside = 0.0 if turns else 3.0
    tail = np.stack([-30.0 + 2.0 * np.sin(angle), -wide * np.cos(at) + aside, -2.0 + wide * np.sin(at)], axis=1)
    line = np.array([[0.0, 0.0, -2.0], [-30.0, 0.0, -2.0], [-60.0, 0.0, -2.0]])
    detour = np.array([[-60.0, 500.0, -2.0], [0.0, 500.0, -2.0]])
    linked = linking(np.concatenate([line, detour]), tail)
    assert linked == pytest.approx(turns, abs=1e-6)
    assert winding(np.concatenate([tail, tail[:1]]), line) == pytest.approx(2.0 * math.pi * linked, abs=1e-3)


def test_a_pair_is_wound_by_the_tail_that_goes_round_more() -> None:
    still = np.broadcast_to(STRAIGHT, (400, *STRAIGHT.shape))
    tail = helix(1.5)
    tip = np.broadcast_to(np.array([0.0, 5.0, 2.0]), tail.shape)
    going = np.stack([tip, tail], axis=1)
    first, second = chain_of(going, 0), chain_of(still, 20)
    assert pair_winding(first, second) == pytest.approx(3.0 * math.pi, abs=0.01)
    assert pair_winding(second, first) == pytest.approx(pair_winding(first, second))
    assert abs(pair_winding(first, second)) > WRAP
