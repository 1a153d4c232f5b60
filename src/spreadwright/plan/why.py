"""Why this spread: how it stands against the trade's rule, what limits it, and how far the search can vouch for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.plan.value import MESH_SHARE, PairPlan, Skipped, Why
from spreadwright.plan.worded import twins, worded
from spreadwright.quantity import System, show
from spreadwright.rig.tow_model import Narrow, TowedRig, as_stated
from spreadwright.spread.candidates import Candidates
from spreadwright.spread.choose import Decision
from spreadwright.spread.motions import SEARCH, Passage, passages, track_of
from spreadwright.spread.rule import rule_spread
from spreadwright.spread.worth import APART_ASTERN, APART_IN_DEPTH
from spreadwright.tackle.trip import Trip
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.line import Failure, Sea

HAND = 0.1  # [m] about the width of a hand: what is less is no gap


@dataclass(frozen=True)
class Searched:
    """What the search saw and decided."""

    trip: Trip
    candidates: Candidates
    decision: Decision
    results: Sequence[Passage | Failure]
    pairs_computed: int
    sea: Sea
    narrow: Narrow = as_stated
    learnt: tuple[str, ...] = ()


def why(searched: Searched, worst: PairPlan | None) -> Why:
    """The reasons, as numbers and as sentences in the captain's units."""
    trip, decision = searched.trip, searched.decision
    rigs = [searched.candidates.rigs[i] for i in decision.rigs]
    rule = _gap_of(trip, rule_spread(trip, rigs, narrow=searched.narrow), searched.sea)
    reverse = _gap_of(trip, rule_spread(trip, rigs, heaviest_short=False, narrow=searched.narrow), searched.sea)
    gap = worst.gear_gap.usual if worst else trip.wishes.enough_gap
    proof = worded(trip.units, lambda system: _proof(system, decision))
    limit = worded(trip.units, lambda system: _limit(trip, worst, system))
    sentences: list[str] = [
        worded(trip.units, lambda system: _against(
            system, gap, rule, "the trade's rule (short lines heaviest, long lines lightest)")),
        worded(trip.units, lambda system: _against(system, gap, reverse, "its reverse (long lines heaviest)")),
        limit,
        worded(trip.units, lambda system: _apart(system, decision)),
        proof,
    ]  # fmt: skip
    if decision.bought:
        sentences.append(f"It needs pieces beyond the shelf, to be bought: {', '.join(decision.bought)}.")
    sentences += searched.learnt
    return Why(
        gap=gap, rule_gap=rule, reverse_gap=reverse, enough=trip.wishes.enough_gap, limited_by=limit, proof=proof,
        candidates=len(searched.candidates.rigs), classes=len({rig.line for rig in searched.candidates.rigs}),
        pairs_computed=searched.pairs_computed, sentences=tuple(s for s in sentences if s), skipped=_skipped(searched),
        other_units=twins([*sentences, *(each.reason for each in searched.candidates.left_out)]),
    )  # fmt: skip


def _gap_of(trip: Trip, spread: Sequence[TowedRig], sea: Sea) -> float | None:
    """Smallest gear-to-line gap of a spread [m]; None if a line did not converge."""
    results = passages(spread, track_of(trip.pattern), sea, SEARCH)
    fine = [each for each in results if not isinstance(each, Failure)]
    if len(fine) < len(results) or len(fine) < 2:
        return None
    return min(gear_gap(a.outline, b.outline).distance for i, a in enumerate(fine) for b in fine[:i])


def _against(system: System, gap: float, other: float | None, name: str) -> str:
    if other is None:
        return ""
    mine, theirs = (_gap_in_words(system, each) for each in (gap, other))
    return f"Its smallest gap is {mine}; {name} would leave {theirs}."


def _gap_in_words(system: System, gap: float) -> str:
    """A gap to two figures; what is less than a hand is wide is said so."""
    if gap < HAND:
        return f"less than {show(HAND, 'length', system, figures=1)}"
    return show(gap, "length", system, figures=2)


def _apart(system: System, decision: Decision) -> str:
    pairs = len(decision.rigs) * (len(decision.rigs) - 1) // 2
    if pairs == 0:
        return ""
    far, deep = (show(each, "length", system, figures=2) for each in (APART_ASTERN, APART_IN_DEPTH))
    astern, depth = decision.apart
    return (
        f"Different water: of {pairs} {'pair' if pairs == 1 else 'pairs'} of lures {astern} run {far} or more apart in "
        f"distance, and {depth} run {deep} or more apart in depth."
    )


def _limit(trip: Trip, worst: PairPlan | None, system: System) -> str:
    if worst is None:
        return "One line alone has nothing to tangle with."
    if worst.gear_gap.usual >= (1.0 - MESH_SHARE) * trip.wishes.enough_gap:
        enough = show(trip.wishes.enough_gap, "length", system, figures=2)
        pair = f"{worst.first} and {worst.second}"
        return f"Every gap is at least the {enough} that you call enough, to a hundredth; the closest are {pair}."
    return f"It is limited by {worst.first} and {worst.second}, {worst.gear_time:.0f} s into the S-turn."


def _proof(system: System, decision: Decision) -> str:
    bound = show(decision.bound, "length", system, figures=3)
    if decision.proven:
        return (
            f"Proven: no spread of these rigs does better. None has a gap beyond {bound} (counted up to enough), none "
            f"with that gap has more lures in different water, and of those none has lures you like better. "
            f"{decision.nodes:,} branches were searched, and the rest ruled out."
        )
    return (
        f"The best found, not proven the best there is: no spread has a gap beyond {bound} (counted up to enough), and "
        f"none fishes more than {100 * decision.coverage_bound:.0f} % of its pairs in different water; this one fishes "
        f"{100 * decision.coverage:.0f} %. {decision.nodes:,} branches were searched."
    )


def _skipped(searched: Searched) -> tuple[Skipped, ...]:
    failed = Counter(each.reason for each in searched.results if isinstance(each, Failure))
    skipped = [Skipped(what=each.what, count=each.count, reason=each.reason) for each in searched.candidates.left_out]
    return (
        *skipped,
        *(Skipped(what="towed lines", count=count, reason=reason) for reason, count in sorted(failed.items())),
    )
