"""The strike in a picture, black on white: pull over time on each link, and the worst link's share against the mark.

One row a rod; left the usual fish's pull on each link with its strength at the line's end, right nylon against braid.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from spreadwright.plan.rig_answer import RigAnswer, RigAnswers, Swept, Trace
from spreadwright.quantity import System, read, show_unit
from spreadwright.sheets.figures import plain
from spreadwright.sheets.svg import FONT, Point, element, number, path, safe, shortened

WIDTH, ROW, MARGIN = 900.0, 300.0, 46.0
SPLIT = 560.0
SIZE = 12.0
BLACK, WHITE = "#000000", "#ffffff"
CURVES = ("nylon", "braid", "nylon, reel stuck", "braid, reel stuck")
DASHES = (None, "7 3", "2 3", "10 3 2 3", "1 2", "5 5", "12 4")


def strike_picture(answers: RigAnswers, system: System | None = None) -> str:
    """The picture as SVG text, one row for each rod of the answer."""
    units = system or answers.units
    parts = [element("rect", x=0.0, y=0.0, width=WIDTH, height=_height(answers), fill=WHITE)]
    for i, rig in enumerate(answers.rigs):
        parts += _row(rig, i * ROW, units)
    title = element("title", safe(f"The strike: {plain(answers.title)}"))
    box = f"0 0 {number(WIDTH)} {number(_height(answers))}"
    return element(
        "svg", title, *parts, xmlns="http://www.w3.org/2000/svg", viewBox=box,
        width=WIDTH, height=_height(answers), font_family=FONT, font_size=SIZE, role="img",
    )  # fmt: skip


def _height(answers: RigAnswers) -> float:
    return max(ROW * len(answers.rigs), ROW)


def _row(rig: RigAnswer, top: float, system: System) -> list[str]:
    return [
        _words(f"{plain(rig.rod)}: a usual fish takes the lure", (MARGIN, top + 20.0), bold=True),
        *_over_time(rig.traces, top, system),
        _words("Worst link's share against the mark", (SPLIT + MARGIN, top + 20.0), bold=True),
        *_against_mark(rig.swept, top, system),
    ]


def _words(said: str, at: Point, *, bold: bool = False, anchor: str | None = None) -> str:
    room = SPLIT - 2 * MARGIN
    return element(
        "text", safe(shortened(said, SIZE, room, bold=bold)), x=at[0], y=at[1], fill=BLACK,
        font_weight="bold" if bold else None, text_anchor=anchor,
    )  # fmt: skip


def _nice(most: float) -> float:
    """A round number at or over `most` in five steps or so: 1, 2 or 5 times a power of ten, times the steps."""
    step = 10.0 ** math.floor(math.log10(max(most, 1e-9) / 4.0))
    for factor in (1.0, 2.0, 5.0, 10.0):
        if factor * step * 5.0 >= most:
            return factor * step
    return 10.0 * step


def _frame(left: float, right: float, top: float, ticks: Sequence[tuple[float, str]], below: str) -> list[str]:
    """Axes with level lines: ticks are heights on the sheet and their words."""
    bottom = top + ROW - 60.0
    axes = path([(left, top + 34.0), (left, bottom), (right, bottom)])
    parts = [element("path", d=axes, stroke=BLACK, fill="none")]
    for y, said in ticks:
        parts.append(element("path", d=path([(left, y), (right, y)]), stroke="#cccccc", fill="none"))
        parts.append(_words(said, (left - 5.0, y + 4.0), anchor="end"))
    parts.append(_words(below, (0.5 * (left + right), bottom + 32.0), anchor="middle"))
    return parts


def _over_time(traces: Sequence[Trace], top: float, system: System) -> list[str]:
    if not traces:
        return [_words("not computed", (MARGIN, top + 60.0))]
    unit = show_unit(0.0, "force", system)
    one = read(f"1 {unit}", "force")
    left, right, high, bottom = MARGIN, SPLIT - 150.0, top + 34.0, top + ROW - 60.0
    span = max(len(trace.pulls) * trace.every for trace in traces)
    step = _nice(max(max(trace.pulls) for trace in traces) / one)
    count = math.ceil(max(max(trace.pulls) for trace in traces) / one / step)

    def at(seconds: float, newtons: float) -> Point:
        return left + seconds / span * (right - left), bottom - newtons / one / (count * step) * (bottom - high)

    ticks = [(at(0.0, i * step * one)[1], f"{i * step:g}") for i in range(count + 1)]
    parts = _frame(left, right, top, ticks, f"seconds after the strike; pull in {unit}")
    for i in range(math.floor(span / 0.5 + 1e-6) + 1):
        parts.append(_words(f"{0.5 * i:g}", (at(0.5 * i, 0.0)[0], bottom + 15.0), anchor="middle"))
    ends = _spread([at(span, trace.pulls[-1])[1] for trace in traces], 15.0, high, bottom)
    for i, (trace, y) in enumerate(zip(traces, ends, strict=True)):
        points = [at((k + 0.5) * trace.every, pull) for k, pull in enumerate(trace.pulls)]
        dash = DASHES[i % len(DASHES)]
        parts += [_curve(points, dash), _curve([(right + 6, y), (right + 30, y)], dash)]
        parts.append(_words(_name(trace), (right + 34.0, y + 4.0)))
    return parts


def _name(trace: Trace) -> str:
    if trace.strength is None:
        return plain(trace.link)
    return f"{plain(trace.link)} {100 * max(trace.pulls) / trace.strength:.0f} %"


def _curve(points: Sequence[Point], dash: str | None) -> str:
    return element("path", d=path(points), fill="none", stroke=BLACK, stroke_width=1.4, stroke_dasharray=dash)


def _spread(wished: Sequence[float], apart: float, least: float, most: float) -> list[float]:
    """Heights near the wished ones that keep apart, in the same order of places."""
    order = sorted(range(len(wished)), key=lambda i: wished[i])
    placed = list(wished)
    before = least - apart
    for i in order:
        before = max(placed[i], before + apart)
        placed[i] = before
    over = max(0.0, before - most)
    return [y - over for y in placed]


def _against_mark(swept: Sequence[Swept], top: float, system: System) -> list[str]:
    unit = show_unit(30.0, "length", system)
    one = read(f"1 {unit}", "length")
    curves = [(name, [each for each in swept if each.kind == f"mark, {name}"]) for name in CURVES]
    known = [each for _, points in curves for each in points]
    left, right, high, bottom = SPLIT + MARGIN, WIDTH - 120.0, top + 34.0, top + ROW - 60.0
    if not known:
        return [_words("not computed", (left, top + 60.0))]
    step = _nice(100.0 * max(each.share for each in known))
    count = math.ceil(100.0 * max(each.share for each in known) / step)
    far = max(each.value for each in known) * 1.05

    def at(mark: float, share: float) -> Point:
        return left + mark / far * (right - left), bottom - 100.0 * share / (count * step) * (bottom - high)

    ticks = [(at(0.0, i * step / 100.0)[1], f"{i * step:g} %") for i in range(count + 1)]
    parts = _frame(left, right, top, ticks, f"mark ({unit})")
    for each in curves[0][1]:
        parts.append(_words(f"{each.value / one:.0f}", (at(each.value, 0.0)[0], bottom + 15.0), anchor="middle"))
    ends = _spread([at(p[-1].value, p[-1].share)[1] if p else bottom for _, p in curves], 15.0, high, bottom)
    for (name, points), dash, y in zip(curves, DASHES, ends, strict=False):
        places = [at(each.value, each.share) for each in points]
        if not places:
            continue
        fill = BLACK if "nylon" in name else WHITE
        parts.append(_curve(places, dash))
        parts += [element("circle", cx=x, cy=h, r=3.0, fill=fill, stroke=BLACK) for x, h in places]
        parts.append(_words(name, (right + 6.0, y + 4.0)))
    return parts
