"""Make the plan of a trip: find the candidates, tow them, choose the spread, and say how sure it all is."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from spreadwright.day.cautions import NOTICE, Work, cautions_for
from spreadwright.faults import Fault, Faults
from spreadwright.logbook.preferences import Preferences
from spreadwright.plan import doubt
from spreadwright.plan.calibration import Calibration
from spreadwright.plan.cautious import low_gaps
from spreadwright.plan.in_doubt import in_doubt
from spreadwright.plan.inputs import ANY_SEA, NOT_COUNTED, SeaMet, in_words
from spreadwright.plan.more_marks import more_marks
from spreadwright.plan.others import next_best, one_more
from spreadwright.plan.refuse import refused_rigs, without_slipping
from spreadwright.plan.rods import Chosen, rod_plan
from spreadwright.plan.shopping import shelf_shopping
from spreadwright.plan.turn_depths import turn_depths
from spreadwright.plan.value import Gain, Outline, PairPlan, Plan, PlanCaution, RodPlan
from spreadwright.plan.why import Searched, why
from spreadwright.rig.tow_model import Narrow, as_stated
from spreadwright.spread.candidates import Candidate, Candidates, find_candidates
from spreadwright.spread.choose import Chooser, Decision
from spreadwright.spread.kept import Fished, Kept
from spreadwright.spread.motions import SHOWN, Passage, Progress, passage_of, track_of
from spreadwright.tackle.trip import Trip
from spreadwright.tow.clearance.gaps import gear_gap, line_gap
from spreadwright.tow.clearance.winding import WRAP, pair_winding
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.march import march
from spreadwright.tow.steady import Shape, steady_straight

SHOWN_WORK = (Work.RIGGING, Work.SETTING_OUT, Work.TURNING, Work.STRIKE, Work.LEADERING, Work.CLEARING)


@dataclass(frozen=True)
class Wish:
    """How to choose: seed of the bad days to choose for, what readings leave of doubt, the log's word, what is kept."""

    bad_days: int | None
    narrow: Narrow
    learnt: Preferences | None
    kept: Kept
    met: SeaMet = ANY_SEA


class Stopped(Exception):  # noqa: N818 (the captain's wish is no error)
    """The captain asked to stop."""


def make_plan(
    trip: Trip,
    progress: Progress | None = None,
    samples: int = doubt.SAMPLES,
    seed: int = doubt.SEED,
    others: bool = False,
    cautious: bool = False,
    learnt: Preferences | None = None,
    calibration: Calibration | None = None,
    kept: Kept | None = None,
    met: SeaMet = ANY_SEA,
) -> Plan:
    """The plan for a trip. Raises Faults where no spread is possible, Stopped when progress says so.

    samples: how many ways it may be the doubt is found from (a power of two is best), drawn by `seed`.
    others: also find the next best spreads, and what one more of each piece would gain. cautious: choose by the gaps
    of a bad day (see cautious.py). learnt: what the logbook says of lures; calibration: what readings say of drag.
    kept: what earlier plans of this process computed, and where this one leaves what it computes.
    met: the sea of the day that the doubt counts with.
    """
    tell = _stoppable(progress)
    narrow = as_stated if calibration is None else calibration.narrowed
    kept = Kept() if kept is None else kept
    candidates = find_candidates(trip, kept.refusals(trip, refused_rigs), narrow)
    sea = Sea(density=trip.water.density)
    results = kept.passages(candidates.lines, trip.pattern, sea, tell)
    candidates = without_slipping(trip, candidates, results)
    decision, chooser = _decide(
        trip, candidates, results, tell, Wish(seed if cautious else None, narrow, learnt, kept, met)
    )
    rigs = [candidates.rigs[i] for i in decision.rigs]
    chosen = _shown(trip, candidates, decision, sea)
    spreads = kept.doubt(
        trip, kept.spread, (samples, seed, met, calibration),
        lambda: doubt.spreads_in_doubt(trip, rigs, sea, tell, samples, seed, narrow, met),
    )  # fmt: skip
    pairs = _pairs(trip, chosen, spreads)
    rods = _rods(trip, chosen, spreads)
    worst = min(pairs, key=lambda pair: pair.gear_gap.usual, default=None)
    said = () if learnt is None else tuple(learnt.sentences)
    searched = Searched(trip, candidates, decision, results, chooser.gaps.computed, sea, narrow, said)
    return Plan(
        title=trip.title, place=trip.place, dates=tuple(day.isoformat() for day in trip.dates), crew=trip.crew,
        boat=trip.boat.name, units=trip.units, speed=trip.pattern.speed, turn_radius=trip.pattern.turn_radius,
        turns=trip.pattern.turns, density=trip.water.density, tangle_reach=trip.wishes.tangle_reach, rods=rods,
        pairs=pairs, worst_pair=(worst.first, worst.second) if worst else None, shopping=shelf_shopping(trip, chosen),
        cautions=_cautions(), notice=NOTICE, why=why(searched, worst),
        drawing=tuple(_outline(trip, each, worst) for each in chosen), doubts=(*in_words(met), NOT_COUNTED),
        in_doubt=in_doubt(trip, rods, pairs, spreads, seed),
        others=next_best(trip, candidates, chooser, decision) if others else (),
        gains=_gains(trip, rigs, chooser, decision, results, narrow, kept) if others else (),
        turn_depths=turn_depths(trip.pattern, [(rod.rod, each.passage) for rod, each in zip(rods, chosen, strict=True)],
                                spreads),
    )  # fmt: skip


def _stoppable(progress: Progress | None) -> Progress:
    def tell(what: str, done: int, of: int) -> bool:
        if progress is not None and not progress(what, done, of):
            raise Stopped(what)
        return True

    return tell


def _decide(
    trip: Trip,
    candidates: Candidates,
    results: Sequence[Passage | Failure],
    tell: Progress,
    wish: Wish,
) -> tuple[Decision, Chooser]:
    towed = [None if isinstance(each, Failure) else each for each in results]
    running = [i for i, each in enumerate(towed) if each is not None]
    if not running:
        raise _none_possible("none of the rigs could be towed, or every one is ruled out", candidates, results)
    place = {line: i for i, line in enumerate(running)}
    rods = np.full(len(running), -1, dtype=np.int64)
    for rig in candidates.rigs:
        if rig.line in place:
            rods[place[rig.line]] = rig.rod
    sea = Sea(density=trip.water.density)
    gaps = wish.kept.gaps(
        [candidates.lines[i] for i in running], (trip.pattern, sea), [p for p in towed if p is not None], rods,
        trip.wishes.enough_gap, tell,
    )  # fmt: skip
    if wish.bad_days is not None:
        gaps = low_gaps(trip, candidates, running, rods, gaps, sea, wish.bad_days, tell, wish.narrow, wish.met)
    liked = wish.learnt.lures if wish.learnt is not None else None
    chooser = Chooser(trip, candidates, towed, gaps, place, trip.wishes.enough_gap, tell, liked)
    decision = chooser.choose(before=_before(trip, candidates, wish.kept.spread))
    if isinstance(decision, str):
        raise _none_possible(decision, candidates, results)
    wish.kept.spread = tuple(
        fished_as(trip, candidates.rigs[i], lure) for i, lure in zip(decision.rigs, decision.lures, strict=True)
    )
    return decision, chooser


def fished_as(trip: Trip, rig: Candidate, lure: int) -> tuple[str, str, float, str, str, str, str]:
    """A rig by the names of the trip file."""
    shelf = trip.shelf
    return (
        trip.outfits[rig.rod].name, trip.boat.stations[rig.station].name, rig.mark, shelf.weights[rig.weight].name,
        shelf.shock_leaders[rig.shock].name, shelf.bite_leaders[rig.bite].name, shelf.lures[lure].name,
    )  # fmt: skip


def _before(trip: Trip, candidates: Candidates, spread: Fished) -> list[tuple[int, int]] | None:
    """The candidates that a spread kept by name was made of; None where one is none any more."""
    if [name for name, *_ in spread] != [outfit.name for outfit in trip.outfits]:
        return None
    found = {}
    for i, rig in enumerate(candidates.rigs):
        for lure in rig.lures:
            if fished_as(trip, rig, lure) == spread[rig.rod]:
                found[rig.rod] = (i, lure)
    return [found[rod] for rod in sorted(found)] if len(found) == len(spread) else None


def _gains(
    trip: Trip, rigs: Sequence[Candidate], chooser: Chooser, decision: Decision, results: Sequence[Passage | Failure],
    narrow: Narrow, kept: Kept,
) -> tuple[Gain, ...]:  # fmt: skip
    """What one more piece, or one more mark, would gain."""
    towed = [each for rig in rigs if not isinstance(each := results[rig.line], Failure)]
    refused = kept.refusals(trip, refused_rigs)
    marks = more_marks(trip, rigs, decision.lures, decision, towed, refused, narrow, kept)
    return (*one_more(trip, chooser, decision), *marks)


def _none_possible(reason: str, candidates: Candidates, results: Sequence[Passage | Failure]) -> Faults:
    left = [
        Fault(each.what, counted(each.count) + " left out", each.reason, "change the gear or what is fixed")
        for each in candidates.left_out
    ]
    failed = Counter(each.reason for each in results if isinstance(each, Failure))
    lost = [
        Fault("towed lines", f"{count} without a result", why_not, "change the gear or the pattern")
        for why_not, count in sorted(failed.items())
    ]
    return Faults([Fault("the whole spread", reason, "every rod needs at least one rig", "see below"), *left, *lost])


def counted(rigs: int) -> str:
    """`1 rig`, `2 rigs`; 0 stands for rigs that were never made up."""
    return f"{rigs:,} rig{'' if rigs == 1 else 's'}" if rigs else "all its rigs"


def _shown(trip: Trip, candidates: Candidates, decision: Decision, sea: Sea) -> list[Chosen]:
    """The chosen rigs computed anew on a finer mesh with smaller steps: what the plan shows."""
    rigs = [candidates.rigs[i] for i in decision.rigs]
    towed = [candidates.lines[rig.line] for rig in rigs]
    lines = [each.line for each in towed]
    shapes = steady_straight(lines, trip.pattern.speed, sea, SHOWN.grading)
    motions = march(lines, track_of(trip.pattern), sea, settings=SHOWN)
    chosen = []
    for i, (rig, line, shape, motion) in enumerate(zip(rigs, towed, shapes, motions, strict=True)):
        if isinstance(shape, Failure) or isinstance(motion, Failure):
            reason = shape.reason if isinstance(shape, Failure) else getattr(motion, "reason", "")
            raise ArithmeticError(f"rod {trip.outfits[rig.rod].name}: {reason}; please report this trip file")
        assert isinstance(shape, Shape)
        chosen.append(Chosen(i, rig, decision.lures[i], line, shape, passage_of(motion, line)))
    return chosen


def _rods(trip: Trip, chosen: Sequence[Chosen], spreads: doubt.Spreads) -> tuple[RodPlan, ...]:
    """Longest out first, shortest in first."""
    by_distance = sorted(range(len(chosen)), key=lambda i: -chosen[i].passage.astern)
    out = {i: place + 1 for place, i in enumerate(by_distance)}

    def one(i: int) -> RodPlan:
        return rod_plan(trip, chosen[i], spreads, out[i], len(chosen) + 1 - out[i])

    with ThreadPoolExecutor(SHOWN.workers) as pool:  # most of it are strikes, simulated in compiled code
        return tuple(pool.map(one, range(len(chosen))))


def _pairs(trip: Trip, chosen: Sequence[Chosen], spreads: doubt.Spreads) -> tuple[PairPlan, ...]:
    found = [
        (i, first, second, gear_gap(first.passage.outline, second.passage.outline))
        for i, first in enumerate(chosen)
        for second in chosen[:i]
    ]
    tangled = spreads.tangles([gear.distance for *_, gear in found], trip.wishes.tangle_reach)
    pairs = []
    for place, (i, first, second, gear) in enumerate(found):
        a, b = first.passage.outline, second.passage.outline
        line, winding = line_gap(a, b), pair_winding(a, b)
        pairs.append(
                PairPlan(
                    first=trip.outfits[second.rig.rod].name, second=trip.outfits[first.rig.rod].name,
                    gear_gap=spreads.gap(i, second.number, gear.distance), gear_time=gear.time,
                    line_gap=line.distance, line_time=line.time, winding=winding / (2.0 * math.pi),
                    hidden=gear.doubt, tangle=gear.distance < trip.wishes.tangle_reach or abs(winding) >= WRAP,
                    chance=doubt.chance(tangled[:, place]),
                )
            )  # fmt: skip
    return tuple(pairs)


def _cautions() -> tuple[PlanCaution, ...]:
    return tuple(
        PlanCaution(work=next(w for w in each.where if w in SHOWN_WORK).value, text=each.text, grave=each.grave)
        for each in cautions_for(SHOWN_WORK)
    )


def _outline(trip: Trip, each: Chosen, worst: PairPlan | None) -> Outline:
    outline = each.passage.outline
    when = int(np.argmin(np.abs(outline.times - (worst.gear_time if worst else 0.0))))
    heading = float(track_of(trip.pattern).pose(outline.times[when : when + 1]).heading[0])
    nodes = np.delete(outline.vertices[when], outline.gear, axis=0)  # the front of the weight is no node
    worst_places = aboard(nodes, heading)
    node = [int(each.shape.joints[each.towed.weight_joint]), int(each.shape.joints[-2]), len(each.shape.places) - 1]
    return Outline(
        rod=trip.outfits[each.rig.rod].name,
        straight=tuple((float(x), float(y), float(z)) for x, y, z in np.round(each.shape.places, 3)),
        worst=tuple((float(x), float(y), float(z)) for x, y, z in np.round(worst_places, 3)),
        joints=tuple(node),
    )


def aboard(places: NDArray[np.floating[Any]], heading: float) -> NDArray[np.float64]:
    """Places (V, 3) [m] about the boat's origin in the earth's axes, turned into the boat's own."""
    cos, sin = math.cos(heading), math.sin(heading)
    turn = np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
    return np.asarray(np.asarray(places, dtype=float) @ turn)
