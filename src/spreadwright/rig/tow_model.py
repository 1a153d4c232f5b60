"""A rod's rig as a towed line: from tackle to the sections and bodies that the core computes with.

From the rod tip: main line, double line or wind-on (both, if there are both), a bite guard if there is one, trolling
weight with its snap, shock leader, bite leader, lure. The mark counts slack line from the tip to the snap swivel,
double line included; a bite guard hangs below that.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from spreadwright.rig.hydrodynamics import DOUBLE_ACROSS, LINE_DRAG, LURE_DENSITY, lure_drag, weight_drag
from spreadwright.tackle.boat import Station
from spreadwright.tackle.leader import BiteLeader, ShockLeader
from spreadwright.tackle.line import Strand
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.weight import TrollingWeight
from spreadwright.tow.line import Body, Line, Section

DAMPING_TIME = 0.005  # [s] light material damping of nylon: assumed
SWIVEL_MASS = 0.02  # [kg] of the snaps at the weight where the shelf does not say
LEAST_MAIN = 0.5  # [m] of single main line that must be left above the double line


@dataclass(frozen=True, slots=True)
class Doubts:
    """How far from usual each uncertain number of a rig is, -1 at its low, 0 usual, +1 at its high end [-].

    line_across, line_along: drag of lines; weight, lure: drag of bodies; stiffness of lines; mark: its error.
    """

    line_across: float = 0.0
    line_along: float = 0.0
    weight: float = 0.0
    lure: float = 0.0
    stiffness: float = 0.0
    mark: float = 0.0


USUAL = Doubts()
Narrow = Callable[[Doubts, str], Doubts]  # what a captain's readings leave of a doubt, for a rig with that lure


def as_stated(doubts: Doubts, _lure: str) -> Doubts:
    """Doubts as they are where nothing was measured."""
    return doubts


MARK_DOUBT = 0.02  # share of the mark: where the floss really stands at the tip; assumed


@dataclass(frozen=True, slots=True)
class TowedRig:
    """The line to compute, which of its joints carries the weight, the weight's half length and the lure's length [m].

    `top` is how many sections there are above the weight.
    """

    line: Line
    top: int
    front: float
    tail: float

    @property
    def weight_joint(self) -> int:
        """Joint (end of a section) at which the weight hangs."""
        return self.top - 1


def _at(low: float, usual: float, high: float, where: float) -> float:
    """Value at -1 (low), 0 (usual), +1 (high), straight between."""
    return usual + where * (high - usual if where >= 0.0 else usual - low)


def line_section(strand: Strand, length: float, doubts: Doubts = USUAL, strands: int = 1) -> Section:
    """A section of a line or leader, `length` long [m]; two strands make a double line."""
    drag = LINE_DRAG[strand.material]
    modulus = strand.stuff.modulus
    share = _at(modulus.low, modulus.value, modulus.high, doubts.stiffness) / modulus.value
    across = _at(drag.across.low, drag.across.usual, drag.across.high, doubts.line_across)
    along = _at(drag.along.low, drag.along.usual, drag.along.high, doubts.line_along)
    if strands == 2:
        across, along = across * DOUBLE_ACROSS, along * DOUBLE_ACROSS
    nylon = strand.material in ("nylon", "fluorocarbon")
    return Section(
        length=length,
        diameter=strand.diameter * math.sqrt(strands),
        density=strand.density,
        stiffness=strand.stiffness * strands * share,
        stiffening=strand.stiffening,
        damping_time=DAMPING_TIME if nylon else 0.0,
        normal_drag=across,
        tangential_drag=along,
    )


def weight_body(weight: TrollingWeight, doubts: Doubts = USUAL) -> Body:
    """A trolling weight with the snaps at its ends."""
    drag = weight_drag(weight)
    axial = _at(drag.axial.low, drag.axial.usual, drag.axial.high, doubts.weight)
    side = _at(drag.side.low, drag.side.usual, drag.side.high, doubts.weight)
    mass = weight.mass + SWIVEL_MASS
    if drag.round:
        return Body(mass, weight.volume, "isotropic", drag_area=axial, added_mass=0.5)
    return Body(mass, weight.volume, "slender", axial_area=axial, normal_area=side, added_mass=0.5)


def lure_body(lure: Lure, doubts: Doubts = USUAL) -> Body:
    """A skirted lure, towed head first."""
    drag = lure_drag(lure)
    return Body(
        lure.mass,
        lure.mass / LURE_DENSITY,
        "slender",
        axial_area=_at(drag.axial.low, drag.axial.usual, drag.axial.high, doubts.lure),
        normal_area=_at(drag.side.low, drag.side.usual, drag.side.high, doubts.lure),
    )


def top_sections(outfit: Outfit, mark: float, doubts: Doubts = USUAL) -> list[Section]:
    """Sections from the rod tip to the weight for a mark [m] on the slack line, which counts to the snap swivel.

    A double line or wind-on that does not go out at all at a short mark is cut at the rod tip.
    """
    rest = mark * (1.0 + MARK_DOUBT * doubts.mark)
    lower: list[Section] = []
    if outfit.wind_on is not None:
        length = min(outfit.wind_on.length, rest - LEAST_MAIN)
        lower.append(line_section(outfit.wind_on, length, doubts))
        rest -= length
    if outfit.double_line is not None and rest > 2.0 * LEAST_MAIN:
        length = min(outfit.double_line, rest - LEAST_MAIN)
        lower.append(line_section(outfit.line, length, doubts, strands=2))
        rest -= length
    guard = [] if outfit.bite_guard is None else [line_section(outfit.bite_guard, outfit.bite_guard.length, doubts)]
    return [line_section(outfit.line, rest, doubts), *reversed(lower), *guard]


def towed_rig(
    outfit: Outfit,
    station: Station,
    mark: float,
    weight: TrollingWeight,
    shock: ShockLeader,
    bite: BiteLeader,
    lure: Lure,
    doubts: Doubts = USUAL,
    name: str = "",
) -> TowedRig:
    """The line that a rod tows with this gear on this mark [m]; two rigs that are the same in the water are equal.

    `name` is left empty by default, so that equal lines compare equal and share one computation.
    """
    top = top_sections(outfit, mark, doubts)
    sections = (*top, line_section(shock, shock.length, doubts), line_section(bite, bite.length, doubts))
    bodies: list[Body | None] = [None] * len(sections)
    bodies[len(top) - 1] = weight_body(weight, doubts)
    bodies[-1] = lure_body(lure, doubts)
    line = Line(name, station.tip, sections, tuple(bodies))
    return TowedRig(line, len(top), 0.5 * weight.length, lure.length)
