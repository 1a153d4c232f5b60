"""The spread drawn once, from above and from the side, for page, PDF, deck sheet and README: `spread_drawing(plan)`.

A pure function from plan to SVG text. Places come from the plan's own drawing, names and numbers from its rods.
"""

from __future__ import annotations

from spreadwright.plan.value import Plan
from spreadwright.quantity import System
from spreadwright.sheets import drawing_parts as part
from spreadwright.sheets.drawing_scale import Scales, scales
from spreadwright.sheets.drawing_views import Drawn, above, beside, distance_ticks
from spreadwright.sheets.drawing_worst import worst_moment
from spreadwright.sheets.figures import counted, estimate, given, plain, system_of
from spreadwright.sheets.svg import Point, text_width
from spreadwright.sheets.wording import by_set_out, closest_in_words

LEAST_WIDTH = 320.0
NARROW, WIDE = 390.0, 760.0  # a phone held upright; a page or a printed sheet
BOW_NARROW, BOW_WIDE = 72.0, 96.0  # room for the boat


LEGEND = (
    ("tip", "rod tip, at its mark"),
    ("weight", "weight"),
    ("lure", "lure"),
    ("doubt", "depth in doubt"),
    ("turns", "range in the turns"),
    ("worst", "closest pair"),
)


def spread_drawing(
    plan: Plan,
    *,
    width: float = WIDE,
    system: System | None = None,
    name: str = "spread",
    worst: bool = False,
    paper: bool = True,
) -> str:
    """The drawing as SVG text, `width` units wide (a unit is a screen pixel if shown at that width).

    Words keep their size whatever the width: draw it at 390 for a phone, wider for a page or paper. `name` begins the
    ids inside, so that two drawings can stand in one page; `worst` adds the moment of the smallest gap; without
    `paper` the ground is left bare, for printing.
    """
    units = system_of(plan, system)
    width = max(width, LEAST_WIDTH)
    measure = scales(plan, width, units, BOW_NARROW if width < 560.0 else BOW_WIDE)
    top = 8.0
    head, top = _caption(f"From above, straight on at {given(plan.speed, 'speed', units)}", measure, top)
    seen_above = above(plan, measure, units, top)
    scale, top = _distances(plan, measure, seen_above.bottom)
    second, top = _caption("From the side", measure, top)
    seen_beside = beside(plan, measure, units, top)
    turning = worst_moment(plan, measure, units, seen_beside.bottom) if worst else Drawn((), seen_beside.bottom)
    foot = _foot(plan, measure, units, turning.bottom)
    parts = [*head, *seen_above.parts, *scale, *second, *seen_beside.parts, *turning.parts, *foot.parts]
    title = f"The spread of {plain(plan.boat)}: {counted(len(plan.rods), 'line')}"
    return part.sheet(parts, width, foot.bottom + 8.0, name, title, told(plan, units), paper=paper)


def _caption(said: str, measure: Scales, top: float) -> tuple[list[str], float]:
    return part.paragraph(said, (measure.left, top), measure.text + 1.0, measure.right - measure.left, bold=True)


def _distances(plan: Plan, measure: Scales, top: float) -> tuple[list[str], float]:
    """Words of the distance scale between the two views."""
    size = measure.text
    base = top + 1.2 * size
    parts = [
        part.words(said, (x, base), size, colour=part.SOFT, anchor="middle")
        for x, said in distance_ticks(plan, measure)
    ]
    said = "astern"
    if measure.transom + 10.0 + text_width(said, size) <= measure.right:
        parts.append(part.words(said, (measure.transom + 10.0, base), size, colour=part.SOFT))
    return parts, top + 1.7 * size


def _legend(measure: Scales, top: float) -> Drawn:
    """What the signs mean, in as many rows as they need."""
    size, x, y = measure.text, measure.left, top + 1.2 * measure.text
    parts: list[str] = []
    for sign, said in LEGEND:
        need = 22.0 + text_width(said, size) + 12.0
        if x + need > measure.right and x > measure.left:
            x, y = measure.left, y + 1.5 * size
        at = (x + 9.0, y - 0.36 * size)
        parts += [_sign(sign, at), part.words(said, (x + 22.0, y), size)]
        x += need
    return Drawn(tuple(parts), y + 0.4 * size)


def _sign(sign: str, at: Point) -> str:
    x, y = at
    if sign == "doubt":
        return part.doubt(x, y - 5.5, y + 5.5)
    if sign == "turns":
        return part.turns_range(x, y - 5.5, y + 5.5)
    if sign == "worst":
        return part.line([(x - 9.0, y), (x + 9.0, y)], 0, worst=True)
    return {"tip": part.tip, "weight": part.weight, "lure": part.lure}[sign](at)


def _foot(plan: Plan, measure: Scales, system: System, top: float) -> Drawn:
    """What the signs mean, the stretches, and the worst pair."""
    size = measure.text
    legend = _legend(measure, top)
    parts, y = list(legend.parts), legend.bottom
    stretched = (
        f"To scale, but width is stretched {measure.across:g} times and depth {measure.down:g} times. "
        "The boat is a sketch."
    )
    for said, bold in ((stretched, False), (closest_in_words(plan, system), True)):
        colour, wide = part.INK if bold else part.SOFT, measure.right - measure.left
        lines, y = part.paragraph(said, (measure.left, y + 0.4 * size), size, wide, bold=bold, colour=colour)
        parts += lines
    return Drawn(tuple(parts), y)


def told(plan: Plan, system: System) -> str:
    """The drawing in words: every line with its station, mark and depths, and the pair that comes closest."""
    lines = [
        f"{plain(rod.rod)} from {plain(rod.station)} on its {given(rod.mark, 'length', system)} mark: weight "
        f"{estimate(rod.weight_depth, 'length', system)} deep, lure {estimate(rod.lure_depth, 'length', system)} deep."
        for rod in by_set_out(plan)
    ]
    return " ".join([*lines, closest_in_words(plan, system)])
