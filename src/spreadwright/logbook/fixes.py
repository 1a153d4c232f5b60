"""A boat's recorded track: fixes in time order, with gaps found, jumps left out, and everything left out counted.

Readers (gpx.py, nmea.py) hand over raw fixes; `clean` makes a track of them that the rest may trust.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

GAP = 15.0  # [s] without a fix: the track is not joined across it; assumed
FASTEST = 35.0  # [m/s] between two fixes (68 kn): faster is a jump of the receiver, not the boat; assumed
BELIEVED = 5  # fixes refused in a row, after which the new place is believed
# WGS 84: half axis [m] and first eccentricity squared.
_HALF_AXIS, _ECCENTRICITY2 = 6378137.0, 6.69437999014e-3


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch without fixes: when it starts, and how long it lasts [s]."""

    start: datetime
    seconds: float


@dataclass(frozen=True, slots=True)
class TrackReport:
    """What a reader found: where from, how much of what was left out, and the gaps.

    bad: (reason, how many, example) of sentences or points that could not be used; doubled: fixes with the time of
    another; disordered: fixes earlier than the one before (put in order); jumps: fixes the boat cannot have reached.
    """

    source: str
    kind: str
    fixes: int
    bad: tuple[tuple[str, int, str], ...] = ()
    passed_over: int = 0
    doubled: int = 0
    disordered: int = 0
    jumps: int = 0
    gaps: tuple[Gap, ...] = ()
    start: datetime | None = None
    end: datetime | None = None

    @property
    def sentences(self) -> tuple[str, ...]:
        """The report in plain sentences."""
        if self.start is None or self.end is None:
            told = [f"{self.source}: no usable fix."]
        else:
            start, end = (f"{each:%Y-%m-%d %H:%M:%S}" for each in (self.start, self.end))
            told = [f"{self.source}: {self.fixes} fixes, {start} to {end} UTC."]
        told += [f"{count} left out, {reason} (such as {example})." for reason, count, example in self.bad]
        if self.doubled:
            told.append(f"{self.doubled} fixes with the time of another left out.")
        if self.disordered:
            told.append(f"{self.disordered} fixes came out of order and were put in order.")
        if self.jumps:
            told.append(f"{self.jumps} jumps over {FASTEST / 0.514444:.0f} kn left out.")
        if self.gaps:
            longest = max(self.gaps, key=lambda gap: gap.seconds)
            told.append(
                f"{len(self.gaps)} gaps over {GAP:.0f} s, the longest {longest.seconds / 60.0:.1f} min "
                f"from {longest.start:%H:%M:%S} UTC; nothing is made up across them."
            )
        return tuple(told)


@dataclass(frozen=True, slots=True, eq=False)
class Fixes:
    """A track: times (N) [s since 1970, UTC], rising; latitude, longitude (N) [deg], longitude unbroken at 180."""

    times: Floats
    latitude: Floats
    longitude: Floats
    report: TrackReport = field(default_factory=lambda: TrackReport("", "", 0))

    def __len__(self) -> int:
        return len(self.times)


def clean(
    times: Floats, latitude: Floats, longitude: Floats, source: str, kind: str,
    bad: tuple[tuple[str, int, str], ...] = (), passed_over: int = 0,
) -> Fixes:  # fmt: skip
    """A track of raw fixes: put in order, doubles and jumps left out, gaps found; every loss counted."""
    disordered = int((np.diff(times) < 0).sum()) if len(times) else 0
    order = np.argsort(times, kind="stable")
    t, lat, lon = times[order], latitude[order], longitude[order]
    first = np.ones(len(t), dtype=bool)
    first[1:] = np.diff(t) > 0.0
    doubled = int((~first).sum())
    t, lat, lon = t[first], lat[first], _unbroken(lon[first])
    kept = _reachable(t, lat, lon)
    jumps = int((~kept).sum())
    t, lat, lon = t[kept], lat[kept], lon[kept]
    apart = np.diff(t)
    gaps = tuple(Gap(moment(t[i]), float(apart[i])) for i in np.flatnonzero(apart > GAP))
    ends = (moment(t[0]), moment(t[-1])) if len(t) else (None, None)
    report = TrackReport(source, kind, len(t), bad, passed_over, doubled, disordered, jumps, gaps, *ends)
    return Fixes(t, lat, lon, report)


def _unbroken(longitude: Floats) -> Floats:
    """Longitudes [deg] without the step at 180."""
    return np.unwrap(longitude, period=360.0) if len(longitude) else longitude


def _reachable(t: Floats, lat: Floats, lon: Floats) -> NDArray[np.bool_]:
    """False for fixes that the boat cannot have reached from the last one kept.

    Most tracks have none, which one look at all neighbours shows. A receiver that comes back wrong and stays there
    would otherwise lose the whole rest: after five refused in a row the new place is believed.
    """
    kept = np.ones(len(t), dtype=bool)
    if len(t) < 2:
        return kept
    x, y = to_metres(lat, lon, float(lat[0]), float(lon[0]))
    # Metres shrink with the latitude: far from the start the local scale is put in.
    scale = np.cos(np.radians(lat)) / math.cos(math.radians(float(lat[0])))
    fast = np.hypot(np.diff(x) * scale[1:], np.diff(y)) > FASTEST * np.diff(t)
    suspects = np.append(np.flatnonzero(fast) + 1, len(t))
    k = int(suspects[0])
    last, refused = k - 1, 0
    while k < len(t):
        far = math.hypot((x[k] - x[last]) * scale[k], y[k] - y[last])
        if far > FASTEST * (t[k] - t[last]) and refused < BELIEVED:
            kept[k] = False
            refused += 1
            k += 1
            continue
        k = int(suspects[np.searchsorted(suspects, k, side="right")])  # up to there all neighbours are in reach
        last, refused = k - 1, 0
    return kept


def moment(seconds: float) -> datetime:
    """The moment, in UTC, of a time in seconds since 1970."""
    return datetime.fromtimestamp(float(seconds), UTC)


def metres_per_degree(latitude: float) -> tuple[float, float]:
    """Metres in a degree of longitude and of latitude [m] at a latitude [deg], on the WGS 84 ellipsoid.

    >>> [round(each / 60.0, 3) for each in metres_per_degree(26.0)]
    [1668.629, 1846.467]
    """
    phi = math.radians(latitude)
    root = 1.0 - _ECCENTRICITY2 * math.sin(phi) ** 2
    east = _HALF_AXIS / math.sqrt(root) * math.cos(phi)
    north = _HALF_AXIS * (1.0 - _ECCENTRICITY2) / root**1.5
    return math.radians(east), math.radians(north)


def to_metres(latitude: Floats, longitude: Floats, lat0: float, lon0: float) -> tuple[Floats, Floats]:
    """Metres east and north (N) [m] of a place (lat0, lon0) [deg], on the plane that touches there.

    Good to 0.1 % within 10 km; the boat's motion is taken from short stretches, never across the whole track.
    """
    east, north = metres_per_degree(lat0)
    return (longitude - lon0) * east, (latitude - lat0) * north
