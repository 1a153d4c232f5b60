"""The theory page says what the code does: its constants and its worked examples are computed again."""

import math
import re
from pathlib import Path

import numpy as np
import pytest
from tests.tow.table import DENSITY, GRAVITY, RAMP, row

from spreadwright.tow import lanes
from spreadwright.tow.batch import make_batch
from spreadwright.tow.forces import segment_forces
from spreadwright.tow.line import Body, Line, Sea, Section
from spreadwright.tow.march import Settings
from spreadwright.tow.mesh import Grading
from spreadwright.tow.track import straight
from spreadwright.tow.water import flow_velocity, jonswap_waves, make_flow

PAGE = (Path(__file__).parents[2] / "docs" / "theory.md").read_text(encoding="utf-8")
SPEED = 7.716667


def table(heading: str) -> dict[str, float]:
    """First and last column of the table under a heading."""
    part = PAGE.split(f"## {heading}\n")[1].split("\n## ")[0]
    rows = re.findall(r"^\| (.+?) \| ([-\d.e]+) \|$", part, re.MULTILINE)
    return {re.sub(r"[`]| \[.*?\]", "", name): float(value) for name, value in rows}


CONSTANTS, EXAMPLES = table("Numbers in the code"), table("Worked examples")


@pytest.mark.parametrize("name", CONSTANTS)
def test_constants_are_those_of_the_code(name):
    holders = {
        "Sea": Sea(), "Grading": Grading(), "Settings": Settings(), "Body": Body(1.0),
        "Section": Section(1.0, 1e-3, 1140.0, 1e3),
    }  # fmt: skip
    holder, field = name.split(".")
    assert getattr(holders[holder], field) == CONSTANTS[name]


def test_all_constants_were_read():
    assert len(CONSTANTS) == 13


def segment(flow: tuple[float, float, float], stretch: float = 1.0, height: float = -5.0, stiffening: float = 0.0):
    """Rows of one metre of 1 mm line along x, `stretch` times as long, after its forces; water flows at `flow`."""
    section = Section(1.0, 1e-3, 1140.0, 1000.0, stiffening)
    line = Line("one", (0.0, 0.0, 0.0), (section,), (None,))
    batch = make_batch([line], Sea(), Grading(1.0, 1.0, 0.0), 1e6)
    rows = batch.rows()
    row(rows, lanes.X)[1] = stretch
    row(rows, lanes.Z)[:] = height
    row(rows, lanes.WATER_SEGMENT, 3)[:] = np.array(flow)[None, :, None]
    segment_forces(1, batch.table, DENSITY, 1.2, GRAVITY, RAMP, 0.0, 1.0, 0.0)
    return rows


def share(rows, axis: int) -> float:
    """Fluid force of the whole segment along an axis [N]."""
    return 2.0 * float(row(rows, lanes.SHARE, 3)[0, axis, 0])


def wetted(height: float) -> float:
    """Wetted share, from how much drag is left."""
    deep, here = (share(segment((0.0, SPEED, 0.0), height=h), 1) for h in (-5.0, height))
    return (here / deep * DENSITY - 1.2) / (DENSITY - 1.2)


def test_worked_examples():
    jets = np.array([[0.0, 0.5, 0.4, 8.0]])
    wash = flow_velocity(make_flow(jets=jets, track=straight(6.0, 20.0)), -30.0, 0.0, -0.5, 0.0)
    found = {
        "drag of 1 m of 1 mm line square to 7.716667 m/s of sea water, Cn 1.2": share(segment((0.0, SPEED, 0.0)), 1),
        "the same along the line, Ct 0.015": share(segment((SPEED, 0.0, 0.0)), 0),
        "the same square to it, stretched by 21 %": share(segment((0.0, SPEED, 0.0), 1.21), 1),
        "tension of nylon with EA 1000 N and k 12, at 10 % strain": float(
            row(segment((0.0, 0.0, 0.0), 1.1, stiffening=12.0), lanes.TENSION)[0, 0, 0]
        ),
        "wetted share of a point at the surface": wetted(0.0),
        "wetted share of a point 2.5 cm above it": wetted(0.025),
        "added mass of 1 m of 1 mm line in sea water": 2e3 * float(row(segment((0, 0, 0)), lanes.BULK, 6)[0, 1, 0]),
        "current of 0.5 m/s with a shear of -0.02 1/s, at 5 m": flow_velocity(
            make_flow((0.5, 0.0), (-0.02, 0.0)), 0.0, 0.0, -5.0, 0.0
        )[0],
        "speed in the wash of 8 m/s from 0.4 m, 30 m astern on the axis": math.hypot(*wash),
        "wave number of a wave of 5 s": float(_wave_number(5.0)),
    }
    assert found.keys() == EXAMPLES.keys()
    assert found == pytest.approx(EXAMPLES, rel=4e-4)


def _wave_number(period: float) -> float:
    """By interpolation between the waves of a sea."""
    rows = jonswap_waves(1.0, period, 0.0, seed=1, count=200).rows
    order = np.argsort(rows[:, 3])
    return float(np.interp((2.0 * math.pi / period) ** 2, rows[order, 3] ** 2, rows[order, 5]))
