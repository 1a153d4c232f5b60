"""The S-turn that MoorDyn and the core both run: six lines of 30 to 120 m, every constant and the track in one place.

Track. The boat's origin moves at constant speed V along heading psi(t) = A sin^3(2 pi t / P) for 0 <= t <= P and
straight before and after (port first, then starboard, then back; two continuous derivatives), so
x' = V cos psi, y' = V sin psi, integrated here by 4-point Gauss-Legendre quadrature over steps of at most 10 ms
(error below 1e-12 m). The tow points sit at fixed (forward, port, up) in the body frame, 5 m under still water,
which keeps MoorDyn's waterline treatment out of the comparison. Before t = 0 the boat runs straight; MoorDyn starts
from rest at t = -START with speed V (1 - cos(pi (t + START) / RAMP)) / 2 until full speed.

Stiffness. 1.3e4 N is ten times nylon's (near that of a braid): MoorDyn takes drag from the unstretched line, the
core from the stretched one at constant volume, a difference of half the strain; at this stiffness it is under
0.4 % of the drag. `SOFT` (nylon) is there to show how far the two then part.
"""

from __future__ import annotations

from functools import cache
from math import cos, pi, sin

import numpy as np
from numpy.typing import NDArray
from tests.outside.references.cases import KNOT
from tests.outside.references.moordyn_run import Part

Array = NDArray[np.float64]

SPEED = 15 * KNOT
SWING = 1.0  # rad, amplitude of the heading
PERIOD = 45.0  # s: the tightest radius is SPEED / (SWING 2 pi / PERIOD 2 / sqrt 3), about 48 m
UNTIL = 65.0  # s after the start of the turn
RAMP = 10.0
START = 90.0  # s of straight run before the turn, ramp included
DENSITY, GRAVITY = 1025.0, 9.81
STIFF, SOFT = 1.3e4, 1.3e3
OUTER_STEP = 0.01

# tow points in the body frame: forward, port, up [m]
TIPS = ((0.0, 0.9, -5.0), (0.0, -0.9, -5.0), (0.6, 1.8, -5.0), (0.6, -1.8, -5.0), (4.0, 5.5, -5.0), (4.0, -5.5, -5.0))
MARKS = (22.0, 32.0, 47.0, 67.0, 87.0, 112.0)  # tip to weight [m]
LEADER = 8.0  # weight to lure [m]
WEIGHTS = (2.3, 1.6, 1.1, 0.9, 0.68, 0.45)  # lead [kg]
WEIGHT_DRAG_AREAS = tuple(4.0e-4 * (m / 2.3) ** (2 / 3) for m in WEIGHTS)  # m2, isotropic
LURE_MASS, LURE_VOLUME, LURE_DRAG_AREA = 0.20, 0.12e-3, 9.0e-4
LINE_DIAMETER, LEADER_DIAMETER, LINE_DENSITY = 1.05e-3, 1.8e-3, 1140.0
NORMAL_DRAG, TANGENTIAL_DRAG, LINE_ADDED_MASS, BODY_ADDED_MASS = 1.2, 0.015, 1.0, 0.5
LEAD_DENSITY = 11340.0

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(4)


def heading(time: float) -> float:
    """Heading [rad], to port positive, `time` [s] after the start of the turn."""
    return SWING * sin(2 * pi * time / PERIOD) ** 3 if 0 <= time <= PERIOD else 0.0


def speed(time: float) -> float:
    """Speed [m/s] of the boat's origin; full speed except in the start-up that only MoorDyn needs."""
    since = time + START
    return SPEED if since >= RAMP else SPEED * (1 - cos(pi * max(since, 0.0) / RAMP)) / 2


@cache
def _places(step: float, count: int) -> Array:
    """Places [m] of the boat's origin at t = -START + k step, at (0, 0) when t = 0; shape (count, 2)."""
    moves = np.zeros((count, 2))
    for k in range(count - 1):
        times = -START + step * (k + 0.5 + 0.5 * _NODES)
        ways = np.array([[speed(t) * cos(heading(t)), speed(t) * sin(heading(t))] for t in times])
        moves[k + 1] = 0.5 * step * _WEIGHTS @ ways
    places = np.cumsum(moves, axis=0)
    return np.asarray(places - places[round(START / step)])


def origin(time: float, step: float = OUTER_STEP) -> Array:
    """Place (x, y) [m] of the boat's origin at a time that is a multiple of `step`."""
    return np.asarray(_places(step, round((START + UNTIL) / step) + 2)[round((time + START) / step)])


def tow_points(time: float) -> Array:
    """Places [m] of the six tow points, shape (6, 3)."""
    place, angle = origin(time), heading(time)
    c, s = cos(angle), sin(angle)
    return np.array([[place[0] + c * f - s * p, place[1] + s * f + c * p, up] for f, p, up in TIPS])


def lines(spacing: float, stiffness: float) -> tuple[tuple[Part, ...], ...]:
    """The six lines as MoorDyn parts with segments of `spacing` [m]."""

    def part(length: float, diameter: float, mass: float, volume: float, area: float) -> Part:
        return Part(
            length=length,
            diameter=diameter,
            density=LINE_DENSITY,
            stiffness=stiffness * (diameter / LINE_DIAMETER) ** 2,
            normal_drag=NORMAL_DRAG,
            tangential_drag=TANGENTIAL_DRAG,
            added_mass=LINE_ADDED_MASS,
            segments=round(length / spacing),
            body_mass=mass,
            body_volume=volume,
            body_drag_area=area,
            body_added_mass=BODY_ADDED_MASS,
        )

    return tuple(
        (
            part(mark, LINE_DIAMETER, mass, mass / LEAD_DENSITY, area),
            part(LEADER, LEADER_DIAMETER, LURE_MASS, LURE_VOLUME, LURE_DRAG_AREA),
        )
        for mark, mass, area in zip(MARKS, WEIGHTS, WEIGHT_DRAG_AREAS, strict=True)
    )
