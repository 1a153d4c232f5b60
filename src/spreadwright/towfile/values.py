"""What a tow file says, as frozen values in SI: the water, the motion, the lines, and how finely to compute."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from spreadwright.quantity import System
from spreadwright.tow.line import Line, Sea


@dataclass(frozen=True)
class Straight:
    """A straight run at `speed` [m/s]; with a duration [s] it is followed over time."""

    kind: ClassVar[Literal["straight"]] = "straight"
    speed: float
    duration: float | None = None


@dataclass(frozen=True)
class Circle:
    """A steady circle of `radius` [m, positive to port] at `speed` [m/s]; with a duration [s] over time."""

    kind: ClassVar[Literal["circle"]] = "circle"
    speed: float
    radius: float
    duration: float | None = None


@dataclass(frozen=True)
class STurn:
    """Heading changes one after another.

    speed [m/s] on the straight; radius [m]; turns [rad, positive to port]; runs before, between and after [s];
    turn_time [s] in which the rate of turn builds up to 63 %; speed_loss [-] the share lost in a turn.
    """

    kind: ClassVar[Literal["s-turn"]] = "s-turn"
    speed: float
    radius: float
    turns: tuple[float, ...]
    lead_in: float
    straight_run: float
    lead_out: float
    turn_time: float
    speed_loss: float


@dataclass(frozen=True)
class Recorded:
    """A track through places x, y [m] at times [s], all counted from the first point."""

    kind: ClassVar[Literal["track"]] = "track"
    times: tuple[float, ...]
    x: tuple[float, ...]
    y: tuple[float, ...]


Motion = Straight | Circle | STurn | Recorded


@dataclass(frozen=True)
class Current:
    """Velocity (x, y) at the surface and at `depth` [m] and below [m/s], straight in between."""

    surface: tuple[float, float]
    below: tuple[float, float]
    depth: float

    @property
    def shear(self) -> tuple[float, float]:
        """Change of the velocity for each metre down to `depth` [1/s]."""
        x, y = ((low - high) / self.depth for high, low in zip(self.surface, self.below, strict=True))
        return x, y


@dataclass(frozen=True)
class Waves:
    """Significant height [m], peak period [s], where they run to [rad], the seed of their phases, all round or not."""

    height: float
    period: float
    towards: float
    seed: int
    spread: bool


@dataclass(frozen=True)
class Propeller:
    """Where a propeller is, to port [m] and down [m], its diameter [m], and the speed of its wash [m/s]."""

    port: float
    depth: float
    diameter: float
    speed: float


@dataclass(frozen=True)
class MovingWater:
    """All that moves the water."""

    current: Current | None = None
    waves: Waves | None = None
    wash: tuple[Propeller, ...] = ()

    @property
    def moves(self) -> bool:
        """False for water at rest."""
        return bool(self.current or self.waves or self.wash)


@dataclass(frozen=True)
class Numerics:
    """Mesh scale [-] (smaller is finer), time step [s], and a moment stored every so many steps."""

    mesh_scale: float
    step: float = 0.05
    store_every: int = 10


@dataclass(frozen=True)
class TowedLine:
    """A line, and what its sections and their bodies are called (None where nothing hangs)."""

    line: Line
    sections: tuple[str, ...]
    bodies: tuple[str | None, ...]


@dataclass(frozen=True)
class TowFile:
    """A whole tow file."""

    title: str
    units: System
    sea: Sea
    moving: MovingWater
    motion: Motion
    lines: tuple[TowedLine, ...]
    numerics: Numerics

    @property
    def over_time(self) -> bool:
        """False where a steady shape is the whole answer."""
        if isinstance(self.motion, Straight | Circle):
            return self.motion.duration is not None
        return True
