"""The loads on every link of a chosen rig, against its strength: towing, turning, the strike, the drag along a run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.faults import Fault
from spreadwright.plan.value import DragPoint, Estimate, LinkLoad, Slip, StrikeLink, StrikePlan
from spreadwright.plan.worded import Worded, as_part, often_in_words, worded
from spreadwright.quantity import System
from spreadwright.rig.assemble import Gear, assemble
from spreadwright.rig.break_order import break_order
from spreadwright.rig.chain import Chain
from spreadwright.rig.drag import DragRow, run_in_words
from spreadwright.rig.fit import check_fit
from spreadwright.rig.loads import STEADY_TOW, STRIKE_DRAG, TURN_PEAK, LoadCase, drag_case, run_down, tow_case
from spreadwright.rig.spooled import check_drag, drag_table, drag_to_hold
from spreadwright.rig.strength import Margin, review_strength
from spreadwright.rig.strike import FishedRig, RigStrike, strike_rig
from spreadwright.rig.strike_words import strike_in_words
from spreadwright.rig.water_pull import WaterPull, friction_share, water_pull
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.span import Span
from spreadwright.tackle.wishes import Wishes
from spreadwright.tow.line import Failure
from spreadwright.tow.steady import Shape

DRAG_DOUBT = 0.1
RUN_SHARE = 0.5  # of the line out: how far a run is taken to go for the load case


def span_of(estimate: Estimate) -> Span:
    """An estimate of a load as a span, never below zero [N]."""
    low = max(0.0, min(estimate.low, estimate.usual))
    return Span(low, max(low, estimate.usual), max(estimate.high, estimate.usual))


@dataclass(frozen=True)
class Waters:
    """What the boat and the sea do to every rig: boat's speed [m/s], density of the water [kg/m3]."""

    speed: float
    density: float


@dataclass(frozen=True)
class Reviewed:
    """One rig's loads: hardest case of every link, the weakest, what parts first, findings in words, the drag along a
    run, the strike (None where it could not be computed, which the findings then say). said: findings, names of cases
    and the strike's sentence, which know themselves in the other units."""

    links: tuple[LinkLoad, ...]
    weakest: LinkLoad
    parts_first: str
    findings: tuple[str, ...]
    drag: tuple[DragPoint, ...]
    strike: StrikePlan | None
    said: tuple[str, ...]


Pulls = tuple[Estimate, Estimate]  # at the rod, and in the shock leader [N]


def load_cases(
    outfit: Outfit, chain: Chain, steady: Pulls, peak: Pulls, drag: Sequence[DragRow],
    struck: RigStrike | None = None, units: System = "us",
) -> list[LoadCase]:  # fmt: skip
    """Cases of one rig; steady and peak: pull at the rod, and in the shock leader [N]."""
    cases = [
        tow_case(chain, STEADY_TOW, span_of(steady[0]), span_of(steady[1])),
        tow_case(chain, TURN_PEAK, span_of(peak[0]), span_of(peak[1])),
        drag_case(chain, STRIKE_DRAG, Span.about(outfit.strike_drag, DRAG_DOUBT)),
    ]
    if struck is not None:
        cases.append(struck.load_case(chain))
    if drag:
        far = drag[int(RUN_SHARE * (len(drag) - 1))]
        water = friction_share(outfit) * far.water_pull
        name = worded(units, lambda system: run_down(far.line_out, system))
        cases.append(drag_case(chain, name, Span.about(far.reel_drag, DRAG_DOUBT), water))
    return cases


def review(
    rig: FishedRig, gear: Gear, steady: Pulls, peak: Pulls, waters: Waters, units: System,
    wishes: Wishes | None = None, slips: float = 0.0,
) -> Reviewed:  # fmt: skip
    """The loads of one rig in every case, held against its strengths; wishes: its longest, what a hand takes; slips:
    the share of the ways that it may be in which the rig pulls harder than its strike drag [-]."""
    wanted = wishes or Wishes()
    outfit = rig.outfit
    chain = assemble(outfit, gear)
    rows = drag_rows(outfit, chain, pull_of_water(outfit, waters))
    struck = strike_rig(rig, chain, waters.speed, waters.density)
    known_strike = None if isinstance(struck, Failure) else struck
    strength = review_strength(chain, load_cases(outfit, chain, steady, peak, rows, known_strike, units))
    hardest = [_hardest(strength.of_link(link.name)) for link in chain.bearing if strength.of_link(link.name)]
    links = tuple(link_load(margin) for margin in hardest)
    known = [link for link in links if link.share is not None]
    weakest = max(known, key=lambda link: link.share.usual if link.share else 0.0)
    order = break_order(chain)
    first = f"{order[0].weak_spot}, then {order[1].weak_spot}" if len(order) > 1 else "not known"

    def findings(system: System) -> list[str]:
        fit = check_fit(
            chain, gear, length_budget=wanted.rig_length, hand_hold_diameter=wanted.hand_hold_diameter, system=system
        )
        drag = check_drag(outfit, peak[0].usual, system, peak[0].high, often_in_words(slips))
        return [f"{each.place}: {each.given}; {each.rule}; {each.fix}" for each in (*fit, *drag)]

    words: list[str] = [
        worded(units, lambda system, at=at: findings(system)[at])  # type: ignore[misc]
        for at in range(len(findings(units)))
    ]
    if any(row.state in ("danger", "parts") for row in rows):
        words.append(worded(units, lambda system: f"drag along a run: {as_part(run_in_words(rows, system))}"))
    if isinstance(struck, Failure):
        words.append(f"the strike: {struck.reason}; its loads are missing above; change the mark or the gear a little")
    return Reviewed(
        links, weakest, first, tuple(words), tuple(drag_point(row) for row in rows),
        None if known_strike is None else strike_plan(chain, known_strike, units),
        (*words, *(margin.case for margin in hardest),
         *(() if known_strike is None else (strike_said(chain, known_strike, units),))),
    )  # fmt: skip


def upper_end_share(shape: Shape, weight_joint: int) -> float:
    """The pull at the shock leader's upper end, next to the weight, over that at its lower end [-], on the straight.

    A motion stores the pull at the lower end only; the leader's own drag adds to it, and grows as the lure's does.
    """
    upper = float(shape.tension[int(shape.joints[weight_joint]) + 1])
    return max(1.0, upper / float(shape.tension[int(shape.joints[weight_joint + 1])]))


def slip_of(outfit: Outfit, peak: Estimate, share: float) -> Slip | None:
    """Whether line may run off a reel while trolling; peak: greatest pull at the rod through the turns [N]."""
    if peak.high < outfit.strike_drag:
        return None
    return Slip(high=peak.high, share=share, set_to=drag_to_hold(outfit, peak.high))


def pull_of_water(outfit: Outfit, waters: Waters) -> WaterPull | None:
    """The water's pull along a run, None where it could not be computed."""
    found = water_pull(outfit, waters.density)
    return None if isinstance(found, Failure) else found


def drag_rows(outfit: Outfit, chain: Chain, water: WaterPull | None) -> tuple[DragRow, ...]:
    """The drag along a run with the water's pull on top; empty where the spool's measures are at fault."""
    main = chain.of_kind("main line")[0]
    rows = drag_table(outfit, main.strength or Span.exactly(outfit.line.strength), water.at if water else None)
    return () if isinstance(rows, Fault) else rows


def drag_point(row: DragRow) -> DragPoint:
    """One row of the drag along a run, as the plan keeps it."""
    return DragPoint(
        line_out=row.line_out, reel_drag=row.reel_drag, at_fish=row.at_fish_end, share=row.share.usual,
        state=row.state, water_pull=row.water_pull,
    )  # fmt: skip


def strike_said(chain: Chain, struck: RigStrike, units: System) -> Worded:
    """The strike in words, in both units."""
    return worded(units, lambda system: strike_in_words(chain, struck, system))


def strike_plan(chain: Chain, struck: RigStrike, units: System) -> StrikePlan:
    """The strike, as the plan keeps it."""
    shares = {
        margin.link: estimate_of(margin.share) for margin in review_strength(chain, [struck.load_case(chain)]).margins
    }
    links = tuple(
        StrikeLink(
            link=each.link, peak=Estimate(usual=each.peak.usual, low=each.peak.low, high=each.peak.high),
            share=shares[each.link], lasts=each.lasts, disputed=struck.disputed[each.link],
            stuck=struck.stuck[each.link],
        )
        for each in struck.links
    )  # fmt: skip
    paid = struck.paid_out
    return StrikePlan(
        links=links, paid_out=Estimate(usual=paid.usual, low=paid.low, high=paid.high), seconds=struck.seconds,
        sentence=strike_said(chain, struck, units),
    )  # fmt: skip


def _hardest(margins: Sequence[Margin]) -> Margin:
    return max(margins, key=lambda m: (m.share.usual if m.share else -1.0, m.load.usual))


def estimate_of(span: Span | None) -> Estimate | None:
    """A span as the plan keeps it."""
    return None if span is None else Estimate(usual=span.usual, low=span.low, high=span.high)


def link_load(margin: Margin) -> LinkLoad:
    """One link in one case, as the plan keeps it."""
    load = estimate_of(margin.load)
    assert load is not None
    return LinkLoad(
        link=margin.link, case=margin.case, load=load, strength=estimate_of(margin.strength),
        share=estimate_of(margin.share), verdict=margin.verdict, weak_spot=margin.weak_spot,
    )  # fmt: skip
