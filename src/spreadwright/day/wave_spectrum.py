"""The many waves that make a sea: the JONSWAP spectrum, its moments, and waves that add up to it.

Hasselmann and others 1973 (Deutsche Hydrographische Zeitschrift A8 no. 12), in the form with
significant height and peak period (DNV-RP-C205 section 3.5.5). A peakedness of 1 is the fully
risen sea of Pierson and Moskowitz (1964), 3.3 the mean of the young North Sea. Reasonable for
3.6 < Tp / sqrt(Hs) < 5 [s, m].
Worked example (peakedness 1, Hs 12 m, peak at 0.071037 Hz): 162.36 m2 s at 0.079577 Hz.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

YOUNG_SEA = 3.3

_BELOW_PEAK, _ABOVE_PEAK = 0.07, 0.09  # widths of the peak on either side


def _shape(ratio: Floats, peakedness: float) -> Floats:
    """The spectrum over f/fp, before it is scaled to a height."""
    real = np.maximum(ratio, 0.05)  # below that the shape is under 1e-80000: nothing, and no overflow
    width = np.where(real <= 1.0, _BELOW_PEAK, _ABOVE_PEAK)
    peak: Floats = peakedness ** np.exp(-0.5 * ((real - 1.0) / width) ** 2)
    return real**-5.0 * np.exp(-1.25 * real**-4.0) * peak


@lru_cache(maxsize=64)
def _area(peakedness: float, power: int = 0) -> float:
    """Integral of the shape times (f/fp)^power over all f/fp, to about 1e-9."""

    def integrand(ratio: float) -> float:
        return float(_shape(np.array([ratio]), peakedness)[0]) * ratio**power

    from scipy.integrate import quad  # late: it takes half a second to load, which a refusal should not

    parts = [(0.2, 0.8), (0.8, 1.0), (1.0, 1.3), (1.3, 4.0), (4.0, 40.0)]
    inner = sum(quad(integrand, a, b, epsabs=1e-13, epsrel=1e-11)[0] for a, b in parts)
    tail: float = 40.0 ** (power - 4) / (4 - power)  # the f^-5 tail beyond
    return float(inner) + tail


def _check(height: float, peak_period: float, peakedness: float) -> None:
    if not (math.isfinite(height) and height >= 0.0):
        raise ValueError(f"a wave height is zero or more, given {height} m")
    if not (math.isfinite(peak_period) and peak_period > 0.0):
        raise ValueError(f"a wave period is above zero, given {peak_period} s")
    if not 1.0 <= peakedness <= 10.0:
        raise ValueError(f"the peakedness is 1 to 10 (young sea 3.3), given {peakedness}")


def jonswap(frequency: ArrayLike, height: float, peak_period: float, peakedness: float = YOUNG_SEA) -> Floats:
    """Spectral density [m2/Hz] at each frequency [Hz] (same shape); 0 at and below zero frequency.

    height, peak_period  significant height [m] and peak period [s]
    The scale is found by integration, so that the whole spectrum carries height^2 / 16 exactly;
    the common estimate 1 - 0.287 ln(peakedness) of that factor is up to 2 % off.
    Raises ValueError for values out of range.
    """
    _check(height, peak_period, peakedness)
    ratio = np.asarray(frequency, dtype=np.float64) * peak_period
    return height**2 / 16.0 * peak_period / _area(peakedness) * _shape(ratio, peakedness)


def mean_period(peak_period: float, peakedness: float = YOUNG_SEA) -> float:
    """Mean time between waves that cross still water upward [s]: sqrt(m0 / m2)."""
    _check(0.0, peak_period, peakedness)
    return peak_period * math.sqrt(_area(peakedness) / _area(peakedness, 2))


@dataclass(frozen=True, slots=True, eq=False)
class Components:
    """Waves that add up to a sea: frequencies [Hz] and amplitudes [m], arrays of one length."""

    frequency: Floats
    amplitude: Floats


def components(height: float, peak_period: float, count: int = 60, peakedness: float = YOUNG_SEA) -> Components:
    """`count` waves [m, Hz] of equal energy that carry the sea's energy: sum of a^2 / 2 = height^2 / 16.

    Equal energy puts the frequencies closest where the sea is strongest, and no two are harmonics
    of a common step, so that the sum does not repeat. Phases are the caller's (drawn at random).
    Raises ValueError for values out of range.
    """
    _check(height, peak_period, peakedness)
    if count < 1:
        raise ValueError(f"a sea needs one wave or more, given {count}")
    from scipy.integrate import cumulative_trapezoid

    ratio = np.concatenate([np.linspace(0.3, 3.0, 4000), np.geomspace(3.0, 12.0, 800)[1:]])
    grown = cumulative_trapezoid(_shape(ratio, peakedness), ratio, initial=0.0)
    shares = (np.arange(count) + 0.5) / count
    frequency = np.interp(shares * grown[-1], grown, ratio) / peak_period
    amplitude = np.full(count, height * math.sqrt(2.0 / 16.0 / count))
    return Components(frequency, amplitude)
