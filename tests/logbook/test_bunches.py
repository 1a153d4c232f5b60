"""Strikes in bunches: measured by their times, by hand and by simulated logs, and intervals that then hold."""

from __future__ import annotations

import numpy as np
import pytest
from tests.logbook.logs import SHORT, entry, folded

from spreadwright.logbook.bunches import WINDOW, clock_hours, unevenness
from spreadwright.logbook.evenness import even
from spreadwright.logbook.factors import Knowledge, cells
from spreadwright.logbook.pooling import pooled
from spreadwright.logbook.rates import rate_report

Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
ONE = np.zeros(6, dtype=np.int64)


def test_bunches_of_two_by_hand() -> None:
    """Six strikes in ten hours, two minutes apart in pairs: 3 pairs, by chance 6 x 5 x (1/3) / 10 x (1 - 1/60)."""
    times = np.array([1.0, 1.03, 4.0, 4.03, 8.0, 8.03])
    chance = 6 * 5 * WINDOW / 10.0 * (1.0 - WINDOW / 20.0)
    assert unevenness(times, ONE, np.array([10.0])) == pytest.approx(1.0 + 2.0 * (3.0 - chance) / 6.0)
    assert unevenness(times[::-1].copy(), ONE, np.array([10.0])) == pytest.approx(1.0 + 2.0 * (3.0 - chance) / 6.0)


def test_pairs_are_of_one_level_and_one_day() -> None:
    """The same times on two levels are no bunches of either; far apart they are never less even than chance."""
    times = np.array([1.0, 1.03, 4.0, 4.03, 8.0, 8.03])
    assert unevenness(times, np.array([0, 1, 0, 1, 0, 1]), np.array([10.0, 10.0])) == 1.0
    assert unevenness(times[:1], ONE[:1], np.array([10.0])) == 1.0
    assert unevenness(np.array([]), ONE[:0], np.zeros(0)) == 1.0


@pytest.mark.parametrize(("size", "variance"), [(1, 1.0), (2, 2.0), (3, 3.0)])
def test_random_times_are_chance_and_bunches_of_b_vary_b_times_as_much(size: int, variance: float) -> None:
    """Compound Poisson: E[b^2] / E[b] = b for bunches of always b."""
    random, days = np.random.default_rng(5), 400
    number = random.poisson(2.0, days)
    starts = [random.uniform(0.0, 6.0, n) for n in number]
    times = np.concatenate([np.repeat(each, size) + np.tile(np.arange(size) / 60.0, each.size) for each in starts])
    day = np.repeat(np.arange(days), size * number)
    assert unevenness(times, day, np.full(days, 6.0)) == pytest.approx(variance, abs=0.15)


def test_lines_out_at_the_same_time_count_once_on_the_clock() -> None:
    starts, ends = np.array([0.0, 1.0, 6.0, 0.0]), np.array([4.0, 5.0, 7.0, 2.0])
    clock = clock_hours(starts, ends, np.array([0, 0, 0, 1]), 3)
    assert clock.tolist() == [6.0, 2.0, 0.0]


def test_a_logs_bunches_are_seen_and_told() -> None:
    entries = []
    for day in range(8):
        begin = 24.0 * 60.0 * day
        entries.append(entry("line_out", begin, rig=SHORT))
        for k, minute in enumerate((30.0, 31.0, 250.0, 251.5)):
            entries.append(entry("strike", begin + minute, outcome="missed", note=f"{day} {k}"))
        entries.append(entry("line_in", begin + 360.0))
    book = folded(*entries)
    assert cells("lure", book, Knowledge()).bunched == pytest.approx(
        1.0 + 2.0 * (2.0 - 4 * 3 / 18 * (1 - 1 / 36)) / 4.0
    )
    told = rate_report(book).of("lure")
    assert told.bunches > 1.5
    assert any("Strikes come in bunches" in sentence for sentence in told.sentences)


def simulated(random: np.random.Generator, bunch: str, gap: float) -> tuple[float, int]:
    """One short log with known rates: intervals that hold, and how many there are. gap [h] within a bunch."""
    count, days = int(random.integers(2, 7)), int(random.integers(5, 40))
    truth = 0.3 * np.exp(0.5 * random.standard_normal(count))
    day = random.gamma(4.0, 0.25, days)
    hours = random.uniform(2.0, 8.0, (count, days)) * (random.random((count, days)) < 0.5)
    hours[hours.sum(axis=1) == 0.0, 0] = 3.0
    strikes, times, cell = np.zeros_like(hours), [], []
    mean_size = 1.0 if bunch == "single" else 2.0
    for place, mean in np.ndenumerate(truth[:, None] * day * hours):
        for begin in random.uniform(0.0, hours[place], random.poisson(mean / mean_size)):
            size = {"single": 1, "always two": 2, "one and more": 1 + int(random.poisson(1.0))}[bunch]
            after = np.cumsum(np.append(0.0, random.exponential(gap, size - 1)))
            times += (begin + after).tolist()
            cell += [int(np.ravel_multi_index(place, hours.shape))] * size
            strikes[place] += size
    seen = unevenness(np.array(times), np.array(cell, dtype=np.int64), hours.ravel())
    evened = even(hours, strikes, seen)
    low, high = pooled(evened.strikes, evened.hours).interval(0.9)
    usual = truth * (hours.sum(axis=0) / hours.sum() @ day)
    return float(((low <= usual) & (usual <= high)).sum()), count


@pytest.mark.parametrize(("bunch", "gap"), [("single", 0.0), ("always two", 1 / 60), ("one and more", 3 / 60)])
def test_nine_of_ten_intervals_hold_also_where_strikes_come_in_bunches(bunch: str, gap: float) -> None:
    random = np.random.default_rng(20310310)
    held, groups = np.sum([simulated(random, bunch, gap) for _ in range(150)], axis=0)
    assert 0.85 <= held / groups <= 0.95
