"""Small trips as text, made of parts: two or three rods, a few marks and weights, so that a plan takes a second."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from spreadwright.plan.build import make_plan
from spreadwright.plan.value import Plan
from spreadwright.tackle import Trip, trip_from_text

Value = str | int | float | bool | Sequence[str]
Table = Mapping[str, Value]

FOOT, OUNCE, POUND, KNOT = 0.3048, 0.028349523125, 4.4482216152605, 1852.0 / 3600.0

# name: rod tip forward of the transom, to port of the centreline, above the water [ft]
PORT = ("port corner", -3.0, 5.0, 4.0)
STARBOARD = ("starboard corner", -3.0, -5.0, 4.0)
CENTRE = ("centre high", -1.0, 0.0, 13.0)
HIGH = ("port high", 8.0, 9.0, 14.0)

RED: Table = {"name": "red", "marks": ["100 ft", "200 ft"]}
BLUE: Table = {"name": "blue", "marks": ["100 ft", "200 ft"]}
GOLD: Table = {"name": "gold", "marks": ["200 ft", "300 ft"]}

SHOCK: Table = {"name": "30 ft of 300 lb", "strength": "300 lb", "diameter": "1.8 mm", "length": "30 ft", "count": 3}
WIRE: Table = {
    "name": "3 ft of wire", "material": "single strand", "strength": "270 lb", "diameter": "0.035 in",
    "length": "3 ft", "count": 3,
}  # fmt: skip
JET: Table = {
    "name": "jet", "head": "jet", "mass": "10 oz", "length": "9 in", "head_diameter": "1.25 in", "hooks": 2,
    "count": 3, "colours": ["black"],
}  # fmt: skip
BULLET: Table = {
    "name": "bullet", "head": "bullet", "mass": "6 oz", "length": "7 in", "head_diameter": "0.9 in", "hooks": 1,
    "count": 3, "colours": ["blue", "white"],
}  # fmt: skip
SWIVEL: Table = {"name": "300 lb swivel", "strength": "300 lb", "count": 9}
CRIMP: Table = {"name": "1.8 mm sleeve", "bore": "1.8 mm", "count": 30}

PATTERN: Table = {"speed": "15 kn", "turn_radius": "45 m", "turns": ["90 deg to port", "90 deg to starboard"],
           "straight_run": "0 m"}  # fmt: skip

SAMPLES = 16  # of the doubt: what most tests ask does not hang on it


def _written(value: Value) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, int | float):
        return str(value)
    return "[" + ", ".join(f'"{each}"' for each in value) + "]"


def _table(header: str, table: Table) -> str:
    return "\n".join([header, *(f"{key} = {_written(value)}" for key, value in table.items()), ""])


def _rod(rod: Table) -> str:
    """An 80 lb outfit, unless the table says otherwise."""
    usual: dict[str, Value] = {"strike_drag": "26 lb"}
    return _table("[[outfits]]", {**usual, **rod}) + (
        'reel = {name = "two-speed 50", holds = "650 yd", max_drag = "45 lb"}\n'
        'line = {material = "nylon", strength = "80 lb", length = "600 yd"}\n'
    )


def _side(distance: float, positive: str, negative: str) -> str:
    return f"{abs(distance):g} ft {positive if distance >= 0 else negative}" if distance else "0 ft"


def _station(station: tuple[str, float, float, float]) -> str:
    name, forward, port, up = station
    return _table("[[boat.stations]]", {
        "name": name, "tip_from_transom": _side(forward, "forward", "aft"),
        "tip_from_centreline": _side(port, "to port", "to starboard"), "tip_above_water": f"{up:g} ft",
    })  # fmt: skip


def trip_text(
    *,
    stations: Sequence[tuple[str, float, float, float]] = (PORT, STARBOARD, CENTRE),
    rods: Sequence[Table] = (RED, BLUE, GOLD),
    weights: Mapping[int, int] | None = None,
    shocks: Sequence[Table] = (SHOCK,),
    bites: Sequence[Table] = (WIRE,),
    lures: Sequence[Table] = (JET,),
    swivels: Sequence[Table] = (SWIVEL,),
    crimps: Sequence[Table] = (CRIMP,),
    hooks: Sequence[Table] = (),
    pattern: Table | None = None,
    wishes: Table | None = None,
    fixed: Sequence[Table] = (),
    banned: Sequence[Table] = (),
    spares: Table | None = None,
) -> str:
    """The text of a trip file; `weights` counts torpedoes by their ounces."""
    parts = ['title = "A small trip"\n[boat]\nname = "Small Boat"\n', *map(_station, stations), *map(_rod, rods)]
    for ounces, count in (weights or {16: 1, 32: 2, 64: 1, 96: 1}).items():
        cable: Table = {"name": f"{ounces} oz", "mass": f"{ounces} oz", "cable_strength": "600 lb", "count": count}
        parts.append(_table("[[shelf.weights]]", cable))
    for kind, pieces in (("shock_leaders", shocks), ("bite_leaders", bites), ("lures", lures),
                         ("snap_swivels", swivels), ("crimps", crimps), ("hooks", hooks)):  # fmt: skip
        parts += [_table(f"[[shelf.{kind}]]", piece) for piece in pieces]
    parts.append(_table("[pattern]", {**PATTERN, **(pattern or {})}))
    parts.append(_table("[wishes]", wishes or {}))
    parts += [_table("[[fixed]]", lock) for lock in fixed]
    parts += [_table("[[banned]]", ban) for ban in banned]
    parts.append(_table("[spares]", spares or {}))
    return "\n".join(parts)


def small_trip(**parts: object) -> Trip:
    """A small trip read from its text (see trip_text)."""
    return trip_from_text(trip_text(**parts))  # type: ignore[arg-type]


@lru_cache(maxsize=64)
def plan_of(text: str) -> Plan:
    """The plan of a trip's text, made once."""
    return make_plan(trip_from_text(text), samples=SAMPLES)


def small_plan(**parts: object) -> Plan:
    """The plan of a small trip (see trip_text)."""
    return plan_of(trip_text(**parts))  # type: ignore[arg-type]
