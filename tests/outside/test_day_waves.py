"""Waves against the worked examples of ACES, the Coastal Engineering Manual and linear theory.

ACES: U.S. Army Corps of Engineers, ACES User's Guide, 1992. Feet and miles as printed there.
"""

import math

import numpy as np
import pytest
import scientimate

from spreadwright.day import wave_growth, waves, wind
from spreadwright.day.wave_growth import LimitedBy
from spreadwright.day.wave_spectrum import components, jonswap, mean_period

FOOT, MILE, MILE_AN_HOUR, HOUR = 0.3048, 1609.344, 0.44704, 3600.0


# ---- growth -----------------------------------------------------------------------------------
def test_aces_example_2_deep_water_limited_by_time():
    # Chapter 1-1, example problem 2 (p. 1-1-17 to 1-1-21): 27.71 kn for 3 h over 60 miles.
    sea = wave_growth.open_water(27.71 * wind.KNOT, 60 * MILE, 3 * HOUR)
    assert sea.stress_wind / wind.KNOT == pytest.approx(36.18, rel=2e-3)
    assert sea.height / FOOT == pytest.approx(4.74, rel=2e-3)
    assert sea.peak_period == pytest.approx(4.65, rel=2e-3)
    assert sea.limited_by is LimitedBy.TIME
    # Recomputed from the same formulas, not printed: the fetch would need 7.09 h.
    assert sea.time_for_fetch == pytest.approx(7.09 * HOUR, rel=2e-3)


def test_aces_example_1_shallow_water():
    # Chapter 1-1, example problem 1: 46.42 mph over 26 miles, 13 ft deep.
    sea = wave_growth.shallow_water(46.42 * MILE_AN_HOUR, 26 * MILE, 13 * FOOT)
    assert sea.stress_wind / MILE_AN_HOUR == pytest.approx(67.92, rel=2e-3)
    assert sea.height / FOOT == pytest.approx(4.23, rel=2e-3)
    assert sea.peak_period == pytest.approx(4.77, rel=2e-3)
    assert not sea.broken


def test_a_lecture_example_of_the_same_formulas():
    """Printed with the wind itself in place of the stress wind, and 0.243 for 0.2433 (Kamphuis' course)."""
    height, period = wave_growth.fetch_limited(15.0, 200e3)
    assert height == pytest.approx(3.417, rel=5e-3)
    assert period == pytest.approx(9.0, rel=5e-3)
    assert wave_growth.fully_risen(15.0)[0] == pytest.approx(5.573, rel=5e-3)
    most = 529037.0  # m, the fetch of a fully risen sea
    assert wave_growth.fetch_limited(15.0, most)[0] == pytest.approx(5.573, rel=5e-3)
    # Its time to a fully risen sea, 109 327 s, is a limit of its own in the manual (7.15e4 U/g), which ACES leaves
    # out; the two formulas meet there within 3 %.
    assert wave_growth.time_limited(15.0, 109327.0)[0] == pytest.approx(5.573, rel=0.03)


# Wind (m/s), fetch (km), then height (m) and period (s) after the Shore Protection Manual 1984; derived from its
# formulas, the second row run with ScientiMate 2.0.
MANUAL_1984 = [(5, 50, 0.5872, 3.9639), (10, 50, 1.3773, 5.2667), (10, 100, 1.9478, 6.6357), (15, 100, 3.2073, 7.8358)]


@pytest.mark.parametrize(("speed", "km", "height", "period"), MANUAL_1984)
def test_the_manual_of_1984(speed, km, height, period):
    sea = wave_growth.manual_of_1984(speed, km * 1e3, 1e6)
    assert sea.height == pytest.approx(height, rel=1e-3)
    assert sea.peak_period == pytest.approx(period, rel=1e-3)
    assert sea.limited_by is LimitedBy.FETCH


def test_the_coastal_engineering_manual():
    # Equation II-2-36 with 4.13e-2 and 0.651 (0.751 stands in some copies); derived, run with ScientiMate 2.0.
    assert wave_growth.coastal_manual(10.0, 50e3, 1e6) == pytest.approx((1.12275, 3.79332), rel=1e-3)


@pytest.mark.parametrize("speed", [5.0, 10.0, 18.0])
@pytest.mark.parametrize("fetch", [5e3, 50e3, 150e3])
def test_growth_against_scientimate(speed, fetch):
    """ScientiMate 2.0 parametricwavedeep and mindurationdeep, an independent writing of both manuals."""
    ours = wave_growth.manual_of_1984(speed, fetch, 1e7)
    if ours.limited_by is LimitedBy.FETCH:
        height, period = scientimate.parametricwavedeep(speed, fetch, "spmdeep")[:2]
        assert ours.height == pytest.approx(float(height[0]), rel=1e-3)
        assert ours.peak_period == pytest.approx(float(period[0]), rel=1e-3)
    needed = scientimate.mindurationdeep(speed, fetch, "spmdeep")[0]
    assert ours.time_for_fetch == pytest.approx(float(needed[0]), rel=1e-3)
    height = scientimate.parametricwavedeep(speed, fetch, "cem")[0]
    assert wave_growth.coastal_manual(speed, fetch, 1e7)[0] == pytest.approx(float(height[0]), rel=1e-3)


def test_fully_risen_limits_of_the_coastal_manual():
    # Equation II-2-37: g H / u*^2 = 2.115e2 and g T / u* = 2.398e2.
    friction = wind.friction_velocity(8.0)
    height, period = wave_growth.coastal_manual(8.0, 1e8, 1e8)
    assert 9.81 * height / friction**2 == pytest.approx(211.5, rel=1e-12)
    assert 9.81 * period / friction == pytest.approx(239.8, rel=1e-12)


def test_a_short_blow_is_a_short_fetch_in_the_coastal_manual():
    # Equation II-2-38: g X / u*^2 = 5.23e-3 (g t / u*)^1.5.
    friction = wind.friction_velocity(12.0)
    fetch = 5.23e-3 * (9.81 * 7200.0 / friction) ** 1.5 * friction**2 / 9.81
    by_time = wave_growth.coastal_manual(12.0, 1e8, 7200.0)
    assert by_time == pytest.approx(wave_growth.coastal_manual(12.0, fetch, 1e8), rel=1e-12)


def test_fetch_narrowed_by_land():
    """ACES 1-1, restricted fetch, written out here a second time in its dimensionless form."""
    speed, fetch, angle = 14.0, 20e3, math.radians(20)
    sea = wave_growth.narrow_water(speed, fetch, 1e6, angle)
    u = speed * math.sqrt(0.75 + 0.067 * speed) * math.cos(angle)
    assert 9.81 * sea.height / u**2 == pytest.approx(0.0015 * (9.81 * fetch / u**2) ** 0.5, rel=1e-9)
    assert 9.81 * sea.peak_period / u == pytest.approx(0.3704 * (9.81 * fetch / u**2) ** 0.28, rel=1e-9)
    assert sea.time_for_fetch == pytest.approx(51.09 * fetch**0.72 / (9.81**0.28 * u**0.44), rel=1e-9)
    short = wave_growth.narrow_water(speed, fetch, 1800.0, angle)
    assert short.limited_by is LimitedBy.TIME
    assert 9.81 * short.height / u**2 == pytest.approx(0.000103 * (9.81 * 1800 / u) ** 0.69, rel=1e-9)
    assert 9.81 * short.peak_period / u == pytest.approx(0.082 * (9.81 * 1800 / u) ** 0.39, rel=1e-9)


# ---- one wave ---------------------------------------------------------------------------------
def test_aces_example_of_linear_theory():
    # Chapter 2-1, example p. 2-1-4: H 6.30 ft, T 8 s, d 20 ft.
    g, depth = 32.174 * FOOT, 20 * FOOT
    length = waves.wavelength(8.0, depth, g)
    assert length / FOOT == pytest.approx(189.90, rel=5e-4)
    assert waves.phase_speed(8.0, depth, g) / FOOT == pytest.approx(23.74, rel=5e-4)
    assert waves.group_speed(8.0, depth, g) / FOOT == pytest.approx(20.87, rel=5e-4)
    pound_per_square_foot = 4.4482216 / FOOT**2
    # 1.989 slug/ft3 is the guide's sea water, taken back from its printed energy.
    energy = waves.energy(6.30 * FOOT, 1.989 * 515.3788, g) / (pound_per_square_foot * FOOT)
    assert energy == pytest.approx(317.45, rel=5e-4)
    assert waves.ursell_number(6.30 * FOOT, length, depth) == pytest.approx(28.40, rel=1e-3)
    upward = waves.orbital_velocity(6.30 * FOOT, 8.0, -12 * FOOT, 2 * math.pi * 0.75, depth, g)[1]
    assert upward / FOOT == pytest.approx(-0.93, abs=0.005)


# Period (s), depth (m), length (m), crest speed and energy speed (m/s) for g = 9.81; derived.
LINEAR = [
    (8, 10, 70.8984, 8.8623, 7.1795), (6, 4, 34.7718, 5.7953, 4.9875), (5, 20, 38.9107, 7.7821, 3.9698),
    (8, math.inf, 99.9238, 12.4905, 6.2452),
]  # fmt: skip


@pytest.mark.parametrize(("period", "depth", "length", "crest", "group"), LINEAR)
def test_dispersion(period, depth, length, crest, group):
    assert waves.wavelength(period, depth, 9.81) == pytest.approx(length, rel=1e-4)
    assert waves.phase_speed(period, depth, 9.81) == pytest.approx(crest, rel=1e-4)
    assert waves.group_speed(period, depth, 9.81) == pytest.approx(group, rel=1e-4)


# ---- on a current -----------------------------------------------------------------------------
# Longuet-Higgins and Stewart 1961, Peregrine 1976 (named from memory); closed form, checked by wave action.
ON_CURRENT = [
    (-0.24, 0.600000, 3.726780, 10.352167), (-0.2, 0.723607, 2.066521, 3.946704), (-0.1, 0.887298, 1.280538, 1.626497),
    (-0.05, 0.947214, 1.116297, 1.244181), (0.05, 1.047723, 0.911923, 0.830741), (0.1, 1.091608, 0.842173, 0.706753),
    (0.2, 1.170820, 0.737380, 0.537912),
]  # fmt: skip


@pytest.mark.parametrize(("ratio", "speed", "height", "steepness"), ON_CURRENT)
def test_waves_on_a_current(ratio, speed, height, steepness):
    still = waves.phase_speed(6.0)
    answer = waves.on_current(6.0, ratio * still)
    assert isinstance(answer, waves.OnCurrent)
    assert answer.speed == pytest.approx(speed, abs=1e-6)
    assert answer.height == pytest.approx(height, abs=2e-6)
    assert answer.steepness == pytest.approx(steepness, abs=2e-6)


@pytest.mark.parametrize("ratio", [-0.2, -0.1, 0.15])
def test_wave_action_is_conserved_on_a_current(ratio):
    """Second route: E (U + cg) / (intrinsic frequency) is the same on the current as in still water."""
    still = waves.phase_speed(6.0)
    answer = waves.on_current(6.0, ratio * still)
    assert isinstance(answer, waves.OnCurrent)
    crest = answer.speed * still
    intrinsic = waves.GRAVITY / crest
    action = answer.height**2 * (ratio * still + crest / 2.0) / intrinsic
    assert action == pytest.approx((still / 2.0) / (waves.GRAVITY / still), rel=1e-12)


def test_waves_are_blocked_at_a_quarter_of_their_speed():
    still = waves.phase_speed(6.0)
    assert waves.on_current(6.0, -0.2501 * still) == waves.Blocked(limit=-still / 4.0)
    assert isinstance(waves.on_current(6.0, -0.2499 * still), waves.OnCurrent)


# ---- the spectrum -----------------------------------------------------------------------------
def test_pierson_moskowitz_worked_example():
    # DNV Research, Ocean Engineering "collected calls", case 1.5: significant height 12 m, mean period 10 s give
    # the peak at 0.071037 Hz, and 162.36 m2 s at 0.079577 Hz (0.5 rad/s).
    peak = 1 / 0.071037
    assert float(jonswap(0.079577, 12.0, peak, peakedness=1.0)) == pytest.approx(162.36, rel=2e-4)
    assert mean_period(peak, peakedness=1.0) == pytest.approx(10.0, rel=2e-4)


@pytest.mark.parametrize("peakedness", [1.0, 2.0, 3.3, 5.0, 7.0])
@pytest.mark.parametrize(("height", "period"), [(0.5, 3.0), (2.5, 7.0), (6.0, 12.0)])
def test_the_spectrum_carries_its_height(peakedness, height, period):
    """Second route: a plain sum over a fine grid; the part beyond 30 peaks is a millionth."""
    f = np.linspace(1e-3 / period, 30.0 / period, 300_001)
    area = np.trapezoid(jonswap(f, height, period, peakedness), f)
    assert 4.0 * math.sqrt(area) == pytest.approx(height, rel=1e-5)


@pytest.mark.parametrize("peakedness", [1.0, 2.0, 3.3, 5.0])
def test_the_usual_estimate_of_the_scale(peakedness):
    # DNV-RP-C205 section 3.5.5: 5/16 Hs^2 fp^4 f^-5 ..., times 1 - 0.287 ln(peakedness); itself within 2 %.
    height, period, f = 2.0, 8.0, 0.2
    width = 0.09
    base = 5 / 16 * height**2 * period**-4 * f**-5 * math.exp(-1.25 * (f * period) ** -4)
    peak = peakedness ** math.exp(-((f * period - 1) ** 2) / (2 * width**2))
    estimate = base * peak * (1 - 0.287 * math.log(peakedness))
    assert float(jonswap(f, height, period, peakedness)) == pytest.approx(estimate, rel=0.02)


def test_the_mean_period_of_a_young_sea():
    # DNV-RP-C205 section 3.5.5 (from memory): Tz / Tp = 0.6673 + 0.05037 y - 0.006230 y^2 + 0.0003341 y^3.
    for y in (1.0, 2.0, 3.3, 5.0):
        fit = 0.6673 + 0.05037 * y - 0.006230 * y**2 + 0.0003341 * y**3
        assert mean_period(10.0, y) / 10.0 == pytest.approx(fit, rel=0.01)


def test_against_the_spectrum_of_scientimate():
    """ScientiMate 2.0 jonswappsd gives height and shape from wind and fetch; ours gets its height and peak."""
    f, density, height = scientimate.jonswappsd(U10=10, F=10000, fp=0.4, fs=4, N=4096, gama=3.3, CalSpectralSP="no")[:3]
    area = 16 * np.trapezoid(density, f)
    assert math.sqrt(area) == pytest.approx(float(height), rel=1e-3)
    ours = jonswap(f[1:], math.sqrt(area), 1 / 0.4, 3.3)
    assert ours == pytest.approx(density[1:], rel=0.01, abs=1e-9)


@pytest.mark.parametrize("count", [1, 30, 200])
def test_waves_that_add_up_to_the_sea(count):
    sea = components(1.5, 5.0, count)
    assert 4.0 * math.sqrt(float(np.sum(sea.amplitude**2 / 2.0))) == pytest.approx(1.5, rel=1e-12)
    assert np.all(np.diff(sea.frequency) > 0.0)
    if count == 200:  # their mean frequency is the spectrum's own
        f = np.linspace(0.06, 2.4, 100_001)
        s = jonswap(f, 1.5, 5.0)
        mean = np.trapezoid(s * f, f) / np.trapezoid(s, f)
        assert float(np.mean(sea.frequency)) == pytest.approx(mean, rel=5e-3)
