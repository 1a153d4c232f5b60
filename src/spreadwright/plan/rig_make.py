"""Make the answer about rigs: loads in every case, the strike and what else could be fished, the drag along a run."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from spreadwright.faults import Fault, Faults
from spreadwright.plan.loads import (
    Waters,
    drag_point,
    drag_rows,
    estimate_of,
    link_load,
    load_cases,
    pull_of_water,
    strike_plan,
)  # fmt: skip
from spreadwright.plan.refuse import override_of
from spreadwright.plan.rig_answer import (
    BellyPoint,
    HeadingShare,
    JoinedEnd,
    MarkPoint,
    Parting,
    RigAnswer,
    RigAnswers,
    RigFinding,
    Rule,
    Swept,
    Trace,
)  # fmt: skip
from spreadwright.plan.rig_choice import PickedRig, pick_rig
from spreadwright.plan.value import Estimate, Plan
from spreadwright.quantity import System, show
from spreadwright.rig import record_rules
from spreadwright.rig.assemble import assemble
from spreadwright.rig.break_order import preferred_first, weak_link_window
from spreadwright.rig.cautions import DEFER, Work, cautions_for
from spreadwright.rig.chain import Chain
from spreadwright.rig.drag import DragRow, run_in_words, strike_setting
from spreadwright.rig.marks import measure_mark, stiffness_of
from spreadwright.rig.review import RigReview, record_rig, review_rig
from spreadwright.rig.spooled import check_drag, check_spool, room_for_line
from spreadwright.rig.strike import RigStrike, link_pulls, sections_of, strike_rig
from spreadwright.rig.strike_compare import Comparison, compare, span_of_shares, worst_of
from spreadwright.rig.strike_headings import HeadingStrike, heading_sweep
from spreadwright.rig.strike_words import headings_in_words, share_in_words, strike_in_words, way_in_words, worst_link
from spreadwright.rig.tow_model import Doubts, towed_rig
from spreadwright.rig.water_pull import WaterPull
from spreadwright.spread.motions import SHOWN, Progress, track_of
from spreadwright.tackle.span import Span
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.march import march
from spreadwright.tow.steady import steady_straight

TRACE_STEP = 4  # stored moments in one of the trace's
SHOWN_WORK: tuple[Work, ...] = ("making leaders", "setting out", "strike", "leadering", "drag setting")


class RigStopped(Exception):  # noqa: N818 (the captain's wish is no error)
    """The captain asked to stop."""


def rig_answers(trip: Trip, rod: str = "", plan: Plan | None = None, progress: Progress | None = None) -> RigAnswers:
    """The answer for one rod by name, or for all. Raises Faults for a name that is not there."""
    names = [outfit.name for outfit in trip.outfits]
    if rod and rod not in names:
        raise Faults([Fault("--rod", rod, f"the trip file's rods are {', '.join(names)}", "name one of them")])
    asked = [i for i, name in enumerate(names) if not rod or name == rod]
    made = []
    for done, i in enumerate(asked):
        if progress is not None and not progress(f"striking {names[i]}", done, len(asked)):
            raise RigStopped
        made.append(rig_answer(trip, pick_rig(trip, i, plan)))
    return RigAnswers(title=trip.title, units=trip.units, speed=trip.pattern.speed, rigs=tuple(made), notice=DEFER)


def rig_answer(trip: Trip, picked: PickedRig) -> RigAnswer:
    """Everything about one rig."""
    rig, outfit, gear, system = picked.rig, picked.rig.outfit, picked.gear, trip.units
    waters = Waters(trip.pattern.speed, trip.water.density)
    chain = assemble(outfit, gear)
    steady, peak = _tow_pulls(trip, picked)
    water = pull_of_water(outfit, waters)
    rows = drag_rows(outfit, chain, water)
    struck = strike_rig(rig, chain, waters.speed, waters.density)
    known = None if isinstance(struck, Failure) else struck
    review = review_rig(
        chain, gear, load_cases(outfit, chain, steady, peak, rows, known, system),
        more_findings=(
            *check_drag(outfit, peak[0].usual, system, peak[0].high, "with all drags of the water at their high end"),
            *check_spool(outfit, system),
        ),
        length_budget=trip.wishes.rig_length,
        hand_hold_diameter=trip.wishes.hand_hold_diameter, system=system,
    )  # fmt: skip
    swept = heading_sweep(rig, chain, waters.speed, waters.density)
    headings = () if isinstance(swept, Failure) else swept
    others = compare(rig, trip.shelf, waters.speed, waters.density)
    weakest = review.strength.weakest
    order = [step for step in review.order if step.chance > 0.005]
    rules = record_rules.review(record_rig(outfit, gear, chain))
    present = _present(chain)
    return RigAnswer(
        rod=outfit.name, station=rig.station.name, mark=rig.mark, weight=rig.weight.name,
        shock_leader=rig.shock_leader.name, bite_leader=rig.bite_leader.name, lure=rig.lure.name,
        swivel=gear.swivel.name if gear.swivel else "none", chosen_by=picked.chosen_by,
        override=override_of(trip, picked.rod, gear, peak[0].usual), sound=review.sound,
        sentences=(
            *_strike_sentences(chain, struck, others, headings, system), *_sweep_sentences(others, system),
            *review.messages[:2], *([run_in_words(rows, system)] if rows else []),
        ),
        loads=tuple(link_load(margin) for margin in review.strength.margins),
        weakest=link_load(weakest) if weakest is not None else None,
        strike=strike_plan(chain, known, system) if known is not None else None,
        swept=tuple(
            Swept(kind=each.kind, label=each.label, value=each.value, worst=each.worst.weak_spot,
                  share=each.worst.share.usual if each.worst.share else 0.0, greatest=each.greatest, as_is=each.as_is)
            for each in others.variants
        ),
        other_material=others.material,
        other_strike=strike_plan(others.counterpart_chain, others.counterpart, system) if others.counterpart else None,
        joints=_joints(chain),
        parting=tuple(
            Parting(weak_spot=step.weak_spot, strength=_estimate(step.strength), chance=step.chance,
                    left=", ".join(step.left.names) or "nothing")
            for step in order
        ),
        weak_link=_weak_link(chain, review), length=review.length, hand_hold=review.hand_hold,
        strike_drag=outfit.strike_drag, set_drag=_estimate(strike_setting(outfit.line.strength, peak[0].usual)),
        usual_drag=_estimate(strike_setting(outfit.line.strength)), tow_peak=peak[0],
        room=estimate_of(room_for_line(outfit)),
        drag=tuple(drag_point(row) for row in rows), belly=_belly(rows, water), marks=_marks(picked, steady[0]),
        rules=tuple(
            Rule(rule=each.rule, inside=each.inside, given=each.given, limit=each.limit, next_step=each.next_step)
            for each in rules.checks
        ),
        rules_edition=rules.edition, rules_note=" ".join((rules.ruling, *rules.notes)),
        findings=tuple(
            RigFinding(severity=each.severity, place=each.place, given=each.given, rule=each.rule, fix=each.fix)
            for each in review.findings
        ),
        cautions=tuple(dict.fromkeys(each.text for work in SHOWN_WORK for each in cautions_for(work, present))),
        traces=_traces(picked, chain, known) if known is not None else (),
        headings=tuple(
            HeadingShare(way=way_in_words(each.case), heading=each.case.heading, worst=each.worst.weak_spot,
                         share=each.worst.share.usual if each.worst.share else 0.0)
            for each in headings
        ),
    )  # fmt: skip


def _joints(chain: Chain) -> tuple[JoinedEnd, ...]:
    """Every joined end, reel to hook."""
    return tuple(
        JoinedEnd(
            place=link.name if link.kind == "crimp" else f"{link.name}'s {end} end", connection=joint.connection,
            keeps=estimate_of(joint.efficiency), source=joint.source,
        )
        for link in chain.links
        for end, joint in (("upper", link.upper), ("lower", link.lower))
        if joint is not None
    )  # fmt: skip


def _estimate(span: Span) -> Estimate:
    found = estimate_of(span)
    assert found is not None
    return found


def _present(chain: Chain) -> frozenset[str]:
    carried = {"hooks"}
    if chain.of_kind("bite leader", "bite guard"):
        carried.add("wire")
    if chain.of_kind("weight"):
        carried.add("weight")
    if any(link.material == "braid" for link in chain.links):
        carried.add("braid")
    return frozenset(carried)


def _tow_pulls(trip: Trip, picked: PickedRig) -> tuple[tuple[Estimate, Estimate], tuple[Estimate, Estimate]]:
    """Pull at the rod and in the shock leader [N], straight and at its greatest in the turns.

    Low and high: all drags of lines, weight and lure at their low and at their high end together.
    """
    rig, sea = picked.rig, Sea(density=trip.water.density)
    lines = [
        towed_rig(
            rig.outfit, rig.station, rig.mark, rig.weight, rig.shock_leader, rig.bite_leader, rig.lure,
            Doubts(line_across=end, line_along=end, weight=end, lure=end),
        )
        for end in (0.0, -1.0, 1.0)
    ]  # fmt: skip
    joint = lines[0].weight_joint  # the shock leader's upper end is there, its lower end at the joint after
    shapes = steady_straight([each.line for each in lines], trip.pattern.speed, sea)
    motion = march([lines[0].line], track_of(trip.pattern), sea, settings=SHOWN)[0]
    found = []
    for shape in shapes:
        if isinstance(shape, Failure):
            raise _not_towed(rig.outfit.name, shape)
        found.append((float(shape.tension[0]), float(shape.tension[int(shape.joints[joint]) + 1])))
    if isinstance(motion, Failure):
        raise _not_towed(rig.outfit.name, motion)
    at_rod, behind = (Estimate(usual=a, low=b, high=c) for a, b, c in zip(*found, strict=True))
    # The motion stores the leader's pull at its lower end: how much it rises there is how much it rises at the upper.
    leader = motion.pulls[:, joint + 2]
    rise = float(leader.max() / leader[0])
    peak = max(at_rod.usual, float(motion.pulls[:, 0].max()))
    return (at_rod, behind), (_scaled(at_rod, peak), _scaled(behind, rise * behind.usual))


def _not_towed(rod: str, failure: Failure) -> Faults:
    return Faults([Fault(f"rod {rod}", failure.reason, "a rig is towed before it is struck",
                         "change the mark or the gear a little, and report this trip file")])  # fmt: skip


def _scaled(estimate: Estimate, usual: float) -> Estimate:
    share = usual / estimate.usual
    return Estimate(usual=usual, low=estimate.low * share, high=estimate.high * share)


def _strike_sentences(
    chain: Chain, struck: RigStrike | Failure, others: Comparison, headings: Sequence[HeadingStrike], system: System
) -> list[str]:
    """The captain's answer: what the worst link sees, and what it would be on the other line."""
    if isinstance(struck, Failure):
        return [struck.reason]
    said = [strike_in_words(chain, struck, system)]
    if others.counterpart is not None:
        worst = worst_link(others.counterpart_chain, others.counterpart)
        if worst is not None and worst.share is not None:
            said.append(
                f"On {others.material} of the same strength it would be {share_in_words(worst.share)}, "
                f"at the {worst.link}; with the reel stuck {100 * _stuck_share(others):.0f} %."
            )
    return [*said, headings_in_words(headings)] if headings else said


def _stuck_share(others: Comparison) -> float:
    assert others.counterpart is not None
    worst = worst_of(others.counterpart_chain, dict(others.counterpart.stuck))
    return worst.share.usual if worst is not None and worst.share is not None else 0.0


def _sweep_sentences(others: Comparison, system: System) -> list[str]:
    """What the gear on the shelf and the drag would change, each in a sentence."""
    said = []
    for kind, before, dimension in (
        ("shock leader", "Shock leader", "length"), ("weight", "Weight", "mass"), ("drag", "Drag", "force"),
    ):  # fmt: skip
        ends = span_of_shares([each for each in others.variants if each.kind == kind])
        if ends is None:
            continue
        names = [each.label or show(each.value, dimension, system, figures=2) for each in ends]
        shares = [each.worst.share.usual if each.worst.share else 0.0 for each in ends]
        said.append(
            f"{before}: from {100 * shares[0]:.0f} % with {names[0]} ({ends[0].worst.link}) to "
            f"{100 * shares[1]:.0f} % with "
            f"{names[1]} ({ends[1].worst.link})."
        )
    return said


def _weak_link(chain: Chain, review: RigReview) -> tuple[float, float] | None:
    loads = [margin.load.high for margin in review.strength.margins]
    if not loads:
        return None
    window = weak_link_window(chain, preferred_first(chain).name, max(loads))
    return (window.least, window.most) if window.possible and np.isfinite(window.most) else None


def _belly(rows: Sequence[DragRow], water: WaterPull | None) -> tuple[BellyPoint, ...]:
    if water is None:
        return ()
    return tuple(
        BellyPoint(line_out=row.line_out, away=water.away_at(row.line_out), across=water.across_at(row.line_out))
        for row in rows
    )


def _marks(picked: PickedRig, steady: Estimate) -> tuple[MarkPoint, ...]:
    """Every mark of the rod under this rig's pull at the rod, as if all the line bore it (it bears a little less)."""
    line = picked.rig.outfit.line
    tension = Span(min(steady.low, steady.usual), steady.usual, max(steady.high, steady.usual))
    found = []
    for mark in picked.rig.outfit.marks:
        measured = measure_mark(mark, tension, stiffness_of(line), line.stiffening)
        found.append(MarkPoint(mark=mark, slack_to_measure=_estimate(measured.slack_length),
                               stands_at=_estimate(measured.tied_at_wanted_stands_at)))  # fmt: skip
    return tuple(found)


def _traces(picked: PickedRig, chain: Chain, struck: RigStrike) -> tuple[Trace, ...]:
    """The usual fish's pull over time on the links that a captain asks about, the greatest of each few moments."""
    names, result = sections_of(picked.rig, picked.rig.towed()), struck.usual
    shown = [link for link in chain.bearing if link.kind not in ("crimp", "snap swivel", "hook", "backing")]
    history = [
        link_pulls(chain, names, most, ends, float(tip))
        for most, ends, tip in zip(result.sections, result.ends, result.tip, strict=True)
    ]
    every = TRACE_STEP * float(result.times[1])
    traces = []
    for link in shown:
        values = np.array([pulls[link.name] for pulls in history])
        whole = values[: len(values) // TRACE_STEP * TRACE_STEP].reshape(-1, TRACE_STEP).max(axis=1)
        strength = link.strength.usual if link.strength is not None else None
        traces.append(Trace(link=link.name, every=every, pulls=tuple(np.round(whole, 1).tolist()), strength=strength))
    return tuple(traces)
