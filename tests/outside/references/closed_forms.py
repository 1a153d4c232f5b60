"""Towed-line answers that need no mesh: critical angle, cable functions, neutral line, drag-free turn.

Sources: check-values section (a), A1 to A4 and A8 (derived there and cross-checked with an ODE; the attribution of
the first two to L. Pode, "Tables for computing the equilibrium configuration of a flexible cable in a uniform
stream", David Taylor Model Basin report 687, 1951, is from memory). Each is derived again below in one line.
Lengths [m], forces [N], weights and drags per length [N/m], angles [rad] from the flow direction.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import acos, asinh, atan2, cos, exp, hypot, log, pi, sin, sqrt

from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq


def critical_angle(weight_over_drag: float) -> float:
    """Angle [rad] of a long heavy cable: w cos(phi) = R sin(phi)^2, w wet weight, R broadside drag per length."""
    half = weight_over_drag / 2
    return acos(-half + sqrt(1 + half * half))


@dataclass(frozen=True)
class CableFunctions:
    """tau = T/T0, sigma = R s/T0, xi = R x/T0, eta = R z/T0 between the hanging body and the angle phi [-]."""

    tau: float
    sigma: float
    xi: float
    eta: float


def cable_functions(weight_ratio: float, friction_ratio: float, angle: float, start: float = pi / 2) -> CableFunctions:
    """Pode's functions by quadrature, from the angle at the body (90 degrees: no body drag) to `angle` [rad].

    d(ln T)/d(phi) = -(f + k sin)/(sin^2 - k cos), ds/d(phi) = -(T/R)/(sin^2 - k cos); k = w/R, f = F/R.
    """

    def bend(q: float) -> float:
        return sin(q) ** 2 - weight_ratio * cos(q)

    def log_tau(q: float) -> float:
        return float(quad(lambda p: (friction_ratio + weight_ratio * sin(p)) / bend(p), q, start, epsrel=1e-11)[0])

    def growth(q: float) -> float:
        return exp(log_tau(q))

    def total(weight: Callable[[float], float]) -> float:
        return float(quad(weight, angle, start, epsrel=1e-9)[0])

    return CableFunctions(
        tau=growth(angle),
        sigma=total(lambda q: growth(q) / bend(q)),
        xi=total(lambda q: growth(q) * cos(q) / bend(q)),
        eta=total(lambda q: growth(q) * sin(q) / bend(q)),
    )


@dataclass(frozen=True)
class Hang:
    """A straight tow as seen at the ship: depth and layback of the body [m], tension [N], angle at the ship [rad]."""

    depth: float
    layback: float
    tension: float
    top_angle: float


def neutral_line(weight: float, drag: float, broadside: float, length: float) -> Hang:
    """Exact shape of a weightless line with normal drag only: T is constant and cot(phi) grows by R s/T (A3)."""
    tension = hypot(weight, drag)
    low = drag / weight
    high = low + broadside * length / tension
    scale = tension / broadside
    return Hang(
        depth=scale * (asinh(high) - asinh(low)),
        layback=scale * (sqrt(1 + high * high) - sqrt(1 + low * low)),
        tension=tension,
        top_angle=atan2(1, high),
    )


def neutral_line_with_friction(
    tension: float, broadside: float, friction: float, cotangent: float, length: float
) -> tuple[Hang, float]:
    """A4: weightless line with a constant tangential force per length; also gives cot(phi) at the ship.

    T = T0 + F s, so d(cot phi)/ds = R/T integrates to cot phi0 + (R/F) ln(1 + F s/T0); position by an ODE solver.
    """

    def cot(s: float) -> float:
        return cotangent + broadside / friction * log(1 + friction * s / tension)

    def slope(s: float, _state: object) -> list[float]:
        scale = 1 / sqrt(1 + cot(s) ** 2)
        return [cot(s) * scale, scale]

    run = solve_ivp(slope, (0, length), [0, 0], method="DOP853", rtol=1e-12, atol=1e-12)
    layback, depth = run.y[:, -1]
    top = cot(length)
    return Hang(float(depth), float(layback), tension + friction * length, atan2(1, top)), top


def tractrix_radius(circle: float, length: float) -> float:
    """Radius [m] of a body that follows its own velocity at the end of a taut weightless drag-free line (A8)."""
    return sqrt(circle * circle - length * length)


@dataclass(frozen=True)
class DragFreeTurn:
    """Body on a straight drag-free line in a steady turn: its circle's radius [m], depth [m], tension [N]."""

    radius: float
    depth: float
    tension: float


def drag_free_turn(
    mass: float, wet_weight: float, drag_area: float, density: float, rate: float, circle: float, length: float
) -> DragFreeTurn:
    """A8: the line points along the sum of centrifugal force, drag and weight of the body; `rate` in rad/s."""

    def forces(radius: float) -> tuple[float, float, float]:
        return mass * rate**2 * radius, 0.5 * density * drag_area * (rate * radius) ** 2, wet_weight

    def miss(radius: float) -> float:
        outward, backward, down = forces(radius)
        pull = sqrt(outward**2 + backward**2 + down**2)
        # the line runs from the body against the force on it: inward, forward and up
        return hypot(radius - length * outward / pull, length * backward / pull) - circle

    radius = float(brentq(miss, circle / 1000, circle + length, xtol=1e-13, rtol=1e-14))
    outward, backward, down = forces(radius)
    pull = sqrt(outward**2 + backward**2 + down**2)
    return DragFreeTurn(radius, length * down / pull, pull)
