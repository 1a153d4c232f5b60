"""Which link parts first, with what chance, what then stays in the fish, and how to leave less there.

Every pull goes through all links, so the weakest parts. With strengths known only as ranges the
answer is a chance: each strength is taken as a triangle from low over usual to high, independent
of the others (common wet loss makes links less independent than that).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.quantity import System, show
from spreadwright.rig.chain import Chain, LeftBehind, Link
from spreadwright.tackle.span import Span

# A made weak link stays this far under the next weakest and over the greatest load: common
# practice, no source.
UNDER_NEXT = 0.9
OVER_LOAD = 1.2
_STEPS = 4000


@dataclass(frozen=True, slots=True)
class BreakStep:
    """One link in the order of parting.

    strength [N]; chance [1] that it is the first to part under one pull on all; left: what then
    stays with the fish.
    """

    link: str
    weak_spot: str
    strength: Span
    chance: float
    left: LeftBehind


@dataclass(frozen=True, slots=True)
class WeakLinkWindow:
    """Strength [N] a purpose-made weak link needs: from least to most; possible if least <= most.

    least: what the greatest load asks for, with reserve; most: safely under the next weakest link.
    """

    place: str
    least: float
    most: float
    left: LeftBehind

    @property
    def possible(self) -> bool:
        """True if there is any strength that holds the load and still parts first."""
        return self.least <= self.most


def break_order(chain: Chain) -> tuple[BreakStep, ...]:
    """Bearing links with known strength, weakest usual strength first, with their chances.

    The chances add up to 1. Links of unknown strength are left out.
    """
    links = [link for link in chain.bearing if link.strength is not None]
    strengths = [link.strength for link in links if link.strength is not None]
    chances = chance_weakest(strengths)
    steps = [
        BreakStep(link.name, link.weak_spot, strength, chance, chain.left_behind(link.name))
        for link, strength, chance in zip(links, strengths, chances, strict=True)
    ]
    return tuple(sorted(steps, key=lambda step: (step.strength.usual, -step.chance)))


def chance_weakest(strengths: list[Span]) -> list[float]:
    """Chance [1] of each strength [N] to be the least, as independent triangles.

    P_i = integral of f_i(x) prod over j != i of (1 - F_j(x)) dx, midpoint rule on 4000 steps in the
    distribution functions. Exact values are widened by 0.1 %, so equal ones share evenly.

    >>> [round(chance, 3) for chance in chance_weakest([Span(1, 2, 3), Span(1, 2, 3)])]
    [0.5, 0.5]
    """
    if not strengths:
        return []
    wide = [_widened(strength) for strength in strengths]
    edges = np.linspace(min(s.low for s in wide), max(s.high for s in wide), _STEPS + 1)
    functions = np.array([_triangle(edges, strength) for strength in wide])
    share = np.diff(functions, axis=1)
    stands = 1.0 - 0.5 * (functions[:, :-1] + functions[:, 1:])
    raw = np.array([np.sum(share[at] * np.prod(np.delete(stands, at, axis=0), axis=0)) for at in range(len(wide))])
    return [float(chance) for chance in raw / raw.sum()]


def _widened(strength: Span) -> Span:
    least = 0.001 * strength.usual
    return Span(
        min(strength.low, strength.usual - least),
        strength.usual,
        max(strength.high, strength.usual + least),
    )


def _triangle(at: NDArray[np.float64], span: Span) -> NDArray[np.float64]:
    """Distribution function of the triangle low-usual-high at `at`."""
    low, usual, high = span.low, span.usual, span.high
    rising = (at - low) ** 2 / ((high - low) * (usual - low))
    falling = 1.0 - (high - at) ** 2 / ((high - low) * (high - usual))
    inside = np.where(at <= usual, rising, falling)
    return np.where(at <= low, 0.0, np.where(at >= high, 1.0, inside))


def preferred_first(chain: Chain) -> Link:
    """The bearing link that leaves least in the fish when it parts: least weight, then length.

    This is what a break order is designed for; hooks that open leave nothing but are not counted on.
    """
    links = [link for link in chain.bearing if link.kind != "hook"]

    def gear_left(link: Link) -> tuple[float, float, int]:
        left = chain.left_behind(link.name)
        return left.mass, left.length, len(left.names)

    return min(links, key=gear_left)


def weak_link_window(chain: Chain, place: str, greatest_load: float) -> WeakLinkWindow:
    """Strength a weak link at `place` (a link's name) needs to part first yet hold `greatest_load` [N].

    most = 0.9 x the least strength of any other link; least = 1.2 x the greatest load. Raises
    KeyError for a link that is not there.
    """
    chain.link(place)
    others = [link.strength.low for link in chain.bearing if link.name != place and link.strength is not None]
    most = UNDER_NEXT * min(others) if others else float("inf")
    return WeakLinkWindow(place, OVER_LOAD * greatest_load, most, chain.left_behind(place))


def break_order_in_words(chain: Chain, greatest_load: float | None = None, system: System = "us") -> str:
    """What parts first, what stays in the fish, and what would leave less; greatest_load [N] if known."""
    steps = break_order(chain)
    if not steps:
        return "No link's strength is known: the order of parting cannot be told."
    first = max(steps, key=lambda step: step.chance)
    likely = "as good as certain" if first.chance > 0.99 else f"{100 * first.chance:.0f} % likely"
    text = f"First to part: {first.weak_spot} ({likely}). The fish then keeps {_left_in_words(first.left, system)}."
    best = preferred_first(chain)
    if best.name == first.link:
        return text + " That leaves least behind."
    text += (
        f" Least would stay behind if the {best.name} parted first "
        f"({_left_in_words(chain.left_behind(best.name), system)})."
    )
    if greatest_load is None:
        return text
    window = weak_link_window(chain, best.name, greatest_load)
    if not window.possible:
        return text + " No strength for that link both holds the greatest load and parts first."
    return (
        text + f" To do that, make it {show(window.least, 'force', system, figures=2)} to "
        f"{show(window.most, 'force', system, figures=2)}."
    )


def _left_in_words(left: LeftBehind, system: System) -> str:
    if not left.names:
        return "nothing"
    what = ", ".join(left.names) if len(left.names) <= 3 else f"everything from the {left.names[0]} down"
    length = f", {show(left.length, 'length', system, figures=2)} in all" if left.length else ""
    mass = f", {show(left.mass, 'mass', system, figures=2)} of weight and lure" if left.mass else ""
    return what + length + mass
