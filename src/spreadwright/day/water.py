"""Density of sea water from its temperature and salinity, at the surface or at depth.

The 1980 equation of state of sea water (EOS-80): Fofonoff and Millard 1983, Unesco technical
papers in marine science 44, section 3 (also Gill 1982, appendix 3). The present standard, TEOS-10,
differs from it by about 0.001 kg/m3 at the surface, far below what a towed line can feel.

Range: -2 to 40 degC, practical salinity 0 to 42, 0 to 1000 bar above the atmosphere.
Worked example: salinity 35, 25 degC (IPTS-68), at the surface: 1023.34306 kg/m3.
"""

from __future__ import annotations

import math

from numpy.polynomial import polynomial

_ZERO_CELSIUS = 273.15
_IPTS_68_PER_ITS_90 = 1.00024  # the equation was fitted on the temperature scale of 1968
_PASCAL_PER_BAR = 1.0e5

# Coefficients by rising power of the temperature; the first column of the paper's tables.
_PURE_WATER = (
    999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9,
)  # fmt: skip
_SALT = (8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9)
_SALT_THREE_HALVES = (-5.72466e-3, 1.0227e-4, -1.6546e-6)
_SALT_SQUARED = 4.8314e-4

_MODULUS_PURE = (19652.21, 148.4206, -2.327105, 1.360477e-2, -5.155288e-5)
_MODULUS_SALT = (54.6746, -0.603459, 1.09987e-2, -6.1670e-5)
_MODULUS_SALT_THREE_HALVES = (7.944e-2, 1.6483e-2, -5.3009e-4)
_FIRST_PURE = (3.239908, 1.43713e-3, 1.16092e-4, -5.77905e-7)
_FIRST_SALT = (2.2838e-3, -1.0981e-5, -1.6078e-6)
_FIRST_SALT_THREE_HALVES = 1.91075e-4
_SECOND_PURE = (8.50935e-5, -6.12293e-6, 5.2787e-8)
_SECOND_SALT = (-9.9348e-7, 2.0816e-8, 9.1697e-10)


def _at(temperature: float, coefficients: tuple[float, ...]) -> float:
    return float(polynomial.polyval(temperature, coefficients))


def _at_surface(t: float, salinity: float) -> float:
    return (
        _at(t, _PURE_WATER)
        + _at(t, _SALT) * salinity
        + _at(t, _SALT_THREE_HALVES) * math.sqrt(salinity) * salinity
        + _SALT_SQUARED * salinity**2
    )


def _secant_bulk_modulus(t: float, salinity: float, bar: float) -> float:
    """In bar; the pressure counts from the atmosphere's."""
    root = math.sqrt(salinity) * salinity
    at_rest = _at(t, _MODULUS_PURE) + _at(t, _MODULUS_SALT) * salinity + _at(t, _MODULUS_SALT_THREE_HALVES) * root
    first = _at(t, _FIRST_PURE) + _at(t, _FIRST_SALT) * salinity + _FIRST_SALT_THREE_HALVES * root
    second = _at(t, _SECOND_PURE) + _at(t, _SECOND_SALT) * salinity
    return at_rest + first * bar + second * bar**2


def density(temperature: float, salinity: float, pressure: float = 0.0) -> float:
    """Density of sea water [kg/m3].

    temperature  [K], on today's scale (ITS-90)
    salinity     practical salinity, no unit (the open ocean is near 35)
    pressure     above the atmosphere's [Pa]; 0 at the surface, about 10 kPa per metre of depth
    Raises ValueError outside the range of the equation.

    >>> round(density(273.15 + 27.0, 36.0), 2)
    1023.47
    """
    celsius = temperature - _ZERO_CELSIUS
    bar = pressure / _PASCAL_PER_BAR
    if not (math.isfinite(celsius) and -2.0 <= celsius <= 40.0):
        raise ValueError(f"sea water is between -2 and 40 degC, given {celsius:.2f} degC")
    if not (math.isfinite(salinity) and 0.0 <= salinity <= 42.0):
        raise ValueError(f"practical salinity is between 0 and 42, given {salinity}")
    if not (math.isfinite(bar) and 0.0 <= bar <= 1000.0):
        raise ValueError(f"the pressure above the atmosphere is 0 to 1000 bar, given {bar} bar")
    t = celsius * _IPTS_68_PER_ITS_90
    return _at_surface(t, salinity) / (1.0 - bar / _secant_bulk_modulus(t, salinity, bar))
