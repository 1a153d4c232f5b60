"""What the samples say of the whole spread: the chance of a tangle, what drives the doubt, and the trade's question."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from spreadwright.plan.doubt import Spreads, chance, inputs_of, pair_number, short_and_heavy
from spreadwright.plan.drivers import ranked
from spreadwright.plan.inputs import INPUTS, NAMES
from spreadwright.plan.value import DepthQuestion, Driver, Estimate, InDoubt, PairPlan, RodPlan
from spreadwright.tackle.trip import Trip


def in_doubt(
    trip: Trip, rods: Sequence[RodPlan], pairs: Sequence[PairPlan], spreads: Spreads, seed: int
) -> InDoubt | None:
    """The doubt of a spread whose rods and pairs are shown; None where nothing was sampled."""
    if not spreads.varied:
        return None
    shown = _in_the_runs_order(rods, pairs)
    smallest = _smallest(spreads, shown)
    tangled = np.asarray(spreads.tangles(shown, trip.wishes.tangle_reach).any(axis=1))
    words = {name: said for name, said, _ in INPUTS}
    drivers = ranked(NAMES, inputs_of(spreads.varied), smallest, seed) if pairs else ()
    low, high = np.quantile(smallest, [0.05, 0.95]) if pairs else (0.0, 0.0)
    usual = min(shown, default=0.0)
    return InDoubt(
        samples=len(spreads.varied), lost=spreads.lost, seed=seed, tangle=chance(tangled),
        smallest_gap=Estimate(usual=usual, low=max(0.0, min(float(low), usual)), high=max(float(high), usual)),
        drivers=tuple(
            Driver(name=words[each.name], share=Estimate(usual=each.usual, low=each.low, high=each.high))
            for each in drivers
        ),
        depth_question=_depth_question(rods, spreads),
    )  # fmt: skip


def _in_the_runs_order(rods: Sequence[RodPlan], pairs: Sequence[PairPlan]) -> list[float]:
    """Gaps shown [m], in the order in which the runs number their pairs."""
    place = {rod.rod: i for i, rod in enumerate(rods)}
    shown = [0.0] * len(pairs)
    for pair in pairs:
        shown[pair_number(place[pair.first], place[pair.second])] = pair.gear_gap.usual
    return shown


def _smallest(spreads: Spreads, shown: Sequence[float]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Every sample's smallest gap [m], moved by what the coarse mesh is off for the usual case."""
    gaps = np.array([run.gaps for run in spreads.varied]).reshape(len(spreads.varied), len(shown))
    moved = gaps + np.asarray(shown, dtype=float) - np.asarray(spreads.usual.gaps)
    return np.maximum(moved.min(axis=1), 0.0) if len(shown) else np.zeros(len(gaps))


def _depth_question(rods: Sequence[RodPlan], spreads: Spreads) -> DepthQuestion | None:
    """How often the short heavy line's lure runs deeper than the long light one's, on the straight."""
    pair = short_and_heavy([(rod.astern, rod.weight_mass) for rod in rods])
    if pair is None:
        return None
    short, long = pair

    def off(rod: int) -> float:
        return rods[rod].lure_depth.usual - float(spreads.usual.rods[rod].depths[0, 1])

    deeper = np.array(
        [run.rods[short].depths[0, 1] + off(short) > run.rods[long].depths[0, 1] + off(long) for run in spreads.varied],
        dtype=np.bool_,
    )
    return DepthQuestion(short=rods[short].rod, long=rods[long].rod, deeper=chance(deeper))
