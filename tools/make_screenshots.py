"""Make the README's screenshots: the pages on the demo, in Debian's chromium, each a PNG under 200 kB.

`python tools/make_screenshots.py` plans the demo (half a minute), serves it on a free port of this machine, and writes
docs/pictures/pages-*.png.
"""

import shutil
import socket
import sys
import tempfile
import threading
import time
from pathlib import Path

import uvicorn
from playwright.sync_api import Page, sync_playwright

from spreadwright.plan.build import make_plan
from spreadwright.web.app import make_app
from spreadwright.web.settings import Settings, own_hosts

ROOT = Path(__file__).resolve().parent.parent
TRIP = ROOT / "examples" / "demo" / "trip.toml"
PICTURES = ROOT / "docs" / "pictures"
LARGEST = 200_000  # bytes of one picture
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]  # fmt: skip
LAPTOP, PHONE = (1100, 860), (390, 844)


def spread(page: Page, base: str) -> None:
    """The spread straight ahead."""
    page.goto(f"{base}/spread")
    page.wait_for_selector("html[data-ready=yes]", timeout=60_000)


def turn(page: Page, base: str) -> None:
    """The moment at which two lines come nearest."""
    spread(page, base)
    page.click("#to-closest")
    page.locator("#closest").evaluate("each => each.scrollIntoView()")


def plan(page: Page, base: str) -> None:
    """The plan in numbers."""
    page.goto(f"{base}/plan")


SHOTS = (("pages-spread", LAPTOP, spread), ("pages-turn", LAPTOP, turn), ("pages-plan", LAPTOP, plan),
         ("pages-phone", PHONE, turn))  # fmt: skip


def main() -> int:
    """Write every picture; 1 if one is too large."""
    chromium = shutil.which("chromium")
    if chromium is None:
        print("chromium is not here: `make test-tools` installs it")
        return 1
    with tempfile.TemporaryDirectory() as folder:
        listening = socket.create_server(("127.0.0.1", 0))
        port = listening.getsockname()[1]
        settings = Settings(own_hosts(port), Path(folder), (TRIP,), store=str(Path(folder) / "store.sqlite"))
        app = make_app(settings)
        kept = app.state.parts.kept.all()[0]
        app.state.parts.kept.put_plan(kept, make_plan(kept.trip))
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
        threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True).start()
        while not server.started:
            time.sleep(0.05)
        sizes = shoot(chromium, f"http://127.0.0.1:{port}/trips/{kept.name}")
        server.should_exit = True
    for name, size in sizes.items():
        print(f"{name}: {size / 1000:.0f} kB")
    return int(max(sizes.values()) > LARGEST)


def shoot(chromium: str, base: str) -> dict[str, int]:
    """Take every picture; their sizes [bytes]."""
    sizes = {}
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        for name, (width, height), go in SHOTS:
            page = browser.new_page(viewport={"width": width, "height": height})
            go(page, base)
            path = PICTURES / f"{name}.png"
            page.screenshot(path=path)
            sizes[path.name] = path.stat().st_size
            page.close()
        browser.close()
    return sizes


if __name__ == "__main__":
    sys.exit(main())
