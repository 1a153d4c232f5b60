"""Counts the arithmetic of the marching kernel and measures the peak that this core can reach.

The count is not made by hand, so it stays true when the kernel is rewritten: the kernel's own Python source is run,
uncompiled, on numbers that count what is done with them. Counted is what happens to floating-point numbers of the
state: each addition, subtraction, multiplication, division and square root is one operation; comparisons, minimum,
maximum, absolute value and change of sign are none; index arithmetic and what depends on settings only is none.
Runs of the same steps with one Newton correction a step and with more, stored often and seldom, tell apart the
arithmetic of a correction, of storing and of the rest of a step.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

import numpy as np
from numba import njit
from numba.core.dispatcher import Dispatcher

from benchmarks import case
from spreadwright.tow import march as marching
from spreadwright.tow import steps as stepping
from spreadwright.tow.lanes import LANES
from spreadwright.tow.line import Failure
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading


class Counted(float):
    """A number that counts the operations done with it, all such numbers together."""

    done = 0


def _uncounted(name: str) -> Callable[..., Any]:
    plain = getattr(float, name)
    return lambda self: Counted(plain(self))


def _counting(name: str) -> Callable[..., Any]:
    plain = getattr(float, name)

    def operation(self: float, other: float) -> Any:
        result = plain(self, float(other))
        if result is NotImplemented:
            return result
        Counted.done += 1
        return Counted(result)

    return operation


for _name in ("add", "radd", "sub", "rsub", "mul", "rmul", "truediv", "rtruediv"):
    setattr(Counted, f"__{_name}__", _counting(f"__{_name}__"))
for _name in ("neg", "abs"):
    setattr(Counted, f"__{_name}__", _uncounted(f"__{_name}__"))


def _root(value: float) -> float:
    Counted.done += isinstance(value, Counted)
    return Counted(math.sqrt(value))


@contextmanager
def _uncompiled() -> Iterator[None]:
    """Within it, the core's kernels run as Python, with a square root that counts."""
    kept: list[tuple[Any, str, Any]] = []
    mathematics = SimpleNamespace(**{**vars(math), "sqrt": _root})
    for name, module in list(sys.modules.items()):
        if name.startswith("spreadwright.tow"):
            for key, value in list(vars(module).items()):
                if isinstance(value, Dispatcher):
                    kept.append((module, key, value))
                    setattr(module, key, value.py_func)
                elif value is math:
                    kept.append((module, key, value))
                    setattr(module, key, mathematics)
    try:
        yield
    finally:
        for module, key, value in kept:
            setattr(module, key, value)


def _as_counted(value: Any) -> Any:
    if isinstance(value, np.ndarray) and value.dtype == np.float64:
        counted = np.empty(value.shape, dtype=object)
        for place in np.ndindex(value.shape):
            counted[place] = Counted(value[place])
        return counted
    return value


@dataclass(frozen=True)
class Count:
    """Operations a segment of one lane: of one Newton correction, of storing once, and of the rest of a step."""

    correction: float
    storing: float
    rest: float


def _count_once(settings: Settings, steps: int) -> tuple[int, int, int]:
    """Operations, Newton corrections and segments of a short run."""
    compiled = stepping.run
    seen: list[tuple[int, int]] = []

    def run(*arguments: Any) -> int:
        with _uncompiled():
            counted = [_as_counted(value) for value in arguments]
            Counted.done = 0
            used = int(compiled.py_func(*counted))
            seen.append((Counted.done, used))
        return used

    marching.run = run
    try:
        motion = march(case.lines(), case.track(steps * settings.step), case.SEA, settings=settings)[0]
    finally:
        marching.run = compiled
    if isinstance(motion, Failure):
        raise SystemExit(f"counting failed: {motion.reason}")
    return seen[0][0], seen[0][1], len(motion.arclength) - 1


def count(grading: Grading, steps: int = 2) -> Count:
    """Count the arithmetic of the kernel as it is, on a mesh (the bodies are spread over its segments)."""
    few = Settings(step=0.5, store_every=1, tolerance=1e9, grading=grading, workers=1)
    every_step, corrections, segments = _count_once(few, steps)
    at_the_end, _, _ = _count_once(replace(few, store_every=steps), steps)
    more, more_corrections, _ = _count_once(replace(few, tolerance=1e-9), steps)
    correction = (more - every_step) / (more_corrections - corrections)
    storing = (every_step - at_the_end) / (steps - 1)
    rest = (at_the_end - 2 * storing - corrections * correction) / steps  # the start is stored too
    lanes = segments * LANES
    return Count(correction / lanes, storing / lanes, rest / lanes)


@njit(fastmath={"contract"})
def _multiply_add(repeats: int, values: Any, factor: float, summand: float) -> None:
    for _ in range(repeats):
        for i in range(values.size):
            value = values[i]
            for _ in range(32):
                value = value * factor + summand
            values[i] = value


def peak(least: float = 0.5) -> tuple[float, int]:
    """Largest rate of fused multiply-adds by compiled loops [operations/s], and the bits of the vectors they use.

    The same compiler with the same settings as the kernels; a chain of 32 in each of 256 numbers, side by side.
    """
    values = np.ones(256)
    _multiply_add(1, values, 0.999, 1e-3)
    best, begun = math.inf, time.perf_counter()
    while time.perf_counter() - begun < least:
        start = time.process_time()
        _multiply_add(500, values, 0.999, 1e-3)
        best = min(best, time.process_time() - start)
    code = _multiply_add.inspect_asm(_multiply_add.signatures[0])
    bits = 512 if "zmm" in code else 256 if "ymm" in code else 128
    return 500 * 256 * 32 * 2 / best, bits
