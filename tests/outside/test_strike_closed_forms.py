"""The strike's steps in limiting cases with a closed form: wave, mass on a spring, preload, drop, constant drag.

Same kernel as a real strike, with neither water nor weight. Formulas are textbook mechanics (Timoshenko and Goodier,
Theory of Elasticity, ch. 15, for the bar; energy and momentum for the rest), the numbers those of the closed forms
themselves; the bar's 9.15133 N is what a chain of 2000 nodes gave elsewhere.
"""

import math

import numpy as np
import pytest

from spreadwright.tow.line import Body, Line, Sea, Section
from spreadwright.tow.mesh import Grading
from spreadwright.tow.strike import Brake, Fish, Strike, StrikeResult, StrikeSettings, strike

VOID = Sea(density=0.0, gravity=0.0, air_density=0.0, surface=False)
AREA = math.pi / 4.0 * 1e-6  # a millimetre [m2]
LOCKED = Brake()


def struck(
    section: Section, fish: Fish, preload: float, count: int, brake: Brake = LOCKED, step=5e-4, duration=1.0
) -> StrikeResult:
    line = Line("straight", (0.0, 0.0, 0.0), (section,), (Body(1e-4, force=(-preload, 0.0, 0.0)),))
    settings = StrikeSettings(
        step=step, duration=duration, store_every=1, tolerance=1e-7, grading=Grading(section.length / count, 1e3, 0.0)
    )
    result = strike([Strike(line, (fish,), brake)], 0.0, VOID, settings)[0]
    assert isinstance(result, StrikeResult), result
    return result


def test_wave_after_the_jerk():
    """T = rho A c v = 9.15139 N behind the first wave, twice that where it meets a fixed end."""
    speed, modulus, density = 7.716667, 2.0e9, 1140.0
    wave = math.sqrt(modulus / density)
    assert wave == pytest.approx(1324.53236, rel=1e-8)
    expected = density * AREA * wave * speed
    assert expected == pytest.approx(9.1513896, rel=1e-7)
    preload = 1.0
    result = struck(
        Section(60.0, 1e-3, density, modulus * AREA), Fish(0, 1e7, (-speed, 0.0, 0.0)), preload, 300, step=5e-5,
        duration=0.08,
    )  # fmt: skip
    there = 60.0 / wave
    at_fish = result.ends[(result.times > 0.3 * there) & (result.times < 0.9 * there), 0, 1] - preload
    assert at_fish.mean() == pytest.approx(expected, rel=0.01)
    at_tip = result.tip[(result.times > 1.2 * there) & (result.times < 1.7 * there)] - preload
    assert at_tip.mean() == pytest.approx(2.0 * expected, rel=0.01)
    assert result.tip[result.times < 0.9 * there] - preload == pytest.approx(0.0, abs=0.05)


@pytest.mark.parametrize(("preload", "peak"), [(0.5, math.hypot(198.166365, 0.5)), (50.0, 204.376878)])
def test_mass_on_a_spring(preload, peak):
    """v sqrt(k m) = 198.166 N, and sqrt(F0^2 + k m v^2) = 204.377 N with 50 N before; a line of next to no mass."""
    section = Section(60.0, 1e-3, 1.0, 1.5e9 * AREA)
    result = struck(section, Fish(0, 20.0, (-10.0, 0.0, 0.0)), preload, 12, duration=2.0)
    assert result.peak_tip == pytest.approx(peak, rel=1e-3)
    assert result.peak_sections[0] == pytest.approx(peak, rel=1e-3)
    start = result.places[0, 0, 0]
    stretch = start - result.places[:, 0, 0].min()
    assert stretch == pytest.approx((peak - preload) / 19.634954, rel=1e-3)


def test_a_rod_that_gives_is_a_spring_in_series():
    """1/k = 1/k_line + 1/k_rod: with a rod as soft as the line the peak falls by the square root of two."""
    line = 1.5e9 * AREA / 60.0
    result = struck(
        Section(60.0, 1e-3, 1.0, 1.5e9 * AREA), Fish(0, 20.0, (-10.0, 0.0, 0.0)), 0.5, 12,
        Brake(rod_give=1.0 / line), duration=3.0,
    )  # fmt: skip
    assert result.peak_tip == pytest.approx(198.166365 / math.sqrt(2.0), rel=1e-3)


def test_a_weight_dropped_onto_a_spring():
    """W (1 + sqrt(1 + 2 k h / W)) = 740.312 N for 100 N from a metre onto 2000 N/m."""
    weight, height, stiffness = 100.0, 1.0, 2000.0
    mass = weight / 9.80665
    fall = math.sqrt(2.0 * 9.80665 * height)
    fish = Fish(0, mass, (-fall, 0.0, 0.0), thrust=(-weight, 0.0, 0.0))
    result = struck(Section(10.0, 1e-3, 1.0, 10.0 * stiffness), fish, 1e-3, 6, step=2e-4, duration=0.5)
    assert result.peak_tip == pytest.approx(740.312424, rel=2e-3)


def test_stop_against_a_constant_drag():
    """m v^2 / 2F = 10.0 m and m v / F = 2.0 s for 20 kg at 10 m/s against 100 N."""
    result = struck(
        Section(60.0, 1e-3, 1.0, 2e5), Fish(0, 20.0, (-10.0, 0.0, 0.0)), 100.0, 6,
        Brake(static=100.0, running=100.0, spool_mass=0.01), step=2e-4, duration=2.2,
    )  # fmt: skip
    speed = -result.velocities[:, 0, 0]
    stopped = result.times[np.argmax(speed <= 0.0)]
    assert stopped == pytest.approx(2.0, rel=0.01)
    run = result.places[0, 0, 0] - result.places[:, 0, 0].min()
    assert run == pytest.approx(10.0, rel=0.01)
    assert result.paid_out[-1] == pytest.approx(10.0, rel=0.01)


def test_a_spool_at_rest_has_to_be_sped_up():
    """Seen from the fish the spool is a mass on the line's spring: F + v sqrt(k m) = 100 + 111.80 N for half a kilo."""
    result = struck(
        Section(60.0, 1e-3, 1.0, 6e4), Fish(0, 1e7, (-5.0, 0.0, 0.0)), 100.0, 6,
        Brake(static=100.0, running=100.0, spool_mass=0.5), step=2e-4, duration=0.06,
    )  # fmt: skip
    assert result.peak_tip == pytest.approx(100.0 + 5.0 * math.sqrt(1000.0 * 0.5), rel=0.01)
