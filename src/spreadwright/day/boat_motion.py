"""How much a sea heaves, rolls and pitches the boat, and so moves its rod tips: a rough estimate.

Heave and pitch: the closed forms of Jensen, Mansour and Olsen 2004 (Ocean Engineering 31, 61-85)
for a box of the boat's length, beam and draught in linear waves. Roll: one degree of freedom that
follows the wave's slope, with the boat's own roll period and damping (any seakeeping text).
Our own additions: the sine filter of the length is used across the beam too, and the range.

What it is not: these forms were made for ships that float on their buoyancy. A fast boat rides
higher, is damped by its lift, slams and is steered. No published closed form was found for that,
so the answer carries a wide range: 0.5 to 1.6 times the usual value (assumed, no source). A captain
who has measured how far a rod tip moves should use that instead.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.day.ranges import Range
from spreadwright.day.wave_spectrum import YOUNG_SEA, jonswap
from spreadwright.day.waves import GRAVITY, SeaState

Floats = NDArray[np.float64]

LOW, HIGH = 0.5, 1.6  # assumed, see above
# 2 x rms: the mean of the highest third of the swings, each from the mean to its peak.
SIGNIFICANT = 2.0
# Roll period 0.8 B / sqrt(GM), the factor of the rolling-period test for fishing boats in the
# 2008 Intact Stability Code (from memory; 0.73 to 0.88 seen for coasters); GM 0.3 B is assumed.
_ROLL_FACTOR = 0.8
_ROLL_ARM_OVER_BEAM = 0.3
_FREQUENCIES = 400


@dataclass(frozen=True, slots=True)
class Hull:
    """What the estimate needs of a boat [m, s].

    length, beam, draught  at the waterline, as she runs
    roll_period            of a free roll to one side and back; None takes 0.8 B / sqrt(0.3 B)
    roll_damping           share of critical; 0.25 is assumed for a hard chine under way
    """

    length: float
    beam: float
    draught: float
    roll_period: float | None = None
    roll_damping: float = 0.25

    def __post_init__(self) -> None:
        sizes = {"length": self.length, "beam": self.beam, "draught": self.draught}
        sizes["roll damping"] = self.roll_damping
        if self.roll_period is not None:
            sizes["roll period"] = self.roll_period
        for name, value in sizes.items():
            if not (math.isfinite(value) and value > 0.0):
                raise ValueError(f"the {name} of the hull must be above zero, given {value}")

    @property
    def free_roll_period(self) -> float:
        """The roll period given, or the assumed one [s]."""
        if self.roll_period is not None:
            return self.roll_period
        return _ROLL_FACTOR * self.beam / math.sqrt(_ROLL_ARM_OVER_BEAM * self.beam)


@dataclass(frozen=True, slots=True)
class BoatMotion:
    """Significant single amplitudes (from the mean to the peak of the highest third).

    heave        of the middle of the waterline [m]
    roll, pitch  [rad]
    period       mean time between upward swings of the heave [s]
    """

    heave: Range
    roll: Range
    pitch: Range
    period: float


@dataclass(frozen=True, slots=True)
class PointMotion:
    """Significant single amplitudes of a point of the boat [m]: up, to the side, fore and aft."""

    vertical: Range
    sideways: Range
    fore_and_aft: Range


def _sine_filter(half_phase: Floats) -> Floats:
    """sin(s)/s: how much of a wave is left when it is averaged over the hull."""
    return np.sinc(half_phase / math.pi)


def _slope_filter(half_phase: Floats) -> Floats:
    """3 (sin s - s cos s) / s^3: the same for the slope along the hull; 1 for long waves."""
    small = np.abs(half_phase) < 1e-3
    s = np.where(small, 1.0, half_phase)
    exact = 3.0 * (np.sin(s) - s * np.cos(s)) / s**3
    return np.where(small, 1.0 - half_phase**2 / 10.0, exact)


@dataclass(frozen=True, slots=True)
class Response:
    """Amplitude per metre of wave amplitude over frequency: arrays of one shape.

    heave [m/m], roll and pitch [rad/m], encounter: how often the boat meets the waves [rad/s],
    negative where she overtakes them.
    """

    heave: Floats
    roll: Floats
    pitch: Floats
    encounter: Floats


def response(omega: Floats, hull: Hull, speed: float, heading: float) -> Response:
    """What waves of angular frequency `omega` [rad/s] (any shape) do to the boat.

    speed    of the boat [m/s]
    heading  between her course and where the waves go to [rad]: 0 running before them, pi into them
    Jensen, Mansour and Olsen 2004, equations 1 to 12.
    """
    k = omega**2 / GRAVITY
    encounter = omega - k * speed * math.cos(heading)
    alpha = encounter / omega
    along = np.abs(k * math.cos(heading))
    across = np.abs(k * math.sin(heading))
    kb, kt = k * hull.beam, k * hull.draught
    # Wave radiation: A^2 / (k B alpha^2), with A = 2 sin(k B alpha^2 / 2) exp(-k T alpha^2).
    radiated = kb * (alpha * _sine_filter(kb * alpha**2 / 2.0) * np.exp(-kt * alpha**2)) ** 2
    # The force also has the part of the wave's motion: radiated / alpha, written to stand alpha = 0.
    moving = kb * alpha * (_sine_filter(kb * alpha**2 / 2.0) * np.exp(-kt * alpha**2)) ** 2
    force = np.exp(-along * hull.draught) * np.hypot(1.0 - kt, moving)
    gain = 1.0 / np.hypot(1.0 - 2.0 * kt * alpha**2, radiated)
    breadth = _sine_filter(across * hull.beam / 2.0)
    heave = gain * force * breadth * np.abs(_sine_filter(along * hull.length / 2.0))
    pitch = gain * force * breadth * along * np.abs(_slope_filter(along * hull.length / 2.0))
    tuning = encounter * hull.free_roll_period / (2.0 * math.pi)
    roll_gain = 1.0 / np.hypot(1.0 - tuning**2, 2.0 * hull.roll_damping * tuning)
    slope = across * np.exp(-k * hull.draught / 2.0) * np.abs(_slope_filter(across * hull.beam / 2))
    roll = roll_gain * slope * np.abs(_sine_filter(along * hull.length / 2.0))
    return Response(np.abs(heave), roll, np.abs(pitch), encounter)


def _range(rms: float) -> Range:
    return Range.by_factors(SIGNIFICANT * rms, LOW, HIGH)


def boat_motion(sea: SeaState, hull: Hull, speed: float, heading: float, peakedness: float = YOUNG_SEA) -> BoatMotion:
    """Heave, roll and pitch in a long-crested sea, with the range stated at the top.

    speed [m/s] and heading [rad] as for `response`. The sea's own doubt, where it has one, widens the range.
    Raises ValueError for a speed that is negative or not finite.
    """
    if not (math.isfinite(speed) and speed >= 0.0 and math.isfinite(heading)):
        raise ValueError(f"speed must be zero or more and heading finite: {speed}, {heading}")
    peak = 1.0 / sea.peak_period
    frequency = np.linspace(0.4 * peak, 4.0 * peak, _FREQUENCIES)
    density = jonswap(frequency, sea.height, sea.peak_period, peakedness)
    answer = response(2.0 * math.pi * frequency, hull, speed, heading)

    def rms(transfer: Floats) -> float:
        return math.sqrt(float(np.trapezoid(density * transfer**2, frequency)))

    heave, swing = rms(answer.heave), rms(answer.heave * answer.encounter)
    period = 2.0 * math.pi * heave / swing if swing > 0.0 else math.inf
    motion = BoatMotion(_range(heave), _range(rms(answer.roll)), _range(rms(answer.pitch)), period)
    if sea.doubt is None or sea.height == 0.0:
        return motion
    return _widened(motion, sea.doubt.scaled(1.0 / sea.height))


def _widened(motion: BoatMotion, doubt: Range) -> BoatMotion:
    """Motions grow in step with the height, so its doubt (over the height) multiplies theirs."""
    low, high = doubt.low, doubt.high

    def wider(given: Range) -> Range:
        return Range(given.low * min(low, 1.0), given.usual, given.high * max(high, 1.0))

    return BoatMotion(wider(motion.heave), wider(motion.roll), wider(motion.pitch), motion.period)


def motion_in_turns(sea: SeaState, hull: Hull, speed: float, headings: Iterable[float]) -> BoatMotion:
    """The motion over all headings [rad] of a pattern of turns at one speed [m/s].

    The least low, the mean usual (as squares), the greatest high.

    Raises ValueError without a heading.
    """
    every = [boat_motion(sea, hull, speed, heading) for heading in headings]
    if not every:
        raise ValueError("a pattern has one heading or more, given none")

    def over(ranges: list[Range]) -> Range:
        usual = math.sqrt(sum(one.usual**2 for one in ranges) / len(ranges))
        return Range(min(r.low for r in ranges), usual, max(r.high for r in ranges))

    periods = [motion.period for motion in every if math.isfinite(motion.period)]
    return BoatMotion(
        over([m.heave for m in every]),
        over([m.roll for m in every]),
        over([m.pitch for m in every]),
        sum(periods) / len(periods) if periods else math.inf,
    )


def at_point(motion: BoatMotion, hull: Hull, forward: float, port: float, up: float) -> PointMotion:
    """How far a point of the boat moves: a rod tip, a rod holder, the transom (0, 0, 0).

    forward, port, up  from the transom at the waterline, in the boat's own frame [m]
    She is taken to pitch and roll about the middle of her waterline. Heave, roll and pitch count
    as independent, so their parts add as squares.
    """
    arm = forward - hull.length / 2.0

    def together(*parts: tuple[Range, float]) -> Range:
        def at(name: str) -> float:
            return math.hypot(*(getattr(part, name) * lever for part, lever in parts))

        return Range(at("low"), at("usual"), at("high"))

    return PointMotion(
        vertical=together((motion.heave, 1.0), (motion.pitch, arm), (motion.roll, port)),
        sideways=together((motion.roll, up)),
        fore_and_aft=together((motion.pitch, up)),
    )
