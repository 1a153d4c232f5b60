"""Which light a moment of the log was in, by the height of the sun: dark, low sun or high sun.

Classes by the sun's height and not by the clock, so that seasons and places compare. Common practice has it that the
hour around sunrise and sunset fishes best (no source); the low-sun classes are the half hour to an hour on either side.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from spreadwright.day import sky

Floats = NDArray[np.float64]

LOW_SUN = math.radians(10.0)  # under it the light is low; the sun takes about 45 minutes to it in the tropics
CIVIL = math.radians(-6.0)
LIGHTS = ("dark", "low sun, morning", "high sun", "low sun, evening")
STEP = 300.0  # [s]: a line's hours are cut into pieces of this length, each in the light of its middle
_EPOCH = sky.J2000 - 10957.5  # Julian day of 1970-01-01


def lights_at(seconds: Floats, latitude: Floats, longitude: Floats) -> NDArray[np.int64]:
    """Which of LIGHTS (N) it was at times [s since 1970] and places [deg]."""
    julian = _EPOCH + seconds / 86400.0
    north, east = np.radians(latitude), np.radians(longitude)
    body = sky.sun(julian)
    turned = sky.sidereal_angle(julian) + east - body.right_ascension
    height = np.arcsin(
        np.sin(north) * np.sin(body.declination) + np.cos(north) * np.cos(body.declination) * np.cos(turned)
    )
    before_noon = np.sin(turned) < 0.0
    low = np.where(before_noon, 1, 3)
    return np.where(height < CIVIL, 0, np.where(height < LOW_SUN, low, 2)).astype(np.int64)


def light_hours(
    spans: Sequence[tuple[datetime, datetime]], places: Sequence[tuple[float, float] | None]
) -> list[dict[str, float]]:
    """Hours [h] in each light for each span at its place (lat, lon) [deg]; empty where the place is not known."""
    times, north, east, owner, length = [], [], [], [], []
    for i, ((start, end), place) in enumerate(zip(spans, places, strict=True)):
        seconds = (end - start).total_seconds()
        if place is None or seconds <= 0.0:
            continue
        count = max(1, math.ceil(seconds / STEP))
        middles = start.timestamp() + (np.arange(count) + 0.5) * seconds / count
        times.append(middles)
        north.append(np.full(count, place[0]))
        east.append(np.full(count, place[1]))
        owner.append(np.full(count, i))
        length.append(np.full(count, seconds / count / 3600.0))
    found: list[dict[str, float]] = [{} for _ in spans]
    if not times:
        return found
    which = lights_at(np.concatenate(times), np.concatenate(north), np.concatenate(east))
    hours = np.zeros((len(spans), len(LIGHTS)))
    np.add.at(hours, (np.concatenate(owner), which), np.concatenate(length))
    for i, row in enumerate(hours):
        found[i] = {light: float(h) for light, h in zip(LIGHTS, row, strict=True) if h > 0.0}
    return found


def lights_of(moments: Sequence[datetime], place: tuple[float, float]) -> list[str]:
    """The light at each moment at a place (lat, lon) [deg]."""
    if not moments:
        return []
    times = np.array([at.timestamp() for at in moments])
    which = lights_at(times, np.full(len(times), place[0]), np.full(len(times), place[1]))
    return [LIGHTS[int(each)] for each in which]
