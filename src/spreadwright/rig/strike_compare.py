"""What other gear would do in the strike: nylon against braid, other marks, leaders, weights and drags.

Every variant is struck by the usual fish, eight side by side; the rig as it is and its counterpart in the other
material by the whole range. Shares are of each link's own strength, so that they can be compared.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from spreadwright.rig.assemble import Gear, assemble, gear_from_shelf
from spreadwright.rig.chain import Chain
from spreadwright.rig.loads import strike_case
from spreadwright.rig.strength import Margin, review_strength
from spreadwright.rig.strike import SETTINGS, FishedRig, Pulls, RigStrike, strike_rig, usual_peaks
from spreadwright.tackle.line import MainLine
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.span import Span
from spreadwright.tackle.trip import Shelf
from spreadwright.tow.line import Failure

Kind = Literal[
    "mark, nylon", "mark, braid", "mark, nylon, reel stuck", "mark, braid, reel stuck", "shock leader", "weight", "drag"
]
DRAG_STEPS = (0.5, 0.75, 1.0, 1.25)  # of the strike drag


@dataclass(frozen=True, slots=True)
class Variant:
    """One rig that differs in one thing: which thing, how it reads, its number (mark [m], mass [kg], drag [N], leader's
    length [m]), the worst link and its share, and the greatest pull on any link [N]; as_is: the rig itself."""

    kind: Kind
    label: str
    value: float
    worst: Margin
    greatest: float
    as_is: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """All variants, the counterpart in the other line material over the whole range (None if it failed), its name."""

    variants: tuple[Variant, ...]
    counterpart: RigStrike | None
    counterpart_chain: Chain
    material: str

    def of(self, kind: Kind) -> tuple[Variant, ...]:
        """The variants of one kind, in order."""
        return tuple(each for each in self.variants if each.kind == kind)


def counterpart_of(outfit: Outfit) -> Outfit:
    """The same outfit with main line of the same strength in the other material: braid for nylon, nylon for the rest.

    Its thickness follows from its strength (see the materials table), and all else stays.
    """
    material = "braid" if outfit.line.material in ("nylon", "fluorocarbon") else "nylon"
    line = MainLine(material=material, strength=outfit.line.strength, length=outfit.line.length)
    return outfit.model_copy(update={"line": line})


@dataclass(frozen=True, slots=True)
class _Asked:
    """One variant to strike: what is changed, its number, the rig, the drag where not its own [N], the reel stuck."""

    kind: Kind
    label: str
    value: float
    rig: FishedRig
    drag: float | None = None
    stuck: bool = False


def compare(rig: FishedRig, shelf: Shelf, speed: float, density: float) -> Comparison:
    """The rig against its variants: boat's speed [m/s], density of the water [kg/m3]."""
    other = counterpart_of(rig.outfit)
    asked = _asked(rig, other, shelf)
    chains = [assemble(each.rig.outfit, _gear(shelf, each.rig)) for each in asked]
    pulls = usual_peaks(
        [each.rig for each in asked], chains, speed, density, SETTINGS, [each.drag for each in asked],
        [each.stuck for each in asked],
    )  # fmt: skip
    variants = [_variant(each, rig, chain, found) for each, chain, found in zip(asked, chains, pulls, strict=True)]
    turned = replace(rig, outfit=other)
    chain = assemble(other, _gear(shelf, turned))
    struck = strike_rig(turned, chain, speed, density)
    return Comparison(
        tuple(each for each in variants if each is not None), None if isinstance(struck, Failure) else struck, chain,
        other.line.material,
    )  # fmt: skip


def _asked(rig: FishedRig, other: Outfit, shelf: Shelf) -> list[_Asked]:
    """Every mark in both materials, with the reel slipping and stuck; every leader and weight; other drags."""
    asked = []
    for outfit in sorted((rig.outfit, other), key=lambda each: each.line.material != "braid"):
        braid = outfit.line.material == "braid"
        kinds: tuple[Kind, Kind] = ("mark, braid", "mark, braid, reel stuck")
        if not braid:
            kinds = ("mark, nylon", "mark, nylon, reel stuck")
        for kind, stuck in zip(kinds, (False, True), strict=True):
            asked += [
                _Asked(kind, outfit.line.material, mark, replace(rig, outfit=outfit, mark=mark), None, stuck)
                for mark in outfit.marks
            ]
    asked += [_Asked("shock leader", s.name, s.length, replace(rig, shock_leader=s)) for s in shelf.shock_leaders]
    asked += [_Asked("weight", w.name, w.mass, replace(rig, weight=w)) for w in shelf.weights]
    drags = [share * rig.outfit.strike_drag for share in DRAG_STEPS]
    return [*asked, *(_Asked("drag", "", drag, rig, drag) for drag in drags)]


def _gear(shelf: Shelf, rig: FishedRig) -> Gear:
    return gear_from_shelf(shelf, rig.outfit, rig.shock_leader, rig.bite_leader, rig.lure, rig.weight)


def _variant(asked: _Asked, own: FishedRig, chain: Chain, pulls: Pulls | Failure) -> Variant | None:
    worst = None if isinstance(pulls, Failure) else worst_of(chain, pulls)
    if worst is None or isinstance(pulls, Failure):
        return None
    as_is = asked.rig == own and asked.drag in (None, own.outfit.strike_drag) and not asked.stuck
    return Variant(asked.kind, asked.label, asked.value, worst, max(pulls.values()), as_is)


def worst_of(chain: Chain, pulls: Pulls) -> Margin | None:
    """The link with the largest share of its strength; None where no strength is known."""
    case = strike_case(chain, {link: Span.exactly(pull) for link, pull in pulls.items()})
    return review_strength(chain, [case]).weakest


def span_of_shares(variants: Sequence[Variant]) -> tuple[Variant, Variant] | None:
    """The variants with the least and with the greatest share, None where there are fewer than two."""
    known = sorted(variants, key=lambda each: each.worst.share.usual if each.worst.share else 0.0)
    return (known[0], known[-1]) if len(known) > 1 else None
