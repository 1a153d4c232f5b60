"""What came of a tow file, as frozen values in SI that can be written to JSON and read back unchanged."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, ValidationError

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import System, quote

Point = tuple[float, float, float]
Series = tuple[float, ...]


class Value(BaseModel):
    """Base of everything here: frozen, and nothing unknown is read."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class SteadyEnd(Value):
    """The end of a section in a steady tow.

    section, body    their names; body is null where nothing hangs
    node             its place in the line's lists
    line_out_m       length of line from the rod tip, without stretch
    astern_m         behind the transom, to_port_m beside the centreline, as the boat lies
    speed_m_s        through still water
    circle_radius_m  of the circle it runs on; null when straight
    tension_n        in the line just above it
    """

    section: str
    body: str | None
    node: int
    line_out_m: float
    depth_m: float
    astern_m: float
    to_port_m: float
    speed_m_s: float
    circle_radius_m: float | None
    tension_n: float


class SteadyLine(Value):
    """A line at rest in the boat's frame: x forward of the transom, y to port of the centreline, z up from still water.

    tension_n is that at the rod tip first, then just above every node; tip_angle_rad is below level at the rod tip,
    tip_side_rad to port of straight astern; line_in_air_m is null where there is no surface or the line never meets it.
    """

    kind: Literal["steady"] = "steady"
    name: str
    tip_m: Point
    tip_tension_n: float
    tip_angle_rad: float
    tip_side_rad: float
    line_in_air_m: float | None
    line_out_m: Series
    positions_m: tuple[Point, ...]
    tension_n: Series
    ends: tuple[SteadyEnd, ...]


class MovingEnd(Value):
    """The end of a section over time; each list has one entry a stored moment, and means what it means when steady."""

    section: str
    body: str | None
    node: int
    line_out_m: float
    depth_m: Series
    astern_m: Series
    to_port_m: Series
    speed_m_s: Series
    tension_n: Series


class MovingLine(Value):
    """A line over time.

    positions_m [moment][node] in the earth's frame: x along the first heading of the boat (of a track: along its own
    x), y to port of it, z up from still water, from where the boat's transom was first. tension_n [moment] holds the
    pull at the nodes listed in tension_nodes: the rod tip, then just above each of the others.
    """

    kind: Literal["over time"] = "over time"
    name: str
    tip_m: Point
    tip_tension_n: Series
    tip_angle_rad: Series
    tip_side_rad: Series
    line_out_m: Series
    positions_m: tuple[tuple[Point, ...], ...]
    tension_nodes: tuple[int, ...]
    tension_n: tuple[Series, ...]
    ends: tuple[MovingEnd, ...]


class Boat(Value):
    """Where the boat's transom is over time in the earth's frame, and its heading, positive to port."""

    times_s: Series
    x_m: Series
    y_m: Series
    heading_rad: Series
    speed_m_s: Series


class Run(Value):
    """What the boat runs: its kind in words; speed and radius (positive to port) where they are given."""

    kind: Literal["straight", "circle", "s-turn", "track"]
    speed_m_s: float | None
    radius_m: float | None
    duration_s: float | None


class Surroundings(Value):
    """The water: density, gravity, whether there is a surface, and whether the water moves."""

    density_kg_m3: float
    gravity_m_s2: float
    surface: bool
    moves: bool


class NotComputed(Value):
    """A line without a result, why, and what to do."""

    line: str
    reason: str
    next_step: str


class TowResult(Value):
    """Everything that was computed. `units` is the captain's choice for the report; every number here is SI."""

    format: Literal["spreadwright tow"] = "spreadwright tow"
    version: Literal[1] = 1
    program: str
    title: str
    units: System
    water: Surroundings
    motion: Run
    boat: Boat | None
    lines: tuple[SteadyLine | MovingLine, ...]
    failures: tuple[NotComputed, ...]

    def to_json(self) -> str:
        """The result as JSON text, on one line."""
        return self.model_dump_json()


def result_from_json(text: str | bytes, source: str = "the result") -> TowResult:
    """The result that a JSON text holds. Raises Faults where it holds none.

    source   what to call the text in messages, such as its file's name
    """
    try:
        return TowResult.model_validate_json(text)
    except ValidationError as error:
        faults = [
            Fault(
                ".".join(str(step) for step in each["loc"]) or source,
                quote(each["input"]),
                f"this must be a result of the form 'spreadwright tow', version 1 ({each['msg']})",
                "compute it again: spreadwright tow FILE.toml --json",
            )
            for each in error.errors()[:20]
        ]
        raise Faults(faults, source) from None
