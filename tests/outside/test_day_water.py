"""Sea water against the published values of EOS-80 and, beside it, the present standard TEOS-10."""

import gsw
import numpy as np
import pytest

from spreadwright.day.water import density

# Fofonoff and Millard 1983, Unesco technical papers in marine science 44, p. 19 (also Gill 1982, appendix 3).
# Salinity (PSS-78), temperature (IPTS-68, degC), pressure (dbar), density (kg/m3).
PRINTED = [
    (0, 5, 0, 999.96675), (0, 25, 0, 997.04796), (35, 5, 0, 1027.67547), (35, 25, 0, 1023.34306),
    (0, 5, 10000, 1044.12802), (0, 25, 10000, 1037.90204), (35, 5, 10000, 1069.48914), (35, 25, 10000, 1062.53817),
]  # fmt: skip


def kelvin(ipts_68_celsius):
    """Today's temperature scale from the one of 1968: t90 = t68 / 1.00024 (ITS-90)."""
    return 273.15 + ipts_68_celsius / 1.00024


@pytest.mark.parametrize(("salinity", "celsius", "decibar", "printed"), PRINTED)
def test_the_printed_table_of_the_equation_of_state(salinity, celsius, decibar, printed):
    assert density(kelvin(celsius), salinity, decibar * 1e4) == pytest.approx(printed, abs=1e-5)


def test_warm_ocean_water():
    # Derived from the same equation: salinity 36, 27 degC (IPTS-68).
    assert density(kelvin(27.0), 36.0) == pytest.approx(1023.47329, abs=1e-5)


def test_the_reference_library_gives_its_own_printed_example():
    # TEOS-10, page of gsw_rho (McDougall and Barker 2011, Getting started with TEOS-10).
    absolute = [34.7118, 34.8915, 35.0256, 34.8472, 34.7366, 34.7324]
    conservative = [28.8099, 28.4392, 22.7862, 10.2262, 6.8272, 4.3236]
    printed = [
        1021.839935738108, 1022.262457966867, 1024.427195413316,
        1027.790152759127, 1029.837779000189, 1032.002453224572,
    ]  # fmt: skip
    assert gsw.rho(absolute, conservative, [10, 50, 125, 250, 600, 1000]) == pytest.approx(printed, abs=1e-9)


@pytest.mark.parametrize("celsius", [5.0, 15.0, 22.0, 27.0, 31.0])
@pytest.mark.parametrize("salinity", [30.0, 35.0, 37.0])
@pytest.mark.parametrize("metres", [0.0, 5.0, 30.0])
def test_teos_10_agrees_where_a_boat_fishes(celsius, salinity, metres):
    """The two standards differ by up to 0.02 kg/m3 here: 20 parts in a million of a line's buoyancy."""
    decibar = float(gsw.p_from_z(-metres, 26.0))
    absolute = gsw.SA_from_SP(salinity, decibar, -80.0, 26.0)
    conservative = gsw.CT_from_t(absolute, celsius, decibar)
    theirs = float(gsw.rho(absolute, conservative, decibar))
    assert density(273.15 + celsius, salinity, decibar * 1e4) == pytest.approx(theirs, abs=0.02)


def test_teos_10_at_36_and_27_degrees():
    # gsw 3.6.23, run: practical salinity 36, 27 degC, 26 N 80 W, at the surface.
    absolute = gsw.SA_from_SP(36.0, 0.0, -80.0, 26.0)
    theirs = gsw.rho(absolute, gsw.CT_from_t(absolute, 27.0, 0.0), 0.0)
    assert theirs == pytest.approx(1023.47221, abs=1e-5)
    assert density(300.15, 36.0) == pytest.approx(theirs, abs=0.005)


def test_colder_saltier_and_deeper_is_heavier():
    warm, cold = density(300.15, 36.0), density(285.15, 36.0)
    assert cold > warm
    assert density(300.15, 37.0) > warm
    assert density(300.15, 36.0, 1e6) > warm
    assert np.isfinite(warm)
