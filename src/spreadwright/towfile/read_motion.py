"""Reads how the boat runs, how the water moves and how finely to compute."""

from __future__ import annotations

import math

from spreadwright.quantity import quote
from spreadwright.tackle.toml_lines import Path
from spreadwright.tow.line import Sea
from spreadwright.towfile.keys import CURRENT, KIND, MOTIONS, NUMERICS, WASH, WATER, WAVES
from spreadwright.towfile.read_track import Folder, read_track
from spreadwright.towfile.reading import Found, Reading
from spreadwright.towfile.values import (
    Circle,
    Current,
    Motion,
    MovingWater,
    Numerics,
    Propeller,
    Straight,
    STurn,
    Waves,
)

STEEPEST = 1.0 / 7.0  # height over length at which a wave breaks (Michell 1893: 0.142)
MOST_PROPELLERS = 6

# Scales of the mesh where the file names none. At the tow core's own mesh (1) the body of a 60 m line runs 2 % too
# shallow, at 0.25 by 0.1 %, at 0.125 by 0.03 %: a check of the physics wants that, and one line is soon computed.
STEADY_MESH = 0.125
MOVING_MESH = 0.25


def read_water(reading: Reading, top: Found) -> tuple[Sea | None, MovingWater]:
    """The water, None where it is faulty, and what moves it."""
    found = reading.read(("water",), top.raw.get("water", {}), WATER)
    sea = None
    if found.sound:
        sea = Sea(found["density"], found["gravity"], found["air_density"], surface=found["surface"])
    moving = MovingWater(_current(reading, found), _waves(reading, found), _wash(reading, found))
    return sea, moving


def _current(reading: Reading, water: Found) -> Current | None:
    if "current" not in water:
        return None
    found = reading.read((*water.path, "current"), water.raw["current"], CURRENT)
    for one, other in (("depth", "speed_below"), ("speed_below", "depth")):
        if one in found and other not in found:
            rule = f"'{one}' and '{other}' go together: the current changes evenly down to that depth"
            reading.fault((*found.path, other), "nothing", rule, f"add {other}, or remove {one}")
            found.faulty.add(other)
    if not found.sound:
        return None
    below = found["speed"] if found["speed_below"] is None else found["speed_below"]
    cos, sin = math.cos(found["towards"]), math.sin(found["towards"])
    return Current((found["speed"] * cos, found["speed"] * sin), (below * cos, below * sin), found["depth"] or 1.0)


def _waves(reading: Reading, water: Found) -> Waves | None:
    if "waves" not in water:
        return None
    path = (*water.path, "waves")
    found = reading.read(path, water.raw["waves"], WAVES)
    if water["surface"] is False:
        reading.fault(
            path, "waves in water without a surface", "waves need a surface", "remove surface = false or them"
        )
        return None
    gravity = water["gravity"]
    if not found.sound or gravity is None:
        return None
    if gravity == 0.0:
        reading.fault(path, "waves without gravity", "waves need gravity", "correct gravity, or remove the waves")
        return None
    longest = gravity * found["period"] ** 2 / (2.0 * math.pi)
    if found["height"] > STEEPEST * longest:
        rule = f"waves of {found['period']:g} s are {longest:.3g} m long and break above {STEEPEST * longest:.3g} m"
        reading.fault((*path, "height"), quote(found.raw["height"]), rule, "lower the height, or lengthen the period")
        return None
    return Waves(found["height"], found["period"], found["towards"], found["seed"], found["spread"])


def _wash(reading: Reading, water: Found) -> tuple[Propeller, ...]:
    propellers = []
    for path, raw in reading.tables(water, "wash", "[[water.wash]]", MOST_PROPELLERS):
        found = reading.read(path, raw, WASH)
        if found.sound:
            propellers.append(Propeller(found["from_centreline"], found["depth"], found["diameter"], found["speed"]))
    return tuple(propellers)


def read_motion(reading: Reading, top: Found, folder: Folder) -> Motion | None:
    """How the boat runs; None where that is faulty."""
    raw = top.raw.get("motion")
    if raw is None:
        return None
    path = ("motion",)
    kind = raw.get("kind") if isinstance(raw, dict) else None
    keys = MOTIONS.get(kind.strip().lower()) if isinstance(kind, str) else None
    if keys is None:  # what belongs to it depends on the kind: only that can be told now
        reading.read(path, {"kind": kind} if kind is not None else {} if isinstance(raw, dict) else raw, (KIND,))
        return None
    found = reading.read(path, raw, keys)
    match found["kind"]:
        case "track":
            return read_track(reading, found, folder)
        case _ if not found.sound:
            return None
        case "straight":
            return Straight(found["speed"], found["duration"])
        case "circle":
            sign = 1.0 if found["side"] == "port" else -1.0
            return Circle(found["speed"], sign * found["radius"], found["duration"])
        case _:
            return _s_turn(found)


def _s_turn(found: Found) -> STurn:
    speed = found["speed"]

    def seconds(name: str) -> float:
        kind, value = found[name]
        return float(value if kind == "time" else value / speed)

    return STurn(
        speed,
        found["radius"],
        found["turns"],
        seconds("lead_in"),
        seconds("straight_run"),
        seconds("lead_out"),
        found["turn_time"],
        found["speed_loss"],
    )


def check_duration(reading: Reading, motion: Motion | None, moving: MovingWater) -> None:
    """Where the water moves there is no steady shape: the time to follow the lines over must be said."""
    if moving.moves and isinstance(motion, Straight | Circle) and motion.duration is None:
        reading.fault(
            ("motion", "duration"),
            "nothing",
            "'duration' is needed where the water moves: nothing is steady then, and the lines are followed over time",
            'add duration = "60 s"',
        )


def read_numerics(reading: Reading, top: Found, motion: Motion | None) -> Numerics | None:
    """How finely to compute; None where that is faulty."""
    path: Path = ("numerics",)
    found = reading.read(path, top.raw.get("numerics", {}), NUMERICS)
    if not found.sound:
        return None
    if found["store_every"] < found["step"] * (1.0 - 1e-9) and "store_every" in found:
        rule = "a moment cannot be stored more often than it is computed"
        reading.fault((*path, "store_every"), quote(found.raw["store_every"]), rule, "lengthen it, or shorten step")
        return None
    every = max(1, round(found["store_every"] / found["step"]))
    steady = isinstance(motion, Straight | Circle) and motion.duration is None
    return Numerics(found["mesh_scale"] or (STEADY_MESH if steady else MOVING_MESH), found["step"], every)
