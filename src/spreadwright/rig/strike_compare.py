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
from spreadwright.rig.span import Span
from spreadwright.rig.strength import Margin, review_strength
from spreadwright.rig.strike import SETTINGS, FishedRig, Pulls, RigStrike, strike_rig, usual_peaks
from spreadwright.tackle.line import MainLine
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.trip import Shelf
from spreadwright.tow.line import Failure

Kind = Literal["mark, nylon", "mark, braid", "shock leader", "weight", "drag"]
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


def compare(rig: FishedRig, shelf: Shelf, speed: float, density: float) -> Comparison:
    """The rig against its variants: boat's speed [m/s], density of the water [kg/m3]."""
    other = counterpart_of(rig.outfit)
    by_material = {each.line.material: each for each in (other, rig.outfit)}
    asked: list[tuple[Kind, str, float, FishedRig, float | None]] = []
    for name, outfit in sorted(by_material.items()):
        kind: Kind = "mark, braid" if name == "braid" else "mark, nylon"
        asked += [(kind, name, mark, replace(rig, outfit=outfit, mark=mark), None) for mark in rig.outfit.marks]
    asked += [
        ("shock leader", each.name, each.length, replace(rig, shock_leader=each), None) for each in shelf.shock_leaders
    ]
    asked += [("weight", each.name, each.mass, replace(rig, weight=each), None) for each in shelf.weights]
    drag = rig.outfit.strike_drag
    asked += [("drag", "", share * drag, rig, share * drag) for share in DRAG_STEPS]
    chains = [assemble(each.outfit, _gear(shelf, each)) for *_, each, _ in asked]
    pulls = usual_peaks([each[3] for each in asked], chains, speed, density, SETTINGS, [each[4] for each in asked])
    variants = [
        variant
        for (kind, label, value, each, set_to), chain, found in zip(asked, chains, pulls, strict=True)
        if (variant := _variant(kind, label, value, chain, found, each == rig and set_to in (None, drag))) is not None
    ]
    turned = replace(rig, outfit=other)
    chain = assemble(other, _gear(shelf, turned))
    struck = strike_rig(turned, chain, speed, density)
    return Comparison(tuple(variants), None if isinstance(struck, Failure) else struck, chain, other.line.material)


def _gear(shelf: Shelf, rig: FishedRig) -> Gear:
    return gear_from_shelf(shelf, rig.outfit, rig.shock_leader, rig.bite_leader, rig.lure, rig.weight)


def _variant(
    kind: Kind, label: str, value: float, chain: Chain, pulls: Pulls | Failure, as_is: bool
) -> Variant | None:
    if isinstance(pulls, Failure):
        return None
    worst = worst_of(chain, pulls)
    return None if worst is None else Variant(kind, label, value, worst, max(pulls.values()), as_is)


def worst_of(chain: Chain, pulls: Pulls) -> Margin | None:
    """The link with the largest share of its strength; None where no strength is known."""
    case = strike_case(chain, {link: Span.exactly(pull) for link, pull in pulls.items()})
    return review_strength(chain, [case]).weakest


def span_of_shares(variants: Sequence[Variant]) -> tuple[Variant, Variant] | None:
    """The variants with the least and with the greatest share, None where there are fewer than two."""
    known = sorted(variants, key=lambda each: each.worst.share.usual if each.worst.share else 0.0)
    return (known[0], known[-1]) if len(known) > 1 else None
