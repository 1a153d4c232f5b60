"""The block solve against numpy's dense one, on random well-conditioned systems."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.tow.table import dense, row

from spreadwright.tow import lanes
from spreadwright.tow.system import solve


def random_table(seed: int, segments: int, own: float = 8.0) -> np.ndarray:
    random = np.random.default_rng(seed)
    table = random.normal(size=(segments + 1) * lanes.RECORD)  # rubbish everywhere: the solve must not read it
    rows = table.reshape(segments + 1, -1, lanes.LANES)
    diagonal = row(rows, lanes.OWN, 9)
    for i in (0, 4, 8):
        diagonal[:, i] += own * random.choice([-1.0, 1.0], size=(segments + 1, lanes.LANES))
    return table


@given(seed=st.integers(0, 2**32 - 1), segments=st.integers(1, 20))
@settings(max_examples=30, deadline=None)
def test_solution_is_that_of_a_dense_solver(seed, segments):
    table = random_table(seed, segments)
    rows = table.reshape(segments + 1, -1, lanes.LANES)
    matrix, right = dense(rows, segments), row(rows, lanes.RIGHT, 3)[1:].reshape(3 * segments, lanes.LANES).copy()
    expected = np.stack([np.linalg.solve(matrix[w], right[:, w]) for w in range(lanes.LANES)], axis=1)
    conditions = [np.linalg.cond(matrix[w]) for w in range(lanes.LANES)]
    solve(segments, table)
    got = row(rows, lanes.CHANGE, 3)[1:].reshape(3 * segments, lanes.LANES)
    error = np.linalg.norm(got - expected, axis=0) / np.linalg.norm(expected, axis=0)
    assert (error < 1e-14 * np.maximum(conditions, 100.0)).all()


@pytest.mark.parametrize("scale", [1e-6, 1e9])
def test_scale_of_the_numbers_does_not_matter(scale):
    """Stiff wire and light nylon: entries from 1e-6 to 1e9."""
    table = random_table(3, 12)
    rows = table.reshape(13, -1, lanes.LANES)
    solve(12, table)
    before = row(rows, lanes.CHANGE, 3)[1:].copy()
    for place, count in ((lanes.BEFORE, 9), (lanes.OWN, 9), (lanes.AFTER, 9), (lanes.RIGHT, 3)):
        row(rows, place, count)[:] *= scale
    solve(12, table)
    assert row(rows, lanes.CHANGE, 3)[1:] == pytest.approx(before, rel=1e-11)


@pytest.mark.parametrize("stiff", [1e3, 1e6, 1e9])
def test_a_stiff_bent_chain_is_solved_like_a_dense_solver_does(stiff):
    """Stretching is `stiff` times as hard as moving sideways; what is left of the right-hand side is rounding."""
    segments, random = 40, np.random.default_rng(5)
    table = np.zeros((segments + 1) * lanes.RECORD)
    rows = table.reshape(segments + 1, -1, lanes.LANES)
    turned = np.cumsum(random.normal(scale=0.3, size=(segments + 1, 2)), axis=0)
    along = np.stack([np.cos(turned[:, 0]), np.sin(turned[:, 0]), turned[:, 1]], axis=1)
    along /= np.linalg.norm(along, axis=1)[:, None]
    hold = stiff * along[:, :, None] * along[:, None, :] + np.eye(3)
    hold[-1] = 0.0  # no segment follows the last node
    row(rows, lanes.AFTER, 9)[:] = -hold.reshape(-1, 9, 1)
    row(rows, lanes.BEFORE, 9)[1:] = -hold[:-1].reshape(-1, 9, 1)
    row(rows, lanes.OWN, 9)[1:] = (hold[:-1] + hold[1:]).reshape(-1, 9, 1)
    row(rows, lanes.RIGHT, 3)[1:] = random.normal(size=(segments, 3, lanes.LANES))
    matrix, right = dense(rows, segments), row(rows, lanes.RIGHT, 3)[1:].reshape(3 * segments, lanes.LANES).copy()
    solve(segments, table)
    got = row(rows, lanes.CHANGE, 3)[1:].reshape(3 * segments, lanes.LANES)
    for w in range(lanes.LANES):
        expected = np.linalg.solve(matrix[w], right[:, w])
        assert np.abs(got[:, w] - expected).max() < 1e-14 * np.linalg.cond(matrix[w]) * np.abs(expected).max()
        left = np.abs(matrix[w] @ got[:, w] - right[:, w]).max()
        assert left < 1e-13 * np.abs(matrix[w]).max() * np.abs(got[:, w]).max()


def test_lanes_are_solved_apart():
    """A lane full of NaN leaves its neighbours' bits alone."""
    table = random_table(4, 9)
    rows = table.reshape(10, -1, lanes.LANES)
    solve(9, table)
    before = row(rows, lanes.CHANGE, 3).copy()
    rows[:, lanes.OWN // lanes.ROW : lanes.OWN // lanes.ROW + 9, 5] = np.nan
    solve(9, table)
    others = [w for w in range(lanes.LANES) if w != 5]
    assert np.array_equal(row(rows, lanes.CHANGE, 3)[1:, :, others], before[1:, :, others])
    assert np.isnan(row(rows, lanes.CHANGE, 3)[1:, :, 5]).all()
