"""Stores to test on: a new SQLite file, and a new database on a real PostgreSQL server."""

from __future__ import annotations

import sys
import uuid
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.store.servers import running_server

from spreadwright.store.open import Store, open_store


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The address of a PostgreSQL server that runs as long as the tests; a missing server is a failure, no skip."""
    with running_server() as address:
        yield address


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The place of a store that is not there yet, on each kind of database."""
    if request.param == "sqlite":
        return str(tmp_path / "store.sqlite")
    address = str(request.getfixturevalue("server"))
    name = f"t{uuid.uuid4().hex}"
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return f"{address.rsplit('/', 1)[0]}/{name}"


@pytest.fixture
def store(where: str) -> Iterator[Store]:
    """A new, empty store on each kind of database."""
    with open_store(where) as opened:
        yield opened
