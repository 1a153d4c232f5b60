"""Writes SVG: elements as text, escaped, with short numbers, and the width that a text may need at most.

Only presentation attributes are written, no style sheet and no script: the drawing looks the same in a page with a
strict content-security policy, in a PDF, and as a file of its own.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

from spreadwright.sheets.figures import tied

Point = tuple[float, float]

FONT = "system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, 'Noto Sans', 'Libertinus Serif', sans-serif"
# Widths over the font size, those of a wide sans serif face, so that a text never needs more than is kept free for it.
_NARROW, _WIDE = frozenset("ijlI.,:;'|!()[]ft \u00a0"), frozenset("mwMW@%—½¼¾≈")


def element(name: str, *children: str, **attributes: str | float | None) -> str:
    """An element with its children; `_` in an attribute's name stands for `-`, a trailing one is dropped."""
    texts = {
        key.rstrip("_").replace("_", "-"): _allowed(value) if isinstance(value, str) else number(value)
        for key, value in attributes.items()
        if value is not None
    }
    given = "".join(f" {key}={quoteattr(value)}" for key, value in texts.items())
    inner = "".join(children)
    return f"<{name}{given}>{inner}</{name}>" if inner else f"<{name}{given}/>"


def number(value: float) -> str:
    """A number as short as a drawing needs it: two decimals at most, never "-0"."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def path(points: Sequence[Point], *, closed: bool = False) -> str:
    """The `d` of a path through points."""
    steps = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return f"M{steps}{'Z' if closed else ''}"


def simplified(points: Sequence[Point], slack: float = 0.1) -> list[Point]:
    """The points without those that lie within `slack` of the line through the rest (Douglas and Peucker, 1973)."""
    if len(points) < 3:
        return list(points)
    (x0, y0), (x1, y1) = points[0], points[-1]
    long = math.hypot(x1 - x0, y1 - y0)

    def away(point: Point) -> float:
        x, y = point
        if long == 0.0:
            return math.hypot(x - x0, y - y0)
        along = min(max(((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / long**2, 0.0), 1.0)
        return math.hypot(x - x0 - along * (x1 - x0), y - y0 - along * (y1 - y0))

    far = max(range(1, len(points) - 1), key=lambda i: away(points[i]))
    if away(points[far]) <= slack:
        return [points[0], points[-1]]
    return [*simplified(points[: far + 1], slack)[:-1], *simplified(points[far:], slack)]


def safe(said: str) -> str:
    """A text as XML takes it: escaped, and without the control characters that XML forbids."""
    return escape(_allowed(said))


def _allowed(said: str) -> str:
    return "".join(sign for sign in said if unicodedata.category(sign)[0] != "C")


def text_width(said: str, size: float, *, bold: bool = False) -> float:
    """The width that a text may need at most at this font size, in the size's unit."""
    ems = 0.0
    for sign in said:
        if unicodedata.east_asian_width(sign) in "WF":
            ems += 1.02
        elif sign in _NARROW:
            ems += 0.36
        elif sign in _WIDE:
            ems += 0.95
        else:
            ems += 0.70 if sign.isupper() else 0.65
    return ems * size * (1.12 if bold else 1.0)


def shortened(said: str, size: float, room: float, *, bold: bool = False) -> str:
    """The text, cut with "…" where it does not fit into `room`; at least its first sign is left."""
    if text_width(said, size, bold=bold) <= room:
        return said
    kept = said
    while len(kept) > 1 and text_width(kept + "…", size, bold=bold) > room:
        kept = kept[:-1].rstrip()
    return f"{kept}…"


def wrapped(said: str, size: float, room: float, *, bold: bool = False) -> list[str]:
    """The text in lines that fit into `room`, broken at spaces but not inside a quantity; no line is a last word or two
    alone where the lines before can spare some."""
    lines = _filled(said, size, room, bold=bold)
    narrower = room
    while len(lines) > 1 and text_width(lines[-1], size, bold=bold) < room / 3 and narrower > room / 2:
        narrower *= 0.97
        fewer = _filled(said, size, narrower, bold=bold)
        if len(fewer) > len(lines) or any(each.endswith("…") for each in fewer):
            break
        lines = fewer
    return lines


def _filled(said: str, size: float, room: float, *, bold: bool) -> list[str]:
    lines: list[str] = []
    for word in tied(said).split(" "):
        if lines and text_width(f"{lines[-1]} {word}", size, bold=bold) <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(shortened(word, size, room, bold=bold))
    return lines
