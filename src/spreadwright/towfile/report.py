"""The result of a tow file as text for a terminal: plain words, one block a line, in the captain's units."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from spreadwright.quantity import System
from spreadwright.towfile.columns import (
    Column,
    label,
    laid_out,
    number_column,
    numbers,
    side_column,
    text_of,
)
from spreadwright.towfile.result import MovingEnd, MovingLine, SteadyEnd, SteadyLine, TowResult

LEVEL = math.radians(0.05)  # below this an angle is shown as none


def report(result: TowResult, system: System | None = None) -> str:
    """The whole report, in the units of the file if no others are asked for."""
    units = system or result.units
    blocks = [[result.title, *_circumstances(result, units)]]
    blocks += [
        list(_steady(line, units) if isinstance(line, SteadyLine) else _moving(line, result, units))
        for line in result.lines
    ]
    if result.failures:
        blocks.append(list(_failures(result)))
    notes = list(_notes(result))
    if notes:
        blocks.append(notes)
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def _circumstances(result: TowResult, system: System) -> Iterator[str]:
    run, water = result.motion, result.water
    speed = "" if run.speed_m_s is None else f" at {text_of(run.speed_m_s, 'speed', system)}"
    radius = "" if run.radius_m is None else text_of(abs(run.radius_m), "length", system)
    side = "to port" if (run.radius_m or 0.0) > 0.0 else "to starboard"
    what = {
        "straight": f"Straight{speed}",
        "circle": f"Steady circle {side}, radius {radius}, boat{speed}",
        "s-turn": f"S-turn, radius {radius}, boat{speed}",
        "track": "Along a track",
    }[run.kind]
    lasts = "" if run.duration_s is None else f", followed for {text_of(run.duration_s, 'time', system)}"
    surface = "" if water.surface else "; everything under water, no surface"
    moves = "; the water moves" if water.moves else ""
    yield f"{what}{lasts}."
    yield f"Water of {water.density_kg_m3:.4g} kg/m3, gravity {water.gravity_m_s2:.6g} m/s2{surface}{moves}."


def _angle(down: float, side: float) -> str:
    """The line's direction at the rod tip [rad], in words."""
    level = (
        "level"
        if abs(down) < LEVEL
        else f"{math.degrees(abs(down)):.1f} deg {'below' if down > 0.0 else 'above'} level"
    )
    if abs(side) < LEVEL:
        return f"{level}, straight astern"
    return f"{level}, {math.degrees(abs(side)):.1f} deg to {'port' if side > 0.0 else 'starboard'} of astern"


def _steady(line: SteadyLine, system: System) -> Iterator[str]:
    yield line.name
    yield f"  pull at the rod tip   {text_of(line.tip_tension_n, 'force', system)}"
    yield f"  angle at the rod tip  {_angle(line.tip_angle_rad, line.tip_side_rad)}"
    if line.line_in_air_m is not None:
        yield f"  line in the air       {text_of(line.line_in_air_m, 'length', system)}"
    yield ""
    ends = line.ends
    columns = [
        number_column("line out", [end.line_out_m for end in ends], "length", system),
        number_column("depth", [end.depth_m for end in ends], "length", system),
        number_column("astern", [end.astern_m for end in ends], "length", system),
        side_column("to the side", [end.to_port_m for end in ends], system),
        number_column("speed", [end.speed_m_s for end in ends], "speed", system),
    ]
    if any(end.circle_radius_m is not None for end in ends):
        columns.append(number_column("its circle", [end.circle_radius_m for end in ends], "length", system))
    columns.append(number_column("pull", [end.tension_n for end in ends], "force", system))
    yield from laid_out([label(_called(end)) for end in ends], "at the end of", columns)


def _called(end: SteadyEnd | MovingEnd) -> str:
    return end.section if end.body is None else f"{end.section}: {end.body}"


def _moving(line: MovingLine, result: TowResult, system: System) -> Iterator[str]:
    times = result.boat.times_s if result.boat is not None else ()
    yield line.name
    rows: list[tuple[str, Sequence[float], str]] = [
        ("pull at the rod tip", line.tip_tension_n, "force"),
        ("angle below level there", line.tip_angle_rad, "angle"),
    ]
    for end in line.ends:
        called = label(_called(end))
        rows += [
            (called, (), ""),
            ("  depth", end.depth_m, "length"),
            ("  astern", end.astern_m, "length"),
            ("  to port (- to starboard)", end.to_port_m, "length"),
            ("  speed", end.speed_m_s, "speed"),
            ("  pull", end.tension_n, "force"),
        ]
    yield from laid_out([name for name, _, _ in rows], "over time", _swings(rows, times, system))


def _swings(rows: Sequence[tuple[str, Sequence[float], str]], times: Sequence[float], system: System) -> list[Column]:
    """At first, least and most with their times, at last: a column each, one row a quantity."""
    cells: list[tuple[str, ...]] = []
    for _, values, dimension in rows:
        if not values:
            cells.append(("",) * 7)
            continue
        low, high = values.index(min(values)), values.index(max(values))
        unit, (first, least, most, last) = numbers(
            [values[0], values[low], values[high], values[-1]], dimension, system
        )
        cells.append((unit, first, least, f"{times[low]:.1f} s", most, f"{times[high]:.1f} s", last))
    heads = ("", "at first", "least", "at", "most", "at", "at last")
    return [Column(head, "", tuple(row[at] for row in cells)) for at, head in enumerate(heads)]


def _failures(result: TowResult) -> Iterator[str]:
    count = len(result.failures)
    yield f"Not computed: {count} of {count + len(result.lines)} lines"
    for failure in result.failures:
        yield f"  {failure.line}: {failure.reason}"
        yield f"    next: {failure.next_step}"


def _notes(result: TowResult) -> Iterator[str]:
    if not result.lines:
        return
    yield "Depth is below still water, astern is behind the transom, pull is in the line just above."
    if result.boat is not None and len(result.boat.times_s) > 1:
        every = result.boat.times_s[1] - result.boat.times_s[0]
        yield f"Least and most are of the stored moments, {every:.3g} s apart."
    yield "These are estimates: drag coefficients are seldom known to better than a tenth or two."
