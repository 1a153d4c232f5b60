"""Makes moordyn_s_turn.npz: MoorDyn on the S-turn of s_turn_case.py at three spacings, stiff and nylon-soft lines.

Run: python -m tests.outside.references.make_moordyn_s_turn [spacing stiffness]... then again with `join`.
Each run takes from a minute (1 m) to half an hour (0.25 m) on one core and leaves a file in the system's temporary
folder; `join` gathers those that are there. Stored every 0.5 s from the start of the turn: places of weight and lure
about the boat's origin, tension of the top segment, and from the finest stiff run the whole lines (earth frame) every
2.5 s at 1 m along the line. Settings and version are in the `header` entry.
"""

from __future__ import annotations

import json
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from tests.outside.references import moordyn_run, s_turn_case

RUNS = (
    (1.0, s_turn_case.STIFF),
    (0.5, s_turn_case.STIFF),
    (0.25, s_turn_case.STIFF),
    (1.0, s_turn_case.SOFT),
    (0.5, s_turn_case.SOFT),
)
STORE_EVERY = 0.5
SHAPES_EVERY = 5  # stored times
TARGET = Path(__file__).with_name("moordyn_s_turn.npz")


def inner_step(spacing: float, stiffness: float) -> float:
    """Inner step [s]: stable for RK4, a divisor of the outer step."""
    return 2.5e-4 * spacing if stiffness == s_turn_case.STIFF else 5e-4 * spacing


def scratch(spacing: float, stiffness: float) -> Path:
    """Where one run leaves its result."""
    return Path(tempfile.gettempdir()) / f"moordyn_s_turn_{spacing}_{stiffness:.0f}.npz"


def simulate(spacing: float, stiffness: float, step_factor: float = 1.0) -> moordyn_run.History:
    """One MoorDyn run, stored from the start of the turn."""
    case = moordyn_run.Case(
        lines=s_turn_case.lines(spacing, stiffness),
        tow_points=lambda t: s_turn_case.tow_points(t - s_turn_case.START),
        density=s_turn_case.DENSITY,
        gravity=s_turn_case.GRAVITY,
        inner_step=inner_step(spacing, stiffness) * step_factor,
        outer_step=s_turn_case.OUTER_STEP,
    )
    until = s_turn_case.START + s_turn_case.UNTIL
    return moordyn_run.run(case, s_turn_case.START, until, STORE_EVERY, shapes=True)


def coarse(shape: np.ndarray, spacing: float) -> np.ndarray:
    """Keep the nodes at every whole metre (the joint at the weight appears twice, as in the two parts)."""
    return shape[:: round(1 / spacing)] if spacing < 1 else shape


def save(spacing: float, stiffness: float) -> None:
    """Run once and leave the result in the temporary folder."""
    began = time.perf_counter()
    history = simulate(spacing, stiffness)
    took = time.perf_counter() - began
    parts = s_turn_case.lines(spacing, stiffness)
    picked = []
    for shape in history.shapes[::SHAPES_EVERY]:
        row = []
        for line, nodes in zip(parts, shape, strict=True):
            main = line[0].segments + 1
            row += [coarse(nodes[:main], spacing), coarse(nodes[main:], spacing)]
        picked.append(np.concatenate(row))
    np.savez(
        scratch(spacing, stiffness),
        times=np.array(history.times),
        bodies=np.array(history.bodies),
        tensions=np.array(history.tensions),
        shapes=np.array(picked),
        seconds=took,
    )


def join() -> None:
    """Gather the runs into the stored reference."""
    content: dict[str, np.ndarray] = {}
    settings = []
    made = [chosen for chosen in RUNS if scratch(*chosen).exists()]
    finest = min(spacing for spacing, stiffness in made if stiffness == s_turn_case.STIFF)
    for spacing, stiffness in made:
        run = np.load(scratch(spacing, stiffness))
        name = f"{'stiff' if stiffness == s_turn_case.STIFF else 'soft'}_{round(spacing * 100)}cm"
        content["times"] = run["times"]
        way = np.array([[*s_turn_case.origin(t), 0.0] for t in run["times"]])
        bodies = run["bodies"].reshape(len(way), len(s_turn_case.TIPS), 2, 3) - way[:, None, None, :]
        content[f"{name}_bodies"] = bodies.astype(np.float32)
        content[f"{name}_tensions"] = run["tensions"].reshape(len(run["times"]), -1).astype(np.float32)
        settings.append(
            {
                "name": name,
                "spacing_m": spacing,
                "stiffness_N": stiffness,
                "inner_step_s": inner_step(spacing, stiffness),
                "seconds": float(run["seconds"]),
            }
        )
        if (spacing, stiffness) == (finest, s_turn_case.STIFF):
            content["shapes"] = run["shapes"].astype(np.float32)
            content["shape_times"] = run["times"][::SHAPES_EVERY]
    header = {
        "code": f"MoorDyn {moordyn_run.moordyn_version()}",
        "scheme": "RK4",
        "outer_step_s": s_turn_case.OUTER_STEP,
        "case": "tests/outside/references/s_turn_case.py",
        "runs": settings,
    }
    np.savez_compressed(TARGET, header=np.array(json.dumps(header)), **content)  # type: ignore[arg-type]


if __name__ == "__main__":
    arguments = sys.argv[1:]
    if arguments == ["join"]:
        join()
    elif arguments:
        save(float(arguments[0]), float(arguments[1]))
    else:
        for chosen in RUNS:
            save(*chosen)
        join()
