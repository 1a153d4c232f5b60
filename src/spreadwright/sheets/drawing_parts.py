"""The pieces of the spread's drawing: boat, rods, lines, weights, lures, scales and words, in one plain hand.

Everything is told apart by shape or line pattern; colour only helps. The tints are those of a quiet sheet of paper.
"""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.sheets.labels import Box
from spreadwright.sheets.svg import FONT, Point, element, path, safe, simplified, text_width, wrapped

INK = "#1b2f42"
SOFT = "#586876"
GRID = "#b9ccd6"
PAPER = "#fffdf8"
WATER = "#e4f0f5"
DEEPER = "#f1f7fa"
RANGE = "#b3cfdd"
HULL = "#f3e8cb"
ALARM = "#a0145a"

# Line patterns, one rod each; the ninth rod begins anew with a thicker line.
PATTERNS = ("", "8 3", "2 2.6", "10 3 2 3", "16 4", "6 2.5 1.5 2.5 1.5 2.5", "4 2", "13 3 4 3")


def words(
    said: str,
    at: Point,
    size: float,
    *,
    bold: bool = False,
    colour: str = INK,
    anchor: str | None = None,
    halo: str | None = None,
    slanted: bool = False,
) -> str:
    """One line of text on its baseline; a halo in the colour of what is behind keeps lines off the letters."""
    edge: dict[str, str | float] = (
        {"stroke": halo, "stroke_width": 2.6, "stroke_linejoin": "round", "paint_order": "stroke"} if halo else {}
    )
    return element(
        "text",
        safe(said),
        x=at[0],
        y=at[1],
        font_size=size,
        font_weight="600" if bold else None,
        font_style="italic" if slanted else None,
        fill=colour,
        text_anchor=anchor,
        **edge,
    )


def paragraph(
    said: str, at: Point, size: float, room: float, *, bold: bool = False, colour: str = INK
) -> tuple[list[str], float]:
    """A text in lines that fit into `room`, from its upper left corner; with the height that it ends at."""
    lines = wrapped(said, size, room, bold=bold)
    parts = [
        words(line, (at[0], at[1] + (1.0 + 1.25 * i) * size), size, bold=bold, colour=colour)
        for i, line in enumerate(lines)
    ]
    return parts, at[1] + (0.3 + 1.25 * len(lines)) * size


def words_box(said: str, at: Point, size: float, *, bold: bool = False, anchor: str | None = None) -> Box:
    """The room that `words` may need at most."""
    width = text_width(said, size, bold=bold)
    left = at[0] - (width if anchor == "end" else width / 2 if anchor == "middle" else 0.0)
    return Box(left, at[1] - 0.8 * size, left + width, at[1] + 0.25 * size)


def pattern(index: int) -> str | None:
    """The dashes of the rod at this place in the plan; none for a plain line."""
    return PATTERNS[index % len(PATTERNS)] or None


def line(points: Sequence[Point], index: int, *, worst: bool = False, rod: str | None = None, view: str = "") -> str:
    """A fishing line in its rod's pattern; the worst pair's are thicker. It carries its rod's name and its view, for
    pages that want to find it."""
    thick = 1.3 + 0.9 * (index // len(PATTERNS)) + (1.0 if worst else 0.0)
    return element(
        "path",
        d=path(simplified(points)),
        fill="none",
        stroke=ALARM if worst else INK,
        stroke_width=thick,
        stroke_dasharray=pattern(index),
        stroke_linejoin="round",
        data_rod=rod,
        data_view=view or None,
    )


def rule(start: Point, end: Point, *, colour: str = GRID, width: float = 0.8, dashes: str | None = None) -> str:
    """A thin straight line of the sheet itself: grid, plumb line, edge of a scale."""
    return element(
        "path", d=path((start, end)), fill="none", stroke=colour, stroke_width=width, stroke_dasharray=dashes
    )


def stem(points: Sequence[Point]) -> str:
    """The dotted line from a piece of gear to its label."""
    return element("path", d=path(points), fill="none", stroke=SOFT, stroke_width=0.8, stroke_dasharray="1 2.5")


def weight(at: Point) -> str:
    """A trolling weight: a full spindle."""
    x, y = at
    reach, half = 6.0, 2.7
    spindle = f"{path(((x - reach, y),))}Q{x - 2:.2f},{y - 2 * half:.2f} {x + reach:.2f},{y:.2f}"
    spindle += f"Q{x - 2:.2f},{y + 2 * half:.2f} {x - reach:.2f},{y:.2f}Z"
    return element("path", d=spindle, fill=INK, stroke=PAPER, stroke_width=0.7)


def lure(at: Point) -> str:
    """A lure: an open head towards the boat and a skirt behind it."""
    x, y = at
    shape = [
        (5, -2.2),
        (6.5, 0),
        (5, 2.2),
        (0, 2.8),
        (-7, 4.6),
        (-4.5, 1.6),
        (-8.5, 0),
        (-4.5, -1.6),
        (-7, -4.6),
        (0, -2.8),
    ]
    points = [(x + dx, y + dy) for dx, dy in shape]
    return element(
        "path", d=path(points, closed=True), fill=PAPER, stroke=INK, stroke_width=1.1, stroke_linejoin="round"
    )


def weight_end(at: Point) -> str:
    """A weight where lines run every way: a full dot."""
    return element("circle", cx=at[0], cy=at[1], r=2.8, fill=INK)


def lure_end(at: Point) -> str:
    """A lure where lines run every way: a small open ring."""
    return element("circle", cx=at[0], cy=at[1], r=3.4, fill=PAPER, stroke=INK, stroke_width=1.2)


def tip(at: Point) -> str:
    """A rod tip, where the mark stands."""
    return element("circle", cx=at[0], cy=at[1], r=2.2, fill=PAPER, stroke=INK, stroke_width=1.2)


def rod(butt: Point, end: Point) -> str:
    """A rod from its holder to its tip."""
    return element("path", d=path((butt, end)), fill="none", stroke=INK, stroke_width=1.5, stroke_linecap="round")


def doubt(x: float, shallow: float, deep: float) -> str:
    """A range of depth: an upright bar with short ends."""
    bars = [((x, shallow), (x, deep)), ((x - 2.5, shallow), (x + 2.5, shallow)), ((x - 2.5, deep), (x + 2.5, deep))]
    return element("path", d="".join(path(bar) for bar in bars), fill="none", stroke=INK, stroke_width=0.9)


def boat_above(transom: float, middle: float, length: float, half_beam: float) -> str:
    """The boat from above, bow to the right: hull, deck edge and house. A sketch, whatever boat it is."""
    x, y, b, n = transom, middle, half_beam, length
    hull = (
        f"M{x:.2f},{y - 0.9 * b:.2f}L{x + 0.45 * n:.2f},{y - b:.2f}"
        f"Q{x + 0.82 * n:.2f},{y - 0.95 * b:.2f} {x + n:.2f},{y:.2f}"
        f"Q{x + 0.82 * n:.2f},{y + 0.95 * b:.2f} {x + 0.45 * n:.2f},{y + b:.2f}L{x:.2f},{y + 0.9 * b:.2f}Z"
    )
    house = (
        f"M{x + 0.36 * n:.2f},{y - 0.55 * b:.2f}L{x + 0.62 * n:.2f},{y - 0.55 * b:.2f}"
        f"Q{x + 0.74 * n:.2f},{y:.2f} {x + 0.62 * n:.2f},{y + 0.55 * b:.2f}L{x + 0.36 * n:.2f},{y + 0.55 * b:.2f}Z"
    )
    return element("path", d=hull, fill=HULL, stroke=INK, stroke_width=1.2, stroke_linejoin="round") + element(
        "path", d=house, fill=PAPER, stroke=SOFT, stroke_width=0.9, stroke_linejoin="round"
    )


def turns_range(x: float, shallow: float, deep: float) -> str:
    """A range of depth through the turns: a pale bar."""
    return element("rect", x=x - 4.0, y=shallow, width=8.0, height=max(deep - shallow, 1.0), rx=2, fill=RANGE)


def boat_beside(transom: float, water: float, length: float, freeboard: float, roof: float) -> str:
    """The boat from the side, bow to the right: hull, house, and a roof on posts `roof` over the water. A sketch."""
    x, n, top, high = transom, length, water - freeboard, water - roof
    hull = (
        f"M{x:.2f},{top:.2f}Q{x + 0.6 * n:.2f},{top:.2f} {x + n:.2f},{top - 0.5 * freeboard:.2f}"
        f"Q{x + 0.93 * n:.2f},{water - 0.25 * freeboard:.2f} {x + 0.84 * n:.2f},{water:.2f}L{x:.2f},{water:.2f}Z"
    )
    corners = ((0.34, top), (0.36, high), (0.56, high), (0.7, top))
    house = path([(x + share * n, y) for share, y in corners], closed=True)
    ledge = path(((x + 0.1 * n, high), (x + 0.64 * n, high)))
    post = path(((x + 0.14 * n, top), (x + 0.14 * n, high)))
    return (
        element("path", d=house, fill=PAPER, stroke=SOFT, stroke_width=0.9, stroke_linejoin="round")
        + element("path", d=post, fill="none", stroke=SOFT, stroke_width=0.9)
        + element("path", d=ledge, fill="none", stroke=INK, stroke_width=2.2, stroke_linecap="round")
        + element("path", d=hull, fill=HULL, stroke=INK, stroke_width=1.2, stroke_linejoin="round")
    )


def scale_bar(at: Point, step: float, count: int, height: float = 4.0) -> str:
    """A bar of `count` equal steps, dark and light in turn, from its left upper corner."""
    x, y = at
    return "".join(
        element(
            "rect", x=x + i * step, y=y, width=step, height=height, fill=INK if i % 2 == 0 else PAPER, stroke=INK,
            stroke_width=0.7,
        )
        for i in range(count)
    )  # fmt: skip


def sheet(
    parts: Sequence[str], width: float, height: float, name: str, title: str, told: str, *, paper: bool = True
) -> str:
    """The whole drawing: named and told in words for those who cannot see it, on its own paper or bare."""
    return element(
        "svg",
        element("title", safe(title), id=f"{name}-title"),
        element("desc", safe(told), id=f"{name}-told"),
        element("rect", x=0, y=0, width=width, height=height, fill=PAPER) if paper else "",
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {width:g} {height:.1f}",
        role="img",
        aria_labelledby=f"{name}-title {name}-told",
        font_family=FONT,
    )
