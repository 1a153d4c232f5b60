"""The pages as a browser meets them: a real server on this machine, over a small trip, in a thread of its own."""

from __future__ import annotations

import socket
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

import pytest
import uvicorn

sys.path.insert(0, str(Path(__file__).parents[3]))

from tests.plan.trips import BLUE, GOLD, RED, trip_text

from spreadwright.plan.build import make_plan
from spreadwright.plan.rig_make import rig_answers
from spreadwright.plan.value import Plan
from spreadwright.tackle import trip_from_text
from spreadwright.web.app import make_app
from spreadwright.web.settings import Settings, own_hosts

FEW = 16  # samples of what is in doubt: enough to show a range, too few to trust


@contextmanager
def served(folder: Path, trip: Path, plan: Plan | None = None) -> Iterator[str]:
    """A server over one trip file; the address of that trip's pages."""
    listening = socket.create_server(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    settings = Settings(hosts=own_hosts(port), folder=folder, trips=(trip,), store=str(folder / "store.sqlite"))
    app = make_app(settings)
    (kept,) = app.state.parts.kept.all()
    if plan is not None:
        app.state.parts.kept.put_plan(kept, plan)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", timeout_graceful_shutdown=1))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    until = time.monotonic() + 10
    while not server.started and time.monotonic() < until:
        time.sleep(0.02)
    try:
        yield f"http://127.0.0.1:{port}/trips/{kept.name}"
    finally:
        server.should_exit = True
        thread.join(5)


@pytest.fixture(scope="session")
def small_text() -> str:
    """Three rods: two share their marks, the third runs farther back."""
    return trip_text(rods=(RED, BLUE, GOLD), weights={16: 2, 32: 2, 64: 2, 96: 1})


@pytest.fixture(scope="session")
def planned_trip(tmp_path_factory: pytest.TempPathFactory, small_text: str) -> Iterator[str]:
    """The pages of a trip whose plan is made."""
    folder = tmp_path_factory.mktemp("planned")
    trip = folder / "trip.toml"
    trip.write_text(small_text, encoding="utf-8")
    with served(folder / "kept", trip, make_plan(trip_from_text(small_text), samples=FEW)) as base:
        yield base


@pytest.fixture
def bare_trip(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """The pages of a trip of which nothing is made yet, as a new user meets them.

    Its plan is made in full, but from fewer samples of what is in doubt; of its rigs one is looked at.
    """
    monkeypatch.setattr("spreadwright.web.shared.make_plan", partial(make_plan, samples=FEW))
    monkeypatch.setattr("spreadwright.web.shared.rig_answers", lambda trip, _, *rest: rig_answers(trip, "red", *rest))
    trip = tmp_path / "trip.toml"
    trip.write_text(trip_text(rods=(RED, BLUE), weights={32: 2, 64: 1}), encoding="utf-8")
    with served(tmp_path / "kept", trip) as base:
        yield base
