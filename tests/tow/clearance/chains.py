"""Chains of vertices for the clearance tests, and their distances by brute force in exact or double arithmetic."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow.clearance.outline import Outline, outline_of

Floats = NDArray[np.float64]
Exact = list[Fraction]


def exact_distance2(segment: Floats, other: Floats) -> float:
    """Square of the distance of two segments (2, 3), every step in fractions: no rounding before the last.

    The least value of a convex quadratic on a square lies inside it, where both slopes vanish, or on one of its edges.
    """
    a, b = ([Fraction(float(x)) for x in end] for end in segment)
    c, d = ([Fraction(float(x)) for x in end] for end in other)
    along, across = _from(a, b), _from(c, d)
    found = [_to_point(c, a, along), _to_point(d, a, along), _to_point(a, c, across), _to_point(b, c, across)]
    uu, vv, uv = _dot(along, along), _dot(across, across), _dot(along, across)
    between = _from(c, a)
    determinant = uu * vv - uv * uv
    if determinant > 0:
        s = (uv * _dot(across, between) - vv * _dot(along, between)) / determinant
        t = (uu * _dot(across, between) - uv * _dot(along, between)) / determinant
        if 0 <= s <= 1 and 0 <= t <= 1:
            gap = [w + s * u - t * v for w, u, v in zip(between, along, across, strict=True)]
            found.append(_dot(gap, gap))
    return float(min(found))


def _from(a: Exact, b: Exact) -> Exact:
    return [y - x for x, y in zip(a, b, strict=True)]


def _dot(a: Exact, b: Exact) -> Fraction:
    return sum((x * y for x, y in zip(a, b, strict=True)), Fraction(0))


def _to_point(point: Exact, start: Exact, along: Exact) -> Fraction:
    square = _dot(along, along)
    share = _dot(_from(start, point), along) / square if square else Fraction(0)
    share = min(max(share, Fraction(0)), Fraction(1))
    gap = [p - s - share * u for p, s, u in zip(point, start, along, strict=True)]
    return _dot(gap, gap)


def every_distance(chain: Floats, other: Floats) -> Floats:
    """Distances of all segments of one chain (V, 3) from all of another (W, 3), without any bound: (V - 1, W - 1)."""
    a, u = chain[:-1, None].astype(float), np.diff(chain, axis=0)[:, None].astype(float)
    c, v = other[None, :-1].astype(float), np.diff(other, axis=0)[None].astype(float)
    w = a - c
    uu, vv, uv = (u * u).sum(-1), (v * v).sum(-1), (u * v).sum(-1)
    uw, vw = (u * w).sum(-1), (v * w).sum(-1)
    with np.errstate(all="ignore"):
        determinant = uu * vv - uv * uv
        shares = [
            ((uv * vw - vv * uw) / determinant, (uu * vw - uv * uw) / determinant),
            *((np.full_like(uu, s), (uv * s + vw) / vv) for s in (0.0, 1.0)),
            *(((uv * t - uw) / uu, np.full_like(uu, t)) for t in (0.0, 1.0)),
        ]
    least = np.full(uu.shape, np.inf)
    for s, t in shares:
        s, t = (np.clip(np.nan_to_num(x), 0.0, 1.0)[..., None] for x in (s, t))
        least = np.minimum(least, np.linalg.norm(w + s * u - t * v, axis=-1))
    return least


def gear_or_line(a: Outline, b: Outline, i: int, share: float, whole: bool) -> float:
    """The pair's distance at stored time i and a share of the interval after it, by brute force [m]."""
    j = min(i + 1, len(a.times) - 1)
    here = [each.vertices[i].astype(float) * (1.0 - share) + each.vertices[j].astype(float) * share for each in (a, b)]
    distances = every_distance(*here)
    if whole:
        return float(distances.min())
    return float(min(distances[a.gear :].min(), distances[:, b.gear :].min()))


def chain_of(vertices: Floats, gear: int) -> Outline:
    """An outline of vertices (T, V, 3), stored every second."""
    return outline_of("chain", np.arange(float(len(vertices))), vertices.astype(np.float32), gear)
