"""A line towed straight, as the classical two-angle-and-tension initial-value problem from the body up.

Equations as check-values A5 (the loading of MoorDyn and of WHOI Cable): phi from the flow direction, s from the
body up, T dphi/ds = w cos(phi) - Rn sin(phi)|sin(phi)|, dT/ds = w sin(phi) + Rt cos(phi)|cos(phi)| + F, with
Rn = rho/2 Cn d V^2, Rt = rho/2 Ct pi d V^2. All water, no surface; `steady_tow` has the surface and turns.
"""

from dataclasses import dataclass
from math import atan2, cos, hypot, inf, pi, sin

import numpy as np
from scipy.integrate import solve_ivp


@dataclass(frozen=True)
class Cable:
    """One uniform line: length, diameter [m], wet weight [N/m], drag coefficients [-], EA [N], force along it [N/m].

    `stretch_power`: drag per unstretched length goes with (1 + strain) to this power. 0: unstretched length and
    diameter (as MoorDyn); 1: stretched length, unstretched diameter; 1/2: both stretched at constant volume.
    """

    length: float
    diameter: float
    wet_weight: float
    normal_drag: float
    tangential_drag: float = 0.0
    stiffness: float = inf
    tangential_force: float = 0.0
    stretch_power: float = 0.0


@dataclass(frozen=True)
class StraightTow:
    """Depth and layback of the body below and behind the ship [m], top tension [N], angle at the ship [rad]."""

    depth: float
    layback: float
    tension: float
    top_angle: float


def straight_tow(cable: Cable, wet_weight: float, drag: float, speed: float, density: float) -> StraightTow:
    """Integrate from a body of the given wet weight and drag [N] up to the ship; relative error about 1e-10."""
    normal = 0.5 * density * cable.normal_drag * cable.diameter * speed**2
    tangential = 0.5 * density * cable.tangential_drag * pi * cable.diameter * speed**2

    def slope(_s: float, state: np.ndarray) -> list[float]:
        angle, tension = state[0], state[1]
        c, si = cos(angle), sin(angle)
        stretch = 1 + tension / cable.stiffness
        drag_scale = stretch**cable.stretch_power
        turn = (cable.wet_weight * c - drag_scale * normal * si * abs(si)) / tension
        pull = cable.wet_weight * si + drag_scale * tangential * c * abs(c) + cable.tangential_force
        return [turn, pull, stretch * c, stretch * si]

    start = [atan2(wet_weight, drag), hypot(wet_weight, drag), 0.0, 0.0]
    run = solve_ivp(slope, (0, cable.length), start, method="DOP853", rtol=1e-11, atol=1e-12)
    angle, tension, layback, depth = (float(v) for v in run.y[:, -1])
    return StraightTow(depth, layback, tension, angle)
