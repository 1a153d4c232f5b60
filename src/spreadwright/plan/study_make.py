"""Make a study: the spread of every boat, the cases, their outcomes, and what came of it in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import product
from pathlib import Path

from spreadwright.day.boat_motion import Hull
from spreadwright.faults import Fault, Faults
from spreadwright.plan.build import make_plan
from spreadwright.plan.rig_choice import FIXED, pick_rig
from spreadwright.plan.stored import stored_plan
from spreadwright.plan.study import Asked, Case, Fished, Outcome, Spread, Study
from spreadwright.plan.study_words import counted, sentences
from spreadwright.plan.value import Plan
from spreadwright.rig.strike import FishedRig
from spreadwright.spread.motions import Progress
from spreadwright.tackle import read_trip
from spreadwright.tackle.trip import Trip

Run = Callable[[Sequence[Case], Progress | None], tuple[Outcome, ...]]


def make_study(
    trips: Sequence[Trip], plans: Sequence[Plan], asked: Asked, run: Run, progress: Progress | None = None
) -> Study:
    """The study of one boat or several, a trip each; `run` computes the cases. Raises Faults, or what `run` raises."""
    taken, faults = _matched(trips, plans)
    if faults:
        raise Faults(faults)
    names = _names(trips)
    spreads = []
    for i, trip in enumerate(trips):
        hull = asked.hulls[i if len(asked.hulls) > 1 else 0] if asked.hulls else None
        spreads.append(spread_of(trip, taken[i], hull, names[i], progress))
    cases = cases_of(trips, spreads, asked)
    outcomes = run(cases, progress)
    study = Study(trips[0].title, trips[0].units, tuple(spreads), cases, outcomes)
    return Study(study.title, study.units, study.spreads, study.cases, study.outcomes, sentences(study), counted(study))


def read_all(trips: Sequence[Path], plans: Sequence[Path]) -> tuple[list[Trip], list[Plan]]:
    """Trip files and plan files. Raises Faults with those of all the files."""
    faults: list[Fault] = []
    found: list[Trip] = []
    made: list[Plan] = []
    for path in trips:
        try:
            found.append(read_trip(path))
        except Faults as error:
            faults += error.faults
    for path in plans:
        try:
            plan = stored_plan(path)
        except Faults as error:
            faults += error.faults
        else:
            made += [plan] if plan is not None else []
    if faults:
        raise Faults(faults)
    return found, made


def cases_of(trips: Sequence[Trip], spreads: Sequence[Spread], asked: Asked) -> tuple[Case, ...]:
    """Boats, then seas, then radii, then speeds; where none are asked for, the trip's own."""
    return tuple(
        Case(spread, speed, radius, sea, asked.waves_from, asked.seed)
        for trip, spread in zip(trips, spreads, strict=True)
        for sea, radius, speed in product(
            asked.seas, asked.radii or (trip.pattern.turn_radius,), asked.speeds or (trip.pattern.speed,)
        )
    )


def spread_of(
    trip: Trip, plan: Plan | None, hull: Hull | None, name: str = "", progress: Progress | None = None
) -> Spread:
    """The spread to study: a plan's; else what the trip file fixes, if it fixes every rig; else one planned now."""
    rigs, chosen = _rigs(trip, plan, progress)
    fished = tuple(
        Fished(rig.outfit.name, rig.station.name, rig.mark, rig.weight.name, rig.lure.name, rig.towed()) for rig in rigs
    )
    return Spread(
        name or trip.boat.name, fished, trip.pattern, trip.water.density, trip.wishes.tangle_reach, hull, chosen
    )


def _rigs(trip: Trip, plan: Plan | None, progress: Progress | None) -> tuple[list[FishedRig], str]:
    rods = range(len(trip.outfits))
    if plan is not None:
        return [pick_rig(trip, i, plan).rig for i in rods], "the plan that was given"
    if all(_is_fixed(trip, i) for i in rods):
        return [pick_rig(trip, i).rig for i in rods], FIXED
    made = make_plan(trip, progress)
    return [pick_rig(trip, i, made).rig for i in rods], "planned for the trip's own speed and turns, on flat water"


def _is_fixed(trip: Trip, rod: int) -> bool:
    outfit = trip.outfits[rod]
    lock = trip.lock(outfit.name)
    if lock is None or not all((lock.weight, lock.leader, lock.bite_leader, lock.lure)):
        return False
    placed = lock.station is not None or outfit.station is not None
    return placed and (lock.mark is not None or len(outfit.marks) == 1)


def _matched(trips: Sequence[Trip], plans: Sequence[Plan]) -> tuple[list[Plan | None], list[Fault]]:
    """Each trip's plan, found by title and boat; a plan that belongs to no trip is a fault."""
    taken: list[Plan | None] = [None] * len(trips)
    faults = []
    for plan in plans:
        fits = [i for i, t in enumerate(trips) if (t.title, t.boat.name) == (plan.title, plan.boat) and not taken[i]]
        if fits:
            taken[fits[0]] = plan
            continue
        given = f"a plan of '{plan.title}' on '{plan.boat}'"
        rule = "a plan belongs to one of the trip files, by its title and boat"
        faults.append(Fault("--plan", given, rule, "give that trip's file too, or leave the plan out"))
    return taken, faults


def _names(trips: Sequence[Trip]) -> list[str]:
    """Boats' names, with the trip's title, and then a number, where they would be the same."""
    boats = Counter(trip.boat.name for trip in trips)
    names = [t.boat.name if boats[t.boat.name] == 1 else f"{t.boat.name}, {t.title}" for t in trips]
    seen: Counter[str] = Counter()
    for i, name in enumerate(names):
        seen[name] += 1
        if seen[name] > 1:
            names[i] = f"{name} ({seen[name]})"
    return names
