"""The day's light for a place and date: twilights, sun, moon, and the hours that fish best.

The conventions are those of the published almanacs: the upper edge of sun or moon on a level
horizon at sea level with ordinary air (sun's centre 50 minutes of arc below the horizon), civil,
nautical and astronomical twilight at 6, 12 and 18 degrees. Where the sun or moon does not do so on
the date, the answer is an `Absent`, never an exception. The day is the local one, midnight to
midnight, whatever the clocks do on it.
"""

from __future__ import annotations

import math
import zoneinfo
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from enum import StrEnum

import numpy as np

from spreadwright.day import sky
from spreadwright.day.moon import MoonPhase, moon_phase
from spreadwright.day.sky import Floats

_SUN_EDGE = math.radians(-0.8333)  # 34' of bent light and 16' of half the disc
_REFRACTION = math.radians(34.0 / 60.0)
_MOON_RADIUS_OVER_PARALLAX = 0.2725
_STEP_DAYS = 5.0 / 1440.0  # a rise and set less than 5 minutes apart can be missed, near the poles

BEST_LIGHT = timedelta(minutes=30)


class Absent(StrEnum):
    """Why something of the sky does not happen on a date."""

    UP_ALL_DAY = "stays above all day"
    DOWN_ALL_DAY = "stays below all day"
    NOT_THIS_DATE = "does not happen on this date"


Happening = datetime | Absent


@dataclass(frozen=True, slots=True)
class Window:
    """A stretch of the day and why it is worth fishing."""

    start: datetime
    end: datetime
    reason: str


@dataclass(frozen=True, slots=True)
class DayLight:
    """The sky of one local date at a place [rad]; every time carries the zone of the boat's clock."""

    on: date
    latitude: float
    longitude: float
    astronomical_dawn: Happening
    nautical_dawn: Happening
    civil_dawn: Happening
    sunrise: Happening
    noon: datetime
    sunset: Happening
    civil_dusk: Happening
    nautical_dusk: Happening
    astronomical_dusk: Happening
    sun_up: timedelta
    moonrise: Happening
    moonset: Happening
    moon: MoonPhase
    best: tuple[Window, ...]

    @property
    def first_light(self) -> Happening:
        """Civil dawn: light enough to see the lines."""
        return self.civil_dawn

    @property
    def last_light(self) -> Happening:
        """Civil dusk: after it, running home is running in the dark."""
        return self.civil_dusk


@dataclass(frozen=True, slots=True)
class UnknownZone:
    """A time-zone name that this machine's tables do not hold."""

    given: str
    rule: str = "a time zone is named as in the IANA tables"
    next_step: str = "write it as Region/City, such as 'America/Chicago', or 'UTC'"


def zone_named(name: str) -> tzinfo | UnknownZone:
    """The time zone of a name such as "Europe/Oslo"."""
    try:
        return zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        return UnknownZone(name)


def _sun_above(limit: float, latitude: float, longitude: float) -> Callable[[Floats], Floats]:
    def height(julian: Floats) -> Floats:
        return sky.altitude(sky.sun(julian), julian, latitude, longitude) - limit

    return height


def _moon_edge(latitude: float, longitude: float) -> Callable[[Floats], Floats]:
    """Height of the moon's upper edge over the horizon (Meeus chapter 15: 0.7275 pi - 34')."""

    def height(julian: Floats) -> Floats:
        body = sky.moon(julian)
        shift = (1.0 - _MOON_RADIUS_OVER_PARALLAX) * sky.horizontal_parallax(body) - _REFRACTION
        return sky.altitude(body, julian, latitude, longitude) - shift

    return height


@dataclass(frozen=True, slots=True)
class _Crossings:
    """When a height passed zero in a stretch, upward and downward, and its sign at the middle."""

    up: tuple[float, ...]
    down: tuple[float, ...]
    high_at_middle: bool

    def first_up(self) -> float | Absent:
        return self.up[0] if self.up else self._why()

    def last_down(self) -> float | Absent:
        """The last one that follows a rise, if there is any: it ends the day, not the night."""
        return self.down[-1] if self.down else self._why()

    def _why(self) -> Absent:
        if self.up or self.down:
            return Absent.NOT_THIS_DATE
        return Absent.UP_ALL_DAY if self.high_at_middle else Absent.DOWN_ALL_DAY


def _crossings(height: Callable[[Floats], Floats], start: float, end: float) -> _Crossings:
    count = max(2, math.ceil((end - start) / _STEP_DAYS) + 1)
    times = np.linspace(start, end, count)
    high = height(times) > 0.0
    up: list[float] = []
    down: list[float] = []
    from scipy.optimize import brentq  # late: it takes half a second to load, which a refusal should not

    for i in np.flatnonzero(high[1:] != high[:-1]):
        exact = brentq(lambda x: float(height(np.asarray(x))), times[i], times[i + 1], xtol=1e-6)  # 0.1 s
        (up if high[i + 1] else down).append(float(exact))
    return _Crossings(tuple(up), tuple(down), bool(high[count // 2]))


def _local_day(on: date, zone: tzinfo) -> tuple[float, float]:
    start = datetime.combine(on, time(), tzinfo=zone).astimezone(UTC)
    end = datetime.combine(on + timedelta(days=1), time(), tzinfo=zone).astimezone(UTC)
    return sky.julian_day(start), sky.julian_day(end)


def _noon(start: float, end: float, longitude: float, zone: tzinfo) -> datetime:
    """When the sun crosses the meridian: its hour angle passes zero."""

    def late(julian: float) -> float:
        x = np.asarray(julian)
        angle = sky.sidereal_angle(x) + longitude - sky.sun(x).right_ascension
        return float((angle + math.pi) % (2.0 * math.pi) - math.pi)

    guess = (start + end) / 2.0
    for _ in range(4):  # the hour angle runs almost evenly: each pass gains three digits
        guess -= late(guess) / (2.0 * math.pi)
    return sky.clock(guess, zone)


def _sun_up(crossings: _Crossings, start: float, end: float) -> timedelta:
    if not crossings.up and not crossings.down:
        return timedelta(days=end - start) if crossings.high_at_middle else timedelta()
    rises, sets = list(crossings.up), list(crossings.down)
    if not rises or (sets and sets[0] < rises[0]):
        rises.insert(0, start)
    if len(sets) < len(rises):
        sets.append(end)
    days = sum(down - up for up, down in zip(rises, sets, strict=True))
    return timedelta(seconds=round(days * 86400.0))


def _best(sunrise: Happening, sunset: Happening, half: timedelta) -> tuple[Window, ...]:
    """Common practice, no source: the hour around sunrise and around sunset fishes best."""
    windows = []
    if isinstance(sunrise, datetime):
        windows.append(Window(sunrise - half, sunrise + half, "the hour around sunrise"))
    if isinstance(sunset, datetime):
        windows.append(Window(sunset - half, sunset + half, "the hour around sunset"))
    return tuple(windows)


def day_light(on: date, latitude: float, longitude: float, zone: tzinfo, best: timedelta = BEST_LIGHT) -> DayLight:
    """The sky of local date `on` at a place.

    latitude, longitude  [rad], north and east positive
    zone                 of the boat's clock (see `zone_named`)
    best                 half the length of the best-light windows
    Raises ValueError for a latitude beyond a pole or a longitude beyond half a turn.
    """
    if not (math.isfinite(latitude) and abs(latitude) <= math.pi / 2.0):
        raise ValueError(f"a latitude is within 90 deg of the equator, given {latitude} rad")
    if not (math.isfinite(longitude) and abs(longitude) <= math.pi):
        raise ValueError(f"a longitude is within 180 deg of Greenwich, given {longitude} rad")
    start, end = _local_day(on, zone)

    def clock(julian: float | Absent) -> Happening:
        return julian if isinstance(julian, Absent) else sky.clock(julian, zone)

    def sun(limit: float) -> _Crossings:
        return _crossings(_sun_above(limit, latitude, longitude), start, end)

    civil, nautical, astronomical = (sun(math.radians(-degrees)) for degrees in (6, 12, 18))
    disc = sun(_SUN_EDGE)
    moon = _crossings(_moon_edge(latitude, longitude), start, end)
    noon = _noon(start, end, longitude, zone)
    sunrise, sunset = clock(disc.first_up()), clock(disc.last_down())
    return DayLight(
        on,
        latitude,
        longitude,
        clock(astronomical.first_up()),
        clock(nautical.first_up()),
        clock(civil.first_up()),
        sunrise,
        noon,
        sunset,
        clock(civil.last_down()),
        clock(nautical.last_down()),
        clock(astronomical.last_down()),
        _sun_up(disc, start, end),
        clock(moon.first_up()),
        clock(moon.last_down()),
        moon_phase(noon),
        _best(sunrise, sunset, best),
    )
