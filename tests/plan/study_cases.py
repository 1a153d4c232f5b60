"""A small spread of two rods for studies, and what its trip file says."""

from __future__ import annotations

from functools import lru_cache

from tests.plan.trips import PORT, RED, STARBOARD, trip_text

from spreadwright.day.boat_motion import Hull
from spreadwright.plan.study import Asked, Case, SeaAsked, Spread
from spreadwright.plan.study_make import cases_of, spread_of
from spreadwright.tackle import Trip, trip_from_text

KNOT = 1852.0 / 3600.0
HULL = Hull(9.0, 3.0, 0.6)
CHOP = SeaAsked(0.6, 3.2)
LOCK = {"leader": "30 ft of 300 lb", "bite_leader": "3 ft of wire", "lure": "jet"}
FIXED = (
    {"rod": "red", "mark": "100 ft", "station": "port corner", "weight": "64 oz", **LOCK},
    {"rod": "blue", "mark": "200 ft", "station": "starboard corner", "weight": "16 oz", **LOCK},
)
TURNS = {"turns": ["60 deg to port"], "straight_run": "0 m"}


def text(title: str = "A small trip") -> str:
    """Two rods with everything fixed, one turn to port."""
    written = trip_text(
        stations=(PORT, STARBOARD), rods=(RED, {"name": "blue", "marks": ["100 ft", "200 ft"]}), fixed=FIXED,
        pattern=TURNS,
    )  # fmt: skip
    return written.replace("A small trip", title)


@lru_cache(maxsize=1)
def trip() -> Trip:
    return trip_from_text(text())


def spread(hull: Hull | None = None) -> Spread:
    return spread_of(trip(), None, hull)


def cases(asked: Asked, hull: Hull | None = None) -> tuple[Case, ...]:
    return cases_of([trip()], [spread(hull)], asked)
