"""The moon's phase on a day, and when the next new moon, quarters and full moon come."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from spreadwright.day import sky

_NEARLY = math.radians(6.0)  # half a day's travel of the moon past the sun
_MEAN_MONTH_DAYS = 29.530589
_QUARTERS = ("new moon", "first quarter", "full moon", "last quarter")
_BETWEEN = ("waxing crescent", "waxing gibbous", "waning gibbous", "waning crescent")


@dataclass(frozen=True, slots=True)
class MoonPhase:
    """The moon at local noon.

    name      new, waxing crescent, first quarter, waxing gibbous, full, ...
    lit       part of the disc that is lit [-]
    age_days  mean days since new moon (the real ones differ by up to half a day)
    """

    name: str
    lit: float
    age_days: float


def moon_phase(at: datetime) -> MoonPhase:
    """The moon's phase at a moment with its time zone.

    New, quarters and full are named within half a day of the exact moment.
    """
    julian = np.asarray(sky.julian_day(at))
    ahead = float(sky.moon_ahead(julian))
    nearest = round(ahead / (math.pi / 2.0))
    if abs(ahead - nearest * math.pi / 2.0) <= _NEARLY:
        name = _QUARTERS[nearest % 4]
    else:
        name = _BETWEEN[int(ahead // (math.pi / 2.0))]
    age = ahead / (2.0 * math.pi) * _MEAN_MONTH_DAYS
    return MoonPhase(name, float(sky.lit_part(julian)), age)


def _past(quarter: int, julian: float) -> float:
    """How far the moon is past a quarter [rad], from half a turn short of it to half a turn past."""
    ahead = float(sky.moon_ahead(np.asarray(julian)))
    return (ahead - quarter * math.pi / 2.0 + math.pi) % (2.0 * math.pi) - math.pi


def next_quarters(after: datetime, count: int = 4) -> tuple[tuple[datetime, str], ...]:
    """The next new moons, quarters and full moons after a moment, with their names, in UTC."""
    from scipy.optimize import brentq

    found: list[tuple[datetime, str]] = []
    julian = sky.julian_day(after)
    quarter = int(float(sky.moon_ahead(np.asarray(julian))) // (math.pi / 2.0)) + 1
    while len(found) < count:
        wanted = quarter % 4
        later = julian + 1.0  # a day is a seventh of the way to the next quarter
        while _past(wanted, later) < 0.0:
            later += 1.0
        julian = float(brentq(lambda x, wanted=wanted: _past(wanted, x), later - 1.0, later, xtol=1e-6))
        found.append((sky.clock(julian, UTC), _QUARTERS[wanted]))
        quarter += 1
    return tuple(found)
