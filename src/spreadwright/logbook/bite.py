"""What the towed-line model and the track say about the moment of a strike, and about the hours a line fished.

The values only; they are computed in plan/at_the_bite.py, where the towed-line model may be reached, and kept in the
store beside the entries that they belong to.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from spreadwright.logbook.entry import Place, Record

TurnSide = Literal["straight", "inside", "outside", "middle", "unknown"]


class Bite(Record):
    """One strike as the track and the model have it.

    entry: the strike's id; turn: which way the boat turned; side: where the rod's tip was in that turn; boat_speed over
    ground [m/s], rate of turn [rad/s, to port], place (lat, lon) [deg]; lure_depth, weight_depth [m], lure_speed [m/s]
    through the water if it stood still, with the ranges their doubts leave: None where the line could not be towed;
    depth_change [m] and speed_change [m/s] of the lure over the five seconds before; doubt: what the numbers rest on.
    """

    entry: str
    turn: str
    side: TurnSide
    boat_speed: float
    rate: float
    place: Place = None
    lure_depth: float | None = None
    weight_depth: float | None = None
    lure_depth_range: tuple[float, float] | None = None
    lure_speed: float | None = None
    lure_speed_range: tuple[float, float] | None = None
    depth_change: float | None = None
    speed_change: float | None = None
    doubt: str = ""


class Ran(Record):
    """How one line fished through its hours: hours by side of turn, by depth and by speed of its lure [h].

    exposure: id of the entry by which the line went out. Keys of `depth` and `speed` are the names of classes (see
    factors.py); hours without a track are in none.
    """

    exposure: str
    side: dict[str, float] = Field(default_factory=dict)
    depth: dict[str, float] = Field(default_factory=dict)
    speed: dict[str, float] = Field(default_factory=dict)


# Edges of the classes in which rates by depth [m] and by speed [m/s] of the lure are counted.
DEPTH_EDGES = (1.0, 2.0, 3.0, 5.0)
SPEED_EDGES = tuple(kn * 1852.0 / 3600.0 for kn in (11.0, 13.0, 15.0, 17.0))


def depth_class(depth: float) -> str:
    """The class of a lure's depth [m].

    >>> depth_class(1.4)
    '1 to 2 m deep'
    """
    return _class(depth, DEPTH_EDGES, 1.0, "m deep")


def speed_class(speed: float) -> str:
    """The class of a lure's speed [m/s]."""
    return _class(speed, SPEED_EDGES, 3600.0 / 1852.0, "kn")


def _class(value: float, edges: tuple[float, ...], scale: float, unit: str) -> str:
    shown = [f"{edge * scale:g}" for edge in edges]
    for i, edge in enumerate(edges):
        if value < edge:
            return f"under {shown[0]} {unit}" if i == 0 else f"{shown[i - 1]} to {shown[i]} {unit}"
    return f"over {shown[-1]} {unit}"
