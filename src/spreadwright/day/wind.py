"""The wind: Beaufort force, the same wind over another averaging time or height, and its push.

A forecast, a buoy and a masthead each average over their own time and height. Waves grow by the
wind at 10 m averaged over the hours that it blows, so the reading has to be brought to that first.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

KNOT = 1852.0 / 3600.0

_HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class Beaufort:
    """One row of the Beaufort scale: wind at 10 m, and the sea it can raise in open water.

    knots          lowest and highest whole knot as printed (the last has no highest)
    speed          lowest and highest [m/s] as printed (the last has no highest)
    mean_knots     the mean wind of the force [kn]; None where no source was seen
    wave_height    probable wave height [m], far from land, once the sea has had time to rise
    wave_highest   probable greatest wave height [m]
    """

    force: int
    name: str
    knots: tuple[int, int | None]
    speed: tuple[float, float | None]
    mean_knots: int | None
    wave_height: float
    wave_highest: float | None


# World Meteorological Organization, Manual on Codes (WMO-No. 306), code table 1100. Forces 0 to 8:
# all columns seen in print. Forces 9 to 12: limits seen, wave heights from memory.
SCALE = (
    Beaufort(0, "calm", (0, 0), (0.0, 0.2), 0, 0.0, 0.0),
    Beaufort(1, "light air", (1, 3), (0.3, 1.5), 2, 0.1, 0.1),
    Beaufort(2, "light breeze", (4, 6), (1.6, 3.3), 5, 0.2, 0.3),
    Beaufort(3, "gentle breeze", (7, 10), (3.4, 5.4), 9, 0.6, 1.0),
    Beaufort(4, "moderate breeze", (11, 16), (5.5, 7.9), 13, 1.0, 1.5),
    Beaufort(5, "fresh breeze", (17, 21), (8.0, 10.7), 19, 2.0, 2.5),
    Beaufort(6, "strong breeze", (22, 27), (10.8, 13.8), 24, 3.0, 4.0),
    Beaufort(7, "near gale", (28, 33), (13.9, 17.1), 30, 4.0, 5.5),
    Beaufort(8, "gale", (34, 40), (17.2, 20.7), 37, 5.5, 7.5),
    Beaufort(9, "strong gale", (41, 47), (20.8, 24.4), None, 7.0, 10.0),
    Beaufort(10, "storm", (48, 55), (24.5, 28.4), None, 9.0, 12.5),
    Beaufort(11, "violent storm", (56, 63), (28.5, 32.6), None, 11.5, 16.0),
    Beaufort(12, "hurricane", (64, None), (32.7, None), None, 14.0, None),
)


def _require(value: float, name: str, *, above_zero: bool) -> None:
    if not math.isfinite(value) or value < 0.0 or (above_zero and value == 0.0):
        least = "above zero" if above_zero else "zero or more"
        raise ValueError(f"{name} must be {least} and finite, given {value}")


def beaufort(speed: float) -> Beaufort:
    """The Beaufort force of a wind [m/s, 10 minutes' mean at 10 m].

    The printed columns of knots and of metres a second disagree by up to half a knot at the limits
    of a force. A force is chosen by the wind in whole knots, which is what a forecast speaks.
    Raises ValueError for a negative or unending wind.

    >>> beaufort(20 * KNOT).name
    'fresh breeze'
    """
    _require(speed, "the wind", above_zero=False)
    knots = math.floor(speed / KNOT + 0.5)
    return next(row for row in reversed(SCALE) if knots >= row.knots[0])


def _of_one_hour(seconds: float) -> float:
    """Wind averaged over `seconds` as a share of the wind averaged over one hour.

    Coastal Engineering Manual (USACE EM 1110-2-1100) part II, figure II-2-1 and equations II-2-1:
    up to an hour 1.277 + 0.296 tanh(0.9 log10(45/t)), then 1.5334 - 0.15 log10 t to ten hours.
    """
    if seconds < _HOUR:
        return 1.277 + 0.296 * math.tanh(0.9 * math.log10(45.0 / seconds))
    return 1.5334 - 0.15 * math.log10(seconds)


def averaged(speed: float, over: float, to: float) -> float:
    """The wind averaged over `to` seconds, from one averaged over `over` seconds [m/s].

    Range 1 s to 10 h: Coastal Engineering Manual equations II-2-1. Its example II-2-2: 19.9 m/s
    over three hours is 20.8 m/s over an hour and a half. Raises ValueError outside the range.

    >>> round(averaged(19.9, over=10800.0, to=5400.0), 1)
    20.9
    """
    _require(speed, "the wind", above_zero=False)
    for seconds in (over, to):
        if not 1.0 <= seconds <= 36000.0:
            raise ValueError(f"the averaging time must be 1 s to 10 h, given {seconds} s")
    return speed * _of_one_hour(to) / _of_one_hour(over)


def at_ten_metres(speed: float, height: float) -> float:
    """The wind at 10 m from one read at `height` [m] above the sea: speed (10/height)^(1/7).

    Coastal Engineering Manual equation II-2-9, for a height under 20 m and air and sea near one
    temperature. Raises ValueError outside 1 to 20 m.
    """
    _require(speed, "the wind", above_zero=False)
    if not 1.0 <= height <= 20.0:
        raise ValueError(f"this rule holds from 1 to 20 m above the sea, given {height} m")
    return speed * math.pow(10.0 / height, 1.0 / 7.0)


def stress_wind(speed: float) -> float:
    """The wind that counts for growing waves [m/s], from the wind at 10 m: U sqrt(0.75 + 0.067 U).

    ACES User's Guide (USACE 1992) chapter 1-1, by Garratt's drag law. Its example 2: 27.71 kn
    gives 36.18 kn.

    >>> round(stress_wind(27.71 * KNOT) / KNOT, 2)
    36.18
    """
    _require(speed, "the wind", above_zero=False)
    return speed * math.sqrt(0.75 + 0.067 * speed)


def stress_wind_1984(speed: float) -> float:
    """The same after the Shore Protection Manual (USACE 1984) equation 3-28a: 0.71 U^1.23 [m/s]."""
    _require(speed, "the wind", above_zero=False)
    return 0.71 * math.pow(speed, 1.23)


def friction_velocity(speed: float) -> float:
    """Friction velocity of the wind at 10 m [m/s]: U sqrt(0.001 (1.1 + 0.035 U)).

    Coastal Engineering Manual equation II-2-36.
    """
    _require(speed, "the wind", above_zero=False)
    return speed * math.sqrt(0.001 * (1.1 + 0.035 * speed))
