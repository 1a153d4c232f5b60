"""A server over a small trip, asked without a network; what it computes for long is computed once."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.plan.trips import BLUE, RED, plan_of, trip_text

from spreadwright.web.app import make_app
from spreadwright.web.settings import Settings, own_hosts

PORT = 8137
HERE = f"http://127.0.0.1:{PORT}"


@pytest.fixture(scope="session")
def text():
    return trip_text(rods=(RED, BLUE))


@pytest.fixture(scope="session")
def plan(text):
    return plan_of(text)


@pytest.fixture
def trip_file(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "trip.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def app(tmp_path, trip_file):
    return make_app(
        Settings(hosts=own_hosts(PORT), folder=tmp_path / "kept", trips=(trip_file,), store=str(tmp_path / "s.sqlite"))
    )


@pytest.fixture
def quick(monkeypatch, plan):
    """Making a plan hands back one that was made before."""
    monkeypatch.setattr("spreadwright.web.shared.make_plan", lambda trip, tell, **_: plan)


@pytest.fixture
def client(app) -> Iterator[TestClient]:
    with TestClient(app, base_url=HERE, follow_redirects=False, client=("127.0.0.1", 5000)) as made:
        made.get("/")
        yield made


@pytest.fixture
def token(client) -> dict[str, str]:
    """The header that a page of ours sends."""
    return {"x-spreadwright-token": token_of(client.get("/").text)}


@pytest.fixture
def name(client) -> str:
    found: str = client.get("/api/trips").json()[0]["name"]
    return found


def token_of(page: str) -> str:
    found = re.search(r'<meta name="token" content="([^"]*)">', page)
    assert found is not None
    return found[1]
