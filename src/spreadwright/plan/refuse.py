"""Rigs that must not be fished: what does not fit together, or parts under the strike drag or in the strike itself.

A rig that the captain has fixed whole and wants anyway stays, and is told with the reason it would have gone for.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import product

from spreadwright.plan.worded import worded
from spreadwright.quantity import System
from spreadwright.rig.assemble import Gear, assemble, gear_from_shelf
from spreadwright.rig.fit import check_fit
from spreadwright.rig.loads import STRIKE_DRAG, drag_case, strike_case
from spreadwright.rig.strength import review_strength
from spreadwright.rig.strike import FishedRig, usual_peaks
from spreadwright.spread.candidates import Candidates, LeftOut
from spreadwright.spread.motions import Passage
from spreadwright.tackle.span import Span
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure

DRAG_DOUBT = 0.1  # share; a drag set with a scale, common practice
SLIPS = "pulls harder while trolling than its strike drag is set to"
Key = tuple[int, int, int, int, int]


def gear_of(trip: Trip, rod: int, weight: int, shock: int, bite: int, lure: int) -> Gear:
    """The pieces of one rig, by their places in the trip's shelf; swivel, crimps and hook found for it."""
    shelf = trip.shelf
    return gear_from_shelf(
        shelf,
        trip.outfits[rod],
        shelf.shock_leaders[shock],
        shelf.bite_leaders[bite],
        shelf.lures[lure],
        shelf.weights[weight],
    )


def refused_rigs(trip: Trip) -> dict[Key, str]:
    """Reasons by (rod, weight, shock leader, bite leader, lure) of rigs that fail whatever the water does."""
    shelf = trip.shelf
    refused: dict[Key, str] = {}
    seen: dict[tuple[int, float, int, int, str | None, int], str] = {}
    for rod, weight, shock, bite, lure in product(
        *(range(len(each)) for each in (trip.outfits, shelf.weights, shelf.shock_leaders, shelf.bite_leaders)),
        range(len(shelf.lures)),
    ):
        piece = shelf.lures[lure]
        like = (rod, shelf.weights[weight].cable_strength, shock, bite, piece.hook, piece.hooks)
        if like not in seen:
            seen[like] = reason_against(trip, rod, gear_of(trip, rod, weight, shock, bite, lure))
        if seen[like]:
            refused[rod, weight, shock, bite, lure] = seen[like]
    refused |= _parted_in_the_strike(trip, refused)
    return {key: reason for key, reason in refused.items() if not wanted_anyway(trip, key)}


def wanted_anyway(trip: Trip, key: Key) -> bool:
    """True where the captain has fixed just this rig and said that it is to be fished anyway."""
    rod, weight, shock, bite, lure = key
    lock, shelf = trip.lock(trip.outfits[rod].name), trip.shelf
    leaders = (shelf.shock_leaders[shock].name, shelf.bite_leaders[bite].name)
    names = (shelf.weights[weight].name, *leaders, shelf.lures[lure].name)
    return lock is not None and lock.anyway and (lock.weight, lock.leader, lock.bite_leader, lock.lure) == names


def override_of(trip: Trip, rod: int, gear: Gear, turn_peak: float) -> str:
    """Why a rig that the captain wants anyway would not have been chosen; empty where there is no such word or reason.

    turn_peak: its pull at the rod in the turns [N].
    """
    lock = trip.lock(trip.outfits[rod].name)
    if lock is None or not lock.anyway:
        return ""
    parts = _parts_in_the_strike(trip, [(rod, gear)])[0]
    slips = SLIPS if turn_peak > trip.outfits[rod].strike_drag else ""
    return reason_against(trip, rod, gear) or parts or slips


def reason_against(trip: Trip, rod: int, gear: Gear) -> str:
    """Why a rig must not be fished whatever the water does; empty if nothing speaks against it."""
    outfit = trip.outfits[rod]
    chain = assemble(outfit, gear)
    longest, thinnest = trip.wishes.rig_length, trip.wishes.hand_hold_diameter

    def unfit(system: System) -> str:
        found = check_fit(chain, gear, length_budget=longest, hand_hold_diameter=thinnest, system=system)
        return next((f"{each.place}: {each.given}; {each.rule}; {each.fix}" for each in found if each.fails), "")

    if reason := worded(trip.units, unfit):
        return reason
    case = drag_case(chain, STRIKE_DRAG, Span.about(outfit.strike_drag, DRAG_DOUBT))
    weakest = review_strength(chain, [case]).weakest
    if weakest is not None and weakest.verdict == "parts":
        return f"{weakest.link} parts under the strike drag"
    return ""


Rig = tuple[int, int, int, int]  # rod, weight, shock leader, bite leader


def _parted_in_the_strike(trip: Trip, refused: dict[Key, str]) -> dict[Key, str]:
    """Rigs whose weakest link parts when the usual fish strikes at the rod's shortest mark, where it is hardest.

    The lure hardly matters: the first one that a rig may carry stands for all. The pull on leaders grows with the
    weight, that on the main line falls: where neither the lightest nor the heaviest weight parts a rig, none does.
    """
    shelf = trip.shelf
    lures: dict[Rig, list[int]] = {}
    for rod, weight, shock, bite, lure in product(
        *(range(len(each)) for each in (trip.outfits, shelf.weights, shelf.shock_leaders, shelf.bite_leaders)),
        range(len(shelf.lures)),
    ):
        if (rod, weight, shock, bite, lure) not in refused:
            lures.setdefault((rod, weight, shock, bite), []).append(lure)
    alike: dict[object, list[Rig]] = {}  # rods alike, with the same leaders; one a weight
    for rig in lures:
        like = trip.outfits[rig[0]].model_copy(update={"name": "", "rod": "", "station": None})
        alike.setdefault((like, rig[2:]), []).append(rig)
    asked = [_one_a_weight(rigs) for rigs in alike.values()]
    reasons = _reasons(trip, lures, [rig for rigs in asked for rig in _extremes(trip, rigs)])
    doubtful = [rigs for rigs in asked if any(reasons.get(rig) for rig in rigs)]
    reasons |= _reasons(trip, lures, [rig for rigs in doubtful for rig in rigs if rig not in reasons])
    return {
        (*rig, lure): reason
        for rigs in alike.values()
        for rig in rigs
        if (reason := reasons.get(next(each for each in rigs if each[1] == rig[1]), ""))
        for lure in lures[rig]
    }


def _one_a_weight(rigs: Sequence[Rig]) -> list[Rig]:
    """The first rig of each weight."""
    first: dict[int, Rig] = {}
    for rig in rigs:
        first.setdefault(rig[1], rig)
    return list(first.values())


def _extremes(trip: Trip, rigs: Sequence[Rig]) -> list[Rig]:
    """Those of the lightest and of the heaviest weight."""
    by_mass = sorted(rigs, key=lambda rig: trip.shelf.weights[rig[1]].mass)
    return by_mass if len(by_mass) < 2 else [by_mass[0], by_mass[-1]]


def _reasons(trip: Trip, lures: dict[Rig, list[int]], rigs: Sequence[Rig]) -> dict[Rig, str]:
    gear = [(rig[0], gear_of(trip, *rig, lures[rig][0])) for rig in rigs]
    return dict(zip(rigs, _parts_in_the_strike(trip, gear), strict=True))


def _parts_in_the_strike(trip: Trip, asked: Sequence[tuple[int, Gear]]) -> list[str]:
    """For each rod and gear: which link parts, or nothing."""
    stations = {name: i for i, name in enumerate(station.name for station in trip.boat.stations)}
    rigs, chains = [], []
    for rod, gear in asked:
        outfit = trip.outfits[rod]
        lock = trip.lock(outfit.name)
        own = outfit.station or (lock.station if lock else None)
        station = trip.boat.stations[stations[own] if own else 0]
        assert gear.weight is not None
        assert gear.bite_leader is not None
        mark = lock.mark if lock is not None and lock.mark is not None else min(outfit.marks)
        rigs.append(FishedRig(outfit, station, mark, gear.weight, gear.shock_leader, gear.bite_leader, gear.lure))
        chains.append(assemble(outfit, gear))
    reasons = []
    for chain, pulls in zip(chains, usual_peaks(rigs, chains, trip.pattern.speed, trip.water.density), strict=True):
        if isinstance(pulls, Failure):
            reasons.append("")  # what cannot be towed is left out elsewhere, with its own reason
            continue
        case = strike_case(chain, {link: Span.exactly(pull) for link, pull in pulls.items()})
        weakest = review_strength(chain, [case]).weakest
        parts = weakest is not None and weakest.verdict == "parts"
        reasons.append(f"{weakest.link} parts when a usual fish strikes" if weakest is not None and parts else "")
    return reasons


def without_slipping(trip: Trip, candidates: Candidates, results: Sequence[Passage | Failure]) -> Candidates:
    """The candidates less those that would pull line off their reel in the turns: more than the drag is set to [N]."""
    most = [0.0 if isinstance(each, Failure) else float(each.pulls[:, 0].max()) for each in results]
    kept = [
        rig
        for rig in candidates.rigs
        if most[rig.line] <= trip.outfits[rig.rod].strike_drag
        or wanted_anyway(trip, (rig.rod, rig.weight, rig.shock, rig.bite, rig.lures[0]))
    ]
    slipped = Counter(trip.outfits[rig.rod].name for rig in candidates.rigs) - Counter(
        trip.outfits[rig.rod].name for rig in kept
    )
    left = tuple(LeftOut(f"rod {name}", count, SLIPS) for name, count in slipped.items())
    return Candidates(tuple(kept), candidates.lines, candidates.kinds, (*candidates.left_out, *left))
