"""Lets the tests of the choice import their helpers as tests.spread.every_spread, and gives them the demo's plan."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.plan.demo import Demo, demo_plan


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Demo:
    """The plan of the demo trip, made once."""
    return demo_plan(tmp_path_factory, worker_id)
