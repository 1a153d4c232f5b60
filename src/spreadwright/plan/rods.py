"""What one rod of the chosen spread fishes and how it runs, put together for the plan."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from spreadwright.plan.doubt import Spreads
from spreadwright.plan.loads import Waters, review, slip_of, upper_end_share
from spreadwright.plan.refuse import gear_of, override_of
from spreadwright.plan.value import Estimate, RodPlan, Swing
from spreadwright.plan.worded import twins, within
from spreadwright.rig.strike import FishedRig
from spreadwright.rig.tow_model import TowedRig
from spreadwright.spread.candidates import Candidate
from spreadwright.spread.motions import Passage
from spreadwright.tackle.trip import Trip
from spreadwright.tow.steady import Shape, entry_arclength

STIFFNESS_SHARE = (0.5, 1.5)  # stretch at the stiff and the soft end of nylon's modulus, as a share of the usual


@dataclass(frozen=True)
class Chosen:
    """One rod of the chosen spread: what it fishes, its line, its steady shape and its way through the S-turn."""

    number: int
    rig: Candidate
    lure: int
    towed: TowedRig
    shape: Shape
    passage: Passage


def rod_plan(trip: Trip, chosen: Chosen, spreads: Spreads, set_out: int, clear: int) -> RodPlan:
    """The plan of one rod; set_out and clear are its places in those orders, from 1."""
    rig, shape, passage, at = chosen.rig, chosen.shape, chosen.passage, chosen.number
    outfit, shelf = trip.outfits[rig.rod], trip.shelf
    gear = gear_of(trip, rig.rod, rig.weight, rig.shock, rig.bite, chosen.lure)
    joint = chosen.towed.weight_joint
    pull = spreads.measure(at, lambda p: p.pulls[0, 0], float(shape.tension[0]))
    peak = spreads.measure(at, lambda p: p.pulls[:, 0].max(), float(passage.pulls[:, 0].max()))
    upper = upper_end_share(shape, joint)
    behind, behind_peak = (
        spreads.measure(at, lambda p, of=of: upper * float(of(p.pulls[:, joint + 2])),  # type: ignore[misc]
                        upper * float(of(passage.pulls[:, joint + 2])))
        for of in (_first, np.max)
    )  # fmt: skip
    slips = _slips(spreads, at, peak.usual, outfit.strike_drag)
    loads = review(
        fished_rig(trip, chosen), gear, (pull, behind), (peak, behind_peak),
        Waters(trip.pattern.speed, trip.water.density), trip.units, trip.wishes, slips,
    )  # fmt: skip
    override = override_of(trip, rig.rod, gear, peak.usual)
    anyway = (within("fished on the captain's word (anyway = true) although {}", override),) if override else ()
    runs_at, measure = _marks(chosen)
    return RodPlan(
        rod=outfit.name, station=trip.boat.stations[rig.station].name, tip=trip.boat.stations[rig.station].tip,
        mark=rig.mark, runs_at=runs_at, slack_to_measure=measure,
        weight=shelf.weights[rig.weight].name, weight_mass=shelf.weights[rig.weight].mass,
        shock_leader=shelf.shock_leaders[rig.shock].name, bite_leader=shelf.bite_leaders[rig.bite].name,
        lure=shelf.lures[chosen.lure].name, swivel=gear.swivel.name if gear.swivel else "none",
        set_out=set_out, clear=clear, astern=passage.astern,
        weight_depth=spreads.measure(at, lambda p: p.depths[0, 0], float(-shape.joint_places[joint, 2])),
        lure_depth=spreads.measure(at, lambda p: p.depths[0, 1], float(-shape.joint_places[-1, 2])),
        weight_depth_swing=_swing(spreads, chosen, lambda p: p.depths[:, 0]),
        lure_depth_swing=_swing(spreads, chosen, lambda p: p.depths[:, 1]),
        lure_speed_swing=_swing(spreads, chosen, lambda p: p.speeds),
        pull=pull, pull_swing=_swing(spreads, chosen, lambda p: p.pulls[:, 0]),
        angle=spreads.measure(at, chord_angle, shape.tip_angle),
        in_air=entry_arclength(shape) or 0.0, links=loads.links, weakest=loads.weakest, parts_first=loads.parts_first,
        findings=(*anyway, *loads.findings), strike_drag=outfit.strike_drag, drag=loads.drag, strike=loads.strike,
        override=override, slip=slip_of(outfit, peak, slips), other_units=twins([override, *anyway, *loads.said]),
    )  # fmt: skip


def _first(pulls: np.ndarray) -> float:
    return float(pulls[0])


def _slips(spreads: Spreads, rod: int, peak: float, drag: float) -> float:
    """The share of the samples in which a rod's greatest pull passes its drag [N]; peak: that pull as shown [N]."""
    moved = peak - float(spreads.usual.rods[rod].pulls[:, 0].max())
    over = [float(run.rods[rod].pulls[:, 0].max()) + moved >= drag for run in spreads.varied]
    return sum(over) / len(over) if over else 0.0


def fished_rig(trip: Trip, chosen: Chosen) -> FishedRig:
    """The pieces that a chosen rig is made of."""
    rig, shelf = chosen.rig, trip.shelf
    return FishedRig(
        trip.outfits[rig.rod], trip.boat.stations[rig.station], rig.mark, shelf.weights[rig.weight],
        shelf.shock_leaders[rig.shock], shelf.bite_leaders[rig.bite], shelf.lures[chosen.lure],
    )  # fmt: skip


def _swing(spreads: Spreads, chosen: Chosen, read: Callable[[Passage], np.ndarray]) -> Swing:
    least = spreads.measure(chosen.number, lambda p: read(p).min(), float(read(chosen.passage).min()))
    most = spreads.measure(chosen.number, lambda p: read(p).max(), float(read(chosen.passage).max()))
    return Swing(least=least.usual, greatest=most.usual, low=least.low, high=most.high)


def chord_angle(passage: Passage) -> float:
    """How far the line leaves the tip below level [rad] on the straight at the start."""
    a, b = passage.outline.vertices[0, 0], passage.outline.vertices[0, 1]
    return math.atan2(a[2] - b[2], math.hypot(a[0] - b[0], a[1] - b[1]))


def _marks(chosen: Chosen) -> tuple[Estimate, Estimate]:
    """Where the weight runs on this mark, and the slack length that would bring it to the mark's own distance [m]."""
    shape = chosen.shape
    node = int(shape.joints[chosen.towed.weight_joint])
    stretched = float(np.linalg.norm(np.diff(shape.places[: node + 1], axis=0), axis=1).sum())
    slack = float(shape.arclength[node])
    stretch = stretched / slack - 1.0
    stiff, soft = (1.0 + share * stretch for share in STIFFNESS_SHARE)
    usual = 1.0 + stretch
    return (
        Estimate(usual=slack * usual, low=slack * stiff, high=slack * soft),
        Estimate(usual=slack / usual, low=slack / soft, high=slack / stiff),
    )
