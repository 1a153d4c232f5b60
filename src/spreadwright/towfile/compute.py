"""Computes the lines of a tow file: a steady shape, or every stored moment of a manoeuvre.

Importing this module loads the compiled core, which takes a moment; reading a file does not need it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TypeVar

import numpy as np
from numba.core import event
from numpy.typing import NDArray

from spreadwright import __version__
from spreadwright.tow import track as tracks
from spreadwright.tow.line import Failure, Line
from spreadwright.tow.march import Motion as MarchedLine
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import Shape, steady_straight, steady_turn
from spreadwright.tow.track import Pose, Track
from spreadwright.tow.water import Flow, jonswap_waves, make_flow
from spreadwright.towfile.read_file import duration
from spreadwright.towfile.result import (
    Boat,
    MovingEnd,
    MovingLine,
    NotComputed,
    Run,
    SteadyEnd,
    SteadyLine,
    Surroundings,
    TowResult,
)
from spreadwright.towfile.values import Circle, Current, MovingWater, Recorded, Straight, STurn, TowedLine, TowFile

Floats = NDArray[np.float64]
Tell = Callable[[str, int, int], bool]
"""Told what is being done, lines done and lines in all; answers False to ask for a stop."""

Outcome = TypeVar("Outcome", Shape, MarchedLine)

PREPARING = "preparing the calculation (first time only)"
COMPUTING = "computing the lines"
CHECK = "check its weights, drag areas and stiffness"
TRY_STEADY = f"{CHECK}; try a wider turn or another mesh_scale"
TRY_MOVING = f"{CHECK}; try a smaller step, a wider turn or another mesh_scale"


def keep_on(_words: str, _done: int, _total: int) -> bool:
    """Tell nobody, never stop."""
    return True


def compute(file: TowFile, tell: Tell = keep_on) -> TowResult:
    """Compute every line of a tow file. A line without a result is among the failures, with its reason."""
    lines = [each.line for each in file.lines]
    tell(COMPUTING, 0, len(lines))
    with _told_of_compiling(tell, len(lines)):
        if file.over_time:
            track = track_of(file)
            marched = _each(lines, lambda some: _march(file, some, track, tell), tell)
            return _result(file, [_moving(named, one, track) for named, one in zip(file.lines, marched, strict=True)])
        shapes = _each(lines, lambda some: _settle(file, some), tell)
        return _result(file, [_steady(named, one, file) for named, one in zip(file.lines, shapes, strict=True)])


def _each(
    lines: Sequence[Line], work: Callable[[Sequence[Line]], list[Outcome | Failure]], tell: Tell
) -> list[Outcome | Failure]:
    """Lines computed side by side, which is quick; one that failed is tried again alone, lest a neighbour spoilt it."""
    outcomes = work(lines)
    for at, outcome in enumerate(outcomes):
        if isinstance(outcome, Failure) and len(lines) > 1 and tell(COMPUTING, 0, len(lines)):
            outcomes[at] = work([lines[at]])[0]
    return outcomes


def _settle(file: TowFile, lines: Sequence[Line]) -> list[Shape | Failure]:
    grading = Grading().scaled(file.numerics.mesh_scale)
    match file.motion:
        case Circle(speed=speed, radius=radius):
            return steady_turn(lines, speed, radius, file.sea, grading)
        case Straight(speed=speed):
            return steady_straight(lines, speed, file.sea, grading)
    raise AssertionError("only a straight run and a circle have a steady shape")


def _march(file: TowFile, lines: Sequence[Line], track: Track, tell: Tell) -> list[MarchedLine | Failure]:
    numerics = file.numerics
    settings = Settings(
        step=numerics.step,
        store_every=numerics.store_every,
        grading=Grading().scaled(numerics.mesh_scale),
    )
    flow = flow_of(file.moving, track, file.sea.gravity) if file.moving.moves else None
    return march(lines, track, file.sea, flow, settings, progress=lambda done, total: tell(COMPUTING, done, total))


def track_of(file: TowFile) -> Track:
    """The boat's track, for a motion that is followed over time."""
    match file.motion:
        case Circle() as circle:
            return tracks.circle(circle.speed, circle.radius, duration(file))
        case STurn() as turn:
            return tracks.s_turn(
                turn.speed,
                turn.radius,
                turn.turns,
                turn.lead_in,
                turn.straight_run,
                turn.lead_out,
                turn.turn_time,
                turn.speed_loss,
            )
        case Recorded() as run:
            return tracks.recorded(np.array(run.times), np.array(run.x), np.array(run.y))
        case Straight() as run:
            return tracks.straight(run.speed, duration(file))


def flow_of(moving: MovingWater, track: Track, gravity: float) -> Flow:
    """The moving water as the core takes it; gravity [m/s2]."""
    current = moving.current or Current((0.0, 0.0), (0.0, 0.0), 1.0)
    waves = moving.waves
    jets = np.array([[each.port, each.depth, each.diameter, each.speed] for each in moving.wash])
    return make_flow(
        current=current.surface,
        shear=current.shear,
        deepest=current.depth,
        waves=None
        if waves is None
        else jonswap_waves(waves.height, waves.period, waves.towards, waves.seed, spread=waves.spread, gravity=gravity),
        jets=jets if moving.wash else None,
        track=track,
    )


def _result(file: TowFile, outcomes: Sequence[tuple[SteadyLine | MovingLine | NotComputed, Boat | None]]) -> TowResult:
    motion = file.motion
    return TowResult(
        program=__version__,
        title=file.title,
        units=file.units,
        water=Surroundings(
            density_kg_m3=file.sea.density,
            gravity_m_s2=file.sea.gravity,
            surface=file.sea.surface,
            moves=file.moving.moves,
        ),
        motion=Run(
            kind=motion.kind,
            speed_m_s=None if isinstance(motion, Recorded) else motion.speed,
            radius_m=motion.radius if isinstance(motion, Circle | STurn) else None,
            duration_s=duration(file) if file.over_time else None,
        ),
        boat=next((boat for _, boat in outcomes if boat is not None), None),
        lines=tuple(one for one, _ in outcomes if not isinstance(one, NotComputed)),
        failures=tuple(one for one, _ in outcomes if isinstance(one, NotComputed)),
    )


def _failed(name: str, reason: str, next_step: str) -> tuple[NotComputed, None]:
    return NotComputed(line=name, reason=reason, next_step=next_step), None


def _steady(named: TowedLine, shape: Shape | Failure, file: TowFile) -> tuple[SteadyLine | NotComputed, None]:
    """A steady shape in the form of the result."""
    if isinstance(shape, Failure):
        return _failed(named.line.name, shape.reason, TRY_STEADY)
    if not (np.isfinite(shape.places).all() and np.isfinite(shape.tension).all()):
        return _failed(named.line.name, "the steady shape came out as no number", TRY_STEADY)
    ends = []
    for at, node in enumerate(shape.joints):
        x, y, z = (float(value) for value in shape.places[node])
        radius = float(shape.radii[at])
        ends.append(
            SteadyEnd(
                section=named.sections[at],
                body=named.bodies[at],
                node=int(node),
                line_out_m=float(shape.arclength[node]),
                depth_m=-z,
                astern_m=-x,
                to_port_m=y,
                speed_m_s=float(shape.speeds[at]),
                circle_radius_m=None if math.isnan(radius) else radius,
                tension_n=float(shape.tension[node]),
            )
        )
    pull = shape.tip_pull
    return SteadyLine(
        name=named.line.name,
        tip_m=named.line.tip,
        tip_tension_n=float(shape.tension[0]),
        tip_angle_rad=shape.tip_angle,
        tip_side_rad=math.atan2(pull[1], -pull[0]),
        line_in_air_m=_in_air(shape.places[:, 2], shape.arclength) if file.sea.surface else None,
        line_out_m=shape.arclength.tolist(),
        positions_m=shape.places.tolist(),
        tension_n=shape.tension.tolist(),
        ends=tuple(ends),
    ), None


def _in_air(height: Floats, line_out: Floats) -> float | None:
    """Length of line from the rod tip to where it first meets still water [m]; None where it never does."""
    below = np.flatnonzero(height < 0.0)
    if below.size == 0:
        return None
    k = int(below[0])
    if k == 0:
        return 0.0
    share = height[k - 1] / (height[k - 1] - height[k])
    return float(line_out[k - 1] + share * (line_out[k] - line_out[k - 1]))


def _moving(
    named: TowedLine, marched: MarchedLine | Failure, track: Track
) -> tuple[MovingLine | NotComputed, Boat | None]:
    """A marched line in the form of the result: positions in the earth's frame, the rest as the boat lies."""
    if isinstance(marched, Failure):
        return _failed(named.line.name, marched.reason, TRY_MOVING)
    places = marched.places.astype(float)
    if not (np.isfinite(places).all() and np.isfinite(marched.pulls).all()):
        return _failed(named.line.name, "a moment of the manoeuvre came out as no number", TRY_MOVING)
    times = np.minimum(marched.times, track.duration)
    pose = track.pose(times)
    chord = _turned(places[:, 1] - places[:, 0], pose)
    ends = tuple(_moving_end(named, marched, places, pose, at) for at in range(len(named.sections)))
    origin = np.stack([pose.x, pose.y, np.zeros_like(pose.x)], axis=1)
    line = MovingLine(
        name=named.line.name,
        tip_m=named.line.tip,
        tip_tension_n=_short(marched.pulls[:, 0]),
        tip_angle_rad=_short(np.arctan2(-chord[:, 2], np.hypot(chord[:, 0], chord[:, 1]))),
        tip_side_rad=_short(np.arctan2(chord[:, 1], -chord[:, 0])),
        line_out_m=marched.arclength.tolist(),
        positions_m=np.round(places + origin[:, None, :], 6).tolist(),
        tension_nodes=(0, *(int(node) for node in marched.joints)),
        tension_n=tuple(_short(row) for row in marched.pulls),
        ends=ends,
    )
    boat = Boat(
        times_s=_short(marched.times),
        x_m=_short(pose.x),
        y_m=_short(pose.y),
        heading_rad=_short(pose.heading),
        speed_m_s=_short(np.hypot(pose.vx, pose.vy)),
    )
    return line, boat


def _moving_end(named: TowedLine, marched: MarchedLine, places: Floats, pose: Pose, at: int) -> MovingEnd:
    line_out = sum(section.length for section in named.line.sections[: at + 1])
    node = int(np.argmin(np.abs(marched.arclength - line_out)))
    stored = int(np.flatnonzero(marched.joints == node)[0])
    place = _turned(places[:, node], pose)
    return MovingEnd(
        section=named.sections[at],
        body=named.bodies[at],
        node=node,
        line_out_m=float(marched.arclength[node]),
        depth_m=_short(-place[:, 2]),
        astern_m=_short(-place[:, 0]),
        to_port_m=_short(place[:, 1]),
        speed_m_s=_short(np.linalg.norm(marched.speeds[:, stored].astype(float), axis=1)),
        tension_n=_short(marched.pulls[:, stored + 1]),
    )


def _turned(vectors: Floats, pose: Pose) -> Floats:
    """Vectors (moments, 3) of the earth's axes as the boat lies at each moment: forward, to port, up."""
    cos, sin = np.cos(pose.heading), np.sin(pose.heading)
    x, y, z = vectors[:, 0], vectors[:, 1], vectors[:, 2]
    return np.stack([cos * x + sin * y, cos * y - sin * x, z], axis=1)


def _short(values: NDArray[np.floating]) -> tuple[float, ...]:
    """Values as the core stores them over time: to a millionth, which is more than it knows."""
    return tuple(np.round(np.asarray(values, dtype=float), 6).tolist())


class _Compiling(event.Listener):
    """Tells when numba starts to compile, which it does once for a new machine or a new version."""

    def __init__(self, tell: Tell, total: int) -> None:
        self.tell, self.total = tell, total

    def on_start(self, _event: event.Event) -> None:
        self.tell(PREPARING, 0, self.total)

    def on_end(self, _event: event.Event) -> None:
        self.tell(COMPUTING, 0, self.total)


@contextmanager
def _told_of_compiling(tell: Tell, total: int) -> Iterator[None]:
    with event.install_listener("numba:compile", _Compiling(tell, total)):
        yield
