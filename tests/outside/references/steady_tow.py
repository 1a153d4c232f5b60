"""A line of several pieces and bodies towed steadily, straight or on a circle, partly in air: shooting from the lure.

Rotating frame, z up, still water at z = 0, circle about the z axis counter-clockwise: a point at r moves with
rate x r and accelerates by -rate^2 r_horizontal. The state is position and tension vector along the unstretched
length; the tension vector changes by minus the force per length, and the unknown place of the lure is found so
that the upper end meets the tow point. Straight towing is the same in a frame that moves along x.

Loading as check-values A0: rho/2 Cn d |vn| vn + rho/2 Ct pi d |vt| vt, added mass on the normal acceleration only.
At the surface density, buoyancy and added mass go from water to air by a smooth ramp of the height.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from math import atan2, hypot, inf, pi

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, root

Vector = NDArray[np.float64]


@dataclass(frozen=True)
class Piece:
    """Uniform stretch of line: length, diameter [m], density [kg/m3], coefficients [-], EA [N], force along [N/m].

    Tension = EA e (1 + stiffening e^2). `stretch_power` as in straight_tow.Cable.
    """

    length: float
    diameter: float
    density: float
    normal_drag: float = 1.2
    tangential_drag: float = 0.015
    stiffness: float = inf
    stiffening: float = 0.0
    tangential_force: float = 0.0
    added_mass: float = 1.0
    stretch_power: float = 0.0

    @property
    def area(self) -> float:
        """Cross-section [m2] of the unstretched piece."""
        return pi * self.diameter**2 / 4

    def strain(self, tension: float) -> float:
        """Strain [-] at a tension [N]."""
        linear = tension / self.stiffness
        if self.stiffening == 0 or linear == 0:
            return linear
        e = linear
        for _ in range(60):
            e -= (e + self.stiffening * e**3 - linear) / (1 + 3 * self.stiffening * e * e)
        return e


@dataclass(frozen=True)
class Load:
    """Body: mass [kg], volume [m3], drag area CdA from all sides [m2], added-mass coefficient [-].

    A slender body has drag areas along and across the line's direction instead (cross-flow principle): halfway
    between the directions of the line before and after it, or that of the line before it at the far end.
    """

    mass: float
    volume: float
    drag_area: float = 0.0
    added_mass: float = 0.0
    axial_area: float = 0.0
    normal_area: float = 0.0


@dataclass(frozen=True)
class Water:
    """Fluid and gravity (SI). `half_width` of the surface ramp [m]; None puts everything under water.

    `smoothness` 1: ramp with continuous slope (3u^2 - 2u^3); 2: continuous curvature (6u^5 - 15u^4 + 10u^3).
    """

    density: float = 1025.0
    gravity: float = 9.80665
    air_density: float = 1.2
    half_width: float | None = None
    smoothness: int = 1

    def wet(self, height: float) -> float:
        """Wet fraction [-] of a point at a height [m]: 1 below the ramp, 0 above it."""
        if self.half_width is None:
            return 1.0
        u = min(max((self.half_width - height) / (2 * self.half_width), 0.0), 1.0)
        return u * u * (3 - 2 * u) if self.smoothness == 1 else u**3 * (10 - 15 * u + 6 * u * u)

    def fluid_density(self, height: float) -> float:
        """Density [kg/m3] of the fluid around a point at a height [m]."""
        wet = self.wet(height)
        return wet * self.density + (1 - wet) * self.air_density


@dataclass(frozen=True)
class Frame:
    """Motion of the frame in which the line stands still: speed along x [m/s], or rate about z [rad/s]."""

    speed: float = 0.0
    rate: float = 0.0

    def flow(self, place: Vector) -> Vector:
        """Velocity [m/s] of still fluid as seen by a point of the line."""
        return np.array([self.rate * place[1] - self.speed, -self.rate * place[0], 0.0])

    def acceleration(self, place: Vector) -> Vector:
        """Acceleration [m/s2] of a point of the line."""
        return -(self.rate**2) * np.array([place[0], place[1], 0.0])


@dataclass(frozen=True)
class Steady:
    """Shape from the tow point: places of the bodies (and joints), far end last [m], tensions [N], nodes if asked.

    Straight: the tow point is at x = y = 0. Turn: the centre is at x = y = 0.
    """

    tow_point: Vector
    joints: tuple[Vector, ...]
    tension: float
    joint_tensions: tuple[float, ...] = ()
    top_angle: float = 0.0
    wetted_from: float | None = None
    line: Callable[[float], Vector] | None = field(default=None, repr=False)

    @property
    def lure(self) -> Vector:
        """Place of the far end [m]."""
        return self.joints[-1]

    def radius(self, joint: int = -1) -> float:
        """Circle radius [m] of a joint in a turn."""
        return hypot(self.joints[joint][0], self.joints[joint][1])

    def depth(self, joint: int = -1) -> float:
        """Depth [m] of a joint below still water."""
        return -float(self.joints[joint][2])

    def drop(self, joint: int = -1) -> float:
        """Height [m] of the tow point above a joint."""
        return float(self.tow_point[2] - self.joints[joint][2])


def pull_above(load: Load, pull: Vector, place: Vector, frame: Frame, water: Water) -> Vector:
    """Tension vector [N] above a body from the one below it (zero at the far end)."""
    if load.axial_area == 0 and load.normal_area == 0:
        return pull - load_force(load, place, np.zeros(3), frame, water)
    below = pull / np.linalg.norm(pull) if pull.any() else np.zeros(3)

    def miss(above: Vector) -> Vector:
        along = above / np.linalg.norm(above) + below
        force = load_force(load, place, along / np.linalg.norm(along), frame, water)
        return np.asarray(above + force - pull)

    start = pull - load_force(load, place, np.zeros(3), frame, water) + 0.5 * frame_guess(load, place, frame, water)
    found = root(miss, start, method="hybr", tol=1e-12)
    if np.linalg.norm(found.fun) > 1e-8 * np.linalg.norm(found.x):
        raise ValueError(f"no equilibrium found at a body: {found.message}")
    return np.asarray(found.x)


def frame_guess(load: Load, place: Vector, frame: Frame, water: Water) -> Vector:
    """A drag-like push [N] that starts the search for a slender body's direction."""
    flow = frame.flow(place)
    return np.asarray(-0.5 * water.density * load.axial_area * np.linalg.norm(flow) * flow)


def load_force(load: Load, place: Vector, along: Vector, frame: Frame, water: Water) -> Vector:
    """Force [N] on a body lying along `along`: weight, buoyancy, drag, and minus inertia with added mass."""
    rho = water.fluid_density(float(place[2]))
    flow = frame.flow(place)
    slide = float(flow @ along)
    cross = flow - slide * along
    round_ = load.drag_area * np.linalg.norm(flow) * flow
    slender = load.axial_area * abs(slide) * slide * along + load.normal_area * np.linalg.norm(cross) * cross
    drag = 0.5 * rho * (round_ + slender)
    heavy = np.array([0.0, 0.0, (rho * load.volume - load.mass) * water.gravity])
    inertia = (load.mass + rho * load.added_mass * load.volume) * frame.acceleration(place)
    return np.asarray(drag + heavy - inertia)


def line_force(piece: Piece, place: Vector, along: Vector, stretch: float, frame: Frame, water: Water) -> Vector:
    """Force per unstretched length [N/m] on a line; `along` is the unit vector towards the tow point."""
    rho = water.fluid_density(float(place[2]))
    flow = frame.flow(place)
    slide = float(flow @ along)
    cross = flow - slide * along
    pressed = piece.normal_drag * np.linalg.norm(cross) * cross
    rubbed = piece.tangential_drag * pi * abs(slide) * slide * along
    drag = 0.5 * rho * piece.diameter * stretch**piece.stretch_power * (pressed + rubbed)
    drag = drag - piece.tangential_force * water.wet(float(place[2])) * along
    heavy = np.array([0.0, 0.0, (rho - piece.density) * piece.area * water.gravity])
    acc = frame.acceleration(place)
    acc_normal = acc - (acc @ along) * along
    inertia = piece.density * piece.area * acc + rho * piece.added_mass * piece.area * acc_normal
    return np.asarray(drag + heavy - inertia)


def climb(
    pieces: tuple[Piece, ...], loads: tuple[Load | None, ...], start: Vector, frame: Frame, water: Water, rtol: float
) -> tuple[list[Vector], list[Vector]]:
    """Integrate from the lure at `start` to the tow point: places and tension vectors, lure first, tow point last."""
    place, pull = np.asarray(start, float), np.zeros(3)
    places, pulls = [], []
    for piece, load in zip(reversed(pieces), reversed(loads), strict=True):
        if load is not None:
            pull = pull_above(load, pull, place, frame, water)
        places.append(place)
        pulls.append(pull)
        place, pull = climb_piece(piece, place, pull, frame, water, rtol)
    return [*places, place], [*pulls, pull]


def climb_piece(
    piece: Piece, place: Vector, pull: Vector, frame: Frame, water: Water, rtol: float
) -> tuple[Vector, Vector]:
    """Integrate one piece upward, stopping at the edges of the surface ramp, where the right side has a kink."""

    def slope(_s: float, state: Vector) -> Vector:
        tension = float(np.linalg.norm(state[3:]))
        along = state[3:] / tension
        stretch = 1 + piece.strain(tension)
        force = line_force(piece, state[:3], along, stretch, frame, water)
        return np.concatenate([stretch * along, -force])

    edges = [] if water.half_width is None else [crossing(-water.half_width), crossing(water.half_width)]
    done, state = 0.0, np.concatenate([place, pull])
    while done < piece.length:
        live = [edge for edge in edges if abs(edge(0.0, state)) > 1e-9]
        run = solve_ivp(slope, (done, piece.length), state, method="DOP853", rtol=rtol, atol=1e-11, events=live or None)
        done, state = float(run.t[-1]), run.y[:, -1]
    return state[:3], state[3:]


def crossing(level: float) -> Callable[[float, Vector], float]:
    """Event that stops an integration where the height passes a level [m]."""

    def event(_s: float, state: Vector) -> float:
        return float(state[2]) - level

    event.terminal = True  # type: ignore[attr-defined]
    return event


def finish(places: list[Vector], pulls: list[Vector]) -> Steady:
    """Turn the climb into an answer, upper end first."""
    top = pulls[-1]
    return Steady(
        tow_point=places[-1],
        joints=tuple(reversed(places[:-1])),
        tension=float(np.linalg.norm(top)),
        joint_tensions=tuple(float(np.linalg.norm(p)) for p in reversed(pulls[:-1])),
        top_angle=atan2(float(top[2]), hypot(float(top[0]), float(top[1]))),
    )


def straight(
    pieces: tuple[Piece, ...],
    loads: tuple[Load | None, ...],
    speed: float,
    water: Water,
    tip_height: float = 0.0,
    rtol: float = 1e-9,
) -> Steady:
    """Steady straight tow along +x; without a surface the height of the tow point shifts the answer only."""
    frame = Frame(speed=speed)

    def shape(height: float) -> Steady:
        return finish(*climb(pieces, loads, np.array([0.0, 0.0, height]), frame, water, rtol))

    if water.half_width is None:
        found = shape(0.0)
        return moved(found, -found.tow_point + np.array([0.0, 0.0, tip_height]))
    reach = sum(p.length for p in pieces)
    lure = float(brentq(lambda z: shape(z).tow_point[2] - tip_height, -reach, tip_height, xtol=1e-9))
    found = shape(lure)
    return moved(found, np.array([-found.tow_point[0], 0.0, 0.0]))


def moved(shape: Steady, shift: Vector) -> Steady:
    """The same shape at another place."""
    return Steady(
        tow_point=shape.tow_point + shift,
        joints=tuple(j + shift for j in shape.joints),
        tension=shape.tension,
        joint_tensions=shape.joint_tensions,
        top_angle=shape.top_angle,
    )


def turn(
    pieces: tuple[Piece, ...],
    loads: tuple[Load | None, ...],
    rate: float,
    circle: float,
    water: Water,
    tip_height: float = 0.0,
    rtol: float = 1e-9,
    guess: tuple[float, float] | None = None,
) -> Steady:
    """Steady turn at `rate` [rad/s] with the tow point on a circle of radius `circle` [m]; largest lure circle found.

    Through the surface a `guess` of the lure's circle radius and depth [m] saves the long way from a deep tow.
    Raises ValueError when no lure circle between 0.1 % and 100 % of the tow circle fits.
    """
    frame = Frame(rate=rate)
    if water.half_width is not None:
        return turn_through_surface(pieces, loads, rate, circle, water, tip_height, rtol, guess)

    def shape(radius: float) -> Steady:
        found = finish(*climb(pieces, loads, np.array([radius, 0.0, 0.0]), frame, water, rtol))
        return moved(found, np.array([0.0, 0.0, tip_height - found.tow_point[2]]))

    def miss(radius: float) -> float:
        top = shape(radius).tow_point
        return hypot(top[0], top[1]) - circle

    steps = circle * (1 - np.linspace(0, 1, 41) ** 2 * 0.999)
    upper, upper_miss = steps[0], miss(steps[0])
    for lower in steps[1:]:
        lower_miss = miss(lower)
        if upper_miss * lower_miss <= 0:
            return shape(float(brentq(miss, lower, upper, xtol=1e-10, rtol=1e-13)))
        upper, upper_miss = lower, lower_miss
    raise ValueError(f"no lure circle found for a tow circle of {circle} m at {rate} rad/s")


def turn_through_surface(
    pieces: tuple[Piece, ...],
    loads: tuple[Load | None, ...],
    rate: float,
    circle: float,
    water: Water,
    tip_height: float,
    rtol: float,
    guess: tuple[float, float] | None,
) -> Steady:
    """Steady turn with part of the line in air: circle and depth of the lure sought together."""
    frame = Frame(rate=rate)

    def shape(lure: Vector) -> Steady:
        return finish(*climb(pieces, loads, np.array([lure[0], 0.0, lure[1]]), frame, water, rtol))

    def miss(lure: Vector, height: float) -> list[float]:
        top = shape(lure).tow_point
        return [hypot(top[0], top[1]) - circle, float(top[2]) - height]

    if guess is not None:
        found = root(miss, [guess[0], -guess[1]], args=(tip_height,), method="hybr", tol=1e-11)
        if np.max(np.abs(found.fun)) < 1e-6:
            return shape(found.x)
    # raise the tow point out of the water step by step, each shape from the one before
    under = turn(pieces, loads, rate, circle, replace(water, half_width=None), 0.0, rtol=1e-6)
    edge = -(water.half_width or 0.0)
    lure = np.array([under.radius(), edge - under.depth()])
    for height in np.linspace(edge, tip_height, 9):
        found = root(miss, lure, args=(height,), method="hybr", tol=1e-10)
        if np.max(np.abs(found.fun)) > 1e-6:
            raise ValueError(f"no shape found for a tow circle of {circle} m at {rate} rad/s: {found.message}")
        lure = found.x
    return shape(lure)
