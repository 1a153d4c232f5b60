"""Computing a tow file: the examples with known answers, frames and signs, failures by name, moving water."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.towfile.texts import EXAMPLES, LINE, SECTION, STRAIGHT, read, small

from spreadwright.towfile import TowFile, read_tow_file, result_from_json
from spreadwright.towfile.compute import COMPUTING, compute
from spreadwright.towfile.result import MovingLine, SteadyLine, TowResult
from spreadwright.towfile.values import Circle, STurn

KNOT = 1852.0 / 3600.0
ROUGH = 1.0  # mesh scale: the plan's own mesh, for what needs no finer one


def example(name: str, mesh_scale: float | None = None) -> TowFile:
    file = read_tow_file(EXAMPLES / f"{name}.toml")
    if mesh_scale is not None:
        file = replace(file, numerics=replace(file.numerics, mesh_scale=mesh_scale))
    return file


def steady(result: TowResult, at: int = 0) -> SteadyLine:
    line = result.lines[at]
    assert isinstance(line, SteadyLine)
    return line


def moving(result: TowResult, at: int = 0) -> MovingLine:
    line = result.lines[at]
    assert isinstance(line, MovingLine)
    return line


def test_independent_solution_of_the_straight_example() -> None:
    """12 kn: an ODE solved apart gives depth 2.8642 m, 59.7333 m behind the tow point, 47.0723 N; the research cable
    code of Gobat and Grosenbaugh (WHOI Cable), run on the same line, 2.86416, 59.73348 and 47.07238."""
    line = steady(compute(example("straight")))
    (end,) = line.ends
    assert end.depth_m == pytest.approx(2.8642, rel=1e-3)
    assert end.astern_m == pytest.approx(59.7333, rel=1e-3)
    assert line.tip_tension_n == pytest.approx(47.0723, rel=1e-3)
    assert end.circle_radius_m is None
    assert end.speed_m_s == pytest.approx(12 * KNOT)


def test_independent_solution_of_the_circle_example() -> None:
    """R 100 m at 15 kn: rotating-frame shooting gives circle 94.7200 m, depth 1.6779 m, 65.0643 N; MoorDyn 2.7.2 in
    the time domain, refined to no mesh, 94.703, 1.6775 and 65.118."""
    line = steady(compute(example("circle")))
    (end,) = line.ends
    assert end.circle_radius_m is not None
    assert end.circle_radius_m == pytest.approx(94.7200, rel=1e-3)
    assert end.depth_m == pytest.approx(1.6779, rel=1e-3)
    assert line.tip_tension_n == pytest.approx(65.0643, rel=1e-3)
    assert end.speed_m_s == pytest.approx(15 * KNOT * end.circle_radius_m / 100.0)


def test_the_places_of_a_circle_are_as_the_boat_lies() -> None:
    """To port the circle's centre is 100 m to port of the transom; to starboard everything is mirrored."""
    file = example("circle", ROUGH)
    port = steady(compute(file))
    assert isinstance(file.motion, Circle)
    starboard = steady(compute(replace(file, motion=replace(file.motion, radius=-100.0))))
    end = port.ends[0]
    assert math.hypot(end.astern_m, end.to_port_m - 100.0) == pytest.approx(end.circle_radius_m)
    assert end.to_port_m > 0.0 > starboard.ends[0].to_port_m
    assert starboard.ends[0].to_port_m == pytest.approx(-end.to_port_m, rel=1e-6)
    assert port.tip_side_rad == pytest.approx(-starboard.tip_side_rad, rel=1e-6)
    assert port.tip_side_rad > 0.0


def test_the_lists_of_a_line_belong_together() -> None:
    result = compute(example("several", ROUGH))
    assert [line.name for line in result.lines] == [
        "port corner", "starboard corner", "port gunwale", "starboard gunwale",
    ]  # fmt: skip
    for each in result.lines:
        line = steady(result, result.lines.index(each))
        assert len(line.line_out_m) == len(line.positions_m) == len(line.tension_n)
        assert line.positions_m[0] == pytest.approx(line.tip_m)
        assert line.tension_n[0] == line.tip_tension_n
        assert line.ends[-1].node == len(line.line_out_m) - 1
        assert [end.body is None for end in line.ends] == [False, True, False]
        for end in line.ends:
            x, y, z = line.positions_m[end.node]
            assert (end.astern_m, end.to_port_m, end.depth_m) == (-x, y, -z)
            assert end.line_out_m == pytest.approx(line.line_out_m[end.node])
            assert end.tension_n == line.tension_n[end.node]
        assert line.line_in_air_m is not None
        heights = np.interp(line.line_in_air_m, line.line_out_m, [place[2] for place in line.positions_m])
        assert heights == pytest.approx(0.0, abs=1e-9)


def test_port_and_starboard_of_the_same_gear_are_mirrored() -> None:
    port, starboard, *_ = (compute(example("several", ROUGH))).lines
    assert starboard.ends[0].to_port_m == pytest.approx(-port.ends[0].to_port_m)  # type: ignore[operator]
    assert starboard.tip_tension_n == pytest.approx(port.tip_tension_n)


def test_a_circle_followed_over_time_stays_what_it_is() -> None:
    """The steady shape and the marched one are two computations of the same thing."""
    file = example("circle", ROUGH)
    circle = file.motion
    assert isinstance(circle, Circle)
    named = file.lines[0]
    nylon = replace(named.line.sections[0], stiffness=1300.0)
    file = replace(file, lines=(replace(named, line=replace(named.line, sections=(nylon,))),))
    line = steady(compute(file))
    over_time = compute(replace(file, motion=Circle(circle.speed, circle.radius, 5.0)))
    marched = moving(over_time)
    assert over_time.boat is not None
    assert over_time.boat.times_s == pytest.approx([0.5 * at for at in range(11)])
    for name in ("depth_m", "astern_m", "to_port_m", "speed_m_s", "tension_n"):
        values = getattr(marched.ends[0], name)
        assert values == pytest.approx([getattr(line.ends[0], name)] * 11, rel=2e-4), name
    assert marched.tip_tension_n == pytest.approx([line.tip_tension_n] * 11, rel=2e-4)
    assert marched.tip_side_rad == pytest.approx([line.tip_side_rad] * 11, abs=5e-3)
    boat = np.stack([over_time.boat.x_m, over_time.boat.y_m], axis=1)
    assert np.hypot(boat[:, 0], boat[:, 1] - 100.0) == pytest.approx(100.0)  # the centre lies to port of the start
    places = np.array(marched.positions_m)[:, -1]
    assert np.hypot(places[:, 0], places[:, 1] - 100.0) == pytest.approx(line.ends[0].circle_radius_m, rel=1e-4)


def test_an_s_turn_comes_back_to_its_course() -> None:
    file = example("s_turn", ROUGH)
    result = compute(file)
    boat, line = result.boat, moving(result)
    assert boat is not None
    assert isinstance(file.motion, STurn)
    moments = len(boat.times_s)
    assert boat.times_s[1] == pytest.approx(0.25)
    assert boat.heading_rad[0] == 0.0
    assert boat.heading_rad[-1] == pytest.approx(0.0, abs=1e-3)
    assert max(boat.heading_rad) == pytest.approx(math.radians(60), abs=0.1)
    assert min(boat.heading_rad) == pytest.approx(math.radians(-60), abs=0.1)
    assert len(line.positions_m) == len(line.tip_angle_rad) == len(line.tension_n) == moments
    assert all(len(values) == len(line.tension_nodes) for values in line.tension_n)
    for end in line.ends:
        stored = line.tension_nodes.index(end.node)
        assert [values[stored] for values in line.tension_n] == list(end.tension_n)
        assert len(end.depth_m) == moments
    lure = line.ends[-1]
    assert lure.speed_m_s[0] == pytest.approx(15 * KNOT, rel=1e-4)
    assert min(lure.speed_m_s) < 0.8 * 15 * KNOT  # common practice, no source: lines slow and drop on the inside
    assert min(line.tip_tension_n) < 0.6 * line.tip_tension_n[0]
    # what is told as the boat lies is what the places over the ground say
    at = moments // 2
    x, y, z = line.positions_m[at][lure.node]
    forward = complex(x - boat.x_m[at], y - boat.y_m[at]) * complex(
        math.cos(boat.heading_rad[at]), -math.sin(boat.heading_rad[at])
    )
    assert (-forward.real, forward.imag, -z) == pytest.approx(
        (lure.astern_m[at], lure.to_port_m[at], lure.depth_m[at]), abs=1e-4
    )
    # the rod tip is where the boat and the file put it
    tip = np.array(line.positions_m[at][0][:2]) - [boat.x_m[at], boat.y_m[at]]
    assert np.hypot(*tip) == pytest.approx(math.hypot(line.tip_m[0], line.tip_m[1]), abs=1e-4)


def test_a_track_is_run_as_it_was_written_down() -> None:
    file = example("track", ROUGH)
    result = compute(file)
    assert result.boat is not None
    rows = np.loadtxt(EXAMPLES / "track.csv", delimiter=",", skiprows=1)
    got = (
        np.interp(rows[:, 0], result.boat.times_s, result.boat.x_m),
        np.interp(rows[:, 0], result.boat.times_s, result.boat.y_m),
    )
    assert got[0] == pytest.approx(rows[:, 1], abs=1e-3)
    assert got[1] == pytest.approx(rows[:, 2], abs=1e-3)


def test_a_line_that_does_not_converge_is_named_and_the_others_go_on() -> None:
    """A light line with nothing at its end cannot follow a turn of 10 m at 15 knots in a steady shape."""
    circle = '[motion]\nkind = "circle"\nspeed = "15 kn"\nradius = "10 m"\n'
    floating = SECTION.replace('"1140 kg/m3"', '"100 kg/m3"')
    more = LINE.replace('name = "one"', 'name = "floating"') + floating
    result = compute(read(small(motion=circle, section=SECTION.replace("60 m", "3 m"), more=more)))
    assert [each.name for each in result.lines] == ["one"]
    (failure,) = result.failures
    assert failure.line == "floating"
    assert "no steady shape found at 7.72 m/s in a turn of 10.0 m" in failure.reason
    assert "try a wider turn" in failure.next_step


def test_current_moves_the_line_the_way_it_runs() -> None:
    """A steady current is only another frame: settled, the pull is that of a tow through still water at the relative
    speed."""

    def towed(towards: str) -> MovingLine:
        water = f'[water.current]\nspeed = "1 m/s"\ntowards = "{towards}"\n'
        return moving(compute(read(small(water=water, motion=STRAIGHT + 'duration = "60 s"\n'))))

    def in_still_water(speed: float) -> SteadyLine:
        return steady(compute(read(small(motion=STRAIGHT.replace("15 kn", f"{speed} m/s")))))

    boat = 15 * KNOT
    across = towed("90 deg to port")
    assert across.ends[0].to_port_m[0] == pytest.approx(0.0, abs=1e-4)
    # settled, the gear lies along the water's velocity relative to the boat, atan(1 / 7.72)
    assert across.tip_side_rad[-1] == pytest.approx(math.atan2(1.0, boat), rel=1e-3)
    assert across.tip_tension_n[-1] == pytest.approx(in_still_water(math.hypot(boat, 1.0)).tip_tension_n, rel=1e-3)
    for towards, speed in (("0 deg", boat - 1.0), ("180 deg", boat + 1.0)):
        assert towed(towards).tip_tension_n[-1] == pytest.approx(in_still_water(speed).tip_tension_n, rel=1e-3)


def test_waves_wash_and_current_example_runs_and_repeats() -> None:
    file = example("moving_water", ROUGH)
    first, second = compute(file), compute(file)
    assert first == second
    assert first.water.moves
    lure = moving(first).ends[-1]
    settled = lure.depth_m[len(lure.depth_m) // 2 :]
    assert max(settled) - min(settled) > 0.1


def test_a_result_survives_json_unchanged() -> None:
    for name in ("several", "s_turn"):
        result = compute(example(name, 2.0))
        assert result_from_json(result.to_json()) == result


def test_the_caller_is_told_and_the_units_are_the_captains() -> None:
    told = []

    def tell(words: str, done: int, total: int) -> bool:
        told.append((words, done, total))
        return True

    file = example("s_turn", 2.0)
    result = compute(file, tell)
    assert told[0] == (COMPUTING, 0, 1)
    assert told[-1] == (COMPUTING, 1, 1)
    assert result.units == "us"
    assert compute(example("circle", 2.0)).units == "metric"


def test_a_caller_who_asks_to_stop_is_obeyed() -> None:
    file = read(small(motion=STRAIGHT + 'duration = "5 s"\n'))
    lines = tuple(
        replace(file.lines[0], line=replace(file.lines[0].line, name=f"line {number}")) for number in range(40)
    )
    stopped = False

    def tell(words: str, done: int, total: int) -> bool:
        nonlocal stopped
        stopped |= done > 0
        return not stopped

    result = compute(replace(file, lines=lines), tell)
    assert result.failures
    assert {failure.reason for failure in result.failures} == {"stopped before it was computed"}
