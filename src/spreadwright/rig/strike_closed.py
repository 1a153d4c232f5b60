"""Closed formulas for a sudden pull on a line: bounds and checks for the strike simulation.

All are textbook mechanics (one-dimensional bar, mass on a spring, work and momentum), for one
straight line with one constant stiffness, no drag of water and no weight: real rigs lie between
these. The travelling wave gives the first instant, the spring the peak when nothing slips, the
constant drag the distance a fish runs against a slipping reel. SI throughout.

Worked examples use 1 mm nylon, wet (E 1.5 GPa, 1140 kg/m3) unless they say otherwise.
"""

from __future__ import annotations

import math


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0.0):
            raise ValueError(f"{name.replace('_', ' ')} must be positive and finite, given {value}")


def _not_negative(**values: float) -> None:
    for name, value in values.items():
        if not (math.isfinite(value) and value >= 0.0):
            raise ValueError(f"{name.replace('_', ' ')} must be zero or more and finite, given {value}")


def round_area(diameter: float) -> float:
    """Area [m2] of a round line of `diameter` [m]: pi d^2 / 4."""
    _positive(diameter=diameter)
    return math.pi * diameter**2 / 4.0


def wave_speed(modulus: float, density: float) -> float:
    """Speed [m/s] of a stretch wave in a line: c = sqrt(E / rho); modulus [Pa], density [kg/m3].

    Long waves in a slender bar (Timoshenko and Goodier, Theory of Elasticity, ch. 15 - from
    memory; the formula is standard).

    >>> round(wave_speed(2.0e9, 1140.0), 5)
    1324.53236
    """
    _positive(modulus=modulus, density=density)
    return math.sqrt(modulus / density)


def impact_tension(modulus: float, density: float, diameter: float, speed: float) -> float:
    """Tension [N] the instant a line's end is jerked at `speed` [m/s]: T = rho A c v.

    The jump in stress behind the first wave, sigma = rho c v. Lasts until the wave comes back
    from the far end. Valid for v << c and a line that follows Hooke's law.

    >>> round(impact_tension(2.0e9, 1140.0, 1.0e-3, 7.716667), 5)
    9.15139
    """
    _not_negative(speed=speed)
    return density * round_area(diameter) * wave_speed(modulus, density) * speed


def impact_tension_at_fixed_end(modulus: float, density: float, diameter: float, speed: float) -> float:
    """Tension [N] where the first wave meets a fixed end (a locked reel): twice `impact_tension`.

    >>> round(impact_tension_at_fixed_end(2.0e9, 1140.0, 1.0e-3, 7.716667), 5)
    18.30278
    """
    return 2.0 * impact_tension(modulus, density, diameter, speed)


def line_stiffness(modulus: float, diameter: float, length: float) -> float:
    """Stiffness [N/m] of a line: k = E A / L.

    >>> round(line_stiffness(1.5e9, 1.0e-3, 60.0), 6)
    19.634954
    """
    _positive(modulus=modulus, length=length)
    return modulus * round_area(diameter) / length


def stiffness_in_series(*stiffnesses: float) -> float:
    """Stiffness [N/m] of lines one after the other: 1/k = 1/k1 + 1/k2 + ...

    >>> stiffness_in_series(20.0, 20.0)
    10.0
    """
    _positive(**{f"stiffness_{at}": k for at, k in enumerate(stiffnesses, start=1)})
    if not stiffnesses:
        raise ValueError("at least one stiffness is needed")
    return 1.0 / sum(1.0 / k for k in stiffnesses)


def peak_tension(stiffness: float, mass: float, speed: float, preload: float = 0.0) -> float:
    """Peak tension [N] when `mass` [kg] at `speed` [m/s] is stopped by a line: sqrt(F0^2 + k m v^2).

    Energy: kinetic energy becomes stretch. `stiffness` k [N/m], steady pull beforehand
    `preload` F0 [N]. Upper bound for a reel that does not slip: water drag, the rod and the
    drag washers all take energy away. Worked example: k 19.634954, 20 kg, 10 m/s: 198.166 N, and
    204.377 N with 50 N beforehand.

    >>> round(peak_tension(19.634954084936208, 20.0, 10.0, 50.0), 6)
    204.376878
    """
    _positive(stiffness=stiffness, mass=mass)
    _not_negative(speed=speed, preload=preload)
    return math.sqrt(preload**2 + stiffness * mass * speed**2)


def peak_stretch(stiffness: float, mass: float, speed: float) -> float:
    """Stretch [m] of an unloaded line that stops `mass` [kg] at `speed` [m/s]: v sqrt(m / k).

    >>> round(peak_stretch(19.634954084936208, 20.0, 10.0), 6)
    10.09253
    """
    _positive(stiffness=stiffness, mass=mass)
    _not_negative(speed=speed)
    return speed * math.sqrt(mass / stiffness)


def stop_time(stiffness: float, mass: float) -> float:
    """Time [s] from slack to peak for a mass stopped by a spring: a quarter period, pi/2 sqrt(m/k).

    >>> round(stop_time(20.0, 20.0), 6)
    1.570796
    """
    _positive(stiffness=stiffness, mass=mass)
    return 0.5 * math.pi * math.sqrt(mass / stiffness)


def drop_tension(weight: float, height: float, stiffness: float) -> float:
    """Peak tension [N] when a `weight` [N] falls `height` [m] onto a line: W (1 + sqrt(1 + 2kh/W)).

    The trolling weight that falls from the rod tip, caught by the line. Height 0 gives twice the
    weight (suddenly applied load).

    >>> round(drop_tension(100.0, 1.0, 2000.0), 6)
    740.312424
    """
    _positive(weight=weight, stiffness=stiffness)
    _not_negative(height=height)
    return weight * (1.0 + math.sqrt(1.0 + 2.0 * stiffness * height / weight))


def run_out(mass: float, speed: float, drag: float) -> tuple[float, float]:
    """Distance [m] and time [s] for a constant pull to stop a mass: m v^2 / (2 F), m v / F.

    A fish of `mass` [kg] at `speed` [m/s] that swims no further, against `drag` [N]. A fish that
    keeps swimming takes more line.

    >>> run_out(20.0, 10.0, 100.0)
    (10.0, 2.0)
    """
    _positive(mass=mass, drag=drag)
    _not_negative(speed=speed)
    return mass * speed**2 / (2.0 * drag), mass * speed / drag
