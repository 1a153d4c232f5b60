"""Finds MoorDyn's fastest setting whose bodies stay within 2 cm of its own converged run.

First the spacing: each line gets the coarsest of a ladder at which its own bodies are within four fifths of the goal
(lines do not touch each other, so each may have its own), in a run with little error in time. Then, at those
spacings, the schemes its documentation lists and two ratios of damping, each with the largest step of a ladder at
which the run neither diverges nor leaves the goal.
Run `python -m benchmarks.search` for the whole search; the benchmark itself repeats the best of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from benchmarks import case, peer
from benchmarks.case import Floats
from benchmarks.peer import Setting

SPACINGS = (2.4, 2.0, 1.85, 1.7, 1.55, 1.45, 1.35, 1.25, 1.15, 1.0)  # [m]
MARGIN = 0.8  # share of the goal that space may use up; the rest is for the first-order schemes' error in time
# Scheme and the first step to try [s] a metre of the finest spacing; on a coarse mesh larger ones diverged.
SCHEMES = {
    "Euler": 5.6e-4,
    "LEuler": 5.6e-4,
    "Heun": 3.2e-4,
    "RK2": 5.6e-4,
    "RK4": 9.5e-4,
    "AB2": 3e-4,
    "AB3": 2e-4,
    "AB4": 1.5e-4,
    "LAB2": 3e-4,
    "BEuler3": 1.2e-3,
    "BEuler5": 1.5e-3,
    "Midpoint2": 9.5e-4,
    "Midpoint3": 1.4e-3,
    "Midpoint4": 2.1e-3,
    "Midpoint5": 2.4e-3,
    "Midpoint10": 4e-3,
    "ACA5": 1.8e-3,
    "ACA10": 3.5e-3,
    "Wilson5": 2e-3,
}
LESS = 0.9  # from one step of the ladder to the next
DAMPINGS = (0.5, 0.7)
MOST_TRIES = 8


@dataclass(frozen=True)
class Found:
    """A setting that keeps the goal: its largest error [m] and the processor time of the S-turn [s]."""

    setting: Setting
    error: float
    seconds: float


def coarsest(
    converged: Floats, goal: float = MARGIN * case.GOAL, ladder: Iterable[float] = SPACINGS
) -> tuple[float, ...]:
    """The coarsest spacing of each line [m] at which its bodies are within the goal [m]."""
    chosen: list[float | None] = [None] * len(case.LENGTHS)
    for spacing in ladder:
        if all(chosen):
            break
        found = peer.run(Setting((spacing,) * len(chosen), peer.RK4_STEP * spacing))
        if found is None:
            continue
        for line, error in enumerate(peer.errors(found, converged)):
            if chosen[line] is None and error < goal:
                chosen[line] = spacing
    if not all(chosen):
        raise SystemExit(f"no spacing of the ladder keeps every body within {goal} m: make the ladder longer")
    return tuple(spacing for spacing in chosen if spacing)


def largest_step(setting: Setting, converged: Floats, goal: float = case.GOAL) -> Found | None:
    """The setting with the largest step of the ladder that keeps the goal, or None after MOST_TRIES."""
    for tried in range(MOST_TRIES):
        candidate = replace(setting, step=setting.step * LESS**tried)
        found = peer.run(candidate)
        if found is not None:
            error = float(peer.errors(found, converged).max())
            if error < goal:
                return Found(candidate, error, found.seconds)
    return None


def every_scheme(spacings: tuple[float, ...], converged: Floats, goal: float = case.GOAL) -> Iterator[Found]:
    """The fastest of each scheme and damping that keeps the goal, as they are found."""
    for scheme, first in SCHEMES.items():
        for damping in DAMPINGS:
            found = largest_step(Setting(spacings, first * min(spacings), scheme, damping), converged, goal)
            if found is not None:
                yield found


def main() -> None:
    """Search and tell."""
    converged = peer.converged()
    spacings = coarsest(converged)
    print("spacings [m]", spacings, "nodes", Setting(spacings, 1.0).nodes, flush=True)
    results = []
    for found in every_scheme(spacings, converged):
        results.append(found)
        print(
            f"{found.setting.scheme:10} damping {found.setting.damping} step {1e3 * found.setting.step:.3f} ms "
            f"error {1e3 * found.error:.1f} mm time {found.seconds:.2f} s",
            flush=True,
        )
    best = min(results, key=lambda found: found.seconds)
    print("fastest:", best)


if __name__ == "__main__":
    main()
