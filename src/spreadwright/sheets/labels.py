"""Finds places for names in a drawing, so that no text lies on another text or on a piece of gear."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from spreadwright.sheets.svg import Point

STEP_COST = 0.1


@dataclass(frozen=True)
class Box:
    """A rectangle on the sheet, y downward."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """True if the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )  # fmt: skip

    def within(self, other: Box) -> bool:
        """True if this one lies inside the other."""
        return (
            self.left >= other.left
            and self.right <= other.right
            and self.top >= other.top
            and self.bottom <= other.bottom
        )  # fmt: skip

    def cut_by(self, start: Point, end: Point) -> bool:
        """True if the straight piece from `start` to `end` passes through the box (Liang and Barsky's clipping)."""
        near, far = 0.0, 1.0
        for origin, step, low, high in (
            (start[0], end[0] - start[0], self.left, self.right),
            (start[1], end[1] - start[1], self.top, self.bottom),
        ):
            if step == 0.0:
                if not low < origin < high:
                    return False
                continue
            first, last = sorted(((low - origin) / step, (high - origin) / step))
            near, far = max(near, first), min(far, last)
        return near < far


@dataclass
class Placer:
    """Keeps what is taken in one part of the sheet, and finds room for more."""

    bounds: Box
    taken: list[Box] = field(default_factory=list)
    lines: list[Sequence[Point]] = field(default_factory=list)

    def crossings(self, box: Box) -> int:
        """How many drawn lines pass through the box."""
        return sum(any(box.cut_by(line[i], line[i + 1]) for i in range(len(line) - 1)) for line in self.lines)

    def free(self, box: Box) -> bool:
        """True if the box lies inside the bounds and on nothing that is taken."""
        return box.within(self.bounds) and not any(box.meets(other) for other in self.taken)

    def take(self, candidates: Iterable[Box]) -> Box | None:
        """The free candidate that costs least, taken from now on; None if none is free.

        Candidates come best first. Each step down that list costs a tenth of a line through the text.
        """
        best, least = None, math.inf
        for rank, box in enumerate(candidates):
            if STEP_COST * rank >= least:
                break
            if self.free(box):
                cost = self.crossings(box) + STEP_COST * rank
                if cost < least:
                    best, least = box, cost
        if best is not None:
            self.taken.append(best)
        return best


def around(at: Point, width: float, height: float, clear: float, bounds: Box) -> list[Box]:
    """Places for a box near a point, nearest first: behind it, over it, under it, before it; then further and further.

    `clear` is kept free around the point.
    """
    x, y = at
    boxes = [
        _box(x - clear - width, y - height / 2, width, height),
        _box(x - clear - width, y - height, width, height),
        _box(x - clear - width, y, width, height),
        _box(x, y - clear - height, width, height),
        _box(x, y + clear, width, height),
        _box(x - width / 2, y - clear - height, width, height),
        _box(x - width / 2, y + clear, width, height),
        _box(x + clear, y - height / 2, width, height),
    ]
    step = height / 2
    rows = int((bounds.bottom - bounds.top) / step) + 1
    for ring in range(1, rows + 1):
        for side in (-1, 1):
            middle = y + side * (clear + height / 2 + ring * step)
            lefts = (x - clear - width, x, x - width / 2, x - width - 4 * clear, x + 4 * clear)
            boxes += [_box(left, middle - height / 2, width, height) for left in lefts]
    return boxes


def _box(left: float, top: float, width: float, height: float) -> Box:
    return Box(left, top, left + width, top + height)


@dataclass(frozen=True)
class Flag:
    """A label that hangs from a point: where its stem stands, which is the left edge of its text, and its row."""

    stem: float
    row: int


STEMS_APART = 5.0


def flags(places: Sequence[float], widths: Sequence[float], left: float, right: float) -> list[Flag]:
    """Rows and stems for labels under a panel, in as few rows as there is room for between `left` and `right`.

    Stems keep the order of their points, so lines from point to stem never cross. Rows run from the deepest at the
    left to the highest, again and again, so that the stem of a deeper label never passes through a higher one.
    """
    order = sorted(range(len(places)), key=lambda i: places[i])
    points, wide = [places[i] for i in order], [widths[i] for i in order]
    for rows in range(1, len(order) + 1):
        row = [rows - 1 - k % rows for k in range(len(order))]
        stems = _stems(points, wide, row, left, right)
        if stems is not None:
            break
    else:  # not even one below the other: they lie beside the sheet's edge rather than on one another
        stems = [left + STEMS_APART * k for k in range(len(order))]
    found = [Flag(0.0, 0)] * len(order)
    for k, i in enumerate(order):
        found[i] = Flag(stems[k], row[k])
    return found


def _stems(points: list[float], wide: list[float], row: list[int], left: float, right: float) -> list[float] | None:
    """Stems near their points that keep clear of one another; None if there is no room in these rows.

    Least feasible places right of the points and greatest left of them; their mean is feasible too and the fairest.
    """
    count = len(points)

    def clear(i: int, j: int) -> float:  # from stem i to a stem j right of it
        return wide[i] if row[j] >= row[i] else STEMS_APART

    lowest, highest = [left] * count, [right - width for width in wide]
    for j in range(count):
        lowest[j] = max([left, *(lowest[i] + clear(i, j) for i in range(j))])
    for i in reversed(range(count)):
        highest[i] = min([right - wide[i], *(highest[j] - clear(i, j) for j in range(i + 1, count))])
    if any(low > high for low, high in zip(lowest, highest, strict=True)):
        return None
    after, before = list(points), list(points)
    for j in range(count):
        after[j] = min(max([points[j], lowest[j], *(after[i] + clear(i, j) for i in range(j))]), highest[j])
    for i in reversed(range(count)):
        wanted = min([points[i], highest[i], *(before[j] - clear(i, j) for j in range(i + 1, count))])
        before[i] = max(wanted, lowest[i])
    return [0.5 * (a + b) for a, b in zip(after, before, strict=True)]
