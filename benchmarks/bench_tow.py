"""Measures the towed-line core beside MoorDyn, its use of the machine, and a thousand candidates, in one run.

`make bench` runs it through pytest. By hand: `python -m benchmarks.bench_tow [--quick] [--write]`; --write also puts
the table into benchmarks/results.md, --quick runs a small version of everything whose figures mean nothing.

Both codes run on the same single core and are timed by processor time, which other programs on the machine disturb
least; what is a promise to a person waiting (start, thousand candidates) is timed by the clock as well.
Neither code's compiling is counted. Ours includes finding the steady shape and storing every step; MoorDyn's is the
stepping alone, its start-up and settling left out.
"""

from __future__ import annotations

import argparse
import os
import statistics
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path

from benchmarks import arithmetic, case, children, peer
from benchmarks.children import SIX_LINES, SIX_LINES_STRICT
from benchmarks.ours import Ours, distances, finer_in_time, motions_of, ours
from benchmarks.rows import Row, table
from spreadwright.tow.lanes import LANES
from spreadwright.tow.march import Settings

RESULTS = Path(__file__).with_name("results.md")
REPEATS = 15
LEAST_RATIO = 100  # MoorDyn's time over ours
MOST_WAIT, MOST_SEARCH = 1.0, 5.0  # [s] to a first result; for a thousand candidates
MOST_MEMORY = 1e9  # [bytes]


@contextmanager
def one_core() -> Iterator[None]:
    """Within it, this process and its children keep to one core, where the system allows to ask for that."""
    if not hasattr(os, "sched_setaffinity"):
        yield
        return
    allowed = os.sched_getaffinity(0)
    os.sched_setaffinity(0, {max(allowed)})
    try:
        yield
    finally:
        os.sched_setaffinity(0, allowed)


def side_by_side(quick: bool) -> list[Row]:
    """The six lines in both codes at the same error, and what ours makes of the machine."""
    duration = 6.0 if quick else case.DURATION
    their, their_error = _peer(quick, duration)
    rows = [
        Row("S-turn", f"{duration:.0f} s, six lines of {min(case.LENGTHS):.0f} to {max(case.LENGTHS):.0f} m, 15 kn"),
        *their_rows(their, their_error),
    ]
    chosen = (("ours", SIX_LINES), ("ours, error in time and error in space each under 20 mm", SIX_LINES_STRICT))
    for name, setting in chosen:
        settings = replace(setting, grading=setting.grading.scaled(4.0)) if quick else setting
        mine = ours(settings, duration, 2 if quick else REPEATS)
        rows += our_rows(
            name, mine, settings, duration, their.seconds, f"at least {LEAST_RATIO}" if name == "ours" else ""
        )
        rows += _use_of_machine(mine, settings, duration, quick) if name == "ours" else []
    return rows


def our_rows(name: str, mine: Ours, settings: Settings, duration: float, their_seconds: float, goal: str) -> list[Row]:
    """Setting, errors, time and the ratio of one of our settings."""
    exact = motions_of(replace(finer_in_time(settings), grading=settings.grading.scaled(0.25)), duration)
    in_time = motions_of(replace(settings, grading=settings.grading.scaled(0.25), tolerance=1e-4), duration)
    in_space = motions_of(finer_in_time(settings), duration)
    bodies, nodes = distances(mine.motions, exact, duration)
    alone = [distances(each, exact, duration)[0] for each in (in_time, in_space)]
    count = sum(len(motion.arclength) - 1 for motion in mine.motions)
    ratio = their_seconds / mine.seconds
    return [
        Row(f"{name}: setting", f"step {settings.step:.3f} s, segments of {_spacing(settings)} m, {count} nodes"),
        Row("- largest error of bodies", f"{1e3 * bodies:.1f} mm", "under 20 mm", bodies < case.GOAL),
        Row("- largest error of all nodes", f"{1e3 * nodes:.1f} mm", "under 20 mm", nodes < case.GOAL),
        Row("- of it by the step alone, by the mesh alone", f"{1e3 * alone[0]:.1f} mm, {1e3 * alone[1]:.1f} mm"),
        Row("- time", f"{1e3 * mine.seconds:.1f} ms"),
        Row("- MoorDyn's time over ours", f"{ratio:.0f}", goal, ratio >= LEAST_RATIO if goal else None, timed=True),
    ]


def _spacing(settings: Settings) -> str:
    return f"{settings.grading.finest * settings.grading.scale:g}"


@dataclass(frozen=True)
class Theirs:
    """The peer's fastest setting that keeps the error, its time [s], and what it took."""

    setting: peer.Setting
    seconds: float


def _peer(quick: bool, duration: float) -> tuple[Theirs, float]:
    """Run the fastest settings that the search found; the fastest of them now that keeps the goal."""
    best: tuple[Theirs, float] | None = None
    converged = peer.converged()
    for setting in peer.FASTEST[:1] if quick else peer.FASTEST:
        found = peer.run(setting, duration, 12.0 if quick else peer.SETTLING)
        if found is None:
            continue
        error = float(peer.errors(found, converged).max())
        if (quick or error < case.GOAL) and (best is None or found.seconds < best[0].seconds):
            best = Theirs(setting, found.seconds), error
    if best is None:
        raise SystemExit("none of MoorDyn's known settings keeps the error: run `python -m benchmarks.search` again")
    return best


def their_rows(their: Theirs, error: float) -> list[Row]:
    """What the peer did."""
    setting = their.setting
    spacings = ", ".join(f"{spacing:g}" for spacing in setting.spacings)
    return [
        Row(
            f"MoorDyn {version('moordyn')}: fastest setting",
            f"{setting.scheme}, step {1e3 * setting.step:.2f} ms, damping {setting.damping}, {setting.nodes} nodes "
            f"(segments of {spacings} m)",
        ),
        Row("- largest error of bodies", f"{1e3 * error:.1f} mm", "under 20 mm", error < case.GOAL),
        Row("- time", f"{their.seconds:.2f} s"),
    ]


def _use_of_machine(mine: Ours, settings: Settings, duration: float, quick: bool) -> list[Row]:
    nodes, steps = sum(len(motion.arclength) - 1 for motion in mine.motions), round(duration / settings.step)
    counted = arithmetic.count(settings.grading.scaled(1.0 if quick else 2.0))
    top, bits = arithmetic.peak(0.05 if quick else 1.0)
    stores = len(mine.motions[0].times)
    done = mine.corrections * counted.correction + stores * counted.storing + steps * counted.rest
    done *= nodes / len(mine.motions)  # one lane's
    return [
        Row("- line-seconds a core-second", f"{len(mine.motions) * duration / mine.seconds:,.0f}"),
        Row("- nodes times steps a core-second", f"{nodes * steps / mine.seconds / 1e6:.1f} million"),
        Row("- Newton corrections a step", f"{mine.corrections / steps:.2f}"),
        Row("- of the time, in the compiled stepping", f"{1e3 * mine.stepping:.1f} ms"),
        Row(
            "- operations a segment and line: correction, storing, rest of a step",
            f"{counted.correction:.0f}, {counted.storing:.0f}, {counted.rest:.0f}",
        ),
        Row("- peak of this core, measured", f"{top / 1e9:.1f} GFLOP/s of fused multiply-adds, {bits}-bit vectors"),
        Row(
            "- share of that peak in the stepping",
            f"{len(mine.motions) * done / mine.stepping / top:.0%} by the six lines, "
            f"{LANES * done / mine.stepping / top:.0%} with the lanes that repeat the last of them",
        ),
    ]


def starts(quick: bool) -> list[Row]:
    """From starting a process to its first result, and the memory of that."""
    rows = []
    if not quick:
        cold = children.ask("six", cold=True)
        rows.append(
            Row("start to first result, everything to compile", f"{cold['ready'] - cold['begun']:.0f} s by the clock")
        )
    children.ask("six")
    warm = [children.ask("six") for _ in range(1 if quick else 5)]
    waited = min(each["ready"] - each["begun"] for each in warm)
    used = statistics.median(each["processor"] for each in warm)
    memory = max(each["memory"] for each in warm) / 1e6
    rows.append(
        Row(
            "start to first result, warm",
            f"{waited:.2f} s by the clock, {used:.2f} s of processor",
            f"under {MOST_WAIT:.0f} s",
            waited < MOST_WAIT,
            timed=True,
        )
    )
    rows.append(Row("growth of memory for the six lines, loading the kernels included", f"{memory:.0f} MB"))
    return rows


def candidates(quick: bool) -> list[Row]:
    """A thousand candidate lines with leaders and surface through the S-turn, as searched; a few as shown."""
    if quick:
        return _candidates(8, 2, "searching", 6.0, held=False)
    return [
        *_candidates(1000, 2, "searching", case.DURATION, held=True),
        *_candidates(1000, 1, "searching", case.DURATION, held=False),
        *_candidates(64, 2, "shown", case.DURATION, held=False),
    ]


def _candidates(count: int, workers: int, name: str, duration: float, *, held: bool) -> list[Row]:
    """One such run; held: it is held to its goals."""
    told = children.ask("many", str(count), str(workers), name, str(duration))
    goals = (f"under {MOST_SEARCH:.0f} s", "under 1 GB", "0") if held else ("", "", "")
    quick, small, whole = told["seconds"] < MOST_SEARCH, told["all_memory"] < MOST_MEMORY, told["failed"] == 0
    used = f"{told['seconds']:.2f} s by the clock, {told['processor']:.2f} s of processor"
    memory = f"{told['all_memory'] / 1e6:.0f} MB, {told['memory'] / 1e6:.0f} MB grown"
    name = f"{count} candidates as in {name}, {workers} thread{'s' if workers > 1 else ''}"
    return [
        Row(name, used, goals[0], quick if held else None, timed=True),
        Row("- step and mesh", f"{told['step']:g} s, {told['mesh']:g} of the usual segments"),
        Row("- peak memory", memory, goals[1], small if held else None),
        Row("- lines without a result", f"{told['failed']}", goals[2], whole if held else None),
        Row("- largest error of the bodies of eight of them", f"{1e3 * told['error']:.0f} mm"),
        Row("- line-seconds a core-second", f"{told['line_seconds'] / told['processor']:,.0f}"),
        Row("- nodes times steps a core-second", f"{told['node_steps'] / told['processor'] / 1e6:.1f} million"),
    ]


def measure(quick: bool = False) -> list[Row]:
    """Everything, in one run."""
    with one_core():
        rows = side_by_side(quick)
        rows += starts(quick)
    return rows + candidates(quick)


def test_towed_lines_beside_a_peer() -> None:
    """Errors, memory and failures must be as promised; times are told, for they depend on who else is at work."""
    rows = measure()
    print("\n" + table(rows))
    assert not [row.what for row in rows if row.met is False and not row.timed]


def main() -> None:
    """Measure, print, and write down if asked to."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="a small version of everything; its figures mean nothing")
    parser.add_argument("--write", action="store_true", help="put the table into benchmarks/results.md")
    chosen = parser.parse_args()
    if chosen.quick and chosen.write:
        parser.error("--quick was given with --write; a quick run's figures mean nothing: leave one of them out")
    text = table(measure(chosen.quick))
    print(text)
    if chosen.write:
        RESULTS.write_text(f"# Speed and memory, measured by `python -m benchmarks.bench_tow`\n\n{text}\n", "utf-8")


if __name__ == "__main__":
    main()
