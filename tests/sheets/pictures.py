"""Reads a drawing back: its texts with the room they need, its paths, and the box that all must lie in."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree

from spreadwright.sheets.labels import Box
from spreadwright.sheets.svg import text_width

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Said:
    words: str
    box: Box
    size: float


@dataclass(frozen=True)
class Stroke:
    points: tuple[tuple[float, float], ...]
    attributes: dict[str, str]


@dataclass(frozen=True)
class Picture:
    root: ElementTree.Element
    view: Box
    said: tuple[Said, ...]
    strokes: tuple[Stroke, ...]

    def lines(self, view: str) -> list[Stroke]:
        """The fishing lines of one view, in the order drawn."""
        return [stroke for stroke in self.strokes if stroke.attributes.get("data-view") == view]


def away(point: tuple[float, float], stroke: Stroke) -> float:
    """Distance of a point from a drawn line."""
    return min(_from_piece(point, a, b) for a, b in pairwise(stroke.points))


def _from_piece(point: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    along = (b[0] - a[0], b[1] - a[1])
    long = along[0] ** 2 + along[1] ** 2
    share = ((point[0] - a[0]) * along[0] + (point[1] - a[1]) * along[1]) / long if long else 0.0
    share = min(max(share, 0.0), 1.0)
    return math.dist(point, (a[0] + share * along[0], a[1] + share * along[1]))


def read(text: str) -> Picture:
    root = ElementTree.fromstring(text)
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    strokes = tuple(Stroke(tuple(_pairs(path.attrib["d"])), path.attrib) for path in root.iter(f"{SVG}path")) + tuple(
        Stroke(tuple(_round(circle)), circle.attrib) for circle in root.iter(f"{SVG}circle")
    )
    return Picture(
        root, Box(left, top, left + width, top + height), tuple(map(_said, root.iter(f"{SVG}text"))), strokes
    )


def _pairs(d: str) -> list[tuple[float, float]]:
    assert re.fullmatch(r"(?:[MLQZ]|-?\d+(?:\.\d+)?|[, ])*", d), d
    numbers = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", d)]
    assert len(numbers) % 2 == 0
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _round(circle: ElementTree.Element) -> list[tuple[float, float]]:
    x, y, r = (float(circle.attrib[key]) for key in ("cx", "cy", "r"))
    return [(x - r, y - r), (x + r, y + r)]


def _said(text: ElementTree.Element) -> Said:
    x, y, size = (float(text.attrib[key]) for key in ("x", "y", "font-size"))
    bold = text.attrib.get("font-weight") == "600"
    width = text_width(text.text or "", size, bold=bold)
    for span in text:
        width += text_width(span.text or "", size, bold=True) + text_width(span.tail or "", size)
    shift = {"end": width, "middle": width / 2}.get(text.attrib.get("text-anchor", ""), 0.0)
    box = Box(x - shift, y - 0.75 * size, x - shift + width, y + 0.22 * size)
    return Said("".join(text.itertext()), box, size)
