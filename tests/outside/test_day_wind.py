"""The wind against the Beaufort table of the WMO and the Coastal Engineering Manual."""

import pytest
import scientimate

from spreadwright.day.wind import KNOT, SCALE, at_ten_metres, averaged, beaufort, friction_velocity, stress_wind_1984

# World Meteorological Organization, Manual on Codes, code table 1100: force, knots, m/s, mean knots, wave
# height and greatest wave height (m). The wave columns of forces 9 to 12 are from memory and not checked.
PRINTED = [
    (0, (0, 0), (0.0, 0.2), 0, 0.0, 0.0),
    (1, (1, 3), (0.3, 1.5), 2, 0.1, 0.1),
    (2, (4, 6), (1.6, 3.3), 5, 0.2, 0.3),
    (3, (7, 10), (3.4, 5.4), 9, 0.6, 1.0),
    (4, (11, 16), (5.5, 7.9), 13, 1.0, 1.5),
    (5, (17, 21), (8.0, 10.7), 19, 2.0, 2.5),
    (6, (22, 27), (10.8, 13.8), 24, 3.0, 4.0),
    (7, (28, 33), (13.9, 17.1), 30, 4.0, 5.5),
    (8, (34, 40), (17.2, 20.7), 37, 5.5, 7.5),
]
LIMITS_ABOVE = [
    (9, (41, 47), (20.8, 24.4)), (10, (48, 55), (24.5, 28.4)),
    (11, (56, 63), (28.5, 32.6)), (12, (64, None), (32.7, None)),
]  # fmt: skip


@pytest.mark.parametrize(("force", "knots", "speeds", "mean", "height", "highest"), PRINTED)
def test_beaufort_forces_0_to_8(force, knots, speeds, mean, height, highest):
    row = SCALE[force]
    assert (row.force, row.knots, row.speed, row.mean_knots) == (force, knots, speeds, mean)
    assert (row.wave_height, row.wave_highest) == (height, highest)
    assert [beaufort(whole * KNOT).force for whole in range(knots[0], knots[1] + 1)] == [force] * (
        knots[1] - knots[0] + 1
    )


@pytest.mark.parametrize(("force", "knots", "speeds"), LIMITS_ABOVE)
def test_beaufort_forces_9_to_12(force, knots, speeds):
    assert (SCALE[force].knots, SCALE[force].speed) == (knots, speeds)
    assert beaufort(knots[0] * KNOT).force == force
    assert beaufort((knots[1] or 150) * KNOT).force == force


def test_the_mean_wind_of_a_force_follows_the_three_halves_law():
    """B = (v / 0.836)^(2/3) (from memory); it must land on the force it is the mean of."""
    means = [(row.force, row.mean_knots) for row in SCALE if row.mean_knots]
    assert len(means) == 8
    for force, mean in means:
        assert round((mean * KNOT / 0.836) ** (2 / 3)) == force


def test_wind_averaging_example():
    # Coastal Engineering Manual part II chapter 2, example II-2-2: 19.9 m/s over three hours is 20.8 m/s over
    # an hour and a half, by 0.9735 / 0.9284 = 1.048.
    assert averaged(1.0, over=10800.0, to=5400.0) == pytest.approx(1.048, rel=1e-3)
    assert averaged(1.0, over=3600.0, to=5400.0) == pytest.approx(0.9735, rel=1e-3)
    assert averaged(1.0, over=3600.0, to=10800.0) == pytest.approx(0.9284, rel=1e-3)
    assert averaged(19.9, over=10800.0, to=5400.0) == pytest.approx(20.8, abs=0.1)


@pytest.mark.parametrize("over", [3.0, 60.0, 600.0, 3600.0, 7200.0])
@pytest.mark.parametrize("to", [1.0, 30.0, 600.0, 7200.0, 30000.0])
def test_wind_averaging_against_scientimate(over, to):
    """ScientiMate 2.0 windgustfactor, "cem"; its branches meet at an hour within 0.1 %."""
    theirs = float(scientimate.windgustfactor(to, over, "cem")[0])
    assert averaged(1.0, over=over, to=to) == pytest.approx(theirs, rel=1e-3)


def test_wind_at_ten_metres():
    """Coastal Engineering Manual equation II-2-9 (from memory): the seventh root of the ratio of heights."""
    assert (at_ten_metres(8.0, 4.0) / 8.0) ** 7 == pytest.approx(2.5, rel=1e-12)
    assert at_ten_metres(8.0, 10.0) == 8.0


def test_stress_of_the_wind_by_the_two_manuals():
    # Shore Protection Manual 1984: 0.71 U^1.23; Coastal Engineering Manual: u* = U sqrt(0.001 (1.1 + 0.035 U)).
    assert stress_wind_1984(10.0) == pytest.approx(0.71 * 10**1.23, rel=1e-12)
    assert friction_velocity(10.0) == pytest.approx(0.380789, rel=1e-5)


def test_the_knot():
    # The international nautical mile is 1852 m exactly (BIPM, SI brochure).
    assert pytest.approx(1852.0) == KNOT * 3600.0
