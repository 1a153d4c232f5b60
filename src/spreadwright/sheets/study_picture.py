"""A study as one SVG picture: for every boat the smallest gap, and the lures' depths, over what was swept most.

Black and white only: curves are told apart by dashes and by their names at the right end. What is within the tangle's
reach lies under a dotted line.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from spreadwright.plan.study import Case, Outcome, Study
from spreadwright.plan.study_words import sea_in_words
from spreadwright.quantity import System, read, show, show_unit
from spreadwright.sheets.figures import plain
from spreadwright.sheets.svg import FONT, Point, element, number, path, safe, shortened

WIDTH, ROW, MARGIN, SPLIT, NAMES = 1100.0, 300.0, 52.0, 570.0, 215.0
SIZE = 12.0
BLACK, WHITE, GREY = "#000000", "#ffffff", "#cccccc"
DASHES = (None, "7 3", "2 3", "10 3 2 3", "1 2", "5 5", "12 4")
MOST_CURVES = 12  # of one panel: more could not be told apart


@dataclass(frozen=True)
class Curve:
    """One curve: its name, and its places over the swept quantity."""

    name: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Axis:
    """What runs from left to right: its name and unit, its value in a case, and that value as text."""

    name: str
    value: Callable[[Case], float]
    said: Callable[[float], str]


def study_picture(study: Study, system: System | None = None) -> str:
    """The picture as SVG text, one row for each boat."""
    units: System = system or ("metric" if study.units == "metric" else "us")
    axis = _axis(study, units)
    parts = [element("rect", x=0.0, y=0.0, width=WIDTH, height=_height(study), fill=WHITE)]
    for i, spread in enumerate(study.spreads):
        own = [(c, o) for c, o in zip(study.cases, study.outcomes, strict=True) if c.spread is spread and not o.problem]
        parts += _row(spread.boat, spread.reach, own, i * ROW, axis, units)
    title = element("title", safe(f"A study: {plain(study.title)}"))
    box = f"0 0 {number(WIDTH)} {number(_height(study))}"
    return element(
        "svg", title, *parts, xmlns="http://www.w3.org/2000/svg", viewBox=box, width=WIDTH, height=_height(study),
        font_family=FONT, font_size=SIZE, role="img",
    )  # fmt: skip


def _height(study: Study) -> float:
    return ROW * max(len(study.spreads), 1)


def _axis(study: Study, system: System) -> Axis:
    """Of speed, radius and wave height the one that was swept in most steps; speed where they are even."""
    long = show_unit(30.0, "length", system)
    axes = (
        Axis("speed (kn)", lambda case: case.speed, lambda v: _bare(v, "speed", system)),
        Axis(f"radius of the turns ({long})", lambda case: case.radius, lambda v: _bare(v, "length", system)),
        Axis(f"wave height ({long})", lambda case: case.sea.height, lambda v: _bare(v, "length", system)),
    )
    return max(axes, key=lambda axis: len({axis.value(case) for case in study.cases}))


def _bare(value: float, dimension: str, system: System) -> str:
    return show(value, dimension, system, figures=3).split()[0].removesuffix(".0")


def _row(
    boat: str, reach: float, own: Sequence[tuple[Case, Outcome]], top: float, axis: Axis, system: System
) -> list[str]:
    gaps = _curves(own, axis, system, lambda out: [("", out.gap)] if out.first else [])
    depths = _curves(_like(own, axis), axis, system, _depths_of(own))
    return [
        _words(
            f"{plain(boat)}: smallest gap between gear and another line", (MARGIN, top + 20.0), SPLIT - MARGIN, True
        ),
        *_panel(gaps, MARGIN, SPLIT - NAMES, top, axis, system, reach),
        _words("Depth of the lures, straight and calm", (SPLIT + MARGIN, top + 20.0), WIDTH - SPLIT - MARGIN, True),
        *_panel(depths, SPLIT + MARGIN, WIDTH - NAMES + 60.0, top, axis, system, None),
    ]


def _like(own: Sequence[tuple[Case, Outcome]], axis: Axis) -> list[tuple[Case, Outcome]]:
    """The cases that differ from the first in the axis alone."""
    return [(case, out) for case, out in own if _rest(case, axis) == _rest(own[0][0], axis)]


def _rest(case: Case, axis: Axis) -> tuple[object, ...]:
    parts = {"speed": case.speed, "radius": case.radius, "wave": case.sea}
    return tuple(value for name, value in parts.items() if not axis.name.startswith(name))


def _depths_of(own: Sequence[tuple[Case, Outcome]]) -> Callable[[Outcome], list[tuple[str, float]]]:
    names = [fished.rod for fished in own[0][0].spread.fished] if own else []
    return lambda out: [(name, rod.depth) for name, rod in zip(names, out.rods, strict=True)]


def _curves(
    own: Sequence[tuple[Case, Outcome]], axis: Axis, system: System, of: Callable[[Outcome], list[tuple[str, float]]]
) -> list[Curve]:
    several = len({_rest(case, axis) for case, _ in own}) > 1
    points: dict[str, list[Point]] = {}
    for case, out in own:
        for name, value in of(out):
            label = name or (_rest_in_words(case, axis, system) if several else "")
            points.setdefault(label, []).append((axis.value(case), value))
    return [Curve(name, tuple(sorted(each))) for name, each in points.items()]


def _rest_in_words(case: Case, axis: Axis, system: System) -> str:
    parts = []
    if not axis.name.startswith("speed"):
        parts.append(show(case.speed, "speed", system, figures=3))
    if not axis.name.startswith("radius"):
        parts.append(show(case.radius, "length", system, figures=3))
    if not axis.name.startswith("wave"):
        parts.append(sea_in_words(case.sea, system))
    return ", ".join(parts)


def _words(said: str, at: Point, room: float, bold: bool = False, anchor: str | None = None) -> str:
    return element(
        "text", safe(shortened(said, SIZE, room, bold=bold)), x=at[0], y=at[1], fill=BLACK,
        font_weight="bold" if bold else None, text_anchor=anchor,
    )  # fmt: skip


def _nice(most: float) -> float:
    """A step of 1, 2 or 5 times a power of ten that goes into `most` five times or so."""
    step = 10.0 ** math.floor(math.log10(max(most, 1e-9) / 4.0))
    return next(factor * step for factor in (1.0, 2.0, 5.0, 10.0) if factor * step * 5.0 >= most)


def _panel(
    curves: Sequence[Curve], left: float, right: float, top: float, axis: Axis, system: System, reach: float | None
) -> list[str]:
    drawn = curves[:MOST_CURVES]
    if not drawn:
        return [_words("nothing to show", (left, top + 60.0), right - left)]
    unit = show_unit(1.0, "length", system)
    one = read(f"1 {unit}", "length")
    high, bottom = top + 40.0, top + ROW - 60.0
    across = sorted({x for curve in drawn for x, _ in curve.points})
    most = max(max(y for curve in drawn for _, y in curve.points), reach or 0.0) / one
    step = _nice(most)
    steps = max(math.ceil(most / step), 1)
    span = (across[-1] - across[0]) or 1.0

    def at(x: float, y: float) -> Point:
        share = (x - across[0]) / span if len(across) > 1 else 0.5
        return left + 14.0 + share * (right - left - 28.0), bottom - y / one / (step * steps) * (bottom - high)

    parts = [element("path", d=path([(left, high), (left, bottom), (right, bottom)]), stroke=BLACK, fill="none")]
    for i in range(steps + 1):
        y = at(across[0], i * step * one)[1]
        parts.append(element("path", d=path([(left, y), (right, y)]), stroke=GREY, fill="none"))
        parts.append(_words(f"{i * step:g}", (left - 6.0, y + 4.0), 40.0, anchor="end"))
    parts.append(_words(unit, (left - 6.0, high - 8.0), 40.0, anchor="end"))
    before = -math.inf
    for x in across:
        place = at(x, 0.0)[0]
        if place - before > 30.0:
            parts.append(_words(axis.said(x), (place, bottom + 16.0), 60.0, anchor="middle"))
            before = place
    parts.append(_words(axis.name, (0.5 * (left + right), bottom + 34.0), right - left, anchor="middle"))
    if reach is not None:
        y = at(across[0], reach)[1]
        parts.append(
            element("path", d=path([(left, y), (right, y)]), stroke=BLACK, stroke_dasharray="1 3", fill="none")
        )
        parts.append(_words("tangle", (left + 3.0, y - 3.0), 60.0))
    parts += _drawn(drawn, at, right, high, bottom)
    if len(curves) > MOST_CURVES:
        parts.append(_words(f"{len(curves) - MOST_CURVES} more in the table", (left, top + 34.0), right - left))
    return parts


def _drawn(
    curves: Sequence[Curve], at: Callable[[float, float], Point], right: float, high: float, bottom: float
) -> list[str]:
    parts = []
    ends = _apart([at(*curve.points[-1])[1] for curve in curves], 14.0, high, bottom)
    for i, (curve, y) in enumerate(zip(curves, ends, strict=True)):
        dash, places = DASHES[i % len(DASHES)], [at(*point) for point in curve.points]
        fill = BLACK if i < len(DASHES) else WHITE
        parts.append(
            element("path", d=path(places), fill="none", stroke=BLACK, stroke_width=1.4, stroke_dasharray=dash)
        )
        parts += [element("circle", cx=x, cy=h, r=3.0, fill=fill, stroke=BLACK) for x, h in places]
        if curve.name:
            line = path([(right + 4.0, y), (right + 26.0, y)])
            parts.append(element("path", d=line, stroke=BLACK, stroke_width=1.4, stroke_dasharray=dash, fill="none"))
            parts.append(_words(plain(curve.name), (right + 30.0, y + 4.0), NAMES - 36.0))
    return parts


def _apart(wished: Sequence[float], apart: float, least: float, most: float) -> list[float]:
    """Heights near the wished ones that keep apart, in the same order."""
    order = sorted(range(len(wished)), key=lambda i: wished[i])
    placed, before = list(wished), least - apart
    for i in order:
        before = max(placed[i], before + apart)
        placed[i] = before
    over = max(0.0, before - most)
    return [y - over for y in placed]
