"""Runs MoorDyn 2 (open-source mooring dynamics, PyPI `moordyn`) on lines towed under water along given tracks.

Conventions that matter (read in its sources, Line.cpp and Point.cpp):
- Line drag is 1/2 rho Cdn d l |vp| vp + 1/2 rho Cdt pi d l |vq| vq, split between the two nodes of a segment, with
  the unstretched length l and diameter d, each node using a tangent averaged over its two neighbours; the end
  nodes use their own segment's tangent. The line is thus first order in 1/N where it bends sharply.
- Added mass Ca rho V acts on the normal acceleration; a free point carries M + rho Ca V and 1/2 rho CdA |v| v.
- A coupled point moves at constant velocity within one call of Step, so the driver passes chord velocities.
"""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from importlib.metadata import version
from math import pi
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Part:
    """A piece of line and the free point at its far end: geometry, line constants and body constants (SI)."""

    length: float
    diameter: float
    density: float
    stiffness: float
    normal_drag: float
    tangential_drag: float
    added_mass: float
    segments: int
    body_mass: float
    body_volume: float
    body_drag_area: float
    body_added_mass: float


@dataclass(frozen=True)
class Case:
    """Towed lines, each a tuple of parts from the tow point to the far end, and the settings of one run.

    `tow_points(t)` gives the places [m] of all tow points, shape (lines, 3). `damping` is MoorDyn's ratio.
    """

    lines: tuple[tuple[Part, ...], ...]
    tow_points: Callable[[float], Array]
    density: float
    gravity: float
    inner_step: float
    outer_step: float
    scheme: str = "RK4"
    damping: float = 0.5


@dataclass
class History:
    """What a run gives at the stored times [s]: places of bodies [m] (times, lines, parts, 3), tension at the tow point
    from the top segment's strain [N] (times, lines), and node places of every line at the last time."""

    times: list[float] = field(default_factory=list)
    bodies: list[Array] = field(default_factory=list)
    tensions: list[Array] = field(default_factory=list)
    shapes: list[list[Array]] = field(default_factory=list)


def moordyn_version() -> str:
    """Version of the installed package."""
    return version("moordyn")


def input_text(case: Case) -> str:
    """MoorDyn's input file for a case; every line starts straight, level and unstretched behind its tow point."""
    kinds: list[str] = []
    points: list[str] = []
    lines: list[str] = []
    point = 0
    for parts, tip in zip(case.lines, case.tow_points(0.0), strict=True):
        point += 1
        points.append(f"{point} Coupled {tip[0]:.12g} {tip[1]:.12g} {tip[2]:.12g} 0 0 0 0")
        x = float(tip[0])
        for part in parts:
            point += 1
            x -= part.length
            points.append(
                f"{point} Free {x:.12g} {tip[1]:.12g} {tip[2]:.12g} {part.body_mass:.12g} {part.body_volume:.12g} "
                f"{part.body_drag_area:.12g} {part.body_added_mass:.12g}"
            )
            mass = part.density * pi * part.diameter**2 / 4
            number = len(kinds) + 1
            kinds.append(
                f"k{number} {part.diameter:.12g} {mass:.12g} {part.stiffness:.12g} {-case.damping:.6g} 0 "
                f"{part.normal_drag:.12g} {part.added_mass:.12g} {part.tangential_drag:.12g} 0"
            )
            lines.append(f"{number} k{number} {point} {point - 1} {part.length:.12g} {part.segments} -")
    return "\n".join(
        [
            "--------------------- MoorDyn input, gear under tow ---------------------",
            "---------------------- LINE TYPES ---------------------",
            "Name Diam MassDen EA BA/-zeta EI Cd Ca CdAx CaAx",
            "(-) (m) (kg/m) (N) (N-s/-) (N-m^2) (-) (-) (-) (-)",
            *kinds,
            "---------------------- POINTS ---------------------",
            "ID Type X Y Z Mass Volume CdA Ca",
            "(#) (-) (m) (m) (m) (kg) (m^3) (m^2) (-)",
            *points,
            "---------------------- LINES ---------------------",
            "ID LineType AttachA AttachB UnstrLen NumSegs Outputs",
            "(#) (-) (-) (-) (m) (-) (-)",
            *lines,
            "---------------------- OPTIONS ---------------------",
            f"{case.inner_step:.9g} dtM",
            f"{case.scheme} tScheme",
            f"{case.density:.12g} WtrDnsty",
            f"{case.gravity:.12g} g",
            "1000 WtrDpth",
            "0 TmaxIC",
            "0 writeLog",
            "---------------------- END ---------------------",
            "",
        ]
    )


@contextlib.contextmanager
def silence() -> Iterator[None]:
    """Send the process's stdout and stderr to nowhere: MoorDyn's C++ writes there at every start."""
    sys.stdout.flush()
    sys.stderr.flush()
    kept = [os.dup(1), os.dup(2)]
    with open(os.devnull, "w", encoding="ascii") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        os.dup2(nowhere.fileno(), 2)
        try:
            yield
        finally:
            for handle, number in zip(kept, (1, 2), strict=True):
                os.dup2(handle, number)
                os.close(handle)


def run(case: Case, store_from: float, until: float, store_every: float, shapes: bool = False) -> History:
    """March from rest to `until` [s]; store from `store_from` on, every `store_every` [s] (a multiple of the step)."""
    import moordyn

    history = History()
    stride = round(store_every / case.outer_step)
    first = round(store_from / case.outer_step)
    with tempfile.TemporaryDirectory() as folder, silence():
        path = Path(folder) / "lines.txt"
        path.write_text(input_text(case), encoding="ascii")
        system = moordyn.Create(str(path))
        try:
            here = case.tow_points(0.0)
            moordyn.Init_NoIC(system, list(here.ravel()), [0.0] * here.size)
            for k in range(round(until / case.outer_step) + 1):
                if k >= first and (k - first) % stride == 0:
                    store(moordyn, system, case, history, (k - first) * case.outer_step, shapes)
                there = case.tow_points((k + 1) * case.outer_step)
                speed = (there - here) / case.outer_step
                moordyn.Step(system, list(here.ravel()), list(speed.ravel()), k * case.outer_step, case.outer_step)
                here = there
        finally:
            moordyn.Close(system)
    return history


def store(moordyn: object, system: object, case: Case, history: History, time: float, shapes: bool) -> None:
    """Read the state of all bodies and top segments."""
    bodies, tensions, nodes, number = [], [], [], 0
    for parts in case.lines:
        row = []
        places = []
        for part in parts:
            number += 1
            line = moordyn.GetLine(system, number)  # type: ignore[attr-defined]
            row.append(moordyn.GetLineNodePos(line, 0))  # type: ignore[attr-defined]
            if shapes or part is parts[0]:
                wanted = range(part.segments + 1) if shapes else (part.segments - 1, part.segments)
                places.append(np.array([moordyn.GetLineNodePos(line, i) for i in reversed(wanted)]))  # type: ignore[attr-defined]
        top = np.linalg.norm(places[0][0] - places[0][1])
        rest = parts[0].length / parts[0].segments
        tensions.append(parts[0].stiffness * (top / rest - 1))
        bodies.append(row)
        nodes.append(np.concatenate(places))
    history.times.append(time)
    history.bodies.append(np.array(bodies))
    history.tensions.append(np.array(tensions))
    if shapes:
        history.shapes.append(nodes)
