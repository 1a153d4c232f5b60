"""How the boat moved by its track: speed, heading and rate of turn, and on which side of a turn a line was.

A receiver's places jitter by a metre or two. Speed and rate of turn therefore come from cubics fitted to nine seconds
around each moment (Savitzky and Golay 1964), within stretches without a gap. In a steady turn of 150 ft at 15 kn the
speed so found is right to 1 % and the rate of turn 4 % low; the start of a turn is rounded off over some four seconds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from scipy.signal import savgol_filter

from spreadwright.logbook.fixes import GAP, Fixes, metres_per_degree, to_metres

Floats = NDArray[np.float64]
Side = Literal["straight", "inside", "outside", "middle"]

TURNING = math.radians(3.0)  # [rad/s]: slower is straight; 15 kn on a radius of 147 m; assumed
UNDER_WAY = 1.5  # [m/s] over ground: slower says nothing of a heading
WINDOW, DEGREE = 9, 3  # seconds, and degree of the curves
SHORTEST = 15.0  # [s] of track without a gap to say anything


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """Track without a gap, once a second: times (N) [s], x east, y north (N) [m] of `place` (lat, lon) [deg], smoothed;
    speed over ground (N) [m/s], heading (N) [rad, from east, positive to port], rate of turn (N) [rad/s, to port]."""

    place: tuple[float, float]
    times: Floats
    x: Floats
    y: Floats
    speed: Floats
    heading: Floats
    rate: Floats


@dataclass(frozen=True, slots=True)
class Moving:
    """The boat at a moment: place (lat, lon) [deg], speed over ground [m/s], heading [rad], rate of turn [rad/s]."""

    place: tuple[float, float]
    speed: float
    heading: float
    rate: float

    @property
    def turn(self) -> Literal["straight", "port", "starboard", "unknown"]:
        """Which way it turned; unknown where it had too little way on to tell."""
        if self.speed < UNDER_WAY:
            return "unknown"
        if abs(self.rate) < TURNING:
            return "straight"
        return "port" if self.rate > 0.0 else "starboard"

    @property
    def course(self) -> float:
        """Course over ground [deg], clockwise from north."""
        return math.degrees(math.pi / 2.0 - self.heading) % 360.0


def side_of(turn: str, port: float) -> Side | Literal["unknown"]:
    """The side of the turn on which a rod tip is that stands `port` [m] of the centreline (starboard negative)."""
    if turn == "straight":
        return "straight"
    if turn not in ("port", "starboard"):
        return "unknown"
    if abs(port) < 0.5:
        return "middle"
    return "inside" if (port > 0.0) == (turn == "port") else "outside"


def stretches(fixes: Fixes) -> list[Stretch]:
    """The track's stretches without a gap, long enough to say something."""
    if len(fixes) < 2:
        return []
    cuts = np.flatnonzero(np.diff(fixes.times) > GAP) + 1
    parts = np.split(np.arange(len(fixes)), cuts)
    return [
        _stretch(fixes.times[part], fixes.latitude[part], fixes.longitude[part])
        for part in parts
        if fixes.times[part[-1]] - fixes.times[part[0]] >= SHORTEST
    ]


def _stretch(t: Floats, lat: Floats, lon: Floats) -> Stretch:
    middle = len(t) // 2
    place = float(lat[middle]), float(lon[middle])
    x, y = to_metres(lat, lon, *place)
    even = np.arange(math.ceil(t[0]), math.floor(t[-1]) + 1.0)
    places = [CubicSpline(t, each)(even) for each in (x, y)]
    smooth, first, second = (
        [savgol_filter(each, WINDOW, DEGREE, deriv=order, mode="interp") for each in places] for order in (0, 1, 2)
    )
    speed = np.hypot(*first)
    safe = np.maximum(speed, 0.3)
    rate = (first[0] * second[1] - first[1] * second[0]) / safe**2
    heading = np.unwrap(np.arctan2(first[1], first[0]))
    return Stretch(place, even, smooth[0], smooth[1], speed, heading, rate)


def moving_at(parts: list[Stretch], seconds: float) -> Moving | None:
    """How the boat moved at a time [s since 1970]; None where the track has a gap there."""
    for part in parts:
        if part.times[0] <= seconds <= part.times[-1]:
            x, y, speed, heading, rate = (
                float(np.interp(seconds, part.times, each))
                for each in (part.x, part.y, part.speed, part.heading, part.rate)
            )
            return Moving(_degrees(part, x, y), speed, heading, rate)
    return None


def _degrees(part: Stretch, x: float, y: float) -> tuple[float, float]:
    east, north = metres_per_degree(part.place[0])
    longitude = (part.place[1] + x / east + 180.0) % 360.0 - 180.0
    return part.place[0] + y / north, longitude
