"""Checks that the pages agree with the tree: links lead somewhere, and files, tasks and settings named exist.

Run as a script it lists what it finds in every tracked page: `make docs`. A test calls the same function.
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

from house import ROOT, Finding, tracked

LINK = re.compile(r"(?<!\!)\[[^\]]+\]\(([^)\s]+)\)|!\[[^\]]*\]\(([^)\s]+)\)")
# `docs/theory.md`, `src/spreadwright/tow/` and the like, in backticks: a file or folder of this project.
NAMED_PATH = re.compile(r"`((?:\.ci|benchmarks|docs|examples|src|tests|tools)/[\w./-]*)`")
NAMED_TASK = re.compile(r"`make ([a-z][a-z-]*)`")
TYPED_TASK = re.compile(r"^[ $]*make ([a-z][a-z-]*)\b", re.MULTILINE)
FENCE = re.compile(r"^```.*?^```", re.MULTILINE | re.DOTALL)


def check_page(page: str, text: str, root: Path = ROOT) -> Iterator[Finding]:
    """Find what a page (its path from `root`, and its text) says about the tree that is not so."""
    prose = FENCE.sub(lambda block: "\n" * block.group().count("\n"), text)
    for match in LINK.finditer(prose):
        yield from _check_link(page, _line(prose, match), match.group(1) or match.group(2), text, root)
    for match in NAMED_PATH.finditer(prose):
        if not (root / match.group(1)).exists():
            yield Finding(page, _line(prose, match), f"there is no {match.group(1)} in the project")
    tasks = set(re.findall(r"^([a-z-]+):", (root / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    named = [(_line(prose, match), match.group(1)) for match in NAMED_TASK.finditer(prose)]
    for block in FENCE.finditer(text):
        typed = TYPED_TASK.finditer(block.group())
        named += [(_line(text, block) + _line(block.group(), match) - 1, match.group(1)) for match in typed]
    for line, task in named:
        if task not in tasks:
            yield Finding(page, line, f"the Makefile has no task {task}")


def _check_link(page: str, line: int, target: str, text: str, root: Path) -> Iterator[Finding]:
    if re.match(r"[a-z]+:", target):  # another site or a mail address: not looked up
        return
    path, _, anchor = target.partition("#")
    aim = (root / page).parent / path if path else root / page
    if path and not aim.exists():
        yield Finding(page, line, f"the link leads nowhere: {target}")
    elif anchor and aim.suffix == ".md":
        aimed = text if not path else aim.read_text(encoding="utf-8")
        if anchor not in set(_anchors(aimed)):
            yield Finding(page, line, f"{path or page} has no heading for #{anchor}")


def _anchors(text: str) -> Iterator[str]:
    """The anchors of a page's headings, made the way code-hosting sites make them."""
    for heading in re.findall(r"^#+ +(.+?) *$", FENCE.sub("", text), re.MULTILINE):
        yield re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def _line(text: str, match: re.Match[str]) -> int:
    return text.count("\n", 0, match.start()) + 1


def check_pages(root: Path = ROOT) -> list[Finding]:
    """Everything found in the tracked pages of the project."""
    pages = [path for path in tracked(root) if path.endswith(".md")]
    return [found for page in pages for found in check_page(page, (root / page).read_text(encoding="utf-8"), root)]


if __name__ == "__main__":
    findings = check_pages()
    for finding in findings:
        print(finding)
    sys.exit(1 if findings else 0)
