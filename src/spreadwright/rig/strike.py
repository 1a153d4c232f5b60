"""The strike on one rod's rig: the greatest pull on every link, how long it lasts, and the line that runs out.

The tow model's core computes it (tow/strike.py); here a rig becomes its cases and the pulls are laid on the links.
The range over the cases is the answer: fish from small and slow to big and fast, across, on the weight, two at once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from spreadwright.rig.chain import Chain, Link
from spreadwright.rig.loads import LoadCase, strike_case
from spreadwright.rig.strike_ranges import CASES, USUAL_STRIKE, StrikeCase, brake_of, fish_of
from spreadwright.rig.tow_model import Doubts, TowedRig, towed_rig
from spreadwright.tackle.boat import Station
from spreadwright.tackle.leader import BiteLeader, ShockLeader
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.span import Span
from spreadwright.tackle.weight import TrollingWeight
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.strike import Strike, StrikeResult, StrikeSettings, strike

Floats = NDArray[np.float64]
Pulls = dict[str, float]

SETTINGS = StrikeSettings(duration=2.0)
QUICK = StrikeSettings(step=1e-3, duration=0.6)  # enough for the first jerk, to rule rigs out by


@dataclass(frozen=True, slots=True)
class FishedRig:
    """The pieces of one rig on one rod, at one station and mark [m]."""

    outfit: Outfit
    station: Station
    mark: float
    weight: TrollingWeight
    shock_leader: ShockLeader
    bite_leader: BiteLeader
    lure: Lure

    def towed(self, stiffness: float = 0.0) -> TowedRig:
        """The line it tows; stiffness [-]: -1 the softest its materials may be, +1 the stiffest."""
        return towed_rig(
            self.outfit, self.station, self.mark, self.weight, self.shock_leader, self.bite_leader, self.lure,
            Doubts(stiffness=stiffness),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class LinkStrike:
    """One link in the strike: its greatest pull [N] over the range of fish, and for the usual fish how long the pull
    stays over half of its greatest [s]."""

    link: str
    peak: Span
    lasts: float


@dataclass(frozen=True, slots=True)
class RigStrike:
    """The strike on one rig.

    cases and what came of each; links reel to hook; paid_out [m] within the time computed [s]; disputed, stuck: the
    greatest pulls by link [N] at the disputed highest speed, and with the reel stuck.
    """

    cases: tuple[StrikeCase, ...]
    results: tuple[StrikeResult, ...]
    links: tuple[LinkStrike, ...]
    paid_out: Span
    seconds: float
    disputed: Mapping[str, float]
    stuck: Mapping[str, float]

    @property
    def usual(self) -> StrikeResult:
        """What the usual fish does."""
        return self.results[0]

    def load_case(self, chain: Chain) -> LoadCase:
        """The strike as a load case of that chain."""
        return strike_case(chain, {each.link: each.peak for each in self.links})


def sections_of(rig: FishedRig, towed: TowedRig) -> tuple[str, ...]:
    """Names of the links that the sections of the towed line stand for, tip to lure."""
    outfit = rig.outfit
    guard = ["bite guard"] if outfit.bite_guard is not None else []
    # A double line that stays on the reel at a short mark is no section: the wind-on below it goes out first.
    between = [name for name, there in (("wind-on", outfit.wind_on), ("double line", outfit.double_line)) if there]
    out = between[: towed.top - 1 - len(guard)]
    return ("main line", *reversed(out), *guard, "shock leader", "bite leader")


def link_pulls(chain: Chain, sections: Sequence[str], most: Floats, ends: Floats, tip: float) -> Pulls:
    """Pull on each bearing link [N] by name, from the pulls in the sections.

    most (S): greatest in each section; ends (S, 2): at the upper and lower end of each; tip: at the rod [N]. A crimp
    sees its end of the leader, the swivel the end of the line, the weight's cable the greater of its two sides, the
    hook the end of the bite leader. A link still on the reel sees the pull at the tip.
    """
    at = {name: i for i, name in enumerate(sections)}
    above, below = at["shock leader"] - 1, at["shock leader"]
    swivel = above - 1 if "bite guard" in at else above

    def pull(link: Link) -> float:
        leader = link.name.split("'s ")[0]
        if link.kind == "crimp" and leader in at:
            return float(ends[at[leader], 0 if "upper" in link.name else 1])
        if link.name in at:
            return max(float(most[at[link.name]]), tip if link.kind == "main line" else 0.0)
        if link.kind == "snap swivel":
            return float(ends[swivel, 1])
        if link.kind == "weight":
            return max(float(ends[above, 1]), float(ends[below, 0]))
        if link.kind == "hook":
            return float(ends[-1, 1])
        return tip

    return {link.name: pull(link) for link in chain.bearing}


def strike_cases(
    rig: FishedRig, cases: Sequence[StrikeCase], density: float, drag: float | None = None
) -> list[Strike]:
    """The cases for the core; density of the water [kg/m3]; drag [N], the outfit's own if none is given."""
    lines = {each: rig.towed(each) for each in {case.stiffness for case in cases}}
    return [
        Strike(
            lines[case.stiffness].line,
            fish_of(case, lines[case.stiffness].weight_joint, density),
            brake_of(rig.outfit, drag, case.stuck, case.hardness),
        )
        for case in cases
    ]


def peaks_of(rig: FishedRig, chain: Chain, result: StrikeResult) -> Pulls:
    """The greatest pull on each link in one strike [N]."""
    names = sections_of(rig, rig.towed())
    return link_pulls(chain, names, result.peak_sections, result.peak_ends, result.peak_tip)


def strike_rig(
    rig: FishedRig, chain: Chain, speed: float, density: float, drag: float | None = None,
    settings: StrikeSettings = SETTINGS,
) -> RigStrike | Failure:  # fmt: skip
    """All cases on one rig at a boat speed [m/s], in water of a density [kg/m3], at a drag [N] other than its own."""
    asked = strike_cases(rig, CASES, density, drag)
    results: list[StrikeResult] = []
    for case, result in zip(CASES, strike(asked, speed, Sea(density=density), settings), strict=True):
        if isinstance(result, Failure):
            return Failure(rig.outfit.name, f"the strike could not be computed ({case.name}): {result.reason}")
        results.append(result)
    pulls = {case: peaks_of(rig, chain, result) for case, result in zip(CASES, results, strict=True)}
    history = _history(rig, chain, results[0])
    step = float(results[0].times[1])
    links = tuple(
        LinkStrike(
            link.name, _link_span({case: pulls[case][link.name] for case in CASES}),
            longest_over(history[link.name], 0.5 * float(history[link.name].max()), step),
        )
        for link in chain.bearing
    )  # fmt: skip
    disputed = next(pulls[case] for case in CASES if not case.in_range and not case.stuck)
    stuck = next(pulls[case] for case in CASES if case.stuck)
    run = [float(result.paid_out[-1]) for case, result in zip(CASES, results, strict=True) if case.in_range]
    paid = Span(min(run), run[0], max(run))
    return RigStrike(CASES, tuple(results), links, paid, float(results[0].times[-1]), disputed, stuck)


def _link_span(pulls: Mapping[StrikeCase, float]) -> Span:
    """The range of a link's pulls [N]: the usual is the usual fish's, the least is of a fish on the lure."""
    ranged = {case: pull for case, pull in pulls.items() if case.in_range}
    usual = ranged[USUAL_STRIKE]
    return Span(min(pull for case, pull in ranged.items() if case.takes != "weight"), usual, max(ranged.values()))


def _history(rig: FishedRig, chain: Chain, result: StrikeResult) -> dict[str, Floats]:
    """The pull on each link over time (T) [N]."""
    names = sections_of(rig, rig.towed())
    each = [
        link_pulls(chain, names, most, ends, float(tip))
        for most, ends, tip in zip(result.sections, result.ends, result.tip, strict=True)
    ]
    return {link.name: np.array([pulls[link.name] for pulls in each]) for link in chain.bearing}


def longest_over(values: Floats, level: float, step: float) -> float:
    """The longest unbroken time [s] over a level [any] in values a step [s] apart.

    >>> longest_over(np.array([0.0, 2.0, 2.0, 0.0, 2.0]), 1.0, 0.5)
    1.0
    """
    longest = run = 0
    for over in values > level:
        run = run + 1 if over else 0
        longest = max(longest, run)
    return longest * step


def usual_peaks(
    rigs: Sequence[FishedRig], chains: Sequence[Chain], speed: float, density: float,
    settings: StrikeSettings = QUICK, drags: Sequence[float | None] | None = None, stuck: Sequence[bool] | None = None,
) -> list[Pulls | Failure]:  # fmt: skip
    """The usual fish's greatest pulls on the links of many rigs, eight at a time: speed [m/s], density [kg/m3],
    drags [N] where not the rigs' own, stuck: whose reel does not give."""
    set_to = drags if drags is not None else [None] * len(rigs)
    held = stuck if stuck is not None else [False] * len(rigs)
    cases = [
        strike_cases(rig, (replace(USUAL_STRIKE, stuck=hold),), density, drag)[0]
        for rig, drag, hold in zip(rigs, set_to, held, strict=True)
    ]
    return [
        result if isinstance(result, Failure) else peaks_of(rig, chain, result)
        for rig, chain, result in zip(rigs, chains, strike(cases, speed, Sea(density=density), settings), strict=True)
    ]
