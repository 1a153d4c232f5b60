"""Looks at a page as a person or a strict reader would: pictures, errors, what left the machine, and whether all fits.

`picture(page, name)` keeps a screenshot in .artefacts/, which CI collects and git ignores.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import BrowserContext, Error, Page

SIZES = {"narrow": (390, 844), "wide": (1280, 800)}
ARTEFACTS = Path(__file__).parents[2] / ".artefacts"
HERE = {"", "127.0.0.1", "localhost", "::1"}  # hosts of this machine; file:, data: and blob: have none
LEAST_TARGET = 24.0  # [px] WCAG 2.2, success criterion 2.5.8 (AA): a target's least width and height


@dataclass
class Watch:
    """What went wrong in any page of a context: errors of its scripts and console, and calls to the outside."""

    errors: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)


def watched(context: BrowserContext) -> Watch:
    """Watch every page of a context from now on."""
    seen = Watch()
    context.on("weberror", lambda error: seen.errors.append(str(error.error)))
    context.on("console", lambda said: seen.errors.append(said.text) if said.type == "error" else None)
    context.on("request", lambda asked: seen.outside.append(asked.url) if _is_outside(asked.url) else None)
    return seen


def _is_outside(url: str) -> bool:
    parts = urlsplit(url)
    return parts.scheme not in {"file", "data", "blob", "about"} and (parts.hostname or "") not in HERE


def picture(page: Page, name: str, *, whole: bool = True) -> Path:
    """Keep a screenshot of the page as .artefacts/NAME.png; the whole page, or only what the screen shows."""
    ARTEFACTS.mkdir(exist_ok=True)
    path = ARTEFACTS / f"{name}.png"
    page.screenshot(path=path, full_page=whole)
    return path


def serious_faults(page: Page) -> list[str]:
    """What axe calls serious or critical, one line each with the first place it was found at."""
    try:
        found = Axe().run(page).response["violations"]
    except Error:  # the page was changed for another while it was looked at, as when long work ends
        page.wait_for_load_state("networkidle")
        found = Axe().run(page).response["violations"]
    return [
        f"{each['impact']}: {each['id']}: {each['help']}: {each['nodes'][0]['html'][:160]}"
        for each in found
        if each["impact"] in {"serious", "critical"}
    ]


def sticks_out(page: Page) -> list[str]:
    """What is seen beyond the screen's right or left edge, and would have to be scrolled to sideways."""
    found: list[str] = page.evaluate(
        """() => {
          const wide = document.documentElement.clientWidth, found = [];
          if (document.documentElement.scrollWidth > wide) found.push("the page scrolls sideways");
          for (const each of document.body.querySelectorAll("*")) {
            const box = each.getBoundingClientRect();
            if (!box.width || !box.height || each.closest("[data-scrolls]")) continue;
            if (getComputedStyle(each).position === "absolute" && box.width <= 1) continue;
            if (box.right > wide + 0.5 || box.left < -0.5) found.push(each.outerHTML.slice(0, 120));
          }
          return found;
        }"""
    )
    return found


def small_targets(page: Page, least: float = LEAST_TARGET) -> list[str]:
    """Buttons, fields and links that are shown smaller than `least` [px] either way; links inside a text are let be."""
    found: list[str] = page.evaluate(
        """(least) => [...document.querySelectorAll("button, input, select, summary, textarea, a[href]")]
          .map(each => [each, (each.closest("label") ?? each).getBoundingClientRect()])
          .filter(([each, box]) => box.width && box.height && (box.width < least || box.height < least)
            && !(each.tagName === "A" && each.closest("p")))
          .map(([each, box]) => `${Math.round(box.width)} x ${Math.round(box.height)}: ${each.outerHTML.slice(0, 100)}`)
        """,
        least,
    )
    return found
