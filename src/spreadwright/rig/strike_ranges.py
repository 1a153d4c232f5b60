"""Which fish strike, how fast and which way, and how rod and reel answer: ranges with their sources.

Speeds. "Walters & Fierstine 1964" (Nature 202:208) is quoted everywhere for 21 m/s (77 km/h, from memory); its own
opening already says that speeds over 45 km/h had been called into question. Svendsen et al. 2016 (Biology Open
5:1415) measured sailfish 8.3 +- 1.4, barracuda 6.2 +- 1.0, little tunny 5.6 +- 0.2 and dorado 4.0 +- 0.9 m/s and hold
more than 10 to 15 m/s for implausible (cavitation). So 4 to 10 m/s is the range here, 8 the usual, and 21 m/s is
computed beside it as the disputed highest, never as part of the range.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from spreadwright.rig.spooled import USUAL_CORE_SHARE
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.span import Span
from spreadwright.tow.strike import Brake, Fish

Takes = Literal["lure", "weight", "both"]

STRIKE_SPEED = Span(4.0, 8.0, 10.0)  # [m/s] Svendsen et al. 2016: dorado's, sailfish's, lower edge of "implausible"
DISPUTED_SPEED = 21.4  # [m/s] 77 km/h, ascribed to Walters & Fierstine 1964; from memory, disputed
SWIM_SPEED = 8.0  # [m/s] what its thrust could hold at most: Svendsen et al. 2016
MASS = Span(6.0, 15.0, 35.0)  # [kg] common practice, no source

# Drag area of a swimming fish: 0.01 on a wetted surface of 0.4 length squared (1.3 m for 15 kg); from memory, assumed.
AREA_OF_A_KILO = 1.1e-3  # [m2] for 1 kg, growing with mass to the power 2/3

# Common practice, no source: drag washers start harder than they run; a rod's tip gives this far at the strike drag.
STARTING_SHARE = Span(1.05, 1.15, 1.30)
ROD_BEND = Span(0.3, 0.6, 1.0)  # [m]
SET_SHARE = Span.about(1.0, 0.1)  # the drag as it is against as it was set with a scale
BARE_SPOOL = 0.15  # [kg] of a spool without line, as felt at the line; assumed


@dataclass(frozen=True, slots=True)
class StrikeCase:
    """One fish (or two) striking: mass [kg], speed [m/s], heading [rad] off straight away from the boat, what it takes;
    runs: the heading [rad] that it swims on once it has taken, the same where none is given.

    stiffness: where in its range the lines' stiffness lies, -1 to +1; hardness: the same for rod and reel, from the
    softest rod and the lightest drag to the stiffest and the heaviest; stuck: the reel does not give; in_range: part
    of the range that is told, not a question of "what if".
    """

    name: str
    mass: float = MASS.usual
    speed: float = STRIKE_SPEED.usual
    heading: float = 0.0
    takes: Takes = "lure"
    stiffness: float = 0.0
    hardness: float = 0.0
    stuck: bool = False
    in_range: bool = True
    runs: float | None = None


USUAL_STRIKE = StrikeCase("usual fish on the lure")
HEADINGS = tuple(math.radians(degrees) for degrees in range(0, 181, 30))  # from straight away to straight at the boat
# The usual fish on the lure from every side; the last comes on, slackens the line, turns and runs.
SWEEP: tuple[StrikeCase, ...] = (
    *(StrikeCase(f"heading {math.degrees(heading):.0f} deg", heading=heading) for heading in HEADINGS),
    StrikeCase("comes on, then runs away", heading=math.pi, runs=0.0),
)
CASES: tuple[StrikeCase, ...] = (
    USUAL_STRIKE,
    StrikeCase("small slow fish, all soft", MASS.low, STRIKE_SPEED.low, stiffness=-1.0, hardness=-1.0),
    StrikeCase("big fast fish, all stiff", MASS.high, STRIKE_SPEED.high, stiffness=1.0, hardness=1.0),
    StrikeCase("usual fish, running across", heading=0.5 * math.pi),
    StrikeCase("usual fish on the weight", takes="weight"),
    StrikeCase("two usual fish, on weight and lure", takes="both"),
    StrikeCase("usual fish at the disputed highest speed", speed=DISPUTED_SPEED, in_range=False),
    StrikeCase("usual fish, reel stuck", stuck=True, in_range=False),
)


def fish_drag_area(mass: float) -> float:
    """Drag area [m2] of a swimming fish of `mass` [kg], its surface growing with mass to the power 2/3.

    >>> round(fish_drag_area(15.0), 5)
    0.00669
    """
    return float(AREA_OF_A_KILO * mass ** (2.0 / 3.0))


def fish_of(case: StrikeCase, weight_joint: int, density: float) -> tuple[Fish, ...]:
    """The fish of a case on the joints of a rig; density of the water [kg/m3].

    It strikes at its speed and swims on, on the same heading unless the case says otherwise, with the thrust that
    holds that speed, or 8 m/s if less.
    """
    runs = case.heading if case.runs is None else case.runs
    way, on = ((-math.cos(at), math.sin(at), 0.0) for at in (case.heading, runs))
    area = fish_drag_area(case.mass)
    thrust = 0.5 * density * area * min(case.speed, SWIM_SPEED) ** 2
    joints = {"lure": (-1,), "weight": (weight_joint,), "both": (weight_joint, -1)}[case.takes]
    return tuple(
        Fish(
            joint, case.mass, (case.speed * way[0], case.speed * way[1], 0.0), area,
            (thrust * on[0], thrust * on[1], 0.0),
        )
        for joint in joints
    )  # fmt: skip


def spool_mass(outfit: Outfit) -> float:
    """Mass of spool and line as the running line feels it [kg]: half the line's times (1 + (core/full)^2), and a spool.

    Moment of inertia of a ring of line over its outer radius squared. Worked example: 0.5 kg of line, core 0.45 of
    full: 0.30 kg + 0.15 kg.
    """
    reel = outfit.reel
    core, full = reel.spool_core_diameter, reel.spool_full_diameter
    share = core / full if core is not None and full is not None else USUAL_CORE_SHARE
    line = reel.holds * outfit.line.mass_per_length
    return 0.5 * line * (1.0 + share**2) + BARE_SPOOL


def _within(span: Span, where: float) -> float:
    """The value at -1 (low), 0 (usual), +1 (high), straight between."""
    return span.usual + where * (span.high - span.usual if where >= 0.0 else span.usual - span.low)


def brake_of(outfit: Outfit, drag: float | None = None, stuck: bool = False, hardness: float = 0.0) -> Brake:
    """Rod and reel at a drag [N], the outfit's own if none is given; hardness [-] from -1 (soft) to +1 (hard)."""
    running = _within(SET_SHARE, hardness) * (outfit.strike_drag if drag is None else drag)
    give = _within(ROD_BEND, -hardness) / outfit.strike_drag  # the rod stays the same whatever the drag is set to
    if stuck:
        return Brake(spool_mass=spool_mass(outfit), rod_give=give)
    return Brake(_within(STARTING_SHARE, hardness) * running, running, spool_mass(outfit), give)
