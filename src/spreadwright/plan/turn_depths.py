"""How deep weight and lure run at each stage of the turns, and how sure that is: read off the samples, kept coarsely.

A boat that goes faster or turns wider comes to the same stage of the turns later or sooner. So a sample is not looked
at when the usual run is, but at the same stage: as far through the same turn or straight. In that way the doubt of a
depth is not mixed up with the doubt of the clock.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from spreadwright.plan.doubt import INSIDE, Spreads
from spreadwright.plan.value import RodDepths, TurnDepths
from spreadwright.spread.motions import LEAD_IN, LEAD_OUT, Passage
from spreadwright.tackle.pattern import Pattern

MOMENTS = 25  # kept; on the demo one every 3.6 s, and between two of them a band is as wide as drawn to 4 cm

Floats = NDArray[np.float64]


def stages(pattern: Pattern, speed: float, radius: float) -> Floats:
    """When each turn begins and ends [s], from the start of the run to its end, at a speed [m/s] and radius [m].

    The pieces are those of `spread.motions.track_of`: a lead in, the turns with straights between, a lead out.
    """
    turning = speed * (1.0 - pattern.speed_loss)
    lasts = [LEAD_IN]
    for i, change in enumerate(pattern.turns):
        if i:
            lasts.append(pattern.straight_run / speed)
        lasts.append(abs(change) * radius / turning)
    return np.concatenate([[0.0], np.cumsum([*lasts, LEAD_OUT])])


def turn_depths(
    pattern: Pattern, shown: Sequence[tuple[str, Passage]], spreads: Spreads, moments: int = MOMENTS
) -> TurnDepths | None:
    """Every rod's depths with their ranges at moments spread evenly over the run; None where nothing was sampled.

    shown: each rod's name and its motion on the fine mesh, in the order in which the samples have the rods.
    """
    if not spreads.varied:
        return None
    usual = stages(pattern, pattern.speed, pattern.turn_radius)
    times = np.linspace(0.0, usual[-1], moments)
    whens = [times]
    for run in spreads.varied:
        assert run.sample is not None
        faster, wider = run.sample.track
        whens.append(np.interp(times, usual, stages(pattern, pattern.speed + faster, pattern.turn_radius * wider)))
    runs, rods = (spreads.usual, *spreads.varied), []
    for i, (name, passage) in enumerate(shown):
        own = _depths(passage, times)
        coarse, *varied = (_depths(run.rods[i], when) for run, when in zip(runs, whens, strict=True))
        low, high = np.quantile(np.stack(varied) - coarse, INSIDE, axis=0)
        bands = np.round(np.stack([own + np.minimum(low, 0.0), own, own + np.maximum(high, 0.0)], axis=-1), 3)
        weight, lure = (tuple((float(a), float(b), float(c)) for a, b, c in bands[:, k]) for k in (0, 1))
        rods.append(RodDepths(rod=name, weight=weight, lure=lure))
    return TurnDepths(times=tuple(float(t) for t in np.round(times, 3)), rods=tuple(rods))


def _depths(passage: Passage, times: Floats) -> Floats:
    """Depths (times, 2) of weight and lure [m]."""
    return np.stack([np.interp(times, passage.outline.times, passage.depths[:, k]) for k in (0, 1)], axis=-1)
