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

OFTEN, SHOWN = 0.025, 0.1  # [s]


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
    return [make_outline(motion(each), 0, 0.1, 0.2) for each in march(lines, track, settings=settings)]


def seldom(outline: Outline) -> Outline:
    """The same motion as if stored every 0.1 s."""
    every = round(SHOWN / OFTEN)
    return outline_of(
        outline.name, outline.times[::every], np.ascontiguousarray(outline.vertices[::every]), outline.gear
    )


def test_less_than_a_centimetre_hides(outlines: list[Outline]) -> None:
    hidden = []
    for a, b in combinations(outlines, 2):
        for gap in (gear_gap, line_gap):
            told, found = gap(seldom(a), seldom(b)), gap(a, b)
            hidden.append(told.distance - found.distance)
            assert told.doubt + TOLERANCE < 0.01
            assert abs(hidden[-1]) <= told.doubt + 2.0 * TOLERANCE
    assert max(hidden) < 0.01
    assert max(map(abs, hidden)) > 1e-5  # the two were not the same thing
