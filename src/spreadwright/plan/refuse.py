"""Rigs that must not be fished: what does not fit together, or parts under the strike drag."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import product

from spreadwright.rig.assemble import Gear, assemble, gear_from_shelf
from spreadwright.rig.fit import check_fit
from spreadwright.rig.loads import STRIKE_DRAG, drag_case
from spreadwright.rig.span import Span
from spreadwright.rig.strength import review_strength
from spreadwright.spread.candidates import Candidates, LeftOut
from spreadwright.spread.motions import Passage
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure

DRAG_DOUBT = 0.1  # share; a drag set with a scale, common practice
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
            seen[like] = _reason(trip, rod, gear_of(trip, rod, weight, shock, bite, lure))
        if seen[like]:
            refused[rod, weight, shock, bite, lure] = seen[like]
    return refused


def _reason(trip: Trip, rod: int, gear: Gear) -> str:
    outfit = trip.outfits[rod]
    chain = assemble(outfit, gear)
    for finding in check_fit(chain, gear, system=trip.units):
        if finding.severity == "fails":
            return f"{finding.place}: {finding.given}; {finding.rule}; {finding.fix}"
    case = drag_case(chain, STRIKE_DRAG, Span.about(outfit.strike_drag, DRAG_DOUBT))
    weakest = review_strength(chain, [case]).weakest
    if weakest is not None and weakest.verdict == "parts":
        return f"{weakest.link} parts under the strike drag"
    return ""


def without_slipping(
    trip: Trip, candidates: Candidates, results: Sequence[Passage | Failure]
) -> Candidates:
    """The candidates less those that would pull line off their reel in the turns: more than the drag is set to [N]."""
    most = [0.0 if isinstance(each, Failure) else float(each.pulls[:, 0].max()) for each in results]
    kept = [rig for rig in candidates.rigs if most[rig.line] <= trip.outfits[rig.rod].strike_drag]
    slipped = Counter(trip.outfits[rig.rod].name for rig in candidates.rigs) - Counter(
        trip.outfits[rig.rod].name for rig in kept
    )
    left = tuple(
        LeftOut(f"rod {name}", count, "pulls harder while trolling than its strike drag is set to")
        for name, count in slipped.items()
    )
    return Candidates(tuple(kept), candidates.lines, candidates.kinds, (*candidates.left_out, *left))
