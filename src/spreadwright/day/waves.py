"""One wave train: its length, speed, energy and water motion, and what a current does to it.

Linear (Airy) wave theory, for waves that are low for their length and for the depth. A sea is made
of many such waves (wave_spectrum.py) that the wind has raised (wave_growth.py).
Cross-current refraction is not computed: use the part of the current along the waves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from spreadwright.day.ranges import Range

GRAVITY = 9.80665

# Miche 1944: a wave in deep water breaks once its height passes 0.142 of its length.
BREAKING_STEEPNESS = 0.142


@dataclass(frozen=True, slots=True)
class SeaState:
    """A sea as a forecast speaks of it.

    height       significant wave height [m]
    peak_period  period of the most energetic waves [s]
    doubt        the height from low to high [m]; None where no doubt was stated
    """

    height: float
    peak_period: float
    doubt: Range | None = None

    def __post_init__(self) -> None:
        if not (math.isfinite(self.height) and self.height >= 0.0):
            raise ValueError(f"a wave height is zero or more, given {self.height} m")
        if not (math.isfinite(self.peak_period) and self.peak_period > 0.0):
            raise ValueError(f"a wave period is above zero, given {self.peak_period} s")

    @property
    def steepness(self) -> float:
        """Significant height over the deep-water length at the peak (about 0.04 is a young sea)."""
        return self.height / wavelength(self.peak_period)


def combined(wind_sea: SeaState, swell: SeaState) -> SeaState:
    """Wind sea and swell together: energies add; the period is that of the larger part."""
    larger = wind_sea if wind_sea.height >= swell.height else swell
    return SeaState(math.hypot(wind_sea.height, swell.height), larger.peak_period)


def wavenumber(period: float, depth: float = math.inf, gravity: float = GRAVITY) -> float:
    """Wavenumber k [rad/m] of a wave of `period` [s] in water `depth` [m] deep.

    Solves omega^2 = g k tanh(k h) by Newton's method from Eckart's estimate, to 1e-13.
    Raises ValueError unless period and depth are above zero.
    """
    if not (math.isfinite(period) and period > 0.0):
        raise ValueError(f"a wave period is above zero, given {period} s")
    if not depth > 0.0:
        raise ValueError(f"a depth is above zero, given {depth} m")
    deep = (2.0 * math.pi / period) ** 2 / gravity
    if deep * depth > 400.0:  # tanh is 1 to the last digit long before this
        return deep
    wanted = deep * depth
    kh = wanted / math.sqrt(math.tanh(wanted))
    for _ in range(50):
        tanh = math.tanh(kh)
        step = (kh * tanh - wanted) / (tanh + kh * (1.0 - tanh * tanh))
        kh -= step
        if abs(step) < 1e-13 * kh:
            break
    return kh / depth


def wavelength(period: float, depth: float = math.inf, gravity: float = GRAVITY) -> float:
    """Wavelength [m]; in deep water g T^2 / 2 pi.

    >>> round(wavelength(8.0, 10.0, gravity=9.81), 3)
    70.898
    """
    return 2.0 * math.pi / wavenumber(period, depth, gravity)


def phase_speed(period: float, depth: float = math.inf, gravity: float = GRAVITY) -> float:
    """Speed of the crests [m/s]."""
    return wavelength(period, depth, gravity) / period


def group_speed(period: float, depth: float = math.inf, gravity: float = GRAVITY) -> float:
    """Speed of the energy [m/s]: half the crests' speed in deep water, all of it in the shallows."""
    twice = 2.0 * wavenumber(period, depth, gravity) * depth
    ratio = 0.0 if twice > 700.0 else twice / math.sinh(twice)
    return 0.5 * (1.0 + ratio) * phase_speed(period, depth, gravity)


def energy(height: float, density: float = 1025.0, gravity: float = GRAVITY) -> float:
    """Energy of a regular wave per area of sea [J/m2]: rho g H^2 / 8."""
    return density * gravity * height**2 / 8.0


def ursell_number(height: float, length: float, depth: float) -> float:
    """H L^2 / h^3 of height, length and depth [m]: linear theory holds well below about 25."""
    return height * length**2 / depth**3


def orbital_velocity(
    height: float,
    period: float,
    elevation: float,
    phase: float,
    depth: float = math.inf,
    gravity: float = GRAVITY,
) -> tuple[float, float]:
    """Velocity of the water along the waves and upward [m/s] in a regular wave.

    elevation  of the point above still water [m], negative below it
    phase      k x - omega t [rad], 0 under a crest
    """
    k = wavenumber(period, depth, gravity)
    amplitude = math.pi * height / period
    if k * depth > 350.0:
        along = up = math.exp(k * elevation)
    else:
        along = math.cosh(k * (elevation + depth)) / math.sinh(k * depth)
        up = math.sinh(k * (elevation + depth)) / math.sinh(k * depth)
    return amplitude * along * math.cos(phase), amplitude * up * math.sin(phase)


@dataclass(frozen=True, slots=True)
class OnCurrent:
    """Deep-water waves that ran onto a current: each figure over the same in still water [-]."""

    speed: float
    length: float
    height: float
    steepness: float


@dataclass(frozen=True, slots=True)
class Blocked:
    """The current stops the waves: they pile up and break where it reaches `limit` [m/s]."""

    limit: float


def on_current(period: float, current: float, gravity: float = GRAVITY) -> OnCurrent | Blocked:
    """What a steady current does to deep-water waves that come from still water.

    current  along the waves' direction [m/s]; negative runs against them
    Conservation of wave action (Longuet-Higgins and Stewart 1961; Peregrine 1976): c/c0 =
    (1 + sqrt(1 + 4 U/c0)) / 2, L/L0 = (c/c0)^2, a/a0 = c0 / sqrt(c (c + 2 U)); no energy passes a
    current of -c0/4. Worked example: U/c0 = -0.2 doubles the height (2.067) and makes the waves
    3.95 times as steep. Breaking is not in these formulas: see `sea_on_current`.
    """
    still = phase_speed(period, gravity=gravity)
    ratio = current / still
    if ratio <= -0.25:
        return Blocked(limit=-still / 4.0)
    speed = 0.5 * (1.0 + math.sqrt(1.0 + 4.0 * ratio))
    length = speed**2
    height = 1.0 / math.sqrt(speed * (speed + 2.0 * ratio))
    return OnCurrent(speed, length, height, height / length)


@dataclass(frozen=True, slots=True)
class SeaOnCurrent:
    """A sea on a current: significant height and length at the peak [m], and how it stands there.

    blocked   the current stops the peak's waves altogether; height and length are then those at
              which they break
    breaking  the single waves of significant height would break
    """

    height: float
    length: float
    blocked: bool
    breaking: bool

    @property
    def steepness(self) -> float:
        """Significant height over length."""
        return self.height / self.length


def sea_on_current(sea: SeaState, current: float) -> SeaOnCurrent:
    """A sea that runs onto a `current` [m/s], along the waves; negative runs against them.

    The peak's waves stand for the sea. Their height is held at Miche's breaking limit, 0.142 of
    the length. The shorter waves of the same sea steepen and break earlier than the peak's do.
    """
    still_length = wavelength(sea.peak_period)
    answer = on_current(sea.peak_period, current)
    if isinstance(answer, Blocked):
        length = still_length / 4.0  # (c/c0)^2 at the blocking point
        return SeaOnCurrent(BREAKING_STEEPNESS * length, length, blocked=True, breaking=True)
    length = still_length * answer.length
    height = sea.height * answer.height
    limit = BREAKING_STEEPNESS * length
    return SeaOnCurrent(min(height, limit), length, blocked=False, breaking=height > limit)
