"""A rod's chain from spool to hook as typed links: how strong each is and what is lost when it parts.

A link is one piece (a length of line, a swivel, a crimp, a hook) with a rated strength and a joint
at each end. A joint keeps only part of the line's strength, so the link is as strong as its weaker
end. Strengths are ranges: label, wet loss and joints each have their doubt.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from spreadwright.faults import Fault
from spreadwright.tackle.span import Span

LinkKind = Literal[
    "backing", "main line", "double line", "wind-on", "snap swivel", "bite guard", "weight",
    "shock leader", "crimp", "bite leader", "lure", "hook",
]  # fmt: skip

# What a label's strength is worth: common practice, no source (line often tests over its label, worn
# line under it).
LABEL = Span(0.95, 1.0, 1.10)
WHOLE = Span.exactly(1.0)
# How two legs of a double line share the load: common practice, no source (1: evenly).
DOUBLE_SHARE = Span(0.85, 0.95, 1.0)
# Monofilament thinner than this cuts when taken in hand: common practice, no source (the trade
# uses 250 to 400 lb leader, 1.4 mm and up).
HAND_HOLD_DIAMETER = 1.3e-3  # [m]
# Less than this to hold is nothing to hold by: common practice, no source.
HAND_HOLD_LENGTH = 3.0  # [m]

MONOFILAMENT = ("nylon", "fluorocarbon")
TEXTILE = (*MONOFILAMENT, "braid")


@dataclass(frozen=True, slots=True)
class Joint:
    """How a link's end is joined: the connection's name, what it keeps [1] (None: not known), why."""

    connection: str
    efficiency: Span | None
    source: str


@dataclass(frozen=True, slots=True)
class Link:
    """One piece of the chain.

    name: as said aloud ("shock leader"); material: a name of tackle's table, or "metal";
    rated [N]: strength of one straight, dry piece, None if it is not known; wet [1]: share kept when
    soaked; strands [1]: pieces side by side, as they share the load; upper, lower: joints towards reel
    and hook; length [m], diameter [m], mass [kg] (of what a fish would tow); bears_load: False for
    what hangs on the chain (lure on its leader) or bears load only later (backing).
    """

    name: str
    kind: LinkKind
    material: str
    rated: Span | None
    length: float = 0.0
    diameter: float = 0.0
    mass: float = 0.0
    wet: Span = WHOLE
    strands: Span = WHOLE
    upper: Joint | None = None
    lower: Joint | None = None
    bears_load: bool = True
    basis: str = ""

    @property
    def efficiency(self) -> Span | None:
        """What the weaker end keeps [1]; None if a joint is not known."""
        kept = Span.exactly(1.0)
        for joint in (self.upper, self.lower):
            if joint is not None:
                if joint.efficiency is None:
                    return None
                kept = kept.weaker(joint.efficiency)
        return kept

    @property
    def strength(self) -> Span | None:
        """Strength [N] as fished: rated x wet x strands x weaker joint; None if a part is not known."""
        efficiency = self.efficiency
        if self.rated is None or efficiency is None:
            return None
        return self.rated * self.wet * self.strands * efficiency

    @property
    def weak_end(self) -> Literal["upper", "lower", "none"]:
        """The end whose joint keeps least by its usual value."""
        usual = {
            end: joint.efficiency.usual
            for end, joint in (("upper", self.upper), ("lower", self.lower))
            if joint is not None and joint.efficiency is not None and joint.efficiency.usual < 1.0
        }
        if not usual:
            return "none"
        return "upper" if min(usual, key=lambda end: usual[end]) == "upper" else "lower"

    @property
    def weak_spot(self) -> str:
        """Where it parts, in words: "main line at its bimini twist"."""
        joint = {"upper": self.upper, "lower": self.lower, "none": None}[self.weak_end]
        return f"{self.name} at its {joint.connection}" if joint is not None else self.name

    @property
    def bitten_through(self) -> bool:
        """True if teeth cut it: nylon, fluorocarbon, braid. Wire, cable and metal hold."""
        return self.material in TEXTILE

    def held_by_hand(self, least_diameter: float = HAND_HOLD_DIAMETER) -> bool:
        """True if a gloved hand may take it: monofilament of at least `least_diameter` [m]."""
        return (
            self.kind in ("wind-on", "shock leader")
            and self.material in MONOFILAMENT
            and self.diameter >= least_diameter
        )


@dataclass(frozen=True, slots=True)
class LeftBehind:
    """What a fish keeps when a link parts: names from the break to the hook, length [m], mass [kg].

    mass counts what weighs (trolling weight, lure), not line.
    """

    names: tuple[str, ...]
    length: float
    mass: float


@dataclass(frozen=True, slots=True)
class Chain:
    """All links of one rod from spool to hook, in order, with the faults met when it was put together.

    A chain with faults has joints or sizes that are not known: it cannot be passed as sound.
    """

    rod: str
    links: tuple[Link, ...]
    faults: tuple[Fault, ...] = ()

    def __post_init__(self) -> None:
        names = [link.name for link in self.links]
        if len(set(names)) != len(names):
            raise ValueError(f"every link needs a name of its own, given {names}")

    def link(self, name: str) -> Link:
        """The link called `name`; KeyError if there is none."""
        for link in self.links:
            if link.name == name:
                return link
        raise KeyError(name)

    def of_kind(self, *kinds: LinkKind) -> tuple[Link, ...]:
        """The links of these kinds, in order."""
        return tuple(link for link in self.links if link.kind in kinds)

    @property
    def bearing(self) -> tuple[Link, ...]:
        """The links that bear load in fishing, reel to hook."""
        return tuple(link for link in self.links if link.bears_load)

    def left_behind(self, name: str) -> LeftBehind:
        """What stays with the fish when the link called `name` parts at its weak end.

        A line that parts at its lower joint stays with the rod; at its upper one, or in between, it
        goes with the fish (in between: reckoned as all of it). Of the main line only what lies
        below its knot is counted, for it parts there or somewhere that nobody can name.
        """
        at = [link.name for link in self.links].index(name)
        link = self.links[at]
        keeps = link.weak_end == "lower" or link.kind in ("main line", "backing")
        lost = self.links[at + 1 :] if keeps else self.links[at:]
        hangs = tuple(each for each in lost if each.kind != "backing")
        return LeftBehind(
            tuple(each.name for each in hangs),
            sum(each.length for each in hangs),
            sum(each.mass for each in hangs),
        )


def rig_length(chain: Chain) -> float:
    """Length [m] from the double line's knot (or the main line's end) to the last hook."""
    return sum(link.length for link in chain.links if link.kind not in ("main line", "backing"))
