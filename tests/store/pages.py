"""A real server of the pages for tests, a process of its own on this machine's loopback, and devices that ask it."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
from tests.browser.small_plan import three_rods
from tests.plan.trips import trip_text

from spreadwright.web.kept import name_of

COMMAND = [sys.executable, "-c", "from spreadwright.cli import main; main()", "serve"]  # what the installed one runs
TRIES = 5  # a port that was free a moment ago may be taken by another


@contextmanager
def serving(where: str, folder: Path) -> Iterator[str]:
    """Start `spreadwright serve` over that store, hand out its address once it listens, and end it."""
    folder.mkdir(parents=True, exist_ok=True)
    text = trip_text()
    trip = folder / "trip.toml"
    trip.write_text(text, encoding="utf-8")
    kept = folder / "kept"
    kept.mkdir()
    three_rods().write(kept / f"{name_of(text)}.plan.json")  # a trip without a plan would be planned at the start
    server, address = _started([str(trip), "--folder", str(kept), "--store", where])
    try:
        yield address
    finally:
        server.terminate()
        try:
            server.wait(20)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()
        assert server.stdout is not None
        server.stdout.close()


def _started(options: list[str]) -> tuple[subprocess.Popen[str], str]:
    said = ""
    for _ in range(TRIES):
        port = _free_port()
        command = [*COMMAND, *options, "--port", str(port)]
        server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        assert server.stdout is not None
        said = server.stdout.readline()
        if "The pages are at" in said:
            return server, f"http://127.0.0.1:{port}"
        said += server.stdout.read()
        server.stdout.close()
        server.wait()
    raise AssertionError(f"the server did not start: {said}")


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def device(address: str) -> Iterator[tuple[httpx.Client, str]]:
    """A browser of its own, as far as the server sees: its session, and the token that its forms carry."""
    with httpx.Client(base_url=address, timeout=120.0) as client:
        found = re.search(r'<meta name="token" content="([^"]*)">', client.get("/room").text)
        assert found is not None
        yield client, found[1]
