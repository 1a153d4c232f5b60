"""Makes moordyn_turns.json: MoorDyn on the steady turns of check-values A9 at 100 and 50 m, refined in segments.

Run: python -m tests.outside.references.make_moordyn_turns      (about fifteen minutes on one core)
One line as in A9, tow point 5 m under water on a circle at 15 kn, started from rest over 10 s and marched to 60 s,
when body radius, drop and top tension have settled to 1e-5. RK4, inner step 12 ms over the count of segments,
EA 2e4 N, MoorDyn's damping ratio 0.5. `tension` is that of the top segment: its middle, half a segment down.
"""

from __future__ import annotations

import json
from math import cos, hypot, sin
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from tests.outside.references import cases
from tests.outside.references.moordyn_run import Case, Part, moordyn_version, run

SPEED = 15 * cases.KNOT
RAMP, UNTIL = 10.0, 60.0
STIFFNESS = 2e4
SEGMENTS = (60, 120, 240, 480)
CIRCLES = (100.0, 50.0)
LIVE = (50.0, 30)  # the run that the tests repeat on the spot
TARGET = Path(__file__).with_name("moordyn_turns.json")


def tow_point(circle: float, time: float) -> NDArray[np.float64]:
    """Place [m] of the tow point on its circle about (0, circle), counter-clockwise, speed ramped up linearly."""
    way = SPEED * time**2 / (2 * RAMP) if time < RAMP else SPEED * (time - RAMP / 2)
    angle = way / circle
    return np.array([[circle * sin(angle), circle - circle * cos(angle), -5.0]])


def trolling_part(segments: int) -> Part:
    """The line of A9 with its kilogram of lead."""
    return Part(
        length=cases.LINE_LENGTH,
        diameter=cases.LINE_DIAMETER,
        density=cases.LINE_DENSITY,
        stiffness=STIFFNESS,
        normal_drag=cases.LINE_NORMAL_DRAG,
        tangential_drag=cases.LINE_TANGENTIAL_DRAG,
        added_mass=1.0,
        segments=segments,
        body_mass=cases.LEAD_MASS,
        body_volume=cases.LEAD_VOLUME,
        body_drag_area=cases.LEAD_DRAG_AREA,
        body_added_mass=0.0,
    )


def steady_turn(circle: float, segments: int, until: float = UNTIL) -> dict[str, float]:
    """Body radius, drop below the tow point [m] and top segment's tension [N] at the end of a run."""
    case = Case(
        lines=((trolling_part(segments),),),
        tow_points=lambda t: tow_point(circle, t),
        density=cases.DENSITY,
        gravity=cases.GRAVITY,
        inner_step=0.012 / segments,
        outer_step=0.01,
    )
    history = run(case, until, until, 1.0)
    x, y, z = history.bodies[-1][0, 0]
    return {"radius": hypot(x, y - circle), "drop": -5.0 - float(z), "tension": float(history.tensions[-1][0])}


def main() -> None:
    """Run all and write the file."""
    rows = [
        {"circle": circle, "segments": count, **steady_turn(circle, count)} for circle in CIRCLES for count in SEGMENTS
    ]
    live = {"circle": LIVE[0], "segments": LIVE[1], **steady_turn(*LIVE)}
    header = {"code": f"MoorDyn {moordyn_version()}", "scheme": "RK4", "generator": Path(__file__).name}
    TARGET.write_text(json.dumps({"header": header, "rows": rows, "live": live}, indent=1) + "\n", encoding="ascii")


if __name__ == "__main__":
    main()
