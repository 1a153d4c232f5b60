"""A hand-made spread through the S-turn: how near every pair comes, where, and the motion thinned for drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from spreadwright.plan.refuse import SLIPS, gear_of
from spreadwright.plan.tryout_steady import few_of
from spreadwright.plan.tryout_value import HandRod, LineMotion, Place3, TriedPair, TriedRun
from spreadwright.rig.assemble import assemble
from spreadwright.rig.loads import strike_case
from spreadwright.rig.strength import review_strength
from spreadwright.rig.strike import FishedRig, usual_peaks
from spreadwright.spread.motions import SHOWN, Passage, track_of
from spreadwright.tackle.span import Span
from spreadwright.tackle.trip import Trip
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.clearance.outline import Outline
from spreadwright.tow.clearance.winding import WRAP, pair_winding
from spreadwright.tow.line import Failure
from spreadwright.tow.track import Track

Floats = NDArray[np.float64]
SHOWN_EVERY = 5  # of the stored times: half a second, between which a drawing may move straight
STRIKE_PARTS = "{link} parts when a usual fish strikes"


def pair(trip: Trip, first: FishedRig, second: FishedRig, one: Passage, other: Passage) -> TriedPair:
    """How near two towed rigs come, when and where, and whether they wind up."""
    a, b = one.outline, other.outline
    gap, winding = gear_gap(a, b), pair_winding(a, b)
    heading = float(track_of(trip.pattern).pose(np.array([gap.time])).heading[0])
    near = nearest_places(at_time(a, gap.time), a.gear, at_time(b, gap.time), b.gear)
    on_first, on_second = (_place(aboard(each, heading)) for each in near)
    return TriedPair(
        first=first.outfit.name, second=second.outfit.name, gap=gap.distance, range=None, time=gap.time,
        on_first=on_first, on_second=on_second, winding=winding / (2.0 * math.pi),
        tangle=gap.distance < trip.wishes.tangle_reach or abs(winding) >= WRAP,
    )  # fmt: skip


def at_time(outline: Outline, time: float) -> Floats:
    """The outline's vertices (V, 3) at a time [s], straight between stored times; relative to the boat [m]."""
    last = len(outline.times) - 1
    where = float(np.interp(time, outline.times, np.arange(last + 1.0)))
    i = min(int(where), last - 1)
    share = where - i
    before, after = outline.vertices[i : i + 2].astype(np.float64)
    between: Floats = (1.0 - share) * before + share * after
    return between


def aboard(places: Floats, heading: float) -> Floats:
    """Places (..., 3) relative to the boat, turned from the earth's axes into its own; heading [rad]."""
    cos, sin = math.cos(heading), math.sin(heading)
    x, y = places[..., 0], places[..., 1]
    return np.stack([cos * x + sin * y, cos * y - sin * x, places[..., 2]], axis=-1)


def nearest_places(a: Floats, gear_a: int, b: Floats, gear_b: int) -> tuple[Floats, Floats]:
    """The two nearest places of two chains of vertices (V, 3) [m], one at least on a chain's gear, which begins at its
    vertex `gear`. Closest points of two segments after Ericson, Real-Time Collision Detection (2005), section 5.1.9.
    """
    i, j = np.meshgrid(np.arange(len(a) - 1), np.arange(len(b) - 1), indexing="ij")
    wanted = (i >= gear_a) | (j >= gear_b)
    i, j = i[wanted], j[wanted]
    p, d1, q, d2 = a[i], a[i + 1] - a[i], b[j], b[j + 1] - b[j]
    r = p - q
    long1, long2 = (np.maximum((d * d).sum(axis=1), 1e-12) for d in (d1, d2))
    along, c, f = (d1 * d2).sum(axis=1), (d1 * r).sum(axis=1), (d2 * r).sum(axis=1)
    apart = long1 * long2 - along**2
    s = np.where(apart > 1e-9 * long1 * long2, (along * f - c * long2) / np.where(apart == 0.0, 1.0, apart), 0.0)
    s = np.clip(s, 0.0, 1.0)
    t = np.clip((along * s + f) / long2, 0.0, 1.0)
    s = np.clip((along * t - c) / long1, 0.0, 1.0)
    on_a, on_b = p + s[:, None] * d1, q + t[:, None] * d2
    best = int(np.argmin(((on_a - on_b) ** 2).sum(axis=1)))
    return on_a[best], on_b[best]


def _place(of: Floats) -> Place3:
    x, y, z = np.round(of, 3)
    return float(x), float(y), float(z)


def parts_in_strike(trip: Trip, hand: HandRod, rig: FishedRig) -> str:
    """Which link parts when the usual fish strikes this rig at its mark; empty if none does or it cannot be told."""
    gear = gear_of(trip, hand.rod, hand.weight, hand.shock_leader, hand.bite_leader, hand.lure)
    chain = assemble(rig.outfit, gear)
    (pulls,) = usual_peaks([rig], [chain], trip.pattern.speed, trip.water.density)
    if isinstance(pulls, Failure):
        return ""
    case = strike_case(chain, {link: Span.exactly(pull) for link, pull in pulls.items()})
    weakest = review_strength(chain, [case]).weakest
    return STRIKE_PARTS.format(link=weakest.link) if weakest is not None and weakest.verdict == "parts" else ""


def tried_run(
    track: Track,
    rigs: Sequence[FishedRig],
    towed: dict[FishedRig, Passage | Failure],
    strikes: Sequence[str],
    pairs: Sequence[TriedPair],
) -> TriedRun:
    """The run put together for drawing; strikes: for each rig which link parts in the strike, or nothing."""
    running = [(rig, each, said) for rig, said in zip(rigs, strikes, strict=True)
               if isinstance(each := towed[rig], Passage)]  # fmt: skip
    failed = tuple(f"{rig.outfit.name}: {each.reason}" for rig in rigs if isinstance(each := towed[rig], Failure))
    times = running[0][1].outline.times[::SHOWN_EVERY] if running else np.zeros(1)
    pose = track.pose(times)
    boat = [(round(float(x), 2), round(float(y), 2), round(float(h), 4))
            for x, y, h in zip(pose.x, pose.y, pose.heading, strict=True)]  # fmt: skip
    lines = tuple(_line_motion(rig, passage, pose.heading, said) for rig, passage, said in running)
    step = float(times[1] - times[0]) if len(times) > 1 else SHOWN_EVERY * SHOWN.step
    return TriedRun(step, boat, lines, tuple(sorted(pairs, key=lambda each: each.gap)), failed)


def _line_motion(rig: FishedRig, passage: Passage, heading: Floats, strike: str) -> LineMotion:
    nodes, joints = _drawn(passage.outline, rig.bite_leader.length + rig.lure.length)
    few = passage.outline.vertices[::SHOWN_EVERY, nodes].astype(float)
    turned = np.stack([aboard(places, float(h)) for places, h in zip(few, heading, strict=True)])
    centimetres = np.rint(100.0 * turned).astype(int).reshape(len(turned), -1)
    most = float(passage.pulls[:, 0].max())
    slips = f"it {SLIPS}" if most > rig.outfit.strike_drag else ""
    weight, lure = passage.depths[:, 0], passage.depths[:, 1]
    return LineMotion(
        rig.outfit.name, centimetres.tolist(), joints, (float(weight.min()), float(weight.max())),
        (float(lure.min()), float(lure.max())), most, tuple(each for each in (slips, strike) if each),
    )  # fmt: skip


def _drawn(outline: Outline, bite_to_hook: float) -> tuple[list[int], tuple[int, int, int]]:
    """Which vertices of an outline are enough to draw it, and where weight, end of shock leader and lure lie in them.

    An outline has the front of the weight before the weight itself, and ends at the last hook; the shock leader ends
    `bite_to_hook` [m] ahead of that.
    """
    start = outline.vertices[0].astype(float)
    from_hook = np.concatenate([np.cumsum(np.linalg.norm(np.diff(start, axis=0), axis=1)[::-1])[::-1], [0.0]])
    shock = int(np.argmin(np.abs(from_hook - bite_to_hook)))
    return few_of(outline.gear + 1, shock, len(start) - 1)
