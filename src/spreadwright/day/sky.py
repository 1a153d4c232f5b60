"""Where the sun and the moon stand: positions good to about 0.01 degree, 1950 to 2100.

Meeus, Astronomical Algorithms, 2nd edition: sun chapter 25, nutation and obliquity chapter 22
(the largest terms), sidereal time chapter 12, moon chapter 47 (the largest of its terms: those
above 0.002 deg, 0.001 deg and 10 km), lit part of the moon chapter 48. A hundredth of a degree is
3 seconds of rising time. Worked example (47.a, 1992 April 12, 0 h): moon at longitude 133.163 deg,
latitude -3.229 deg, 368410 km.

Why not a library: see docs/day.md (moonrise by the one at hand was up to 98 s off, or missing).
Times are Julian days, floats or arrays of any one shape; angles are radians.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

J2000 = 2451545.0
# Earth's clock lags uniform time by 69 s about now (57 s in 1990, near 90 s in 2050, predicted);
# 20 s of error moves the moon by 0.003 deg and moonrise by less than a second.
CLOCK_LAG_DAYS = 69.0 / 86400.0

EARTH_RADIUS_KM = 6378.14
_AU_KM = 149597870.7
_J2000_MOMENT = datetime(2000, 1, 1, 12, tzinfo=UTC)


@dataclass(frozen=True, slots=True, eq=False)
class Position:
    """Right ascension and declination of date [rad] and distance [km], seen from Earth's centre.

    longitude, latitude  along and from the ecliptic of date [rad]
    """

    right_ascension: Floats
    declination: Floats
    distance: Floats
    longitude: Floats
    latitude: Floats


def julian_day(moment: datetime) -> float:
    """The Julian day of a moment in universal time. Raises ValueError without a time zone."""
    if moment.tzinfo is None:
        raise ValueError("a moment needs its time zone, such as datetime(..., tzinfo=UTC)")
    return J2000 + (moment - _J2000_MOMENT) / timedelta(days=1)


def moment(julian: float) -> datetime:
    """The moment, in UTC, of a Julian day [-]."""
    return _J2000_MOMENT + timedelta(days=julian - J2000)


def clock(julian: float, zone: tzinfo) -> datetime:
    """The clock's time at a Julian day [-], to the nearest second: the air is not known better."""
    exact = moment(julian) + timedelta(milliseconds=500)
    return exact.replace(microsecond=0).astimezone(zone)


def _node(t: Floats) -> Floats:
    """Longitude of the moon's ascending node, which drives the largest nutation."""
    return np.radians(125.04452 - 1934.136261 * t)


def obliquity(t: Floats) -> Floats:
    """True tilt of the ecliptic [rad] at t Julian centuries of uniform time from 2000."""
    mean = 23.4392911 - 0.0130042 * t - 1.64e-7 * t**2 + 5.04e-7 * t**3
    return np.radians(mean + 9.20 / 3600.0 * np.cos(_node(t)))


def _nutation(t: Floats) -> Floats:
    """Nutation in longitude [deg]; its two largest terms."""
    sun = np.radians(280.4665 + 36000.7698 * t)
    return -17.20 / 3600.0 * np.sin(_node(t)) - 1.32 / 3600.0 * np.sin(2.0 * sun)


def sidereal_angle(julian: Floats) -> Floats:
    """Apparent sidereal time at Greenwich [rad] at Julian days of universal time."""
    days = julian - J2000
    t = days / 36525.0
    mean = 280.46061837 + 360.98564736629 * days + 0.000387933 * t**2 - t**3 / 38710000.0
    return np.radians((mean + _nutation(t) * np.cos(obliquity(t))) % 360.0)


def _equatorial(longitude: Floats, latitude: Floats, distance: Floats, tilt: Floats) -> Position:
    x = np.cos(latitude) * np.cos(longitude)
    y = np.cos(latitude) * np.sin(longitude) * np.cos(tilt) - np.sin(latitude) * np.sin(tilt)
    z = np.cos(latitude) * np.sin(longitude) * np.sin(tilt) + np.sin(latitude) * np.cos(tilt)
    return Position(
        np.arctan2(y, x) % (2.0 * math.pi),
        np.arcsin(np.clip(z, -1.0, 1.0)),
        distance,
        longitude % (2.0 * math.pi),
        latitude,
    )


def _centuries(julian: Floats) -> Floats:
    return (julian + CLOCK_LAG_DAYS - J2000) / 36525.0


def sun(julian: Floats) -> Position:
    """The sun's apparent place at Julian days of universal time (Meeus chapter 25)."""
    t = _centuries(julian)
    mean = 280.46646 + 36000.76983 * t + 0.0003032 * t**2
    anomaly = np.radians(357.52911 + 35999.05029 * t - 0.0001537 * t**2)
    centre = (
        (1.914602 - 0.004817 * t - 0.000014 * t**2) * np.sin(anomaly)
        + (0.019993 - 0.000101 * t) * np.sin(2.0 * anomaly)
        + 0.000289 * np.sin(3.0 * anomaly)
    )
    longitude = np.radians(mean + centre - 0.00569 - 0.00478 * np.sin(_node(t)))
    eccentricity = 0.016708634 - 0.000042037 * t - 1.267e-7 * t**2
    distance = 1.000001018 * (1.0 - eccentricity**2) / (1.0 + eccentricity * np.cos(anomaly + np.radians(centre)))
    return _equatorial(longitude, np.zeros_like(longitude), distance * _AU_KM, obliquity(t))


# Meeus table 47.A and 47.B: multiples of the elongation, the sun's and the moon's anomaly and the
# moon's argument of latitude, then the coefficient.
_LONGITUDE = np.array([
    (0, 0, 1, 0, 6.288774), (2, 0, -1, 0, 1.274027), (2, 0, 0, 0, 0.658314),
    (0, 0, 2, 0, 0.213618), (0, 1, 0, 0, -0.185116), (0, 0, 0, 2, -0.114332),
    (2, 0, -2, 0, 0.058793), (2, -1, -1, 0, 0.057066), (2, 0, 1, 0, 0.053322),
    (2, -1, 0, 0, 0.045758), (0, 1, -1, 0, -0.040923), (1, 0, 0, 0, -0.034720),
    (0, 1, 1, 0, -0.030383), (2, 0, 0, -2, 0.015327), (0, 0, 1, 2, -0.012528),
    (0, 0, 1, -2, 0.010980), (4, 0, -1, 0, 0.010675), (0, 0, 3, 0, 0.010034),
    (4, 0, -2, 0, 0.008548), (2, 1, -1, 0, -0.007888), (2, 1, 0, 0, -0.006766),
    (1, 0, -1, 0, -0.005163), (1, 1, 0, 0, 0.004987), (2, -1, 1, 0, 0.004036),
    (2, 0, 2, 0, 0.003994), (4, 0, 0, 0, 0.003861), (2, 0, -3, 0, 0.003665),
    (0, 1, -2, 0, -0.002689), (2, 0, -1, 2, -0.002602), (2, -1, -2, 0, 0.002390),
    (1, 0, 1, 0, -0.002348), (2, -2, 0, 0, 0.002236), (0, 1, 2, 0, -0.002120),
    (0, 2, 0, 0, -0.002069), (2, -2, -1, 0, 0.002048),
])  # fmt: skip
_LATITUDE = np.array([
    (0, 0, 0, 1, 5.128122), (0, 0, 1, 1, 0.280602), (0, 0, 1, -1, 0.277693),
    (2, 0, 0, -1, 0.173237), (2, 0, -1, 1, 0.055413), (2, 0, -1, -1, 0.046271),
    (2, 0, 0, 1, 0.032573), (0, 0, 2, 1, 0.017198), (2, 0, 1, -1, 0.009266),
    (0, 0, 2, -1, 0.008822), (2, -1, 0, -1, 0.008216), (2, 0, -2, -1, 0.004324),
    (2, 0, 1, 1, 0.004200), (2, 1, 0, -1, -0.003359), (2, -1, -1, 1, 0.002463),
    (2, -1, 0, 1, 0.002211), (2, -1, -1, -1, 0.002065), (0, 1, -1, -1, -0.001870),
    (4, 0, -1, -1, 0.001828), (0, 1, 0, 1, -0.001794), (0, 0, 0, 3, -0.001749),
    (0, 1, -1, 1, -0.001565), (1, 0, 0, 1, -0.001491), (0, 1, 1, 1, -0.001475),
    (0, 1, 1, -1, -0.001410), (0, 1, 0, -1, -0.001344), (1, 0, 0, -1, -0.001335),
    (0, 0, 3, 1, 0.001107), (4, 0, 0, -1, 0.001021),
])  # fmt: skip
_DISTANCE = np.array([
    (0, 0, 1, 0, -20905.355), (2, 0, -1, 0, -3699.111), (2, 0, 0, 0, -2955.968),
    (0, 0, 2, 0, -569.925), (2, 0, -2, 0, 246.158), (2, -1, 0, 0, -204.586),
    (2, 0, 1, 0, -170.733), (2, -1, -1, 0, -152.138), (0, 1, -1, 0, -129.620),
    (1, 0, 0, 0, 108.743), (0, 1, 1, 0, 104.755), (0, 0, 1, -2, 79.661),
    (0, 1, 0, 0, 48.888), (4, 0, -1, 0, -34.782), (2, 1, 0, 0, 30.824),
    (2, 1, -1, 0, 24.208), (0, 0, 3, 0, -23.210), (4, 0, -2, 0, -21.636),
    (1, 1, 0, 0, -16.675), (2, 0, -3, 0, 14.403), (2, -1, 1, 0, -12.831),
    (4, 0, 0, 0, -11.650), (2, 0, 2, 0, -10.445), (2, 0, 0, -2, 10.321),
    (2, -1, -2, 0, 10.056),
])  # fmt: skip


def _series(table: Floats, arguments: Floats, t: Floats, *, cosine: bool = False) -> Floats:
    """Sum of a table's terms; those with the sun's anomaly shrink with Earth's eccentricity."""
    angle = np.tensordot(table[:, :4], arguments, axes=1)
    eccentricity = 1.0 - 0.002516 * t - 0.0000074 * t**2
    shrink = eccentricity ** np.abs(table[:, 1]).reshape(-1, *([1] * t.ndim))
    waves = np.cos(angle) if cosine else np.sin(angle)
    total: Floats = np.tensordot(table[:, 4], waves * shrink, axes=1)
    return total


def moon(julian: Floats) -> Position:
    """The moon's apparent place at Julian days of universal time (Meeus chapter 47)."""
    t = np.asarray(_centuries(julian), dtype=np.float64)
    mean = 218.3164477 + 481267.88123421 * t - 0.0015786 * t**2 + t**3 / 538841.0
    elongation = 297.8501921 + 445267.1114034 * t - 0.0018819 * t**2 + t**3 / 545868.0
    sun_anomaly = 357.5291092 + 35999.0502909 * t - 0.0001536 * t**2
    anomaly = 134.9633964 + 477198.8675055 * t + 0.0087414 * t**2 + t**3 / 69699.0
    node = 93.2720950 + 483202.0175233 * t - 0.0036539 * t**2 - t**3 / 3526000.0
    arguments = np.radians(np.array([elongation, sun_anomaly, anomaly, node]) % 360.0)
    venus = np.radians(119.75 + 131.849 * t)
    flattening = np.radians(mean - node)
    longitude = (
        mean
        + _series(_LONGITUDE, arguments, t)
        + 0.003958 * np.sin(venus)
        + 0.001962 * np.sin(flattening)
        + _nutation(t)
    )
    latitude = _series(_LATITUDE, arguments, t) - 0.002235 * np.sin(np.radians(mean))
    distance = 385000.56 + _series(_DISTANCE, arguments, t, cosine=True)
    return _equatorial(np.radians(longitude), np.radians(latitude), distance, obliquity(t))


def altitude(body: Position, julian: Floats, latitude: float, longitude: float) -> Floats:
    """Height above the true horizon [rad] seen from Earth's centre, without the air's bending.

    latitude, longitude  of the boat [rad], north and east positive
    """
    hour_angle = sidereal_angle(julian) + longitude - body.right_ascension
    return np.arcsin(
        np.clip(
            math.sin(latitude) * np.sin(body.declination)
            + math.cos(latitude) * np.cos(body.declination) * np.cos(hour_angle),
            -1.0,
            1.0,
        )
    )


def horizontal_parallax(body: Position) -> Floats:
    """How much lower the body stands at the horizon for us than for Earth's centre [rad]."""
    return np.arcsin(EARTH_RADIUS_KM / body.distance)


def lit_part(julian: Floats) -> Floats:
    """The part of the moon's disc that is lit, 0 to 1 (Meeus equations 48.1 to 48.3)."""
    a, b = sun(julian), moon(julian)
    cos_apart = np.cos(b.latitude) * np.cos(b.longitude - a.longitude)
    apart = np.arccos(np.clip(cos_apart, -1.0, 1.0))
    phase = np.arctan2(a.distance * np.sin(apart), b.distance - a.distance * np.cos(apart))
    lit: Floats = (1.0 + np.cos(phase)) / 2.0
    return lit


def moon_ahead(julian: Floats) -> Floats:
    """How far the moon is ahead of the sun along the ecliptic [rad, 0 to 2 pi): 0 is new, pi full."""
    return (moon(julian).longitude - sun(julian).longitude) % (2.0 * math.pi)
