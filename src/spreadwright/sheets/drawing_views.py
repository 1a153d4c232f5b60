"""The two straight-course views of the spread: from above, and from the side under it, on one distance scale."""

from __future__ import annotations

from dataclasses import dataclass

from spreadwright.plan.value import Outline, Plan, RodPlan
from spreadwright.quantity import System
from spreadwright.sheets import drawing_parts as part
from spreadwright.sheets.drawing_scale import Scales, extents, ticks
from spreadwright.sheets.figures import given, plain, short_estimate
from spreadwright.sheets.labels import Box, Placer, around, flags
from spreadwright.sheets.svg import Point, element, safe, shortened, text_width
from spreadwright.sheets.wording import is_worst

LONGEST_NAME = 150.0  # room that a rod's name gets at most
ROD = 1.6  # [m] about what a rod adds to the height of its holder, for the sketch of the boat
FROM_ROOF = 2.8  # [m] tips higher than this are sketched with their holders on the roof


@dataclass(frozen=True)
class Drawn:
    """A part of the drawing and the sheet's height that it ends at."""

    parts: tuple[str, ...]
    bottom: float


def ordered(plan: Plan) -> list[tuple[int, Outline, RodPlan]]:
    """Every drawn line with its place in the plan (which chooses its pattern) and its rod."""
    return [(index, outline, plan.rod(outline.rod)) for index, outline in enumerate(plan.drawing)]


def worst_rods(plan: Plan) -> set[str]:
    """The rods of the worst pair."""
    return {name for pair in plan.pairs if is_worst(plan, pair) for name in (pair.first, pair.second)}


def gear_places(outline: Outline, points: list[Point]) -> tuple[Point, Point]:
    """Where the weight and the lure are among the line's points."""
    return points[outline.joints[0]], points[-1]


# ---- from above -------------------------------------------------------------------------------
def above(plan: Plan, scales: Scales, system: System, top: float) -> Drawn:
    """The spread from above: boat, rods, lines, weights and lures, each line named once."""
    _, side, _, _ = extents(plan)
    unit, text = scales.along * scales.across, scales.text
    room = text + 12.0
    half = max(side * unit, 34.0) + room
    middle, bottom = top + half, top + 2.0 * half
    panel = Box(scales.left, top, scales.right, bottom)
    parts = [water(panel), *_distance_lines(plan, scales, top, bottom)]
    half_beam = min(max(0.5 * side * unit, 12.0), 26.0)
    length = min(scales.right - scales.transom - 8.0, 3.4 * half_beam)
    parts.append(part.boat_above(scales.transom, middle, length, half_beam))
    placer = Placer(panel)
    placer.taken.append(Box(scales.transom, middle - half_beam, scales.transom + length, middle + half_beam))
    drawn = []
    for index, outline, rod in ordered(plan):
        points = [(scales.x(x), middle - y * unit) for x, y, _ in outline.straight]
        weight, lure = gear_places(outline, points)
        placer.lines.append(points)
        placer.taken += [room_for_mark(weight), room_for_mark(lure)]
        drawn.append((index, points, weight, lure, rod))
    worst = worst_rods(plan)
    for index, points, *_, rod in drawn:
        parts.append(part.line(points, index, worst=rod.rod in worst, rod=rod.rod, view="above"))
        parts.append(_rod_above(points[0], scales, middle, half_beam))
    for _, points, weight, lure, _ in drawn:
        parts += [part.weight(weight), part.lure(lure), part.tip(points[0])]
    sides = _side_words(panel, scales)
    placer.taken += [box for _, box in sides]
    parts += [written for written, _ in sides]
    spare = 0.0
    for _, _, _, lure, rod in sorted(drawn, key=lambda each: each[3][0]):
        label, spare = _name_above(placer, lure, rod, scales, system, spare)
        parts.append(label)
    return Drawn(tuple(parts), bottom + spare)


def water(panel: Box) -> str:
    """A panel of water."""
    return element(
        "rect", x=panel.left, y=panel.top, width=panel.right - panel.left, height=panel.bottom - panel.top, rx=5,
        fill=part.WATER,
    )  # fmt: skip


def room_for_mark(at: Point, size: float = 1.0) -> Box:
    """The room that a weight or lure of this size takes."""
    return Box(at[0] - 9.0 * size, at[1] - 5.5 * size, at[0] + 8.0 * size, at[1] + 5.5 * size)


def _rod_above(tip: Point, scales: Scales, middle: float, half_beam: float) -> str:
    """A rod from the nearest place aboard, a little ahead of its tip."""
    ahead = max(tip[0], scales.transom) + 11.0
    aboard = middle + min(max(tip[1] - middle, -0.8 * half_beam), 0.8 * half_beam)
    return part.rod((ahead, aboard), tip)


def _side_words(panel: Box, scales: Scales) -> list[tuple[str, Box]]:
    size, right = scales.text, panel.right - 6.0
    found = []
    for said, base in (("port", panel.top + size + 2.0), ("starboard", panel.bottom - 6.0)):
        at = (right, base)
        written = part.words(said, at, size, colour=part.SOFT, anchor="end", slanted=True)
        found.append((written, part.words_box(said, at, size, anchor="end")))
    return found


def _name_above(
    placer: Placer, lure: Point, rod: RodPlan, scales: Scales, system: System, spare: float
) -> tuple[str, float]:
    """A rod's name and mark near its lure; in a row under the panel where there is no room at all."""
    size = scales.text
    name = shortened(plain(rod.rod), size, LONGEST_NAME, bold=True)
    mark = f", {given(rod.mark, 'length', system)}"
    width = text_width(name, size, bold=True) + text_width(mark, size) + 2.0
    box = placer.take(around(lure, width, size * 1.15, 10.0, placer.bounds))
    if box is None:
        spare += size * 1.3
        at = (placer.bounds.left, placer.bounds.bottom + spare)
        return _named(name, mark, at, size), spare
    return _named(name, mark, (box.left, box.top + 0.88 * size), size), spare


def _named(name: str, rest: str, at: Point, size: float) -> str:
    """A name in bold and what follows it, as one text."""
    return element(
        "text",
        element("tspan", safe(name), font_weight="600"),
        safe(rest),
        x=at[0],
        y=at[1],
        font_size=size,
        fill=part.INK,
        stroke=part.WATER,
        stroke_width=2.6,
        stroke_linejoin="round",
        paint_order="stroke",
    )


def _distance_lines(plan: Plan, scales: Scales, top: float, bottom: float) -> list[str]:
    return [part.rule((x, top), (x, bottom)) for x, _ in distance_ticks(plan, scales)]


def distance_ticks(plan: Plan, scales: Scales) -> list[tuple[float, str]]:
    """Places on the sheet and words of the round distances astern."""
    astern = extents(plan)[0]
    step = scales.step(5.6 * scales.text, scales.along)
    reached = ticks(step, astern / scales.foot)
    return [(scales.x(-tick * scales.foot), f"{tick:g} {scales.unit}" if tick else "0") for tick in reached]


# ---- from the side ----------------------------------------------------------------------------
def beside(plan: Plan, scales: Scales, system: System, top: float) -> Drawn:
    """The spread from the side: depths of weights and lures with their doubt, and their ranges through the turns."""
    _, _, high, deep = extents(plan)
    unit = scales.along * scales.down
    surface = top + max(high * unit, 30.0) + 12.0
    bottom = surface + deep * unit + 14.0
    parts = [water(Box(scales.left, surface, scales.right, bottom)), *_depth_lines(scales, surface, bottom, unit)]
    parts += _distance_lines(plan, scales, top, bottom)
    parts.append(part.rule((scales.left, surface), (scales.right, surface), colour=part.SOFT, width=1.2))
    length = min(scales.right - scales.transom - 8.0, 84.0)
    freeboard = min(max(1.0 * unit, 14.0), 26.0)
    roof = freeboard + min(max((high - ROD) * unit - freeboard, 0.9 * freeboard), 2.2 * freeboard)
    parts.append(part.boat_beside(scales.transom, surface, length, freeboard, roof))
    worst = worst_rods(plan)
    hung: list[tuple[Point, RodPlan]] = []
    bars: list[str] = []
    marks: list[str] = []
    lines: list[str] = []
    for index, outline, rod in ordered(plan):
        points = [(scales.x(x), surface - z * unit) for x, _, z in outline.straight]
        weight, lure = gear_places(outline, points)
        lines.append(part.line(points, index, worst=rod.rod in worst, rod=rod.rod, view="side"))
        holder = roof if outline.straight[0][2] > FROM_ROOF else 0.85 * freeboard
        parts.append(part.rod((max(points[0][0], scales.transom) + 11.0, surface - holder), points[0]))
        pale, thin = _ranges(rod, weight, lure, surface, unit)
        bars += pale
        marks += [*thin, part.weight(weight), part.lure(lure), part.tip(points[0])]
        hung.append((lure, rod))
    labels, end = _flags(hung, scales, system, bottom)
    stems, said = [plumb for plumb, _ in labels], [words for _, words in labels]
    return Drawn((*parts, *bars, *stems, *lines, *marks, *said), end)


def _depth_lines(scales: Scales, surface: float, bottom: float, unit: float) -> list[str]:
    size = scales.text
    step = scales.step(1.7 * size, unit)
    parts = []
    for tick in ticks(step, (bottom - surface - 0.3 * size) / unit / scales.foot)[1:]:
        y = surface + tick * scales.foot * unit
        parts.append(part.rule((scales.left, y), (scales.right, y), dashes="1 3"))
        said = f"{tick:g} {scales.unit}"
        parts.append(part.words(said, (scales.right - 5.0, y - 2.5), size, colour=part.SOFT, anchor="end"))
    return parts


def _ranges(rod: RodPlan, weight: Point, lure: Point, surface: float, unit: float) -> tuple[list[str], list[str]]:
    """Bars at weight and lure: pale ones for the range through the turns, thin ones for the doubt straight on."""
    pale, thin = [], []
    for at, straight, turns in (
        (weight, rod.weight_depth, rod.weight_depth_swing),
        (lure, rod.lure_depth, rod.lure_depth_swing),
    ):
        pale.append(part.turns_range(at[0], surface + turns.least * unit, surface + turns.greatest * unit))
        thin.append(part.doubt(at[0], surface + straight.low * unit, surface + straight.high * unit))
    return pale, thin


def _flag_lines(rod: RodPlan, system: System) -> tuple[str, ...]:
    return (
        plain(rod.rod),
        f"weight {short_estimate(rod.weight_depth, 'length', system)}",
        f"lure {short_estimate(rod.lure_depth, 'length', system)}",
    )


def _flags(
    hung: list[tuple[Point, RodPlan]], scales: Scales, system: System, bottom: float
) -> tuple[list[tuple[str, str]], float]:
    """Labels under the panel, each on a line that falls from its lure and leans over to its stem."""
    size = scales.text
    row, lean = 3.0 * 1.18 * size + 8.0, 15.0
    texts = [_flag_lines(rod, system) for _, rod in hung]
    texts = [(shortened(name, size, LONGEST_NAME, bold=True), *rest) for name, *rest in texts]
    widths = [
        max(text_width(name, size, bold=True), *(text_width(line, size) for line in rest)) + 10.0
        for name, *rest in texts
    ]
    found = flags([at[0] for at, _ in hung], widths, scales.left, scales.right)
    labels = []
    for (lure, _), flag, (name, *rest) in zip(hung, found, texts, strict=True):
        top = bottom + lean + flag.row * row
        stem = part.stem([lure, (lure[0], bottom + 2.0), (flag.stem, bottom + lean), (flag.stem, top + row - 9.0)])
        lines = [part.words(name, (flag.stem + 4.0, top + 0.9 * size), size, bold=True)]
        lines += [
            part.words(said, (flag.stem + 4.0, top + (0.9 + 1.18 * (i + 1)) * size), size)
            for i, said in enumerate(rest)
        ]
        labels.append((stem, "".join(lines)))
    return labels, bottom + lean + (max((flag.row for flag in found), default=-1) + 1) * row
