"""Every key a tow file may hold, as data: the reader and the manual both go by it, so that they cannot drift."""

from __future__ import annotations

from spreadwright.towfile.fields import (
    LARGEST_SEED,
    Several,
    direction,
    measure,
    name,
    number,
    one_of,
    sided,
    stiffness,
    time_or_run,
    truth,
    turn,
    whole,
)
from spreadwright.towfile.key import LEFT_OUT, Key, rows, table

MOST_LINES = 64
MOST_SECTIONS = 20
LONGEST_TIME = 7200.0  # [s]
ABEAM = sided("port", "starboard", 1000.0)
AHEAD = sided("forward", "aft", 1000.0)

TOP = (
    Key("title", "what this is", '"A steady turn"', name, '"Towed lines"'),
    Key("units", "units of the report: us or metric", '"metric"', one_of("us", "metric"), '"us"'),
    Key("water", "the water", "[water]", table, LEFT_OUT),
    Key("motion", "how the boat runs", "[motion]", table),
    Key("lines", "the towed lines, one table each", "[[lines]]", table),
    Key("numerics", "how finely to compute", "[numerics]", table, LEFT_OUT),
)
WATER = (
    Key("density", "density of the water", '"1025 kg/m3"', measure("density", 1.0, 20000.0), '"1025 kg/m3"'),
    Key("gravity", "acceleration of gravity", '"9.81 m/s2"', measure("acceleration", 0.0, 100.0), '"9.80665 m/s2"'),
    Key("surface", "false puts everything under water, rod tip included", "false", truth, "true"),
    Key("air_density", "density of the air", '"1.2 kg/m3"', measure("density", 0.0, 100.0), '"1.2 kg/m3"'),
    Key("current", "a current", "[water.current]", table, LEFT_OUT),
    Key("waves", "waves", "[water.waves]", table, LEFT_OUT),
    Key("wash", "the wash, one table a propeller", "[[water.wash]]", table, LEFT_OUT),
)
CURRENT = (
    Key("speed", "speed at the surface", '"1 kn"', measure("speed", 0.0, 10.0)),
    Key("towards", "where it runs to, from the boat's first heading", '"90 deg to port"', direction),
    Key(
        "depth", "depth at which `speed_below` is reached", '"20 m"', measure("length", 0.0, 1e4, above=True), LEFT_OUT
    ),
    Key(
        "speed_below",
        "speed at `depth` and under it, the same way",
        '"0.2 kn"',
        measure("speed", -10.0, 10.0),
        LEFT_OUT,
    ),
)
WAVES = (
    Key("height", "significant wave height", '"3 ft"', measure("length", 0.0, 20.0, above=True)),
    Key("period", "period of the peak", '"6 s"', measure("time", 1.0, 30.0)),
    Key("towards", "where they run to, from the boat's first heading", '"180 deg"', direction),
    Key("seed", "number that fixes their phases", "1", whole(0, LARGEST_SEED), "1"),
    Key("spread", "false runs them all the same way", "false", truth, "true"),
)
WASH = (
    Key("from_centreline", "propeller to port or starboard of the centreline", '"2 ft to port"', ABEAM),
    Key("depth", "depth of the propeller's hub", '"2 ft"', measure("length", 0.0, 30.0)),
    Key("diameter", "diameter of the propeller", '"16 in"', measure("length", 0.0, 10.0, above=True)),
    Key("speed", "speed of the wash as it leaves the propeller", '"16 kn"', measure("speed", 0.0, 60.0)),
)
KIND = Key("kind", "straight, circle, s-turn or track", '"straight"', one_of("straight", "circle", "s-turn", "track"))
_SPEED = Key("speed", "speed of the boat", '"15 kn"', measure("speed", 0.1, 50.0))
_RADIUS = Key("radius", "radius of the turn", '"45 m"', measure("length", 2.0, 1e6))
_DURATION = Key(
    "duration",
    "follow it over so long a time (needed where the water moves)",
    '"60 s"',
    measure("time", 1.0, LONGEST_TIME),
    LEFT_OUT,
)
MOTIONS = {
    "straight": (KIND, _SPEED, _DURATION),
    "circle": (
        KIND,
        _SPEED,
        _RADIUS,
        Key("side", "side it turns to: port or starboard", '"starboard"', one_of("port", "starboard"), '"port"'),
        _DURATION,
    ),
    "s-turn": (
        KIND,
        _SPEED,
        _RADIUS,
        Key(
            "turns",
            "heading changes, one after another, each with its side",
            '["60 deg to port", "60 deg to starboard"]',
            Several(turn, 1, 40),
        ),
        Key("lead_in", "straight run before the first turn: a time or a length", '"5 s"', time_or_run(600.0), '"3 s"'),
        Key("straight_run", "straight run between turns: a time or a length", '"50 m"', time_or_run(600.0), '"0 s"'),
        Key("lead_out", "straight run after the last turn: a time or a length", '"20 s"', time_or_run(600.0), '"15 s"'),
        Key(
            "turn_time",
            "time for a turn to develop: until 63 % of the full rate of turn",
            '"2 s"',
            measure("time", 0.0, 120.0),
            '"1.5 s"',
        ),
        Key("speed_loss", "share of the speed lost in the turns", '"10 %"', number(0.0, 0.8), '"0 %"'),
    ),
    "track": (
        KIND,
        Key("file", "a CSV file beside this one; its first row names the columns", '"track.csv"', name, LEFT_OUT),
        Key(
            "columns",
            "what the numbers of `points` are, with their units",
            '["t (s)", "x (m)", "y (m)"]',
            Several(name, 3, 3),
            LEFT_OUT,
        ),
        Key("points", "the track, one point a row", "[[0, 0, 0], [1, 7.7, 0]]", rows, LEFT_OUT),
    ),
}
LINE = (
    Key("name", "the line's name", '"port corner"', name),
    Key("like", "an earlier line: what this one leaves out is taken from it", '"port corner"', name, LEFT_OUT),
    Key(
        "tip_above_water",
        "rod tip above still water; may be negative without a surface",
        '"8 ft"',
        measure("length", -1e4, 100.0),
    ),
    Key("tip_from_transom", "rod tip forward or aft of the transom", '"4 ft aft"', AHEAD, '"0 ft"'),
    Key("tip_from_centreline", "rod tip to port or to starboard of the centreline", '"7 ft to port"', ABEAM, '"0 ft"'),
    Key("sections", "the line's sections from the rod tip on, one table each", "[[lines.sections]]", table),
)
_DRAG = number(0.0, 1e6)
SECTION = (
    Key("name", "the section's name", '"main line"', name, LEFT_OUT),
    Key("length", "length without pull", '"300 ft"', measure("length", 0.01, 5000.0)),
    Key("diameter", "diameter", '"1.1 mm"', measure("diameter", 0.0, 1.0, above=True)),
    Key(
        "density",
        "density of the material; or `weight_in_water`",
        '"1140 kg/m3"',
        measure("density", 0.0, 30000.0, above=True),
        LEFT_OUT,
    ),
    Key(
        "weight_in_water",
        "weight in the water for each length; negative floats",
        '"0.1 N/m"',
        measure("force_per_length", -1e4, 1e4),
        LEFT_OUT,
    ),
    Key(
        "stiffness",
        "axial stiffness EA: the force that would double its length; or inextensible",
        '"1300 N"',
        stiffness,
    ),
    Key("stiffening", "k in T = EA e (1 + k e2), e the stretch", "12", number(0.0, 1e6), "0"),
    Key("damping_time", "axial damping: stiffness times this time", '"1 ms"', measure("time", 0.0, 10.0), '"0 s"'),
    Key("normal_drag", "drag coefficient across the line, on its diameter", "1.2", _DRAG, "1.2"),
    Key("tangential_drag", "drag coefficient along the line, on its skin", "0.01", _DRAG, "0.015"),
    Key("added_mass", "added-mass coefficient across the line", "1", _DRAG, "1"),
    Key(
        "tangential_force",
        "a constant drag along the line for each length, beside the other",
        '"0.7 N/m"',
        measure("force_per_length", 0.0, 1e4),
        '"0 N/m"',
    ),
    Key("body", "what hangs at its far end", "[lines.sections.body]", table, LEFT_OUT),
)
_AREA = measure("area", 0.0, 1000.0)
BODY = (
    Key("name", "the body's name", '"lead"', name, LEFT_OUT),
    Key("mass", "mass", '"32 oz"', measure("mass", 0.0, 1e6)),
    Key("volume", "volume it displaces; or `density`", '"80 cm3"', measure("volume", 0.0, 1e4), LEFT_OUT),
    Key("density", "density; or `volume`", '"11340 kg/m3"', measure("density", 0.0, 30000.0, above=True), LEFT_OUT),
    Key(
        "drag_law",
        "isotropic: the same from all sides; slender: along and across the line",
        '"slender"',
        one_of("isotropic", "slender"),
        '"isotropic"',
    ),
    Key("drag_area", "isotropic: drag coefficient times area", '"2.9 cm2"', _AREA, LEFT_OUT),
    Key("axial_area", "slender: drag coefficient times area along the line", '"3 cm2"', _AREA, LEFT_OUT),
    Key("normal_area", "slender: drag coefficient times area across the line", '"90 cm2"', _AREA, LEFT_OUT),
    Key("added_mass", "added-mass coefficient on the volume", "0.5", _DRAG, "0.5"),
    Key(
        "force",
        "a force from outside: forward, to port, up",
        '["0 N", "0 N", "-5 N"]',
        Several(measure("force", -1e7, 1e7), 3, 3),
        LEFT_OUT,
    ),
)
NUMERICS = (
    Key(
        "mesh_scale",
        "length of all pieces of the mesh: half of it is twice as fine (0.125 for a steady shape, 0.25 over time)",
        "0.5",
        number(0.02, 4.0),
        LEFT_OUT,
    ),
    Key("step", "time step", '"0.02 s"', measure("time", 1e-4, 0.5), '"0.05 s"'),
    Key("store_every", "time between stored moments", '"0.1 s"', measure("time", 1e-4, 60.0), '"0.5 s"'),
)

# The tables as the manual lists them: header, and the keys under it.
TABLES: dict[str, tuple[Key, ...]] = {
    "at the top of the file": TOP,
    "[water]": WATER,
    "[water.current]": CURRENT,
    "[water.waves]": WAVES,
    "[[water.wash]]": WASH,
    '[motion] kind = "straight"': MOTIONS["straight"],
    '[motion] kind = "circle"': MOTIONS["circle"],
    '[motion] kind = "s-turn"': MOTIONS["s-turn"],
    '[motion] kind = "track"': MOTIONS["track"],
    "[[lines]]": LINE,
    "[[lines.sections]]": SECTION,
    "[lines.sections.body]": BODY,
    "[numerics]": NUMERICS,
}
