"""The S-turn that both codes run: 80 s at 15 kn, six nylon lines of 30 to 120 m, rod tips 5 m under water.

Gear and constants are those of the outside check against the same peer (tests/outside/references/s_turn_case.py);
the track is the product's own S-turn, 90 degrees to port, 180 to starboard, 90 to port at a radius of 45 m, tighter
than the one there. Under water, because the two codes treat the surface differently; isotropic bodies, because the
peer has no others.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from tests.outside.references import s_turn_case
from tests.outside.references.cases import KNOT
from tests.outside.references.moordyn_run import Part

from spreadwright.tow.line import Body, Line, Sea, Section
from spreadwright.tow.track import Track, s_turn, tip_motion

Floats = NDArray[np.float64]

SPEED = 15 * KNOT  # [m/s]
RADIUS = 45.0  # [m]
DURATION = 80.0  # [s]
LEAD_IN, BETWEEN = 3.0, 5.0  # [s]
STORED = 0.5  # [s] between the times at which the two codes' bodies are compared with their converged runs
GOAL = 0.02  # [m]: largest error of a body's place at any stored time

SEA = Sea(density=s_turn_case.DENSITY, gravity=s_turn_case.GRAVITY, surface=False)
LENGTHS = tuple(mark + s_turn_case.LEADER for mark in s_turn_case.MARKS)


def parts(spacings: tuple[float, ...]) -> tuple[tuple[Part, ...], ...]:
    """The six lines, each cut into segments of about its spacing [m]."""
    whole = s_turn_case.lines(1.0, s_turn_case.SOFT)
    return tuple(
        tuple(replace(part, segments=max(1, round(part.length / spacing))) for part in line)
        for line, spacing in zip(whole, spacings, strict=True)
    )


def lines() -> list[Line]:
    """The same six lines for the core."""
    made = []
    for number, (tip, pieces) in enumerate(zip(s_turn_case.TIPS, parts((1.0,) * 6), strict=True), start=1):
        sections = tuple(
            Section(
                length=piece.length,
                diameter=piece.diameter,
                density=piece.density,
                stiffness=piece.stiffness,
                normal_drag=piece.normal_drag,
                tangential_drag=piece.tangential_drag,
                added_mass=piece.added_mass,
            )
            for piece in pieces
        )
        bodies = tuple(
            Body(piece.body_mass, piece.body_volume, drag_area=piece.body_drag_area, added_mass=piece.body_added_mass)
            for piece in pieces
        )
        made.append(Line(f"line {number}", tip, sections, bodies))
    return made


def track(duration: float = DURATION) -> Track:
    """The boat's track; a shorter duration [s] cuts the straight run after the turns, or all turns if need be."""
    quarter = math.pi / 2
    turning = 4 * quarter * RADIUS / SPEED
    lead_out = duration - LEAD_IN - 2 * BETWEEN - turning
    if lead_out < 0.0:
        lead_in = min(LEAD_IN, 0.5 * duration)
        return s_turn(SPEED, RADIUS, (SPEED / RADIUS * (duration - lead_in),), lead_in, lead_out=0.0)
    return s_turn(SPEED, RADIUS, (quarter, -2 * quarter, quarter), LEAD_IN, BETWEEN, lead_out)


def tip_path(settling: float, ramp: float, step: float, duration: float) -> Floats:
    """Rod tips every `step` [s], (times, 6, 3) [m], for a code that starts from rest.

    Full speed is reached after `ramp` [s]; the S-turn starts after `settling` [s] at the boat's origin (0, 0).
    """
    count = round((settling + duration) / step) + 2
    since = np.arange(count) * step
    time = since - settling
    places, _ = tip_motion(track(duration), np.clip(time, 0.0, duration), np.array(s_turn_case.TIPS))
    started = np.minimum(since, ramp)
    way = SPEED * (0.5 * started - ramp / (2 * math.pi) * np.sin(math.pi * started / ramp))
    way += SPEED * np.maximum(since - ramp, 0.0)
    before = time < 0.0
    places[before, :, 0] += (way - SPEED * (settling - 0.5 * ramp))[before, None]
    return places
