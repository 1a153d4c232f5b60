"""A real browser for the tests of pages and deck sheet: Debian's Chromium, two sizes of screen, nothing from outside.

`chromium_path`, `size` and `page` (a page that may reach this machine only, and whose errors fail the test) are for all
tests here; `small_plan` is a plan of three rods that costs no computing, `small_plan_file` the same as a file.
"""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, ViewportSize

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.browser.looking import SIZES, Watch, watched
from tests.browser.small_plan import three_rods

from spreadwright.plan.value import Plan

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """Where Debian's Chromium is; a browser of Playwright's own cannot be fetched everywhere."""
    found = shutil.which("chromium")
    if found is None:
        pytest.skip("chromium is not here: `make test-tools` installs it")
    return found


@pytest.fixture(scope="session")
def browser_type_launch_args(chromium_path: str) -> dict[str, Any]:
    """How Playwright starts the browser; also right for `launch_persistent_context`."""
    return {"executable_path": chromium_path, "args": FLAGS, "headless": True, "chromium_sandbox": False}


@pytest.fixture(params=list(SIZES))
def size(request: pytest.FixtureRequest) -> str:
    """A phone held upright, and a laptop: the test runs once with each."""
    return str(request.param)


@pytest.fixture
def browser_context_args(request: pytest.FixtureRequest) -> dict[str, Any]:
    """A screen of the size asked for (a laptop's if none is), in a fixed place of the world and language."""
    name = request.getfixturevalue("size") if "size" in request.fixturenames else "wide"
    width, height = SIZES[name]
    return {
        "viewport": ViewportSize(width=width, height=height),
        "locale": "en-GB",
        "timezone_id": "UTC",
        "accept_downloads": True,
        "has_touch": name == "narrow",
    }


@pytest.fixture
def context(browser: Any, browser_context_args: dict[str, Any]) -> Iterator[BrowserContext]:
    """A fresh browser profile."""
    made = browser.new_context(**browser_context_args)
    yield made
    made.close()


@pytest.fixture
def watch(context: BrowserContext) -> Iterator[Watch]:
    """What the page complained of and what it asked for outside this machine; anything in it fails the test."""
    seen = watched(context)
    yield seen
    assert seen.errors == []
    assert seen.outside == []


@pytest.fixture
def page(context: BrowserContext, watch: Watch) -> Page:
    """A page that is watched."""
    made = context.new_page()
    made.set_default_timeout(10_000)
    return made


@pytest.fixture(scope="session")
def small_plan() -> Plan:
    """Three rods of the sheets' example plan: shown in full, computed never."""
    return three_rods()


@pytest.fixture(scope="session")
def small_plan_file(small_plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small plan as `spreadwright plan --write` would have written it."""
    path = tmp_path_factory.mktemp("plans") / "small_plan.json"
    small_plan.write(path)
    return path
