"""Compute one case of a study, from values alone to values alone, so that any machine gives the same numbers."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np

from spreadwright.plan.study import NOTHING, Case, Outcome, RodThrough
from spreadwright.plan.study_motion import sway_in_waves
from spreadwright.spread.motions import LEAD_IN, Passage, passage_of, track_of
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.clearance.winding import WRAP, pair_winding
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.water import jonswap_waves, make_flow

# Half the plan's mesh at the plan's own time step: gaps within 1 % of the plan's, and a short wave met at 15 kn still
# has a dozen steps. One thread, as cases run side by side.
SETTINGS = Settings(step=0.1, store_every=1, grading=Grading().scaled(2.0), workers=1)
WAVES = 30  # small waves that make up a sea


def compute_case(case: Case) -> Outcome:
    """What comes of a case; the same numbers to the last bit wherever, and beside whatever, it is computed."""
    motions = _towed(case)
    failed = [each for each in motions if isinstance(each, Failure)]
    if failed:
        names = [fished.rod for fished, each in zip(case.spread.fished, motions, strict=True) if each in failed]
        return Outcome((NOTHING,) * len(motions), math.nan, "", "", 0, False, f"{', '.join(names)}: {failed[0].reason}")
    passages = [
        passage_of(motion, fished.towed)
        for motion, fished in zip(motions, case.spread.fished, strict=True)
        if isinstance(motion, Motion)
    ]
    return _outcome(case, passages)


def _towed(case: Case) -> list[Motion | Failure]:
    spread = case.spread
    track = track_of(spread.pattern, case.speed, case.radius)
    lines = [each.towed.line for each in spread.fished]
    sea = Sea(density=spread.density)
    if case.sea.calm:
        return march(lines, track, sea, settings=SETTINGS)
    towards = math.pi + case.waves_from
    waves = jonswap_waves(case.sea.height, case.sea.period, towards, case.seed, count=WAVES)
    sway = None if spread.hull is None else sway_in_waves(waves, track, spread.hull, case.speed, LEAD_IN)
    return march(lines, track, sea, make_flow(waves=waves), SETTINGS, sway)


def _outcome(case: Case, passages: list[Passage]) -> Outcome:
    names = [each.rod for each in case.spread.fished]
    nearest = [("", math.inf)] * len(names)
    worst, gap, wraps = ("", ""), math.inf, 0
    for i, j in combinations(range(len(names)), 2):
        found = gear_gap(passages[i].outline, passages[j].outline).distance
        wraps += abs(pair_winding(passages[i].outline, passages[j].outline)) >= WRAP
        if found < gap:
            worst, gap = (names[i], names[j]), found
        if found < nearest[i][1]:
            nearest[i] = (names[j], found)
        if found < nearest[j][1]:
            nearest[j] = (names[i], found)
    rods = tuple(_rod(passage, *near) for passage, near in zip(passages, nearest, strict=True))
    alone = len(names) < 2
    gap = math.nan if alone else float(gap)
    tangle = not alone and (gap < case.spread.reach or wraps > 0)
    return Outcome(rods, gap, worst[0], worst[1], int(wraps), tangle)


def _rod(passage: Passage, nearest: str, gap: float) -> RodThrough:
    """One rod's numbers; extremes from the end of the lead-in on, when the sea has come on."""
    later = passage.outline.times >= LEAD_IN - 1e-9
    depths, pulls, speeds = passage.depths[later, 1], passage.pulls[later, 0], passage.speeds[later]
    return RodThrough(
        depth=float(passage.depths[0, 1]), depth_least=float(depths.min()), depth_greatest=float(depths.max()),
        pull=float(passage.pulls[0, 0]), pull_least=float(pulls.min()), pull_greatest=float(pulls.max()),
        lure_speed_least=float(np.min(speeds)), lure_speed_greatest=float(np.max(speeds)),
        nearest=nearest, gap=float(gap) if nearest else math.nan,
    )  # fmt: skip
