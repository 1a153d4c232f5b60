"""On a real S-turn, stored as often as what is shown: less than 1 cm hides between the stored times, and it is told."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
from tests.tow.samples import BRAID, KNOT, NYLON, motion, rig, weight

from spreadwright.tow.clearance.gaps import TOLERANCE, gear_gap, line_gap
from spreadwright.tow.clearance.outline import Outline, make_outline, outline_of
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.track import s_turn

OFTEN = 0.025  # [s]


@pytest.fixture(scope="module")
def outlines() -> list[Outline]:
    """Six lines through 90 degrees to port and back at 15 kn and 45 m, stored every 0.025 s."""
    lines = [
        rig(NYLON, 30.0, weight(1.8), port=2.0, up=2.0, name="short"),
        rig(NYLON, 45.0, weight(1.4), port=-2.0, up=2.0, name="short to starboard"),
        rig(NYLON, 60.0, weight(0.9), port=2.5, up=2.5, name="middle"),
        rig(BRAID, 60.0, weight(0.9), port=-2.5, up=2.5, name="middle braid"),
        rig(NYLON, 90.0, weight(0.5), port=5.0, up=5.0, name="long"),
        rig(BRAID, 110.0, weight(0.4), port=0.0, up=5.0, name="longest"),
    ]
    quarter = 0.5 * math.pi
    track = s_turn(15 * KNOT, 45.0, (quarter, -quarter), lead_in=1.0, straight_between=1.0, lead_out=10.0)
    settings = Settings(step=OFTEN, store_every=1, grading=Grading(scale=2.0))
    return [
        stored(make_outline(motion(each), 0, 0.1, 0.2), slice(0, 1201))
        for each in march(lines, track, settings=settings)
    ]  # 30 s, which end for the seldom stored ones too


def stored(outline: Outline, which: slice) -> Outline:
    """An outline of some of the stored times."""
    return outline_of(outline.name, outline.times[which], np.ascontiguousarray(outline.vertices[which]), outline.gear)


def seldom(outline: Outline, between: float) -> Outline:
    """The same motion as if stored every so many seconds."""
    return stored(outline, slice(None, None, round(between / OFTEN)))


@pytest.mark.parametrize(("between", "most"), [(0.1, 0.01), (0.2, 0.02)])
def test_less_than_a_centimetre_hides(outlines: list[Outline], between: float, most: float) -> None:
    """At the step of what is shown; at that of the search, of lines that turn harder than the demo's, under two."""
    hidden = []
    for a, b in combinations(outlines, 2):
        for gap in (gear_gap, line_gap):
            told, found = gap(seldom(a, between), seldom(b, between)), gap(a, b)
            hidden.append(told.distance - found.distance)
            assert told.doubt < most
            assert -2.0 * TOLERANCE - found.doubt <= hidden[-1] <= told.doubt
    assert max(hidden) < 0.01
    assert max(map(abs, hidden)) > 1e-5  # the two were not the same thing


@pytest.mark.parametrize("scale", [4.0, 1.0, 0.1])
def test_the_gear_begins_at_the_front_of_the_weight_on_every_mesh(scale: float) -> None:
    """On fine meshes the weight is longer than a segment: its front lies several nodes up the line."""
    track = s_turn(15 * KNOT, 45.0, (0.5,), lead_in=0.5, lead_out=0.5)
    towed = march([rig(NYLON, 30.0)], track, settings=Settings(step=0.25, grading=Grading(scale=scale)))
    moved = motion(towed[0])
    outline = make_outline(moved, 0, 0.3, 0.2)
    node = int(moved.joints[0])
    gear = outline.vertices[:, outline.gear :]
    along = np.linalg.norm(np.diff(gear, axis=1), axis=-1)
    steps = outline.vertices.shape[1] - 1 - (len(moved.arclength) - 1 - node) - outline.gear
    assert along[:, :steps].sum(axis=1) == pytest.approx(0.3, rel=0.05)  # but for the line's stretch
    assert np.array_equal(gear[:, steps], moved.places[:, node])
