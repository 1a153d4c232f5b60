"""Tracks written by code as GPX and NMEA 0183 text: straight runs and circles of a known radius and speed."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import UTC, datetime

import numpy as np

from spreadwright.logbook.fixes import Fixes, Floats, clean, metres_per_degree
from spreadwright.logbook.nmea import checksum

KNOT = 1852.0 / 3600.0
START = datetime(2031, 3, 8, 11, 0, tzinfo=UTC).timestamp()
PLACE = (26.5, -70.25)


def weaving(
    seconds: int, speed: float = 15 * KNOT, radius: float = 45.0, turn: float = 12.0, start: float = START
) -> tuple[Floats, Floats, Floats]:
    """Times and places of a boat that goes straight, turns to port, goes straight, turns to starboard, and so on.

    Each of the four parts lasts `turn` seconds; integrated finely, so that radius and speed are exact.
    """
    fine = np.arange(0.0, seconds + 0.005, 0.01)
    part = (fine / turn).astype(int) % 4
    rate = np.where(part == 1, speed / radius, np.where(part == 3, -speed / radius, 0.0))
    heading = np.concatenate([[0.0], np.cumsum(rate[:-1]) * 0.01])
    x = np.concatenate([[0.0], np.cumsum(speed * np.cos(heading[:-1])) * 0.01])
    y = np.concatenate([[0.0], np.cumsum(speed * np.sin(heading[:-1])) * 0.01])
    east, north = metres_per_degree(PLACE[0])
    whole = slice(None, None, 100)
    t, lat, lon = start + fine[whole], PLACE[0] + y[whole] / north, PLACE[1] + x[whole] / east
    return t.astype(np.float64), lat.astype(np.float64), lon.astype(np.float64)


def weaving_fixes(seconds: int, **more: float) -> Fixes:
    t, lat, lon = weaving(seconds, **more)
    return clean(t, lat, lon, "made", "test")


def gpx_text(times: Iterable[float], latitude: Iterable[float], longitude: Iterable[float]) -> str:
    points = "\n".join(
        f'<trkpt lat="{lat:.8f}" lon="{lon:.8f}"><time>{datetime.fromtimestamp(t, UTC).isoformat()}</time></trkpt>'
        for t, lat, lon in zip(times, latitude, longitude, strict=True)
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="made for a test" '
        f'xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>\n{points}\n</trkseg></trk></gpx>\n'
    )


def sentence(body: str) -> str:
    return f"${body}*{checksum(body)}"


def place_fields(latitude: float, longitude: float) -> str:
    north, east = abs(latitude), abs(longitude)
    return (
        f"{int(north):02d}{(north - int(north)) * 60:08.5f},{'N' if latitude >= 0 else 'S'},"
        f"{int(east):03d}{(east - int(east)) * 60:08.5f},{'E' if longitude >= 0 else 'W'}"
    )


def nmea_text(times: Iterable[float], latitude: Iterable[float], longitude: Iterable[float]) -> str:
    lines = []
    for t, lat, lon in zip(times, latitude, longitude, strict=True):
        at, place = datetime.fromtimestamp(math.floor(t), UTC), place_fields(lat, lon)
        lines.append(sentence(f"GPRMC,{at:%H%M%S},A,{place},15.0,030.0,{at:%d%m%y},,,A"))
        lines.append(sentence(f"GPGGA,{at:%H%M%S},{place},1,08,0.9,5.4,M,46.9,M,,"))
    return "\r\n".join(lines) + "\r\n"
