"""Dynamics against closed forms: pendulum, hanging chain, string, fall, wave along the line, mass on a spring.

The march starts every line at rest, so the rod tip sets it going: a short sideways or upward motion of the boat, with
neither water nor air. Formulas: Timoshenko, Vibration Problems in Engineering (pendulum, string, mass on a spring),
Lamb, Higher Mechanics (hanging chain, j01 = 2.4048256), Kolsky, Stress Waves in Solids (wave in a rod); all from
memory, each is a textbook's closed form. Not here, because the march cannot start so: a mass dropped onto a slack
line, and a stop against a constant force (no rod tip yields yet).
"""

import math

import numpy as np
import pytest
from tests.tow.samples import motion, shape

from spreadwright.tow.line import Body, Line, Sea, Section
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import steady_straight
from spreadwright.tow.track import Sway, straight

GRAVITY = 9.80665
VOID = Sea(density=0.0, gravity=GRAVITY, air_density=0.0, surface=False)
THIN = math.pi / 4 * 1e-6  # a millimetre [m2]


def hung(section: Section, body: Body | None) -> Line:
    return Line("hung", (0.0, 0.0, 1.0), (section,), (body,))


def even(length: float, count: int) -> Grading:
    return Grading(length / count, length / count, 0.0)


def swung(line: Line, seconds: float, step: float, count: int, sway: Sway) -> Motion:
    settings = Settings(step=step, store_every=1, tolerance=1e-9, grading=even(line.length, count))
    return motion(march([line], straight(1.0, seconds), VOID, settings=settings, sway=sway)[0])


def sideways(amplitude: float, at: float, width: float, seconds: float) -> Sway:
    """The tip, a metre above the boat's origin, goes to starboard and back: a bell of a width [s] about a time [s]."""
    times = np.linspace(0.0, seconds + 1.0, 20001)
    level = np.zeros_like(times)
    return Sway(times, level, amplitude * np.exp(-(((times - at) / width) ** 2)), level)


def upward(height, seconds: float) -> Sway:
    """The tip's height follows a polynomial of time of at most third order, from the first moment on."""
    times = np.linspace(0.0, seconds + 1.0, 11)
    level = np.zeros_like(times)
    return Sway(times, height(times), level, level)


def periods(times: np.ndarray, values: np.ndarray) -> np.ndarray:
    """Times between upward crossings of nought [s]."""
    i = np.flatnonzero((values[:-1] < 0.0) & (values[1:] >= 0.0))
    return np.diff(times[i] - values[i] * (times[i + 1] - times[i]) / (values[i + 1] - values[i]))


def test_closed_form_pendulum():
    """T = 2 pi sqrt(l / g); a kilogram on ten metres of a line that weighs 8 g: 6.3448 s."""
    line = hung(Section(10.0, 1e-3, 1.0, 1e5), Body(1.0))
    result = swung(line, 30.0, 0.01, 4, sideways(0.05, 1.0, 0.25, 30.0))
    free = result.times > 3.0
    side = result.places[free, -1, 1].astype(float)
    found = periods(result.times[free], side)
    assert len(found) == 4
    assert found == pytest.approx(np.full(4, 2.0 * math.pi * math.sqrt(10.0 / GRAVITY)), rel=2e-4)


def test_pendulum_keeps_its_energy():
    """No water, no damping: what the scheme itself takes away in five swings is under a part in a thousand."""
    line = hung(Section(10.0, 1e-3, 1.0, 1e5), Body(1.0))
    result = swung(line, 35.0, 0.01, 4, sideways(0.05, 1.0, 0.25, 35.0))
    depth = result.places[:, -1, 2].astype(float)
    speed = np.linalg.norm(result.speeds[:, -1].astype(float) - np.array([1.0, 0.0, 0.0]), axis=1)
    side = result.places[:, -1, 1].astype(float)
    energy = 0.5 * speed**2 + 0.5 * GRAVITY / 10.0 * side**2  # small angles
    first, last = (energy[(result.times > a) & (result.times < a + 6.4)].mean() for a in (3.0, 28.0))
    assert last == pytest.approx(first, rel=1e-3)
    assert first > 1e-4
    assert np.ptp(depth) < 1e-3


def test_closed_form_hanging_chain():
    """f1 = j01 / 2 sqrt(g / L) / (2 pi): ten metres swing at 0.18951 Hz, however heavy. Slow push: lowest mode only."""
    line = hung(Section(10.0, 5e-3, 5000.0, 1e6), None)
    result = swung(line, 60.0, 0.02, 40, sideways(0.02, 8.0, 2.0, 60.0))
    free = result.times > 18.0
    found = periods(result.times[free], result.places[free, -1, 1].astype(float))
    assert len(found) >= 6
    assert 1.0 / found.mean() == pytest.approx(2.4048256 / 2 * math.sqrt(GRAVITY / 10.0) / (2 * math.pi), rel=1e-3)


def test_closed_form_taut_string():
    """f1 = sqrt(T / mu) / (2 L): five metres of 1 mm nylon under 100 N sing at 33.42 Hz, ten kilograms stay."""
    section = Section(5.0, 1e-3, 1140.0, 1e5)
    result = swung(hung(section, Body(100.0 / GRAVITY)), 0.6, 2.5e-4, 40, sideways(0.002, 0.05, 0.008, 0.6))
    free = result.times > 0.1
    found = periods(result.times[free], result.places[free, 20, 1].astype(float))
    assert len(found) > 10
    expected = math.sqrt(100.0 / (1140.0 * THIN)) / 10.0
    assert expected == pytest.approx(33.4197067, rel=1e-8)
    assert 1.0 / found.mean() == pytest.approx(expected, rel=3e-3)


def test_free_fall_of_a_slack_line():
    """The tip goes down at three times the pull of gravity: the line goes slack, weight and line fall at g.

    Up to 0.4 s, when the tip has overtaken the first segments and starts to pull them after it.
    """
    line = hung(Section(10.0, 1e-3, 1000.0, 1e7), Body(2.0))
    result = swung(line, 0.4, 0.005, 10, upward(lambda t: -1.5 * GRAVITY * t**2, 0.4))
    late = result.times > 0.05
    assert result.pulls[late].max() < 0.05
    for node in (3, 6, 10):
        height = result.places[late, node, 2].astype(float)
        fall = np.polynomial.Polynomial.fit(result.times[late], height, 2).convert().coef
        assert 2.0 * fall[2] == pytest.approx(-GRAVITY, rel=1e-3)


def test_closed_form_wave_along_the_line():
    """A tip pulled off at v sends a step of rho A c v down the line at c = sqrt(E / rho); it doubles at the end.

    E 2 GPa, 1140 kg/m3: c = 1324.53 m/s; 1 mm at 2 m/s: 2.372 N. The end is twenty kilograms and as good as fixed.
    """
    modulus, density, length, speed = 2.0e9, 1140.0, 20.0, 2.0
    celerity = math.sqrt(modulus / density)
    assert celerity == pytest.approx(1324.53236, rel=1e-8)
    line = hung(Section(length, 1e-3, density, modulus * THIN), Body(20.0))
    result = swung(line, 0.03, 2.5e-5, 200, upward(lambda t: speed * t, 0.03))
    at_rest = shape(steady_straight([line], 1.0, VOID, even(length, 200))[0])
    t, step = result.times, density * THIN * celerity * speed
    tip, end = (result.pulls[:, i].astype(float) - at_rest.tension[[0, -1][i]] for i in (0, 1))
    run = length / celerity
    assert tip[(t > 0.3 * run) & (t < 1.7 * run)].mean() == pytest.approx(step, rel=1e-3)
    arrival = t[np.flatnonzero(end > step)[0]]
    assert arrival == pytest.approx(run, rel=0.02)
    assert np.abs(end[t < 0.9 * run]).max() < 0.05 * step
    assert end[(t > 1.3 * run) & (t < 1.9 * run)].mean() == pytest.approx(2.0 * step, rel=0.01)


def test_closed_form_mass_on_a_spring():
    """F = v sqrt(k m), stretch v sqrt(m / k) beyond rest: 20 kg at 10 m/s on 60 m of nylon: 198.17 N, 10.09 m."""
    length, mass, speed, axial = 60.0, 20.0, 10.0, 1.5e9 * THIN
    rate = axial / length
    assert rate == pytest.approx(19.634954, rel=1e-7)
    line = hung(Section(length, 1e-3, 1.0, axial), Body(mass))
    result = swung(line, 3.0, 0.005, 6, upward(lambda t: speed * t, 3.0))
    assert result.pulls[:, 1].max() - mass * GRAVITY == pytest.approx(198.166365, rel=1e-4)
    longest = (result.places[:, 0, 2] - result.places[:, -1, 2]).max()
    assert longest - length - mass * GRAVITY / rate == pytest.approx(10.092530, rel=1e-4)


def test_added_mass_slows_but_does_not_weigh():
    """A body that drags nothing and displaces V in a sea of density rho oscillates on its spring with m + rho Ca V.

    A static stretch of (m - rho V) g / k shows that added mass is not weight.
    """
    rho, volume, share, mass, axial, length = 1025.0, 0.01, 0.5, 20.0, 2e4, 10.0
    sea = Sea(density=rho, gravity=GRAVITY, surface=False)
    section = Section(length, 1e-4, 1025.0, axial, normal_drag=0.0, tangential_drag=0.0)
    line = hung(section, Body(mass, volume, added_mass=share))
    settings = Settings(step=0.002, store_every=1, tolerance=1e-9, grading=even(length, 4))
    sway = upward(lambda t: 0.05 * t, 3.0)
    result = motion(march([line], straight(0.5, 3.0), sea, settings=settings, sway=sway)[0])
    rate = axial / length
    stretch = result.places[:, 0, 2].astype(float) - result.places[:, -1, 2] - length
    static = (mass - rho * volume) * GRAVITY / rate
    assert stretch[0] == pytest.approx(static, rel=1e-3)
    found = periods(result.times, stretch - static)
    assert found.mean() == pytest.approx(2 * math.pi * math.sqrt((mass + rho * share * volume) / rate), rel=1e-3)
