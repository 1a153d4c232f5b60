"""Waves: one by one against linear theory, together against their spectrum, and lines that ride them."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from tests.tow import samples
from tests.tow.samples import KNOT, motion

from spreadwright.tow.line import Sea
from spreadwright.tow.march import Settings, march
from spreadwright.tow.track import straight
from spreadwright.tow.water import WaveTrain, flow_velocity, jonswap_waves, make_flow, water_level

GRAVITY = 9.80665


def one_wave(height=1.0, period=5.0, direction=0.0, phase=0.0):
    frequency = 2.0 * math.pi / period
    k = frequency**2 / GRAVITY
    return WaveTrain(np.array([[0.5 * height, k * math.cos(direction), k * math.sin(direction), frequency, phase, k]]))


def test_deep_water_length_and_orbit_of_one_wave():
    """Linear theory, period 8 s: L = g T^2 / (2 pi) = 99.89 m, C = L / T = 12.486 m/s (g 9.80665)."""
    train = one_wave(2.0, 8.0)
    k = train.rows[0, 5]
    assert 2.0 * math.pi / k == pytest.approx(99.8897, rel=1e-5)
    flow = make_flow(waves=train)
    assert water_level(flow, 0.0, 0.0, 0.0) == pytest.approx(1.0), "a crest at the start"
    assert water_level(flow, 12.48621 * 3.0, 5.0, 3.0) == pytest.approx(1.0, abs=1e-6), "which runs along x"
    u, v, w = flow_velocity(flow, 0.0, 0.0, 1.0, 0.0)
    assert u == pytest.approx(math.pi * 2.0 / 8.0), "under the crest the water runs with the wave, pi H / T"
    assert (v, w) == pytest.approx((0.0, 0.0), abs=1e-12)
    trough = flow_velocity(flow, 0.5 * 99.8897, 0.0, -1.0, 0.0)
    assert trough[0] == pytest.approx(-math.pi * 2.0 / 8.0, rel=1e-4)


@pytest.mark.parametrize("depth", [1.0, 5.0, 20.0])
def test_orbits_shrink_with_depth(depth):
    """exp(-k d), d from the moving surface (Wheeler 1970); where the surface is at its mean this is Airy's result."""
    train = one_wave(1.0, 6.0, phase=math.pi / 2)  # the surface passes its mean at x = 0, t = 0, and falls
    flow = make_flow(waves=train)
    k, frequency = train.rows[0, 5], train.rows[0, 3]
    expected = 0.5 * frequency * math.exp(-k * depth)
    assert flow_velocity(flow, 0.0, 0.0, -depth, 0.0) == pytest.approx((0.0, 0.0, expected), abs=1e-12)
    assert water_level(flow, 0.0, 0.0, 0.01) < 0.0 or expected > 0.0


@given(x=st.floats(-50.0, 50.0), y=st.floats(-50.0, 50.0), time=st.floats(0.0, 100.0), direction=st.floats(-3.1, 3.1))
@settings(max_examples=40, deadline=None)
def test_a_particle_of_the_surface_stays_in_it(x, y, time, direction):
    """d eta / dt = w at the mean surface, to first order in steepness (a wave of 2 cm): the signs belong together."""
    train = one_wave(0.02, 5.0, direction)
    flow = make_flow(waves=train)
    rise = (water_level(flow, x, y, time + 1e-4) - water_level(flow, x, y, time - 1e-4)) / 2e-4
    assert flow_velocity(flow, x, y, 0.0, time)[2] == pytest.approx(rise, abs=0.02 * 0.01 * 2 * math.pi / 5.0)


@given(x=st.floats(-50.0, 50.0), z=st.floats(-20.0, -1.0), time=st.floats(0.0, 100.0))
@settings(max_examples=40, deadline=None)
def test_a_low_wave_neither_makes_nor_swallows_water(x, z, time):
    """Divergence of the velocity, by differences: nought for Airy's wave; stretching adds what is of second order."""
    flow, d = make_flow(waves=one_wave(0.02, 5.0, 0.6)), 1e-3
    spread = sum(
        (
            flow_velocity(flow, *np.add((x, 3.0, z), step), time)[i]
            - flow_velocity(flow, *np.subtract((x, 3.0, z), step), time)[i]
        )
        / (2 * d)
        for i, step in enumerate(d * np.eye(3))
    )
    assert abs(spread) < 0.02 * 0.161 * 0.0126


def test_worked_example_orbital_speed_of_a_sea():
    """Hs 1 m, Tp 5 s: twice the deviation of the speed at the surface is of the order of pi Hs / Tp."""
    train = jonswap_waves(1.0, 5.0, 0.3, seed=4, count=200)
    flow = make_flow(waves=train)
    random = np.random.default_rng(1)
    speeds = []
    for _ in range(1500):
        x, y, t = random.uniform(0, 500), random.uniform(0, 500), random.uniform(0, 3000)
        speeds.append(flow_velocity(flow, x, y, water_level(flow, x, y, t), t)[2])
    by_rows = math.sqrt(0.5 * np.sum((train.rows[:, 0] * train.rows[:, 3]) ** 2))
    assert np.std(speeds) == pytest.approx(by_rows, rel=0.08)
    # the tail of the spectrum makes it faster than one wave of Hs and Tp
    assert 1.0 < 2.0 * by_rows / (math.pi / 5.0) < 1.4


@given(height=st.floats(0.1, 4.0), period=st.floats(3.0, 14.0), count=st.integers(1, 120), seed=st.integers(0, 99))
@settings(max_examples=30, deadline=None)
def test_a_train_has_the_wished_height_and_obeys_the_dispersion_relation(height, period, count, seed):
    train = jonswap_waves(height, period, 0.0, seed, count)
    assert train.height == pytest.approx(height)
    amplitude, kx, ky, frequency, phase, k = train.rows.T
    assert frequency**2 == pytest.approx(GRAVITY * k)
    assert np.hypot(kx, ky) == pytest.approx(k)
    assert ((phase >= 0.0) & (phase < 2.0 * math.pi)).all()
    assert (amplitude > 0.0).all()


def test_height_of_the_sampled_surface():
    """Four standard deviations of the level over many places and times is Hs."""
    train = jonswap_waves(1.5, 7.0, 1.0, seed=3)
    flow = make_flow(waves=train)
    random = np.random.default_rng(2)
    levels = [water_level(flow, *random.uniform(0.0, 5000.0, 2), random.uniform(0.0, 1e4)) for _ in range(4000)]
    assert 4.0 * np.std(levels) == pytest.approx(1.5, rel=0.04)
    assert np.mean(levels) == pytest.approx(0.0, abs=0.03)


def jonswap(f, peak):
    """Hasselmann and others 1973: S(f) with peakedness 3.3, not scaled."""
    width = 0.07 if f <= peak else 0.09
    return f**-5 * math.exp(-1.25 * (peak / f) ** 4) * 3.3 ** math.exp(-((f - peak) ** 2) / (2 * width**2 * peak**2))


@pytest.mark.parametrize("period", [4.0, 9.0])
def test_variance_lies_where_the_spectrum_puts_it(period):
    """Share of the variance below a frequency, and mean frequency m1 / m0, against quadrature of the spectrum."""
    train, peak = jonswap_waves(1.0, period, 0.0, seed=1, count=400), 1.0 / period
    f = np.sort(train.rows[:, 3]) / (2.0 * math.pi)

    def moment(order, low, high):
        return quad(lambda x: x**order * jonswap(x, peak), low, high, points=[peak] if low < peak < high else None)[0]

    low, high = 0.5 * peak, 4.0 * peak
    for limit in (0.9, 1.0, 1.1, 1.5, 2.5):
        expected = moment(0, low, limit * peak) / moment(0, low, high)
        assert np.mean(f < limit * peak) == pytest.approx(expected, abs=0.004)
    assert f.mean() == pytest.approx(moment(1, low, high) / moment(0, low, high), rel=2e-3)
    gaps = np.diff(f)
    densest = f[np.argmin(np.convolve(gaps, np.ones(9) / 9, "valid")) + 4]
    assert densest == pytest.approx(peak, rel=0.02), "equal shares lie closest together at the peak"


def test_mean_period_of_the_spectrum():
    """Known ratio for peakedness 3.3: mean zero-crossing period near 0.78 Tp (DNV-RP-C205 gives 0.7775; memory).

    Cutting the tail off at four times the peak's frequency makes it a little longer.
    """
    train = jonswap_waves(1.0, 10.0, 0.0, seed=1, count=400)
    m0, m2 = (np.sum(train.rows[:, 0] ** 2 * train.rows[:, 3] ** n) for n in (0, 2))
    assert 2.0 * math.pi * math.sqrt(m0 / m2) / 10.0 == pytest.approx(0.79, abs=0.02)


def test_directions_spread_as_cosine_squared():
    train = jonswap_waves(1.0, 6.0, 0.8, seed=5, count=4000)
    angles = np.arctan2(train.rows[:, 2], train.rows[:, 1]) - 0.8
    assert np.abs(angles).max() < math.pi / 2
    assert np.mean(angles) == pytest.approx(0.0, abs=0.03)
    assert np.mean(np.cos(2.0 * angles)) == pytest.approx(0.5, abs=0.03), "integral of 2/pi cos^2 a cos 2a"
    alike = jonswap_waves(1.0, 6.0, 0.8, seed=5, spread=False)
    assert np.arctan2(alike.rows[:, 2], alike.rows[:, 1]) == pytest.approx(np.full(40, 0.8))


def test_a_seed_makes_a_sea_again():
    one, same, other = (jonswap_waves(1.0, 5.0, 0.0, seed=s).rows for s in (1, 1, 2))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)


def test_lines_feel_the_waves_and_stay_whole():
    """A sea of 1.5 m: pull and depth go up and down about their still-water values and nothing breaks."""
    lines = [samples.rig(samples.NYLON, length=30.0), samples.rig(samples.BRAID, length=30.0)]
    flow = make_flow(waves=jonswap_waves(1.5, 6.0, math.pi, seed=2))
    result = [motion(each) for each in march(lines, straight(14 * KNOT, 20.0), Sea(), flow, Settings(step=0.05))]
    calm = [motion(each) for each in march(lines, straight(14 * KNOT, 20.0), Sea(), None, Settings(step=0.05))]
    for rough, flat in zip(result, calm, strict=True):
        assert np.isfinite(rough.places).all()
        depth = rough.places[:, -1, 2]
        assert 0.1 < np.ptp(depth[80:]) < 3.0
        assert rough.pulls[80:, 0].mean() == pytest.approx(flat.pulls[80:, 0].mean(), rel=0.25)
