"""Where the boat is and how it heads over time, and from that the motion of every rod tip.

Earth frame: x along the first heading, y to port, z up; heading psi positive to port. The boat's origin (transom,
centreline, waterline) follows the track; its body turns with the heading.
Turning: a steering order asks for the heading rate u/R; the boat answers with a lag, T dr/dt + r = order (first-order
response, Nomoto 1957), and so does its speed. A lag delays a turn but does not change its sum, so every heading change
is reached exactly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicHermiteSpline, CubicSpline

Floats = NDArray[np.float64]

FINE_STEP = 0.01  # [s], for the path's quadrature; its error is below a micrometre


@dataclass(frozen=True)
class Pose:
    """The boat at a number of times: x, y [m], heading [rad], velocity (vx, vy) [m/s], heading rate [rad/s]."""

    x: Floats
    y: Floats
    heading: Floats
    vx: Floats
    vy: Floats
    rate: Floats


@dataclass(frozen=True)
class Sway:
    """Motion of the boat in waves over time, about its origin: heave [m], roll and pitch [rad], at `times` [s]."""

    times: Floats
    heave: Floats
    roll: Floats
    pitch: Floats


@dataclass(frozen=True)
class Track:
    """A boat's track as smooth curves; build one with `straight`, `circle`, `s_turn` or `recorded`."""

    duration: float
    _x: CubicHermiteSpline = field(repr=False)
    _y: CubicHermiteSpline = field(repr=False)
    _heading: CubicHermiteSpline = field(repr=False)

    def pose(self, times: Floats) -> Pose:
        """The boat at `times` [s]."""
        t = np.asarray(times, dtype=float)
        return Pose(self._x(t), self._y(t), self._heading(t), self._x(t, 1), self._y(t, 1), self._heading(t, 1))


def straight(speed: float, duration: float) -> Track:
    """A straight run at `speed` [m/s] for `duration` [s]."""
    return s_turn(speed, 1e9, (), lead_in=duration, lead_out=0.0)


def circle(speed: float, radius: float, duration: float) -> Track:
    """A steady circle of `radius` [m], positive to port, from the first moment on, at `speed` [m/s]."""
    fine = _fine(duration)
    rate = np.full_like(fine, speed / radius)
    return _from_heading(fine, fine * speed / radius, rate, np.full_like(fine, speed), duration)


def s_turn(
    speed: float,
    radius: float,
    heading_changes: tuple[float, ...],
    lead_in: float = 3.0,
    straight_between: float = 0.0,
    lead_out: float = 15.0,
    yaw_time: float = 1.5,
    speed_loss: float = 0.0,
) -> Track:
    """A run of turns: each heading change [rad, positive to port] at `radius` [m], with straight runs between [s].

    speed [m/s] on the straight; speed_loss [-] the share of it lost in a turn; yaw_time [s] the lag T; lead_in and
    lead_out [s] before the first and after the last turn.
    """
    turning = speed * (1.0 - speed_loss)
    orders: list[tuple[float, float, float]] = [(lead_in, 0.0, speed)]
    for i, change in enumerate(heading_changes):
        if i and straight_between > 0.0:
            orders.append((straight_between, 0.0, speed))
        order = math.copysign(turning / radius, change)
        orders.append((change / order, order, turning))
    orders.append((lead_out, 0.0, speed))
    duration = sum(length for length, _, _ in orders)
    fine = _fine(duration)
    heading, rate = _lagged(fine, [(d, r) for d, r, _ in orders], yaw_time, 0.0)
    _, u = _lagged(fine, [(d, v) for d, _, v in orders], yaw_time, speed)
    return _from_heading(fine, heading, rate, u, duration)


def recorded(times: Floats, x: Floats, y: Floats) -> Track:
    """A track through recorded places: times [s], rising; x, y [m]. The boat heads where it goes.

    It starts straight and at an even speed. Nothing says how the boat moved before the first point, and a spline left
    free there makes up a rate of turn, in which the lines would then be thought to have settled.
    """
    t = np.asarray(times, dtype=float)
    ends = ("natural", "not-a-knot") if t.size > 3 else "natural"
    curve_x, curve_y = (CubicSpline(t, place, bc_type=ends) for place in (x, y))
    vx, vy = curve_x(t, 1), curve_y(t, 1)
    speed = np.hypot(vx, vy)
    if speed.min() <= 0.1:
        raise ValueError(f"the track stands still ({speed.min():.2f} m/s); leave out the parts without way on")
    heading = np.unwrap(np.arctan2(vy, vx))
    rate = (vx * curve_y(t, 2) - vy * curve_x(t, 2)) / speed**2
    return Track(
        float(t[-1] - t[0]),
        CubicHermiteSpline(t - t[0], np.asarray(x, float) - x[0], vx),
        CubicHermiteSpline(t - t[0], np.asarray(y, float) - y[0], vy),
        CubicHermiteSpline(t - t[0], heading, rate),
    )


def tip_motion(track: Track, times: Floats, tips: Floats, sway: Sway | None = None) -> tuple[Floats, Floats]:
    """Places [m] and velocities [m/s] of rod tips, each (times, tips, 3), from their places in the boat (tips, 3)."""
    return tips_at(track.pose(times), tips, None if sway is None else swing(sway, times))


def swing(sway: Sway, times: Floats) -> Floats:
    """Heave [m], roll and pitch [rad] at `times` [s], and how fast they change: (2, times, 3)."""
    curves = CubicSpline(sway.times, np.stack([sway.heave, sway.roll, sway.pitch], axis=1))
    return np.stack([curves(times), curves(times, 1)])


def tips_at(pose: Pose, tips: Floats, swung: Floats | None = None) -> tuple[Floats, Floats]:
    """As `tip_motion`, where the boat's pose and its `swing` at the times are known."""
    body = np.broadcast_to(tips, (len(pose.x), *tips.shape))
    moving = np.zeros_like(body)
    if swung is not None:
        body, moving = _swayed(swung, tips)
    cos, sin = np.cos(pose.heading)[:, None], np.sin(pose.heading)[:, None]
    places = np.empty_like(body)
    places[..., 0] = pose.x[:, None] + cos * body[..., 0] - sin * body[..., 1]
    places[..., 1] = pose.y[:, None] + sin * body[..., 0] + cos * body[..., 1]
    places[..., 2] = body[..., 2]
    velocities = np.empty_like(body)
    out_x, out_y = places[..., 0] - pose.x[:, None], places[..., 1] - pose.y[:, None]
    velocities[..., 0] = pose.vx[:, None] - pose.rate[:, None] * out_y + cos * moving[..., 0] - sin * moving[..., 1]
    velocities[..., 1] = pose.vy[:, None] + pose.rate[:, None] * out_x + sin * moving[..., 0] + cos * moving[..., 1]
    velocities[..., 2] = moving[..., 2]
    return places, velocities


def _swayed(swung: Floats, tips: Floats) -> tuple[Floats, Floats]:
    """Rod tips in a frame that heads with the boat but stays level, and their velocities in it (small angles)."""
    x, y, z = tips[:, 0], tips[:, 1], tips[:, 2]
    moved = np.empty((2, swung.shape[1], len(tips), 3))
    for order in (0, 1):
        h, r, p = (swung[order, :, i, None] for i in range(3))
        base = 1.0 - order
        moved[order, ..., 0] = base * x + p * z
        moved[order, ..., 1] = base * y - r * z
        moved[order, ..., 2] = base * z + h + r * y - p * x
    return moved[0], moved[1]


def _fine(duration: float) -> Floats:
    return np.linspace(0.0, duration, max(2, math.ceil(duration / FINE_STEP)) + 1)


def _lagged(t: Floats, orders: list[tuple[float, float]], lag: float, start: float) -> tuple[Floats, Floats]:
    """Sum [value s] and value over time of a first-order answer to orders (duration, value), in closed form."""
    value, total = start, 0.0
    values, sums = np.empty_like(t), np.empty_like(t)
    begin = 0.0
    for i, (length, order) in enumerate(orders):
        last = i == len(orders) - 1
        here = (t >= begin - 1e-12) & (last | (t < begin + length - 1e-12))
        since = t[here] - begin
        fade = np.exp(-since / lag) if lag > 0 else np.zeros_like(since)
        values[here] = order + (value - order) * fade
        sums[here] = total + order * since + (value - order) * lag * (1.0 - fade)
        end = math.exp(-length / lag) if lag > 0 else 0.0
        total += order * length + (value - order) * lag * (1.0 - end)
        value = order + (value - order) * end
        begin += length
    return sums, values


def _from_heading(t: Floats, heading: Floats, rate: Floats, speed: Floats, duration: float) -> Track:
    """Integrate the path from heading and speed: Simpson's rule with the middle value from Hermite's cubic."""
    h = np.diff(t)
    vx, vy = speed * np.cos(heading), speed * np.sin(heading)
    slope = np.gradient(speed, t)
    middle_heading = 0.5 * (heading[1:] + heading[:-1]) - 0.125 * h * (rate[1:] - rate[:-1])
    middle_speed = 0.5 * (speed[1:] + speed[:-1]) - 0.125 * h * (slope[1:] - slope[:-1])
    places = []
    for v, middle in ((vx, np.cos(middle_heading)), (vy, np.sin(middle_heading))):
        steps = h / 6.0 * (v[:-1] + 4.0 * middle_speed * middle + v[1:])
        places.append(CubicHermiteSpline(t, np.concatenate([[0.0], np.cumsum(steps)]), v))
    return Track(float(duration), places[0], places[1], CubicHermiteSpline(t, heading, rate))
