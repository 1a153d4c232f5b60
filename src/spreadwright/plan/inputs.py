"""What is uncertain about a spread on the water, within which limits, and a sample of it for every Sobol point.

Each input is even over its limits, half of the chance on either side of the usual value. Speed and radius come in four
steps each, so that lines of many samples share a track and run side by side. Same seed, same samples.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.day.boat_motion import HIGH, LOW, Hull, response
from spreadwright.day.wave_spectrum import jonswap
from spreadwright.rig.tow_model import Doubts
from spreadwright.tow.track import Sway, Track
from spreadwright.tow.water import Flow, make_flow
from spreadwright.tow.water.waves import WaveTrain

Floats = NDArray[np.float64]

KNOT = 1852.0 / 3600.0
SPEED_DOUBT = 0.5 * KNOT  # [m/s] how well a speed through the water is held: assumed
RADIUS_DOUBT = 0.15  # share; how well a turn is repeated: assumed
LEVELS = 4  # steps of speed and of radius
HIGHEST_SEA = 1.0  # [m] significant height of the roughest sea one would still troll this fast in: assumed
PEAK_PERIOD = 4.5  # [s] of a young wind sea of that size: assumed
HULL = Hull(length=10.0, beam=3.4, draught=0.8)  # a boat of about 33 ft, where the trip does not describe its own
WAVES = 9  # in the boat's motion


@dataclass(frozen=True)
class SeaMet:
    """The sea of a day: least and greatest significant height [m], peak period [s], and the hull that meets it."""

    low: float = 0.0
    high: float = HIGHEST_SEA
    period: float = PEAK_PERIOD
    hull: Hull = HULL


ANY_SEA = SeaMet()

# name, in words with its limits and where they come from
INPUTS = (
    ("line_across", "drag across the line", "1.1 to 1.3: published for smooth and vibrating cylinders"),
    ("line_along", "drag along the line", "0.010 to 0.020 for smooth line, more for braid: published, wide"),
    ("weight", "drag of weights", "half to twice along, a quarter either way across: published shapes, as towed"),
    ("lure", "drag of lures", "half as much again either way, unless you measured it: assumed, nothing is published"),
    ("stiffness", "stiffness of nylon", "1.0 to 3.0 GPa: published for dry and wet line"),
    ("mark", "marks", "2 % either way: assumed"),
    ("speed", "speed", "half a knot either way: assumed"),
    ("radius", "radius of the turns", "15 % either way: assumed"),
    ("sea", "height of the sea", "flat to 1 m (3 ft): assumed; it moves the boat and the water"),
    ("course", "course to the waves", "any: assumed"),
    ("boat", "how much the boat moves in them", "0.5 to 1.6 times a published estimate for a hull of 10 m: assumed"),
)
NAMES = tuple(name for name, _, _ in INPUTS)
WORDS = tuple(f"{said}: {limits}" for _, said, limits in INPUTS)


def in_words(met: SeaMet) -> tuple[str, ...]:
    """Every input with its limits; the sea and the hull as the day has them, if it has."""
    if met == ANY_SEA:
        return WORDS
    said = {
        "sea": f"{met.low:.1f} to {met.high:.1f} m ({met.low / 0.3048:.1f} to {met.high / 0.3048:.1f} ft) at "
        f"{met.period:.1f} s, by the day file; it moves the boat and the water",
        "boat": f"0.5 to 1.6 times a published estimate for a hull of {met.hull.length:.1f} m: assumed",
    }
    return tuple(f"{what}: {said.get(name, limits)}" for name, what, limits in INPUTS)


NOT_COUNTED = "not counted: current, the wash, lines that touch"


@dataclass(frozen=True)
class Sample:
    """One way it may be: the inputs (-1 low, 0 usual, +1 high), and what they make of the trip."""

    number: int
    at: tuple[float, ...]
    doubts: Doubts
    speed: float
    radius: float

    @property
    def track(self) -> tuple[float, float]:
        """Speed off the usual [m/s] and share of the radius: samples that have both alike share a track."""
        return self.speed, self.radius


def samples(count: int, seed: int) -> list[Sample]:
    """`count` scrambled-Sobol samples of all inputs; a power of two spreads them most evenly."""
    from scipy.stats import qmc

    power = max(1, math.ceil(math.log2(max(count, 1))))
    points = qmc.Sobol(len(INPUTS), scramble=True, rng=np.random.default_rng(seed)).random_base2(power)[:count]
    at = 2.0 * points - 1.0
    for name in ("speed", "radius"):
        i = NAMES.index(name)
        at[:, i] = (2.0 * np.floor(LEVELS * points[:, i]) + 1.0) / LEVELS - 1.0
    return [_sample(number, row) for number, row in enumerate(at)]


def _sample(number: int, at: Floats) -> Sample:
    by_name = dict(zip(NAMES, at.tolist(), strict=True))
    doubts = Doubts(*(by_name[name] for name in NAMES[:6]))
    return Sample(
        number, tuple(at.tolist()), doubts, SPEED_DOUBT * by_name["speed"], 1.0 + RADIUS_DOUBT * by_name["radius"]
    )


def sway_of(sample: Sample, track: Track, speed: float, seed: int, met: SeaMet = ANY_SEA) -> Sway:
    """How the boat moves in the sample's sea [m, rad] on a track at `speed` [m/s]; phases from the seed and the sample.

    A few waves of equal energy from the spectrum, met on the course of the first heading throughout. A boat that goes
    with a surface a cos(angle - k x cos(course) - k y sin(course)) rolls with its slope to port and pitches
    against that ahead (bow down is positive, see track._swayed).
    """
    by_name = dict(zip(NAMES, sample.at, strict=True))
    height, course = sea_of(sample, met)
    gain = 1.0 + by_name["boat"] * ((HIGH - 1.0) if by_name["boat"] > 0.0 else (1.0 - LOW))
    omega, amplitude = _waves(height, met.period)
    answer = response(omega, met.hull, speed, course)
    phase = _phases(sample, seed, len(omega))
    times = np.arange(0.0, track.duration + 0.5, 0.25)
    angle = answer.encounter[:, None] * times + phase[:, None]
    size = gain * amplitude[:, None]
    pitch = -(size * answer.pitch[:, None] * np.sin(angle)).sum(axis=0) * math.copysign(1.0, math.cos(course))
    roll = (size * answer.roll[:, None] * np.sin(angle)).sum(axis=0) * math.copysign(1.0, math.sin(course))
    middle = (size * answer.heave[:, None] * np.cos(angle)).sum(axis=0)
    ease = np.minimum(times / 3.0, 1.0)  # the lines start in their steady shape: the sea comes up over the first 3 s
    return Sway(times, ease * (middle + 0.5 * met.hull.length * pitch), ease * roll, ease * pitch)


def sea_of(sample: Sample, met: SeaMet = ANY_SEA) -> tuple[float, float]:
    """The sample's significant height [m], and where its waves run to from the first heading [rad]."""
    at = sample.at[NAMES.index("sea")], sample.at[NAMES.index("course")]
    return met.low + 0.5 * (met.high - met.low) * (1.0 + at[0]), math.pi * at[1]


def water_of(sample: Sample, seed: int, met: SeaMet = ANY_SEA) -> Flow:
    """The water moving in the very waves that move the boat in the sample; phases run the other way there."""
    height, course = sea_of(sample, met)
    omega, amplitude = _waves(height, met.period)
    k = omega**2 / 9.80665
    rows = (amplitude, k * math.cos(course), k * math.sin(course), omega, -_phases(sample, seed, len(omega)), k)
    return make_flow(waves=WaveTrain(np.stack(rows, axis=1)))


def _phases(sample: Sample, seed: int, count: int) -> Floats:
    return np.random.default_rng([seed, sample.number]).uniform(0.0, 2.0 * math.pi, count)


def _waves(height: float, period: float = PEAK_PERIOD) -> tuple[Floats, Floats]:
    """Frequencies [rad/s] and amplitudes [m] of a few waves that share the sea's energy evenly."""
    frequency = np.linspace(0.5, 4.0, 800) / period
    energy = np.cumsum(jonswap(frequency, 1.0, period))
    picked = np.interp((np.arange(WAVES) + 0.5) / WAVES, energy / energy[-1], frequency)
    return 2.0 * math.pi * picked, np.full(WAVES, math.sqrt(2.0 / WAVES) * height / 4.0)


def by_track(every: Sequence[Sample]) -> dict[tuple[float, float], list[Sample]]:
    """The samples that share a track, track by track, in the order in which they come."""
    groups: dict[tuple[float, float], list[Sample]] = {}
    for sample in every:
        groups.setdefault(sample.track, []).append(sample)
    return groups
