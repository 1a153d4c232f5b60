"""The report of a tow file: plain words, lined-up columns, no more figures than are known, the captain's units."""

from __future__ import annotations

import math

import pytest

from spreadwright.towfile.columns import laid_out, number_column, numbers, side_column, text_of
from spreadwright.towfile.report import report
from spreadwright.towfile.result import (
    Boat,
    MovingEnd,
    MovingLine,
    NotComputed,
    Run,
    SteadyEnd,
    SteadyLine,
    Surroundings,
    TowResult,
)

KNOT = 1852.0 / 3600.0
POUND = 4.4482216152605


def steady_end(section: str, body: str | None, out: float, radius: float | None = 94.7) -> SteadyEnd:
    return SteadyEnd(
        section=section, body=body, node=1, line_out_m=out, depth_m=1.678, astern_m=54.69, to_port_m=-22.67,
        speed_m_s=14.2 * KNOT, circle_radius_m=radius, tension_n=11.93,
    )  # fmt: skip


STEADY = SteadyLine(
    name="sixty", tip_m=(0.0, 0.0, 2.0), tip_tension_n=65.06, tip_angle_rad=math.radians(4.51), tip_side_rad=-0.1274,
    line_in_air_m=22.1, line_out_m=(), positions_m=(), tension_n=(),
    ends=(steady_end("main line", "lead", 60.0), steady_end("leader", None, 68.0)),
)  # fmt: skip


def result(**changes: object) -> TowResult:
    values = {
        "program": "0",
        "title": "A turn",
        "units": "metric",
        "water": Surroundings(density_kg_m3=1025.0, gravity_m_s2=9.80665, surface=True, moves=False),
        "motion": Run(kind="circle", speed_m_s=15 * KNOT, radius_m=-100.0, duration_s=None),
        "boat": None,
        "lines": (STEADY,),
        "failures": (),
    }
    return TowResult.model_validate({**values, **changes})


def test_the_whole_report_of_a_circle_in_metres() -> None:
    assert (
        report(result())
        == """\
A turn
Steady circle to starboard, radius 100 m, boat at 15.0 kn.
Water of 1025 kg/m3, gravity 9.80665 m/s2.

sixty
  pull at the rod tip   6.63 kg
  angle at the rod tip  4.5 deg below level, 7.3 deg to starboard of astern
  line in the air       22.1 m

  at the end of    line out  depth  astern  to the side  speed  its circle  pull
                          m      m       m            m     kn           m    kg
  main line: lead      60.0   1.68    54.7    22.7 stbd   14.2        94.7  1.22
  leader               68.0   1.68    54.7    22.7 stbd   14.2        94.7  1.22

Depth is below still water, astern is behind the transom, pull is in the line just above.
These are estimates: drag coefficients are seldom known to better than a tenth or two.
"""
    )


def test_the_captain_may_ask_for_other_units() -> None:
    text = report(result(), "us")
    assert "radius 328 ft, boat at 15.0 kn" in text
    assert "pull at the rod tip   14.6 lb" in text
    assert "main line: lead       197    5.5     179    74.4 stbd   14.2         311  2.68" in text


def test_a_straight_tow_has_no_circle() -> None:
    line = STEADY.model_copy(update={"ends": (steady_end("line", None, 60.0, None),), "line_in_air_m": None})
    run = Run(kind="straight", speed_m_s=15 * KNOT, radius_m=None, duration_s=None)
    text = report(result(motion=run, lines=(line,)))
    assert "Straight at 15.0 kn." in text
    assert "its circle" not in text
    assert "line in the air" not in text


def moving_end() -> MovingEnd:
    return MovingEnd(
        section="main line", body="lead", node=3, line_out_m=60.0, depth_m=(1.0, 3.0, 2.0), astern_m=(60.0, 40.0, 59.0),
        to_port_m=(0.0, -10.0, 5.0), speed_m_s=(7.7, 5.0, 7.0), tension_n=(12.0, 8.0, 11.0),
    )  # fmt: skip


def test_the_whole_report_of_a_manoeuvre() -> None:
    line = MovingLine(
        name="sixty", tip_m=(0.0, 0.0, 2.0), tip_tension_n=(60.0, 30.0, 50.0), tip_angle_rad=(0.05, 0.06, 0.04),
        tip_side_rad=(0.0, 0.1, -0.1), line_out_m=(), positions_m=(), tension_nodes=(0, 3), tension_n=(),
        ends=(moving_end(),),
    )  # fmt: skip
    zero = (0.0, 0.0, 0.0)
    boat = Boat(times_s=(0.0, 0.5, 1.0), x_m=zero, y_m=zero, heading_rad=zero, speed_m_s=zero)
    run = Run(kind="s-turn", speed_m_s=15 * KNOT, radius_m=45.0, duration_s=1.0)
    assert (
        report(result(motion=run, boat=boat, lines=(line,)))
        == """\
A turn
S-turn, radius 45.0 m, boat at 15.0 kn, followed for 1.0 s.
Water of 1025 kg/m3, gravity 9.80665 m/s2.

sixty
  over time                        at first  least     at  most     at  at last
  pull at the rod tip          kg      6.12   3.06  0.5 s  6.12  0.0 s     5.10
  angle below level there     deg       2.9    2.3  1.0 s   3.4  0.5 s      2.3
  main line: lead
    depth                       m      1.00   1.00  0.0 s  3.00  0.5 s     2.00
    astern                      m      60.0   40.0  0.5 s  60.0  0.0 s     59.0
    to port (- to starboard)    m       0.0  -10.0  0.5 s   5.0  1.0 s      5.0
    speed                      kn      15.0    9.7  0.5 s  15.0  0.0 s     13.6
    pull                       kg      1.22   0.82  0.5 s  1.22  0.0 s     1.12

Depth is below still water, astern is behind the transom, pull is in the line just above.
Least and most are of the stored moments, 0.5 s apart.
These are estimates: drag coefficients are seldom known to better than a tenth or two.
"""
    )


def test_what_was_not_computed_is_named_with_the_next_step() -> None:
    failure = NotComputed(line="long", reason="no steady shape found at 7.72 m/s", next_step="try a wider turn")
    text = report(result(failures=(failure,)))
    assert "Not computed: 1 of 2 lines\n  long: no steady shape found at 7.72 m/s\n    next: try a wider turn" in text
    alone = report(result(lines=(), failures=(failure,)))
    assert "Not computed: 1 of 1 lines" in alone
    assert "Depth is below" not in alone


@pytest.mark.parametrize(
    ("values", "dimension", "system", "expected"),
    [
        ([0.511, 12.3], "length", "metric", ("m", ("0.5", "12.3"))),
        ([0.511], "length", "metric", ("m", ("0.51",))),
        ([400.08], "length", "metric", ("m", ("400",))),
        ([1.0], "length", "us", ("ft", ("3.3",))),
        ([POUND * 0.5, POUND * 2], "force", "us", ("lb", ("0.50", "2.00"))),
        ([POUND * 14.62], "force", "us", ("lb", ("14.6",))),
        ([POUND * 9.96, None], "force", "us", ("lb", ("9.96", "-"))),
        ([-0.001], "length", "metric", ("m", ("0.00",))),
        ([0.0], "speed", "us", ("kn", ("0.0",))),
        ([], "speed", "us", ("kn", ())),
    ],
)
def test_numbers_are_rounded_to_what_is_known(values, dimension, system, expected) -> None:
    assert numbers(values, dimension, system) == expected


def test_one_number_with_its_unit() -> None:
    assert text_of(7.71667, "speed", "us") == "15.0 kn"


def test_places_beside_the_centreline_name_their_side() -> None:
    assert side_column("to the side", [2.0, -2.0, 0.0, 0.001], "metric").cells == (
        "2.00 port", "2.00 stbd", "0.00", "0.00",
    )  # fmt: skip


def test_columns_line_up() -> None:
    lines = laid_out(["a", "longer"], "end of", [number_column("depth", [1.0, 20.0], "length", "metric")], indent="")
    assert lines == ["end of  depth", "            m", "a         1.0", "longer   20.0"]
