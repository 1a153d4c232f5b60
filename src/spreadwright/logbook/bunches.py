"""How much strikes come in bunches, from their times: more of them close together than chance would put there.

Strikes of one level on one day, at random times, have so many pairs that lie within twenty minutes of each other: of n
strikes in T hours n (n - 1) w / T (1 - w / 2T) on average, for a window w. Every pair beyond that is a fish that came
with another. Where strikes come in bunches of b fish, counts vary E[b^2] / E[b] times as much as chance (compound
Poisson: Feller, An Introduction to Probability Theory and Its Applications, volume 1, section XII.2), and that is
1 + 2 x (pairs beyond chance) / strikes. Counts by the day show the same in a long log; times show it in a short one.

Worked example: 6 strikes in 3 bunches of two in 10 hours: 3 pairs, 0.98 of them by chance, 1 + 2 x 2.02 / 6 = 1.67.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

WINDOW = 1.0 / 3.0  # [h] a school has passed in twenty minutes: assumed


def unevenness(times: Floats, cells: NDArray[np.int64], clock: Floats) -> float:
    """Variance of the counts over that of chance [-], 1 or more; 1 where there is nothing to tell it from.

    times (N) [h] of strikes, cells (N) the number of each one's level and day, clock (cells) [h] that each was fished.
    """
    if times.size < 2:
        return 1.0
    order = np.lexsort((times, cells))
    t, cell = times[order], cells[order]
    # Cells are set so far apart that no pair spans two of them; then one sorted search finds every pair.
    apart = t - t.min() + cell * (t.max() - t.min() + 2.0 * WINDOW)
    close = np.searchsorted(apart, apart + WINDOW, side="right") - np.arange(t.size) - 1
    number = np.bincount(cell, minlength=clock.size).astype(float)
    window = np.minimum(WINDOW / np.maximum(clock, 1e-9), 1.0)
    by_chance = number * (number - 1.0) * window * (1.0 - 0.5 * window)
    return max(1.0, 1.0 + 2.0 * float(close.sum() - by_chance.sum()) / t.size)


def clock_hours(starts: Floats, ends: Floats, cells: NDArray[np.int64], count: int) -> Floats:
    """Hours (count) [h] on the clock that each cell was fished: lines out at the same time count once.

    starts, ends (N) [h] of lines in the water, cells (N) which cell each belongs to.
    """
    clock = np.zeros(count)
    if starts.size == 0:
        return clock
    order = np.lexsort((starts, cells))
    reached, last = -np.inf, -1
    for i in order:
        cell = int(cells[i])
        if cell != last:
            reached, last = -np.inf, cell
        clock[cell] += max(0.0, ends[i] - max(reached, starts[i]))
        reached = max(reached, ends[i])
    return clock
