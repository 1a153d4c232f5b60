"""How the boat moves in a study's waves: the size that the closed forms give, and which way she leans on a wave."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.plan.study_cases import HULL

from spreadwright.day.boat_motion import boat_motion
from spreadwright.day.waves import SeaState
from spreadwright.plan.study_motion import sway_in_waves
from spreadwright.tow.track import circle, straight, tip_motion
from spreadwright.tow.water.waves import WaveTrain, jonswap_waves, wave_level

SPEED = 6.0


@pytest.mark.parametrize("towards", [0.4, 2.0, math.pi])
def test_the_size_is_that_of_the_spectrum(towards):
    """Twice the rms over four minutes of long-crested waves against the integral over the spectrum, eight seas."""
    track = straight(SPEED, 240.0)
    wanted = boat_motion(SeaState(0.8, 4.0), HULL, SPEED, towards)
    found = []
    for seed in range(8):
        waves = jonswap_waves(0.8, 4.0, towards, seed, count=60, spread=False)
        sway = sway_in_waves(waves, track, HULL, SPEED, 0.0)
        middle = sway.heave - 0.5 * HULL.length * sway.pitch
        found.append([2.0 * np.std(each) for each in (middle, sway.roll, sway.pitch)])
    heave, roll, pitch = np.mean(found, axis=0)
    assert heave == pytest.approx(wanted.heave.usual, rel=0.12)
    assert pitch == pytest.approx(wanted.pitch.usual, rel=0.12)
    assert roll == pytest.approx(wanted.roll.usual, rel=0.12, abs=2e-3)


@pytest.mark.parametrize("towards", [0.0, 0.5 * math.pi, 2.5, math.pi, -1.0])
def test_on_a_long_wave_every_rod_tip_stays_as_high_above_the_water(towards):
    """A wave far longer than the boat lifts and tilts her as it lies: heave, roll and pitch with the right signs."""
    period, height = 8.0, 0.5
    frequency = 2.0 * math.pi / period
    k = frequency**2 / 9.80665
    waves = WaveTrain(np.array([[height, k * math.cos(towards), k * math.sin(towards), frequency, 0.3, k]]))
    track = straight(1.0, 60.0)
    times = np.arange(0.0, 60.0, 0.5)
    tips = np.array([[0.0, 0.0, 2.0], [-1.0, 3.5, 2.0], [9.0, -3.5, 2.0], [9.0, 0.0, 2.0]])
    places, _ = tip_motion(track, times, tips, sway_in_waves(waves, track, HULL, 1.0, 0.0))
    level = [[wave_level(waves.rows, x, y, t) for x, y, _ in row] for row, t in zip(places, times, strict=True)]
    above = places[:, :, 2] - 2.0 - np.array(level)
    assert np.abs(above).max() < 0.12 * height
    assert np.abs(np.array(level)).max() > 0.9 * height


def test_in_a_circle_the_waves_come_from_all_round():
    """A long wave again, while she turns: the tips still follow the water."""
    k = (2.0 * math.pi / 14.0) ** 2 / 9.80665
    waves = WaveTrain(np.array([[0.5, k, 0.0, 2.0 * math.pi / 14.0, 0.0, k]]))
    track = circle(1.0, 12.0, 75.0)
    times = np.arange(0.0, 75.0, 0.5)
    tips = np.array([[-1.0, 3.5, 2.0], [9.0, -3.5, 2.0]])
    places, _ = tip_motion(track, times, tips, sway_in_waves(waves, track, HULL, 1.0, 0.0))
    level = [[wave_level(waves.rows, x, y, t) for x, y, _ in row] for row, t in zip(places, times, strict=True)]
    assert np.abs(places[:, :, 2] - 2.0 - np.array(level)).max() < 0.1


def test_it_fades_in():
    waves = jonswap_waves(0.8, 4.0, math.pi, 1)
    track = straight(SPEED, 20.0)
    faded, plain = (sway_in_waves(waves, track, HULL, SPEED, fade) for fade in (3.0, 0.0))
    assert faded.heave[0] == faded.roll[0] == faded.pitch[0] == 0.0
    late = faded.times >= 3.0
    np.testing.assert_array_equal(faded.heave[late], plain.heave[late])
    assert np.abs(faded.heave[:5]).max() < 0.1 * np.abs(plain.heave).max()
