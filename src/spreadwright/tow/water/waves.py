"""Waves as a sum of small ones from a JONSWAP spectrum, by linear theory in deep water.

Spectrum  S(f) ~ f^-5 exp(-1.25 (fp/f)^4) gamma^b, b = exp(-(f - fp)^2 / (2 s^2 fp^2)), s = 0.07 below fp, 0.09 above
          (Hasselmann and others 1973), scaled so that 4 sqrt(m0) is the wished Hs.
Velocity  of each: a w exp(k z) along its direction and upward, w^2 = g k (Airy). Near the surface z is replaced by
          z - eta (Wheeler 1970, deep water), so that nothing is extrapolated above the mean level.
Range     steepness H/L below about 1/15; no breaking, no drift. Directions spread as cos^2 about the main one.
Worked example: Hs 1 m, Tp 5 s: k at the peak 0.161 1/m, orbital speed at the surface about pi Hs / Tp = 0.63 m/s.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE

Floats = NDArray[np.float64]
WAVE_ROWS = 6  # amplitude, kx, ky, frequency, phase, k


@dataclass(frozen=True)
class WaveTrain:
    """The small waves of a sea: `rows` (n, 6) of amplitude [m], kx, ky [1/m], frequency [rad/s], phase [rad], k."""

    rows: Floats

    @property
    def height(self) -> float:
        """Significant height [m], four times the root of the summed variance."""
        return float(4.0 * math.sqrt(0.5 * np.sum(self.rows[:, 0] ** 2)))


def jonswap_waves(
    height: float,
    period: float,
    direction: float,
    seed: int,
    count: int = 40,
    peakedness: float = 3.3,
    spread: bool = True,
    gravity: float = 9.80665,
) -> WaveTrain:
    """A sea of significant height [m] and peak period [s] running towards `direction` [rad, earth frame].

    Frequencies share the variance equally in bins of equal energy; phases and directions come from `seed`.
    """
    peak = 1.0 / period
    f = np.linspace(0.5 * peak, 4.0 * peak, 4001)
    width = np.where(f <= peak, 0.07, 0.09)
    shape = f**-5.0 * np.exp(-1.25 * (peak / f) ** 4)
    shape *= peakedness ** np.exp(-((f - peak) ** 2) / (2.0 * (width * peak) ** 2))
    energy = np.concatenate([[0.0], np.cumsum(0.5 * (shape[1:] + shape[:-1]) * np.diff(f))])
    energy /= energy[-1]
    random = np.random.Generator(np.random.PCG64(seed))
    frequency = 2.0 * math.pi * np.interp((np.arange(count) + 0.5) / count, energy, f)
    phase = random.uniform(0.0, 2.0 * math.pi, count)
    heading = direction + (_spread_angles(random, count) if spread else np.zeros(count))
    k = frequency**2 / gravity
    amplitude = np.full(count, math.sqrt(2.0 / count) * height / 4.0)
    return WaveTrain(np.stack([amplitude, k * np.cos(heading), k * np.sin(heading), frequency, phase, k], axis=1))


def _spread_angles(random: np.random.Generator, count: int) -> Floats:
    angle = np.linspace(-0.5 * math.pi, 0.5 * math.pi, 2001)
    share = 0.5 + angle / math.pi + np.sin(2.0 * angle) / (2.0 * math.pi)  # integral of 2/pi cos^2
    spread: Floats = np.interp(random.uniform(0.0, 1.0, count), share, angle)
    return spread


@njit(**COMPILE)
def wave_level(waves: Floats, x: float, y: float, time: float) -> float:
    """Height of the surface [m] at a place and time."""
    level = 0.0
    for i in range(waves.shape[0]):
        level += waves[i, 0] * math.cos(waves[i, 1] * x + waves[i, 2] * y - waves[i, 3] * time + waves[i, 4])
    return level


@njit(**COMPILE)
def wave_velocity(waves: Floats, x: float, y: float, z: float, time: float) -> tuple[float, float, float]:
    """Water velocity [m/s] at a place and time, with the depth counted from the moving surface."""
    z = min(z - wave_level(waves, x, y, time), 0.0)
    u, v, q = 0.0, 0.0, 0.0
    for i in range(waves.shape[0]):
        k = waves[i, 5]
        angle = waves[i, 1] * x + waves[i, 2] * y - waves[i, 3] * time + waves[i, 4]
        speed = waves[i, 0] * waves[i, 3] * math.exp(k * z)
        u += speed * math.cos(angle) * waves[i, 1] / k
        v += speed * math.cos(angle) * waves[i, 2] / k
        q += speed * math.sin(angle)
    return u, v, q
