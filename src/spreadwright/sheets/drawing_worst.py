"""The moment of the smallest gap in the S-turn, seen from above at one true scale, with the nearest place ringed."""

from __future__ import annotations

import math
from itertools import pairwise

from spreadwright.plan.value import Outline, PairPlan, Plan
from spreadwright.quantity import System
from spreadwright.sheets import drawing_parts as part
from spreadwright.sheets.drawing_scale import Scales
from spreadwright.sheets.drawing_views import (
    LONGEST_NAME,
    Drawn,
    ordered,
    room_for_mark,
    water,
    worst_rods,
)
from spreadwright.sheets.figures import estimate, moment, plain
from spreadwright.sheets.labels import Box, Placer, around
from spreadwright.sheets.svg import Point, element, shortened, text_width
from spreadwright.sheets.wording import worst_pair

BOW_SIDE = 0.25  # share of the room to spare that is left ahead of the boat: names stand behind the lures
FAR = 14.0  # from a name to its lure, beyond which a dotted line joins them
BOAT = 9.0  # [m] length that the boat is sketched with
TALLEST, SHARE = 260.0, 0.42  # that the panel may get, and of the sheet's width
Place = tuple[float, float, float]


def worst_moment(plan: Plan, scales: Scales, system: System, top: float) -> Drawn:
    """All lines at the moment of the smallest gap, those of the worst pair thick; nothing if there is no pair."""
    pair = worst_pair(plan)
    if pair is None:
        return Drawn((), top)
    size = scales.text
    said = f"{moment(pair.gear_time)} into the run, {estimate(pair.gear_gap, 'length', system)} apart"
    wide = scales.right - scales.left
    head, top = part.paragraph(f"Closest: {said}", (scales.left, top), size + 1.0, wide, bold=True)
    turn = heading(plan)
    panel, unit, origin = _frame(plan, scales, turn, top)

    def sheet(place: Place) -> Point:
        x, y = aboard(place, turn)
        return origin[0] + x * unit, origin[1] - y * unit

    parts = [*head, water(panel), part.boat_above(*origin, BOAT * unit, 0.16 * BOAT * unit)]
    placer, worst = Placer(panel), worst_rods(plan)
    placer.taken.append(Box(origin[0], origin[1] - 0.16 * BOAT * unit, origin[0] + BOAT * unit, origin[1]))
    lures = []
    for index, outline, rod in ordered(plan):
        points = [sheet(place) for place in outline.worst]
        weight, lure = points[outline.joints[0]], points[-1]
        parts.append(part.line(points, index, worst=rod.rod in worst, rod=rod.rod, view="closest"))
        parts += [part.weight_end(weight), part.lure_end(lure)]
        placer.lines.append(points)
        placer.taken += [room_for_mark(weight, 0.6), room_for_mark(lure, 0.6)]
        lures.append((lure, rod))
    ring = sheet(nearest_place(plan, pair))
    parts.append(element("circle", cx=ring[0], cy=ring[1], r=11, fill="none", stroke=part.ALARM, stroke_width=1.6))
    placer.taken.append(Box(ring[0] - 12, ring[1] - 12, ring[0] + 12, ring[1] + 12))
    bar, bar_box = _bar(panel, scales, unit)
    parts.append(bar)
    placer.taken.append(bar_box)
    spare = 0.0
    for lure, rod in sorted(lures, key=lambda each: each[0][0]):
        name = shortened(plain(rod.rod), size, LONGEST_NAME, bold=rod.rod in worst)
        width = text_width(name, size, bold=rod.rod in worst) + 2.0
        box = placer.take(around(lure, width, 1.15 * size, 7.0, panel))
        if box is None:
            spare += 1.3 * size
        at = (box.left, box.top + 0.88 * size) if box else (panel.left, panel.bottom + spare)
        if box is not None and (joint := _far_from(box, lure)) is not None:
            parts.append(part.stem([joint, lure]))
        parts.append(part.words(name, at, size, bold=rod.rod in worst, halo=part.WATER))
    return Drawn(tuple(parts), panel.bottom + spare + 0.4 * size)


def _far_from(box: Box, at: Point) -> Point | None:
    """The place on the box's edge nearest to the point; None if it is so near that nobody wonders whose name it is."""
    edge = (min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom))
    return edge if math.dist(edge, at) > FAR else None


def heading(plan: Plan) -> float:
    """The boat's heading [rad] in the axes that the moment's places are given in: what turns the rod tips' places
    aboard into those they have there."""
    turned = [(outline.straight[0], outline.worst[0]) for outline in plan.drawing]
    cross = sum(a[0] * b[1] - a[1] * b[0] for a, b in turned)
    return math.atan2(cross, sum(a[0] * b[0] + a[1] * b[1] for a, b in turned)) if turned else 0.0


def aboard(place: Place, turn: float) -> Point:
    """A place ahead of and to port of a boat on that heading [rad], so that the bow is drawn to the right."""
    cos, sin = math.cos(turn), math.sin(turn)
    return place[0] * cos + place[1] * sin, place[1] * cos - place[0] * sin


def _frame(plan: Plan, scales: Scales, turn: float, top: float) -> tuple[Box, float, Point]:
    """The panel, the size of a metre in it, and the place of the transom."""
    places = [aboard(place, turn) for outline in plan.drawing for place in outline.worst]
    xs, ys = [place[0] for place in places] + [0.0, BOAT], [place[1] for place in places] + [-2.0, 2.0]
    margin = 2.2 * scales.text
    long, broad = max(xs) - min(xs), max(ys) - min(ys)
    wide = scales.right - scales.left
    unit = min((wide - 2.0 * margin) / long, (max(TALLEST, SHARE * wide) - 2.0 * margin) / broad)
    panel = Box(scales.left, top, scales.right, top + max(broad * unit, 60.0) + 2.0 * margin + 1.6 * scales.text)
    x = panel.right - margin - BOW_SIDE * (wide - long * unit - 2.0 * margin) - max(xs) * unit
    return panel, unit, (x, top + margin + max(ys) * unit)


def _bar(panel: Box, scales: Scales, unit: float) -> tuple[str, Box]:
    """A scale bar in the lower left corner: it holds along and across alike."""
    step = scales.step(0.11 * (panel.right - panel.left), unit)
    long = step * scales.foot * unit
    at = (panel.left + 8.0, panel.bottom - 10.0)
    said = f"{2 * step:g} {scales.unit}, along and across alike"
    written = part.words(said, (at[0], at[1] - 5.0), scales.text, colour=part.SOFT)
    right = at[0] + max(2 * long, text_width(said, scales.text))
    return part.scale_bar(at, long, 2) + written, Box(at[0], at[1] - 6.0 - scales.text, right, panel.bottom)


def nearest_place(plan: Plan, pair: PairPlan) -> Place:
    """Where one's gear comes nearest to the other's drawn line: only to put a ring there, the gap is the plan's."""
    outlines = {outline.rod: outline for outline in plan.drawing}
    first, second = outlines[pair.first], outlines[pair.second]
    candidates = [*_near(first, second), *_near(second, first)]
    return min(candidates)[1]


def _near(gear: Outline, line: Outline) -> list[tuple[float, Place]]:
    """For places along the gear of one line, the distance to the other line and the middle between them."""
    found = []
    chain = gear.worst[gear.joints[0] :]
    for start, end in pairwise(chain):
        for share in (0.0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1.0):
            here = _between(start, end, share)
            feet = [_foot(here, a, b) for a, b in pairwise(line.worst)]
            found += [(math.dist(here, there), _between(here, there, 0.5)) for there in feet]
    return found


def _between(a: Place, b: Place, share: float) -> Place:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2]))


def _foot(place: Place, a: Place, b: Place) -> Place:
    """The place nearest to `place` on the straight piece from a to b."""
    along = [b[i] - a[i] for i in range(3)]
    long = sum(step * step for step in along)
    share = sum((place[i] - a[i]) * along[i] for i in range(3)) / long if long > 0.0 else 0.0
    return _between(a, b, min(max(share, 0.0), 1.0))
