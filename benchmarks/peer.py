"""MoorDyn 2 (open-source mooring dynamics, PyPI `moordyn`) on the S-turn: timed runs, and its converged run.

Fairness. Timed is only the stepping of the S-turn itself, as processor time; start-up and settling are not. Every line
may have its own spacing, and every scheme its own largest step (see search.py). The driver calls Step every 0.05 s:
under 1 % of the time. Each run is a process of its own, because a diverging run may end in an exception from C++.

Run `python -m benchmarks.peer` to make moordyn_converged.npz anew (some minutes): every line at 0.3 m, RK4, which is a
quarter of the spacing at which its error falls under 2 cm.
"""

from __future__ import annotations

import json
import multiprocessing
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from tests.outside.references.moordyn_run import Case, input_text, moordyn_version, silence

from benchmarks import case
from benchmarks.case import Floats

SETTLING, RAMP = 60.0, 8.0  # [s]
OUTER_STEP = 0.05  # [s]
CONVERGED_SPACING, CONVERGED_STEP = 0.3, 2.4e-4  # [m], [s]
RK4_STEP = 7e-4  # [s] a metre of spacing: a little under its limit
CONVERGED = Path(__file__).with_name("moordyn_converged.npz")


@dataclass(frozen=True)
class Setting:
    """Spacing of each line [m], inner step [s], scheme and damping ratio of the segments, all as MoorDyn names them."""

    spacings: tuple[float, ...]
    step: float
    scheme: str = "RK4"
    damping: float = 0.5

    @property
    def nodes(self) -> int:
        """Segments of all lines, which is also their free nodes."""
        return sum(part.segments for line in case.parts(self.spacings) for part in line)


# The fastest settings found, by search.py and then by hand about its best: at these spacings Euler's larger steps and
# line 6's coarser segments both leave 2 cm. The benchmark runs them all and takes the fastest that keeps the goal.
SPACINGS = (1.7, 1.7, 1.7, 1.45, 1.7, 1.2)  # [m]
FASTEST = (
    Setting(SPACINGS, 4.85e-4, "Euler", 0.6),
    Setting(SPACINGS, 4.7e-4, "Euler", 0.6),
    Setting(SPACINGS, 4.4e-4, "Euler", 0.6),
    Setting((1.7, 1.7, 1.7, 1.45, 1.6, 1.25), 1.3e-3, "Midpoint3"),
)


@dataclass(frozen=True)
class Run:
    """Bodies (line, time, body, 3) [m] every case.STORED seconds, and the processor time that the S-turn took [s]."""

    bodies: Floats
    seconds: float


def run(setting: Setting, duration: float = case.DURATION, settling: float = SETTLING) -> Run | None:
    """One MoorDyn run in a process of its own; None if it diverged. duration, settling [s]."""
    context = multiprocessing.get_context("spawn")
    receiver, sender = context.Pipe(duplex=False)
    child = context.Process(target=_child, args=(sender, setting, duration, settling))
    child.start()
    sender.close()
    try:
        answer: Run | None = receiver.recv()
    except EOFError:  # the process ended in C++
        answer = None
    child.join()
    return answer


def _child(sender: object, setting: Setting, duration: float, settling: float) -> None:
    with silence():
        sender.send(_march(setting, duration, settling))  # type: ignore[attr-defined]


def _march(setting: Setting, duration: float, settling: float) -> Run | None:
    import moordyn

    tips = case.tip_path(settling, RAMP, OUTER_STEP, duration)
    description = Case(
        lines=case.parts(setting.spacings),
        tow_points=lambda t: np.asarray(tips[round(t / OUTER_STEP)]),
        density=case.SEA.density,
        gravity=case.SEA.gravity,
        inner_step=setting.step,
        outer_step=OUTER_STEP,
        scheme=setting.scheme,
        damping=setting.damping,
    )
    bodies: list[Floats] = []
    begun = 0.0
    first, stride = round(settling / OUTER_STEP), round(case.STORED / OUTER_STEP)
    last = first + round(duration / OUTER_STEP)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "lines.txt"
        path.write_text(input_text(description), encoding="ascii")
        system = moordyn.Create(str(path))
        try:
            moordyn.Init_NoIC(system, list(tips[0].ravel()), [0.0] * tips[0].size)
            ends = [moordyn.GetLine(system, i + 1) for i in range(2 * len(description.lines))]
            for k in range(last + 1):
                if k == first:
                    begun = time.process_time()
                if k % stride == first % stride:
                    here = np.array([moordyn.GetLineNodePos(line, 0) for line in ends])
                    if not np.isfinite(here).all() or np.abs(here[:, 2]).max() > 100.0:
                        return None
                    if k >= first:
                        bodies.append(here.reshape(-1, 2, 3))
                if k == last:
                    break
                speed = (tips[k + 1] - tips[k]) / OUTER_STEP
                moordyn.Step(system, list(tips[k].ravel()), list(speed.ravel()), k * OUTER_STEP, OUTER_STEP)
            seconds = time.process_time() - begun
        except Exception:  # noqa: BLE001 - whatever the wrapper raises means that the run diverged
            return None
        finally:
            moordyn.Close(system)
    return Run(np.array(bodies).transpose(1, 0, 2, 3), seconds)


def errors(found: Run, converged: Floats) -> Floats:
    """Largest distance of each line's bodies from the converged run's, over the stored times [m]."""
    count = found.bodies.shape[1]
    return np.asarray(np.linalg.norm(found.bodies - converged[:, :count], axis=-1).max(axis=(1, 2)))


def converged() -> Floats:
    """Bodies of the stored converged run, (line, time, body, 3) [m]."""
    with np.load(CONVERGED) as stored:
        return np.asarray(stored["bodies"], dtype=float)


def main() -> None:
    """Make the converged run and the one at twice its spacing, which tells how far it may still be off."""
    runs = []
    for spacing in (2 * CONVERGED_SPACING, CONVERGED_SPACING):
        found = run(Setting((spacing,) * 6, CONVERGED_STEP * spacing / CONVERGED_SPACING))
        if found is None:
            raise SystemExit(f"MoorDyn diverged at a spacing of {spacing} m: make its step smaller")
        runs.append(found)
    header = {
        "code": f"MoorDyn {moordyn_version()}",
        "scheme": "RK4",
        "spacing_m": CONVERGED_SPACING,
        "step_s": CONVERGED_STEP,
        "settling_s": SETTLING,
        "seconds": round(runs[1].seconds, 1),
        "difference_from_twice_the_spacing_m": round(float(errors(runs[0], runs[1].bodies).max()), 5),
    }
    np.savez_compressed(CONVERGED, bodies=runs[1].bodies.astype(np.float32), header=np.array(json.dumps(header)))
    print(header)


if __name__ == "__main__":
    main()
