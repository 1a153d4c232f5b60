"""Sentences that several sheets say in the same words: the worst pair, what to buy, what is weakest, the run."""

from __future__ import annotations

import math
from collections.abc import Sequence

from spreadwright.plan.value import OWN_SHELF, LinkLoad, PairPlan, Plan, PlanCaution, RodPlan, Shopping
from spreadwright.plan.worded import often_in_words
from spreadwright.quantity import System, show
from spreadwright.sheets.figures import about, counted, estimate, given, moment, percent_estimate, plain
from spreadwright.stock.lists.value import TripLists

# What can go wrong with a link, as the verdict's word and what to do about it.
VERDICTS = {
    "holds": "it holds",
    "may part": "it may part in the worst case",
    "parts": "it parts",
    "not known": "whether it holds is not known",
}


def listed(words: Sequence[str]) -> str:
    """Words as a list: "a", "a and b", "a, b and c"."""
    return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)


def sentence(text: str) -> str:
    """A text as a sentence: it begins with a capital and ends with a full stop; an empty one stays empty."""
    said = plain(text)
    if not said:
        return ""
    return f"{said[0].upper()}{said[1:]}{'' if said[-1] in '.!?' else '.'}"


def turns_in_words(plan: Plan, system: System) -> str:
    """The pattern: speed, radius and the turns one by one."""
    run = f"{given(plan.speed, 'speed', system)}, density {given(plan.density, 'density', system)}"
    if not plan.turns:
        return f"{run}, straight on."
    turns = ", ".join(f"{abs(math.degrees(turn)):.0f}° to {'port' if turn > 0 else 'starboard'}" for turn in plan.turns)
    return f"{run}, turns of {given(plan.turn_radius, 'length', system)} radius: {turns}."


def crew_in_words(plan: Plan) -> str:
    """Boat and crew: "Second Kettle, with Odile, Bram and Wick"."""
    crew = listed([plain(name) for name in plan.crew])
    return f"{plain(plan.boat)}, with {crew}" if crew else plain(plan.boat)


def is_worst(plan: Plan, pair: PairPlan) -> bool:
    """True for the pair that the plan names as worst, whichever way round."""
    return plan.worst_pair is not None and {pair.first, pair.second} == set(plan.worst_pair)


def worst_pair(plan: Plan) -> PairPlan | None:
    """The pair that the plan names as worst; None if there is only one line."""
    return next((pair for pair in plan.pairs if is_worst(plan, pair)), None)


def pair_names(pair: PairPlan) -> str:
    """Both rods of a pair: "green 80 and yellow 80"."""
    return f"{plain(pair.first)} and {plain(pair.second)}"


def closest_in_words(plan: Plan, system: System) -> str:
    """The worst pair, its gap with its doubt, when, and what that means."""
    pair = worst_pair(plan)
    if pair is None:
        return "One line only: there is no other to come near."
    gap = f"{pair_names(pair)} come closest: {estimate(pair.gear_gap, 'length', system)} from gear to line"
    text = f"{gap}, {moment(pair.gear_time)} into the run."
    enough = given(plan.why.enough, "length", system)
    if pair.tangle:
        return f"{text} They can tangle: change a mark or a weight, or turn wider."
    if pair.gear_gap.low < plan.tangle_reach:
        return f"{text} Within its doubt that is near enough to tangle; {enough} is asked for."
    if not plan.why.keeps_enough(pair.gear_gap.usual):
        return f"{text} That clears a tangle, but {enough} is asked for."
    met = f"That is the {enough} asked for, or more"
    if pair.gear_gap.usual < plan.why.enough:
        met = f"That is as good as the {enough} asked for"
    return f"{text} {met}; low end {low_end(pair, system)}."


def low_end(pair: PairPlan, system: System) -> str:
    """The low end of a pair's gap: "3.7 ft"."""
    return show(pair.gear_gap.low, "length", system, figures=2)


def item_in_words(item: Shopping) -> str:
    """One thing to buy: "3 x shock leader 30 ft of 300 lb"."""
    return f"{item.quantity} × {plain(item.kind)} {plain(item.name)}"


def buy_in_words(plan: Plan, most: int = 3) -> str:
    """What to buy or make up, the first `most` things by name."""
    if not plan.shopping:
        return NOTHING_TO_BUY
    items = [item_in_words(item) for item in plan.shopping]
    if len(items) <= most + 1:
        return f"{'; '.join(items)}."
    return f"{'; '.join(items[:most])}; and {counted(len(items) - most, 'more thing')}, listed below."


NOTHING_TO_BUY = "Nothing: what is there carries this plan and its spares."


def counted_in_words(plan: Plan) -> str:
    """What the shopping was counted against, and where else it is counted."""
    if plan.counted != OWN_SHELF:
        return f"Counted against {plain(plan.counted)}: the same count as `spreadwright lists`."
    return (
        f"Counted against {plain(plan.counted)}. `spreadwright lists` counts what is fit in the tackle room and works "
        "the spares out; `plan --store` puts that count here."
    )


def buy_list_in_words(lists: TripLists, most: int = 3) -> str:
    """The same of a tackle room's lists: what to buy and what to make up, the first `most` things by name."""
    items = [f"{plain(item.said)}" for name in ("buy", "bench") for item in lists.list(name).items]
    if not items:
        return NOTHING_TO_BUY
    if len(items) <= most + 1:
        return f"{'; '.join(items)}."
    return f"{'; '.join(items[:most])}; and {counted(len(items) - most, 'more thing')}, listed below."


def weakest_rod(plan: Plan) -> RodPlan | None:
    """The rod whose weakest link carries the largest share of its strength; None if no strength is known."""
    known = [rod for rod in plan.rods if rod.weakest.share is not None]
    return max(known, key=lambda rod: rod.weakest.share.usual if rod.weakest.share else 0.0, default=None)


def link_in_words(load: LinkLoad) -> str:
    """What a link sees and what that means: "main line at its knot: 71 % (50 to 115) of its strength in the strike"."""
    verdict = VERDICTS.get(load.verdict, plain(load.verdict))
    if load.share is None:
        return f"{plain(load.weak_spot)} in {plain(load.case)}: its strength is not known; {verdict}"
    return (
        f"{plain(load.weak_spot)} sees {percent_estimate(load.share)} of its strength in {plain(load.case)}; {verdict}"
    )


def weakest_in_words(plan: Plan) -> str:
    """What is weakest of all, and how many other rigs are at risk."""
    rod = weakest_rod(plan)
    if rod is None:
        return "No link's strength is known: enter strengths in the trip file."
    text = f"{plain(rod.rod)}: {link_in_words(rod.weakest)}."
    others = [each for each in plan.rods if each is not rod and each.weakest.verdict in ("parts", "may part")]
    if others:
        text += f" Also at risk: {listed([plain(each.rod) for each in others])}."
    return text


def slips_in_words(plan: Plan, system: System) -> str:
    """Which reels may give line while trolling, how often, and what to do; empty where none may."""
    said = []
    for rod in plan.rods:
        if rod.slip is None:
            continue
        pull, step = show(rod.slip.high, "force", system, figures=3), "fish a lighter rig or go slower"
        if rod.slip.set_to is not None:
            step = f"set its drag up to {show(rod.slip.set_to, 'force', system, figures=3)}, or fish a lighter rig"
        said.append(
            f"{plain(rod.rod)}, set to {given(rod.strike_drag, 'force', system)}: may pull {pull}, more than the drag "
            f"{often_in_words(rod.slip.share)}; {step}."
        )
    return " ".join(["Line may run off a reel while trolling.", *said]) if said else ""


def cautions_grave_first(plan: Plan) -> list[PlanCaution]:
    """The cautions, grave ones first, otherwise as they stand in the plan."""
    return sorted(plan.cautions, key=lambda caution: not caution.grave)


def parts_first_in_words(rod: RodPlan) -> str:
    """What parts first, as a sentence; empty if it is not known."""
    said = sentence(rod.parts_first)
    if not said or said.lower().startswith("first to part"):
        return said
    return f"First to part: {said[0].lower()}{said[1:]}"


def notes_in_words(rod: RodPlan) -> list[str]:
    """What else is said of a rod's rig: why it is fished anyway, what parts first, the strike, what does not fit."""
    strike = sentence(rod.strike.sentence) if rod.strike is not None else ""
    anyway = f"Fished because you want it: {sentence(rod.override)}" if rod.override else ""
    said = [anyway, parts_first_in_words(rod), strike, *(sentence(finding) for finding in rod.findings)]
    return [each for each in said if each]


def reasons_in_words(plan: Plan) -> list[str]:
    """Why this spread, nothing said twice."""
    why = plan.why
    said = [sentence(each) for each in why.sentences]
    if why.limited_by and sentence(why.limited_by) not in said:
        said.append(f"Limited by: {sentence(why.limited_by)}")
    if why.proof and sentence(why.proof) not in said:
        said.append(sentence(why.proof))
    return [each for each in said if each]


def by_set_out(plan: Plan) -> list[RodPlan]:
    """The rods in the order in which their lines go out."""
    return sorted(plan.rods, key=lambda rod: rod.set_out)


def by_clear(plan: Plan) -> list[RodPlan]:
    """The rods in the order in which their lines come in."""
    return sorted(plan.rods, key=lambda rod: rod.clear)


def marks_in_words(rod: RodPlan, system: System) -> str:
    """Where the gear runs and what to measure: "runs 326 ft ± 8 back; measure 276 ft ± 6 slack to run at 300 ft"."""
    mark = given(rod.mark, "length", system)
    return (
        f"runs {estimate(rod.runs_at, 'length', system)} behind the tip; "
        f"to run at {mark} measure {estimate(rod.slack_to_measure, 'length', system)} slack"
    )


def against_the_rule(plan: Plan, system: System) -> list[tuple[str, str]]:
    """Smallest gaps of this spread, of the trade's rule and of its reverse, and what is asked for."""
    why = plan.why
    rows = [("this spread", about(why.gap, "length", system))]
    if why.rule_gap is not None:
        rows.append(("short lines heaviest (the trade's rule)", about(why.rule_gap, "length", system)))
    if why.reverse_gap is not None:
        rows.append(("short lines lightest (the reverse)", about(why.reverse_gap, "length", system)))
    return [*rows, ("asked for in the trip file", given(why.enough, "length", system))]
