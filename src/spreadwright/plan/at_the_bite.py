"""The recorded track tows the logged lines again: how deep and how fast each lure ran when it was bitten, and all day.

Each line is towed along the track from a minute before, by when it has forgotten how it started (the longest line is
passed through in under half a minute). What it rests on: speed over ground stands for speed through the water, the
receiver's place for the transom's, and the sea is flat. Ranges come from towing the line again with each doubtful
number at its low and high end, and in a current half a knot either way (assumed); deviations add as squares.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.logbook.bite import Bite, Ran, depth_class, speed_class
from spreadwright.logbook.fixes import Fixes
from spreadwright.logbook.fold import Exposure, Logbook, Strike
from spreadwright.logbook.movement import TURNING, Moving, Stretch, moving_at, side_of, stretches
from spreadwright.plan.logged_rig import logged_rig
from spreadwright.rig.strike import FishedRig
from spreadwright.rig.tow_model import Doubts, towed_rig
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure, Line, Sea
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.track import recorded

Floats = NDArray[np.float64]
Progress = Callable[[str, int, int], bool]

LEAD = 60.0  # [s] towed before anything is read off
WINDOW = 900.0  # [s] towed at once
SLOWEST = 2.5  # [m/s] over ground: slower is no trolling, and lines are not towed; assumed
CURRENT = 0.25722  # [m/s], half a knot that nobody knows of; assumed
BEFORE = 5.0  # [s] over which a change of depth and speed is told
_SETTINGS = Settings(step=0.25, store_every=4, grading=Grading().scaled(2.0))
_PARTS = ("line_across", "line_along", "weight", "lure", "stiffness", "mark")
DOUBT = "usual drag; speed over ground for speed through the water; a flat sea; the receiver's place for the transom's"


@dataclass(frozen=True, slots=True)
class AtTheBite:
    """What the track says of each strike within it, and of each line's hours; sentences: what was left out."""

    bites: tuple[Bite, ...]
    ran: tuple[Ran, ...]
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """A stretch of track with way on: what stands in `Stretch`, from `first` to `last` of its seconds."""

    stretch: Stretch
    first: int
    last: int

    @property
    def start(self) -> float:
        """Its first second [s since 1970]."""
        return float(self.stretch.times[self.first])

    @property
    def end(self) -> float:
        """Its last second [s since 1970]."""
        return float(self.stretch.times[self.last])


def runs(parts: Sequence[Stretch]) -> list[Run]:
    """The stretches cut to where the boat trolls, each long enough to tow a line."""
    found = []
    for part in parts:
        going = np.concatenate([[False], part.speed >= SLOWEST, [False]])
        edges = np.flatnonzero(going[1:] != going[:-1])
        found += [Run(part, int(a), int(b) - 1) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    return [run for run in found if run.end - run.start >= LEAD / 2.0]


def at_the_bite(
    trip: Trip, book: Logbook, fixes: Fixes, whole_day: bool = True, progress: Progress | None = None
) -> AtTheBite:
    """Tow the log's lines along the track. whole_day: their hours too, and not only the strikes.

    trip   the trip file with the boat, its rods and the shelf that the log names
    """
    parts = stretches(fixes)
    trolled = runs(parts)
    rigs = {e.id: logged_rig(trip, e.rod, e.rig) for e in book.exposures}
    sea = Sea(density=trip.water.density)
    sentences = _not_towed(book.exposures, rigs)
    bites, outside = [], 0
    for number, strike in enumerate(book.strikes):
        if progress is not None and not progress("towing the lines that were bitten", number, len(book.strikes)):
            break
        here = moving_at(parts, strike.entry.at.timestamp())
        if here is None:
            outside += 1
        else:
            rig = rigs[strike.exposure.id] if strike.exposure else logged_rig(trip, strike.entry.rod, strike.rig)
            bites.append(_bite(trip, strike, here, rig, trolled, sea))
    if outside:
        sentences.append(f"{outside} strikes lie outside the track or in a gap of it.")
    hours = _whole_day(book.exposures, rigs, trolled, sea, progress) if whole_day else []
    return AtTheBite(tuple(bites), tuple(hours), tuple(sentences))


def _not_towed(exposures: Sequence[Exposure], rigs: dict[str, FishedRig | str]) -> list[str]:
    """One sentence for each reason why lines were not towed."""
    reasons: dict[str, float] = {}
    for exposure in exposures:
        rig = rigs[exposure.id]
        if isinstance(rig, str):
            said = f"{exposure.rod} was not towed: {rig}"
            reasons[said] = reasons.get(said, 0.0) + exposure.hours
    return [f"{said} ({hours:.1f} h)." for said, hours in reasons.items()]


def _tip_side(trip: Trip, strike: Strike, rig: FishedRig | str) -> float | None:
    """How far to port the rod's tip is [m], from the rig or at least from its station."""
    if not isinstance(rig, str):
        return rig.station.port
    return next((s.port for s in trip.boat.stations if s.name == strike.rig.station), None)


def _bite(
    trip: Trip, strike: Strike, here: Moving, rig: FishedRig | str, trolled: Sequence[Run], sea: Sea
) -> Bite:  # fmt: skip
    port = _tip_side(trip, strike, rig)
    side = side_of(here.turn, port) if port is not None else ("straight" if here.turn == "straight" else "unknown")
    plain = Bite(
        entry=strike.entry.id, turn=here.turn, side=side, boat_speed=here.speed, rate=here.rate, place=here.place,
        doubt="the lure was not towed",
    )  # fmt: skip
    at = strike.entry.at.timestamp()
    run = next((run for run in trolled if run.start + LEAD / 3.0 <= at <= run.end), None)
    if isinstance(rig, str) or run is None:
        why = rig if isinstance(rig, str) else "the boat was not trolling, or had only just begun"
        return plain.model_copy(update={"doubt": f"the lure was not towed: {why}"})
    lines = [_line(rig)] + [_line(rig, Doubts(**{part: sign})) for part in _PARTS for sign in (-1.0, 1.0)]
    first, last = max(run.start, at - LEAD), min(run.end, at + 2.0)
    usual, *doubted = _states(_towed(run, first, last, lines, sea), at - first)
    share = CURRENT / max(here.speed, SLOWEST)
    for faster in (1.0 - share, 1.0 + share):
        doubted += _states(_towed(run, first, last, lines[:1], sea, faster), at - first)
    if usual is None:
        return plain.model_copy(update={"doubt": "the lure was not towed: its line did not converge"})
    sure = [each for each in doubted if each is not None]
    return plain.model_copy(
        update={
            "lure_depth": usual.depth, "weight_depth": usual.weight_depth, "lure_speed": usual.speed,
            "depth_change": usual.depth - usual.depth_before, "speed_change": usual.speed - usual.speed_before,
            "lure_depth_range": _range(usual.depth, [each.depth for each in sure]),
            # With a current, speed through the water is not speed over ground: the stretched tracks say how much.
            "lure_speed_range": _range(usual.speed, [each.speed for each in sure]), "doubt": DOUBT,
        }
    )  # fmt: skip


def _line(rig: FishedRig, doubts: Doubts | None = None) -> Line:
    pieces = (rig.outfit, rig.station, rig.mark, rig.weight, rig.shock_leader, rig.bite_leader, rig.lure)
    return towed_rig(*pieces, doubts=doubts or Doubts()).line


def _range(usual: float, others: Sequence[float]) -> tuple[float, float]:
    """The usual value less and plus the deviations each way, added as squares."""
    off = np.array(others) - usual
    low, high = np.sqrt((np.minimum(off, 0.0) ** 2).sum()), np.sqrt((np.maximum(off, 0.0) ** 2).sum())
    return usual - float(low), usual + float(high)


@dataclass(frozen=True, slots=True)
class _State:
    """A line at a moment and five seconds before: depths [m], speed of the lure [m/s]."""

    depth: float
    weight_depth: float
    speed: float
    depth_before: float
    speed_before: float


def _towed(
    run: Run, first: float, last: float, lines: Sequence[Line], sea: Sea, faster: float = 1.0
) -> list[Motion | Failure]:
    """Lines towed along a run from `first` to `last` [s since 1970]; `faster`: the track stretched by that factor."""
    part = run.stretch
    inside = (part.times >= first - 0.5) & (part.times <= last + 0.5)
    inside[: run.first], inside[run.last + 1 :] = False, False
    times = part.times[inside]
    track = recorded(times - times[0], faster * part.x[inside], faster * part.y[inside])
    return march(lines, track, sea, settings=_SETTINGS)


def _weight_joint(line: Line) -> int:
    return next(i for i, body in enumerate(line.bodies) if body is not None)


def _read(motion: Motion) -> tuple[Floats, Floats, Floats]:
    """Depth of lure and weight [m] and speed of the lure [m/s] over the stored times."""
    nodes = motion.joints[[-1, _weight_joint(motion.line)]]
    depths = -motion.places[:, nodes, 2].astype(float)
    return depths[:, 0], depths[:, 1], np.linalg.norm(motion.speeds[:, -1].astype(float), axis=1)


def _states(motions: Sequence[Motion | Failure], at: float) -> list[_State | None]:
    found: list[_State | None] = []
    for motion in motions:
        if isinstance(motion, Failure):
            found.append(None)
            continue
        depth, weight, speed = _read(motion)
        now, before = (
            [float(np.interp(t, motion.times, each)) for each in (depth, weight, speed)] for t in (at, at - BEFORE)
        )
        found.append(_State(now[0], now[1], now[2], before[0], before[2]))
    return found


def _whole_day(
    exposures: Sequence[Exposure], rigs: dict[str, FishedRig | str], trolled: Sequence[Run], sea: Sea,
    progress: Progress | None,
) -> list[Ran]:  # fmt: skip
    """Hours of every line by side, depth and speed, from a quarter of an hour of track at a time."""
    windows = [
        (run, start, min(start + WINDOW, run.end)) for run in trolled for start in np.arange(run.start, run.end, WINDOW)
    ]
    tally = {e.id: Ran(exposure=e.id) for e in exposures}
    for number, (run, start, end) in enumerate(windows):
        if progress is not None and not progress("towing the day's lines", number, len(windows)):
            break
        out = [e for e in exposures if e.start.timestamp() < end and e.end.timestamp() > start]
        towed = [(e, rig) for e in out if not isinstance(rig := rigs[e.id], str)]
        if towed and end - start >= 2.0:
            first = max(run.start, start - LEAD)
            motions = _towed(run, first, end, [_line(rig) for _, rig in towed], sea)
            for (exposure, rig), motion in zip(towed, motions, strict=True):
                span = max(start, exposure.start.timestamp()), min(end, exposure.end.timestamp())
                tally[exposure.id] = _add(tally[exposure.id], motion, run, rig, first, span)
    return [ran for ran in tally.values() if ran.side]


def _add(
    ran: Ran, motion: Motion | Failure, run: Run, rig: FishedRig, first: float, span: tuple[float, float]
) -> Ran:  # fmt: skip
    """The tally with one window's seconds added."""
    seconds = run.stretch.times[(run.stretch.times >= span[0]) & (run.stretch.times < span[1])]
    turning = np.interp(seconds, run.stretch.times, run.stretch.rate)
    turns = np.where(np.abs(turning) < TURNING, "straight", np.where(turning > 0.0, "port", "starboard"))
    side = dict(ran.side)
    for turn in np.unique(turns):
        _count(side, side_of(str(turn), rig.station.port), int((turns == turn).sum()))
    if isinstance(motion, Failure):
        return ran.model_copy(update={"side": side})
    depth, _, speed = _read(motion)
    deep, fast = dict(ran.depth), dict(ran.speed)
    for at, tally, name in ((depth, deep, depth_class), (speed, fast, speed_class)):
        classes = [name(float(value)) for value in np.interp(seconds - first, motion.times, at)]
        for each in set(classes):
            _count(tally, each, classes.count(each))
    return ran.model_copy(update={"side": side, "depth": deep, "speed": fast})


def _count(tally: dict[str, float], level: str, seconds: int) -> None:
    tally[level] = tally.get(level, 0.0) + seconds / 3600.0
