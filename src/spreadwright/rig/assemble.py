"""Puts a rod's chain together from tackle: outfit, swivel, weight, leaders, lure, hook.

Where the captain has not said how an end is joined, the usual joint for the material is taken
(common practice, no source) and named in the chain, so that it can be seen and changed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from spreadwright.faults import Fault
from spreadwright.rig.chain import DOUBLE_SHARE, LABEL, Chain, Joint, Link, LinkKind
from spreadwright.tackle.connections import read_connection
from spreadwright.tackle.leader import BiteGuard, BiteLeader, ShockLeader
from spreadwright.tackle.line import MATERIALS, MainLine, Strand
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.span import Span
from spreadwright.tackle.terminal import Crimp, Hook, SnapSwivel
from spreadwright.tackle.trip import Shelf
from spreadwright.tackle.weight import TrollingWeight


@dataclass(frozen=True, slots=True)
class Joints:
    """How each end is joined, by the connection's name; empty: the usual one for the material.

    double_line: the knot in the main line that makes the double line; line_end: how main line
    without a double line ends; to_swivel: double line to snap swivel; wind_on_upper, wind_on_lower;
    backing: backing to main line; spool: line to spool; bite_guard, shock_leader, bite_leader: both ends.
    """

    double_line: str = ""
    line_end: str = ""
    to_swivel: str = ""
    wind_on_upper: str = ""
    wind_on_lower: str = ""
    backing: str = ""
    spool: str = ""
    bite_guard: str = ""
    shock_leader: str = ""
    bite_leader: str = ""


@dataclass(frozen=True, slots=True)
class Gear:
    """The pieces of one rig below the main line. None: not there (the checks say what that means).

    bite_guard: wire ahead of the weight, against bites there. crimps: those on the shelf; the
    narrowest that fits is taken.
    """

    weight: TrollingWeight | None
    shock_leader: ShockLeader
    bite_leader: BiteLeader | None
    lure: Lure
    swivel: SnapSwivel | None = None
    hook: Hook | None = None
    bite_guard: BiteGuard | None = None
    crimps: tuple[Crimp, ...] = ()


USUAL_SWIVEL_LENGTH = 0.10  # [m], snap swivel, common practice, no source
# A swivel is chosen at this many times the line's rating: common practice, no source.
SWIVEL_RESERVE = 2.0
_CRIMPED = ("crimp", "cable crimp", "locked-loop crimp")


def wet_factor(material: str) -> Span:
    """Share [1] of its dry strength that line of `material` keeps when soaked.

    From the materials table in tackle: nylon keeps 85 to 90 % (fibre yarn table), the others all.
    Raises KeyError for a material that is not in it.

    >>> wet_factor("nylon")
    Span(low=0.85, usual=0.875, high=0.9)
    """
    loss = MATERIALS[material].wet_strength_loss
    return Span(1.0 - loss.high, 1.0 - loss.value, 1.0 - loss.low)


def stated_joints(outfit: Outfit, gear: Gear) -> Joints:
    """The joints that the captain states in outfit and leaders; empty where nothing is said."""
    own = {} if outfit.joints is None else {k: v for k, v in outfit.joints.model_dump().items() if v is not None}
    guard, bite = (None if each is None else each.joint for each in (gear.bite_guard, gear.bite_leader))
    return Joints(**own, bite_guard=guard or "", shock_leader=gear.shock_leader.joint or "", bite_leader=bite or "")


def assemble(outfit: Outfit, gear: Gear, joints: Joints | None = None) -> Chain:
    """The chain of `outfit` with `gear` below it, spool to hook; joints: others than outfit and leaders state.

    Never raises for what the captain gave: unknown connections come back as the chain's faults,
    and the link they belong to has no known strength. Lengths [m], strengths [N].
    """
    builder = _Builder(joints or stated_joints(outfit, gear), f"rod {outfit.name}")
    links: list[Link] = []
    if outfit.backing is not None:
        links.append(builder.backing(outfit.backing))
    links.append(builder.main_line(outfit))
    if outfit.double_line is not None:
        links.append(builder.double_line(outfit, outfit.double_line))
    if outfit.wind_on is not None:
        links += builder.wind_on(outfit)
    if gear.swivel is not None:
        links.append(_swivel(gear.swivel))
    if gear.bite_guard is not None:
        links += builder.wire("bite guard", gear.bite_guard, builder.joints.bite_guard)
    if gear.weight is not None:
        links.append(_weight(gear.weight))
    links += builder.shock_leader(gear.shock_leader)
    if gear.bite_leader is not None:
        links += builder.wire("bite leader", gear.bite_leader, builder.joints.bite_leader)
    links.append(_lure(gear.lure))
    links.append(_hook(gear.lure, gear.hook))
    return Chain(outfit.name, tuple(links), tuple(builder.faults))


class _Builder:
    """Looks up joints and collects the faults on the way."""

    def __init__(self, joints: Joints, place: str) -> None:
        self.joints = joints
        self.place = place
        self.faults: list[Fault] = []

    def joint(self, asked: str, usual: str, material: str, where: str) -> Joint:
        name = asked or usual
        found = read_connection(name, material, f"{self.place}: {where}")
        if isinstance(found, Fault):
            self.faults.append(found)
            return Joint(name, None, "not known")
        source = found.source if asked else f"{found.source}; assumed, not stated"
        return Joint(found.name, found.efficiency_on(material), source)

    def line(self, name: str, kind: LinkKind, piece: Strand, length: float) -> Link:
        material = str(piece.stuff.name)
        return Link(
            name, kind, material, LABEL * piece.strength, length, piece.diameter,
            wet=wet_factor(material), basis="label strength; wet loss from the materials table",
        )  # fmt: skip

    def backing(self, backing: MainLine) -> Link:
        material = str(backing.stuff.name)
        plain = self.line("backing", "backing", backing, backing.length)
        upper = self.joint(self.joints.spool, "spool knot", material, "backing to spool")
        usual = "hollow-braid splice" if material == "braid" else "double uni"
        lower = self.joint(self.joints.backing, usual, material, "backing to main line")
        return _joined(plain, upper, lower, bears_load=False)

    def main_line(self, outfit: Outfit) -> Link:
        line, joints = outfit.line, self.joints
        material = str(line.stuff.name)
        if outfit.double_line is not None:
            lower = self.joint(joints.double_line, "bimini twist", material, "double line's knot")
        else:
            usual = "uni knot" if outfit.wind_on is None else "served splice"
            lower = self.joint(joints.line_end, usual, material, "main line's end")
        return _joined(self.line("main line", "main line", line, line.length), None, lower)

    def double_line(self, outfit: Outfit, length: float) -> Link:
        plain = self.line("double line", "double line", outfit.line, length)
        usual = "loop to loop" if outfit.wind_on is not None else "offshore swivel knot"
        lower = self.joint(self.joints.to_swivel, usual, plain.material, "double line's end")
        legs = DOUBLE_SHARE * 2.0
        return _joined(plain, None, lower, strands=legs)

    def wind_on(self, outfit: Outfit) -> list[Link]:
        assert outfit.wind_on is not None
        plain = self.line("wind-on", "wind-on", outfit.wind_on, outfit.wind_on.length)
        usual = "loop to loop" if outfit.double_line is not None else "served splice"
        upper = self.joint(self.joints.wind_on_upper, usual, plain.material, "wind-on's top")
        lower = self.joint(self.joints.wind_on_lower, "crimp", plain.material, "wind-on's end")
        return _with_crimps(plain, upper, lower)

    def shock_leader(self, leader: ShockLeader) -> list[Link]:
        plain = self.line("shock leader", "shock leader", leader, leader.length)
        joint = self.joint(self.joints.shock_leader, "crimp", plain.material, "shock leader's ends")
        return _with_crimps(plain, joint, joint)

    def wire(self, name: Literal["bite guard", "bite leader"], wire: Strand, asked: str) -> list[Link]:
        plain = self.line(name, name, wire, wire.length)
        usual = "haywire twist" if plain.material == "single strand" else "cable crimp"
        joint = self.joint(asked, usual, plain.material, f"{name}'s ends")
        return _with_crimps(plain, joint, joint)


def _joined(
    link: Link,
    upper: Joint | None,
    lower: Joint | None,
    strands: Span | None = None,
    bears_load: bool = True,
) -> Link:
    """The same link with joints at its ends."""
    return Link(
        link.name, link.kind, link.material, link.rated, link.length, link.diameter, link.mass,
        link.wet, strands or link.strands, upper, lower, bears_load, link.basis,
    )  # fmt: skip


def _with_crimps(link: Link, upper: Joint, lower: Joint) -> list[Link]:
    """The link, with each crimped end as a link of its own (they are counted, and part, one by one)."""

    def crimp(end: str, joint: Joint) -> Link:
        metal = f"{link.name}'s {end} crimp"
        basis = "strength of the line in it times what the crimp keeps"
        return Link(metal, "crimp", "metal", link.rated, wet=link.wet, upper=joint, basis=basis)

    top = [crimp("upper", upper)] if upper.connection in _CRIMPED else []
    bottom = [crimp("lower", lower)] if lower.connection in _CRIMPED else []
    between = _joined(link, None if top else upper, None if bottom else lower)
    return [*top, between, *bottom]


def _swivel(swivel: SnapSwivel) -> Link:
    return Link(
        "snap swivel", "snap swivel", "metal", LABEL * swivel.strength, USUAL_SWIVEL_LENGTH,
        mass=swivel.mass or 0.0, basis="label strength",
    )  # fmt: skip


def _weight(weight: TrollingWeight) -> Link:
    return Link(
        "weight's cable", "weight", "cable", LABEL * weight.cable_strength, weight.length,
        weight.diameter, weight.mass, basis="strength of the through-cable with its ends, as given",
    )  # fmt: skip


def _lure(lure: Lure) -> Link:
    return Link(
        "lure", "lure", "metal", None, lure.length, lure.head_diameter, lure.mass,
        bears_load=False, basis="rides on its leader",
    )  # fmt: skip


def _hook(lure: Lure, hook: Hook | None) -> Link:
    rated = LABEL * hook.strength if hook is not None and hook.strength is not None else None
    basis = "load that opens it, as given" if rated is not None else "no strength given"
    name = "hook" if lure.hooks == 1 else "hooks"
    return Link(name, "hook", "metal", rated, basis=basis)


def crimp_for(diameter: float, crimps: Sequence[Crimp]) -> Crimp | None:
    """The crimp with the narrowest bore that takes line of `diameter` [m]; None if none does."""
    fitting = [crimp for crimp in crimps if crimp.bore >= diameter]
    return min(fitting, key=lambda crimp: crimp.bore, default=None)


def swivel_for(needed: float, swivels: Sequence[SnapSwivel]) -> SnapSwivel | None:
    """The weakest snap swivel of at least `needed` [N]; failing that the strongest; None if none."""
    enough = [swivel for swivel in swivels if swivel.strength >= needed]
    if enough:
        return min(enough, key=lambda swivel: swivel.strength)
    return max(swivels, key=lambda swivel: swivel.strength, default=None)


def gear_from_shelf(
    shelf: Shelf,
    outfit: Outfit,
    shock_leader: ShockLeader,
    bite_leader: BiteLeader,
    lure: Lure,
    weight: TrollingWeight | None,
) -> Gear:
    """The chosen pieces, with swivel, hook and crimps taken from the shelf.

    The snap swivel is the weakest of at least twice the line's rating, or the strongest there is;
    the hook is the one the lure names. Pieces the shelf counts as none left are taken too: what is
    short is for the shopping list to say.
    """
    hook = next((hook for hook in shelf.hooks if hook.name == lure.hook), None)
    swivel = swivel_for(SWIVEL_RESERVE * outfit.line.strength, shelf.snap_swivels)
    return Gear(weight, shock_leader, bite_leader, lure, swivel, hook, outfit.bite_guard, shelf.crimps)
