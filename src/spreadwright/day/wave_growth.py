"""The sea that a wind raises: limited by the fetch, by how long it has blown, or by the wind alone.

Formulas of the Shore Protection Manual (USACE 1984) as used in the ACES User's Guide (USACE 1992)
chapter 1-1, with the wind stress of that guide. Worked example (its example 2): wind 27.71 kn for
3 hours over 60 miles gives 4.74 ft and 4.65 s, limited by the time. Other published formulas (the
manual's own wind stress; the Coastal Engineering Manual) differ by 20 % and more for the same
wind: `sea_from_wind` shows that as doubt. The forms for fetch and for time miss each other by up to
13 % where they meet, so the height jumps there; the doubt covers it. All assume a steady wind that
began over a calm sea; an old swell comes on top (waves.combined).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from spreadwright.day import wind as winds
from spreadwright.day.ranges import Range
from spreadwright.day.waves import SeaState

GRAVITY = 9.81  # as in the sources

BREAKING_OVER_DEPTH = 0.78  # height over depth at which ACES calls a wave broken

# The formulas alone were fitted with a scatter of about 15 % in height (assumed, no source).
FORMULA_DOUBT = 0.15
_SHORTEST_PERIOD = 0.5  # s: below a light air there is no sea to speak of


class LimitedBy(StrEnum):
    """What holds the sea back."""

    FETCH = "the fetch"
    TIME = "the time the wind has blown"
    WIND = "the wind alone: the sea is fully risen"


@dataclass(frozen=True, slots=True)
class Growth:
    """Significant height [m] and peak period [s] of a wind sea, and what limits it.

    stress_wind     the wind that the formulas used [m/s]
    time_for_fetch  time the wind needs until the fetch becomes the limit [s]; None in the
                    shallow forms, which know no time
    broken          the depth cannot carry this height
    """

    height: float
    peak_period: float
    limited_by: LimitedBy
    stress_wind: float
    time_for_fetch: float | None
    broken: bool = False


@dataclass(frozen=True, slots=True)
class _Form:
    """Coefficients and exponents of one family (open water, or fetch narrowed by land)."""

    height: float
    period: float
    period_power: float
    time: float
    time_power: float
    risen_height: float  # duration-limited: coefficient and exponent of the height
    risen_height_power: float
    risen_period: float
    risen_period_power: float


_OPEN = _Form(0.0016, 0.2857, 1 / 3, 68.8, 2 / 3, 8.51e-5, 5 / 7, 0.0702, 0.411)
_NARROW = _Form(0.0015, 0.3704, 0.28, 51.09, 0.72, 1.03e-4, 0.69, 0.082, 0.39)


def fetch_limited(wind: float, fetch: float, form: _Form = _OPEN) -> tuple[float, float]:
    """Height [m] and period [s] after a long blow of `wind` [m/s] over `fetch` [m], deep water."""
    x = GRAVITY * fetch / wind**2
    scale = wind / GRAVITY
    return form.height * wind * scale * math.sqrt(x), form.period * scale * x**form.period_power


def time_limited(wind: float, time: float, form: _Form = _OPEN) -> tuple[float, float]:
    """Height [m] and period [s] once `wind` [m/s] has blown for `time` [s], deep water."""
    t = GRAVITY * time / wind
    scale = wind / GRAVITY
    return (
        form.risen_height * wind * scale * t**form.risen_height_power,
        form.risen_period * scale * t**form.risen_period_power,
    )


def time_for_fetch(wind: float, fetch: float, form: _Form = _OPEN) -> float:
    """How long `wind` [m/s] must blow until `fetch` [m] becomes the limit [s]."""
    x = GRAVITY * fetch / wind**2
    return form.time * wind / GRAVITY * float(x**form.time_power)


def fully_risen(wind: float) -> tuple[float, float]:
    """Height [m] and period [s] that `wind` [m/s] can raise at most: 0.2433 U^2/g, 8.134 U/g."""
    return 0.2433 * wind**2 / GRAVITY, 8.134 * wind / GRAVITY


def _require(**values: float) -> None:
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0.0):
            raise ValueError(f"{name} must be above zero and finite, given {value}")


def _deep(stress: float, plain: float, fetch: float, time: float, form: _Form) -> Growth:
    needed = time_for_fetch(stress, fetch, form)
    if time > needed:
        height, period = fetch_limited(stress, fetch, form)
        limit = LimitedBy.FETCH
    else:
        height, period = time_limited(stress, time, form)
        limit = LimitedBy.TIME
    most_height, most_period = fully_risen(plain)
    if height > most_height or period > most_period:
        return Growth(most_height, most_period, LimitedBy.WIND, stress, needed)
    return Growth(height, period, limit, stress, needed)


def open_water(wind: float, fetch: float, time: float) -> Growth:
    """The sea in deep open water.

    wind   at 10 m, averaged over the time it has blown [m/s]
    fetch  of open water to windward [m]
    time   that the wind has blown so [s]
    Raises ValueError unless all are above zero.

    >>> sea = open_water(27.71 * winds.KNOT, 60 * 1609.344, 3 * 3600.0)
    >>> round(sea.height / 0.3048, 1), round(sea.peak_period, 1)
    (4.7, 4.7)
    """
    _require(wind=wind, fetch=fetch, time=time)
    return _deep(winds.stress_wind(wind), wind, fetch, time, _OPEN)


def narrow_water(wind: float, fetch: float, time: float, angle: float = 0.0) -> Growth:
    """The sea in deep water whose fetch is narrowed by land (a sound, the lee of an island chain).

    fetch  along the direction the waves come from [m]
    angle  between the wind and that direction [rad], less than a quarter turn
    ACES chapter 1-1, restricted fetch: the wind counts by its part along the waves.
    Raises ValueError for values out of range.
    """
    _require(wind=wind, fetch=fetch, time=time)
    along = math.cos(angle)
    if along <= 1e-6:
        raise ValueError(f"the waves come from within 90 deg of the wind, given {angle} rad")
    return _deep(winds.stress_wind(wind) * along, wind * along, fetch, time, _NARROW)


def shallow_water(wind: float, fetch: float, depth: float, *, narrow: bool = False, angle: float = 0.0) -> Growth:
    """The sea over a bank or a bay of steady depth [m], fetch-limited (ACES 1-1, shallow forms).

    `broken` says that the height passes 0.78 of the depth. Other arguments as above.

    >>> round(shallow_water(46.42 * 0.44704, 26 * 1609.344, 13 * 0.3048).height / 0.3048, 2)
    4.23
    """
    _require(wind=wind, fetch=fetch, depth=depth)
    form = _NARROW if narrow else _OPEN
    stress = winds.stress_wind(wind) * (math.cos(angle) if narrow else 1.0)
    x = GRAVITY * fetch / stress**2
    d = GRAVITY * depth / stress**2
    by_depth = math.tanh(0.530 * d**0.75)
    height = 0.283 * by_depth * math.tanh(form.height / 0.283 * math.sqrt(x) / by_depth)
    by_depth = math.tanh(0.833 * d**0.375)
    period = 7.54 * by_depth * math.tanh(form.period / 7.54 * x**form.period_power / by_depth)
    height *= stress**2 / GRAVITY
    return Growth(
        height,
        period * stress / GRAVITY,
        LimitedBy.FETCH,
        stress,
        None,
        broken=height >= BREAKING_OVER_DEPTH * depth,
    )


def manual_of_1984(wind: float, fetch: float, time: float) -> Growth:
    """The same sea with the Shore Protection Manual's own wind stress, 0.71 U^1.23; SI [m/s, m, s]."""
    _require(wind=wind, fetch=fetch, time=time)
    stress = winds.stress_wind_1984(wind)
    return _deep(stress, stress, fetch, time, _OPEN)


def coastal_manual(wind: float, fetch: float, time: float) -> tuple[float, float]:
    """Height [m] and period [s] after the Coastal Engineering Manual, equations II-2-36 to 38.

    A short blow counts as a shorter fetch: g X / u*^2 = 5.23e-3 (g t / u*)^1.5.
    """
    _require(wind=wind, fetch=fetch, time=time)
    friction = winds.friction_velocity(wind)
    scale = friction / GRAVITY
    by_fetch = GRAVITY * fetch / friction**2
    by_time = 5.23e-3 * (time / scale) ** 1.5
    x = min(by_fetch, by_time)
    height = min(4.13e-2 * math.sqrt(x), 2.115e2)
    period = min(0.651 * x ** (1 / 3), 2.398e2)
    return height * friction * scale, period * scale


def sea_from_wind(wind: float, fetch: float, time: float) -> SeaState:
    """The deep-water sea to plan with, its height with the doubt that the formulas leave.

    wind [m/s], fetch [m] and time [s] as for `open_water`.
    usual: ACES. low and high: the least and the most of the three published formulas, 15 % further
    out each way (assumed). A calm gives a flat sea.
    """
    if wind == 0.0:
        return SeaState(0.0, _SHORTEST_PERIOD, Range.exactly(0.0))
    usual = open_water(wind, fetch, time)
    others = (manual_of_1984(wind, fetch, time).height, coastal_manual(wind, fetch, time)[0])
    low = min(usual.height, *others) * (1.0 - FORMULA_DOUBT)
    high = max(usual.height, *others) * (1.0 + FORMULA_DOUBT)
    period = max(usual.peak_period, _SHORTEST_PERIOD)
    return SeaState(usual.height, period, Range(low, usual.height, high))
