"""All that moves the water, added up: what the march asks for at every node."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE
from spreadwright.tow.track import Track
from spreadwright.tow.water.current import CURRENT_ROWS, current_velocity
from spreadwright.tow.water.wash import PATH_ROWS, WASH_ROWS, wash_velocity
from spreadwright.tow.water.waves import WAVE_ROWS, WaveTrain, wave_level, wave_velocity

Floats = NDArray[np.float64]

PATH_STEP = 0.25  # [s]
PATH_BEFORE = 40.0  # [s] of wash behind the boat at the start


class Flow(NamedTuple):
    """Numbers the compiled core reads: whether anything moves, and the rows of each kind (see the small files)."""

    moves: bool
    current: Floats
    waves: Floats
    jets: Floats
    path: Floats


def still() -> Flow:
    """Water at rest."""
    return Flow(
        False, np.zeros(CURRENT_ROWS), np.zeros((0, WAVE_ROWS)), np.zeros((0, WASH_ROWS)), np.zeros((2, PATH_ROWS))
    )


def make_flow(
    current: tuple[float, float] = (0.0, 0.0),
    shear: tuple[float, float] = (0.0, 0.0),
    deepest: float = 50.0,
    waves: WaveTrain | None = None,
    jets: Floats | None = None,
    track: Track | None = None,
) -> Flow:
    """Put a flow together.

    current [m/s] and its shear a metre of depth [1/s], down to `deepest` [m]; waves; jets (n, 4): port [m], depth [m],
    diameter [m], efflux speed [m/s] of each propeller, which need the boat's track.
    """
    if jets is not None and track is None:
        raise ValueError("wash was asked for without a track; give the track that the boat runs")
    path = np.zeros((2, PATH_ROWS)) if track is None else _path(track)
    return Flow(
        True,
        np.array([*current, *shear, deepest]),
        np.zeros((0, WAVE_ROWS)) if waves is None else np.ascontiguousarray(waves.rows),
        np.zeros((0, WASH_ROWS)) if jets is None else np.ascontiguousarray(jets, dtype=float),
        path,
    )


def _path(track: Track) -> Floats:
    """The track sampled, with a straight run before it."""
    t = np.arange(-PATH_BEFORE, track.duration + PATH_STEP, PATH_STEP)
    inside = np.clip(t, 0.0, track.duration)
    pose = track.pose(inside)
    x = pose.x + (t - inside) * pose.vx
    y = pose.y + (t - inside) * pose.vy
    run = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    return np.stack([t, x, y, pose.heading, run], axis=1)


@njit(**COMPILE)
def flow_velocity(flow: Flow, x: float, y: float, z: float, time: float) -> tuple[float, float, float]:
    """Water velocity [m/s] at a place [m] and time [s]."""
    u, v, w = current_velocity(flow.current, z)
    if flow.waves.shape[0] > 0:
        a, b, c = wave_velocity(flow.waves, x, y, z, time)
        u, v, w = u + a, v + b, w + c
    if flow.jets.shape[0] > 0:
        a, b, c = wash_velocity(flow.jets, flow.path, x, y, z, time)
        u, v, w = u + a, v + b, w + c
    return u, v, w


@njit(**COMPILE)
def water_level(flow: Flow, x: float, y: float, time: float) -> float:
    """Height of the water's surface [m] at a place [m] and time [s]."""
    return wave_level(flow.waves, x, y, time) if flow.waves.shape[0] > 0 else 0.0
