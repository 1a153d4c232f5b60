"""Sentences about doubt: the chance of a tangle, which pairs, what drives it, and the trade's question about depth."""

from __future__ import annotations

from spreadwright.plan.value import Estimate, Plan
from spreadwright.quantity import System
from spreadwright.sheets.figures import estimate, plain

LEAST_SHARE = 0.05  # of the doubt, for a driver to be named
LEAST_CHANCE = 0.01  # of a tangle, for a pair to be named


def chance(value: Estimate) -> str:
    """A chance with its interval: "3 % (1 to 6 %)"; where it never happened: "under 1 %"."""
    if value.usual <= 0.0:
        return f"under {_percent(value.high)} %"
    if value.usual >= 1.0:
        return f"over {_percent(value.low)} %"
    return f"{_percent(value.usual)} % ({_percent(value.low)} to {_percent(value.high)} %)"


def _percent(share: float) -> str:
    many = 100.0 * share
    return f"{many:.0f}" if many >= 2.0 and many <= 98.0 else f"{many:.1f}"


def tangle_in_words(plan: Plan) -> str:
    """The chance of a tangle in one run of the turns; empty where nothing was sampled."""
    if plan.in_doubt is None or not plan.pairs:
        return ""
    found = plan.in_doubt
    risky = sorted(
        (pair for pair in plan.pairs if pair.chance is not None and pair.chance.usual >= LEAST_CHANCE),
        key=lambda pair: -(pair.chance.usual if pair.chance else 0.0),
    )
    said = f"{chance(found.tangle)} in one run of these turns, from {found.samples} ways that it may be."
    if risky:
        named = "; ".join(f"{plain(p.first)} and {plain(p.second)} {chance(p.chance)}" for p in risky if p.chance)
        said += f" Likeliest: {named}."
    return said


def doubt_in_words(plan: Plan, system: System) -> list[str]:
    """What the samples say: where the smallest gap lies, what drives it, and the depth question."""
    found = plan.in_doubt
    if found is None:
        return []
    said = []
    if plan.pairs:
        gap = estimate(found.smallest_gap, "length", system)
        said.append(
            f"Smallest gap of all pairs, whichever two come closest then: {gap}, in nine of ten ways that it may be. "
            "The range of one pair alone is that in the table."
        )
        drivers = [each for each in found.drivers if each.share.usual >= LEAST_SHARE]
        named = ", ".join(
            f"{plain(each.name)} {100.0 * each.share.usual:.0f} % "
            f"({100.0 * each.share.low:.0f} to {100.0 * each.share.high:.0f})"
            for each in drivers
        )
        said.append(
            f"What drives the doubt about that gap, each alone: {named or 'nothing'}; the rest is several together."
        )
    question = found.depth_question
    if question is not None:
        said.append(
            "Is the short heavy line deeper than the long light one? Here the chance that "
            f"{plain(question.short)} runs its lure deeper than {plain(question.long)} is {chance(question.deeper)}."
        )
    if found.lost:
        said.append(f"{found.lost} ways that it may be gave no result and are not counted.")
    return said
