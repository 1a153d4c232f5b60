"""House rules that no ordinary linter knows, each a small function from text to the faults found in it.

Run as a script it reads every tracked file and lists what it finds: `python tools/house.py`.
The tests call the same functions, on this project and on short texts that must be found at fault.
"""

import ast
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LONGEST_MODULE = 400
FACES = ("src/spreadwright/cli/", "src/spreadwright/web/", "src/spreadwright/sheets/")
LIBRARY = "src/spreadwright/"


@dataclass(frozen=True)
class Finding:
    """One broken rule: the file, the line (from 1) and what to do about it."""

    path: str
    line: int
    rule: str

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: {self.rule}"


# ---- words that have no place in a file others will read --------------------------------------
# Each pattern is written so that it does not find itself.
FORBIDDEN_WORDS = (
    (r"(?<![\w.~-])/(?:[w]ork|[r]oot|[o]pt|[h]ome/\w+|[U]sers/\w+)/", "a path of one machine: write it relative"),
    (r"(?<![\w.~-])/[t]mp/\w", "a path of one machine: use the test's tmp_path or tempfile"),
    (r"(?<!\w)\.[l]ibrary\b|\b[D]EVELOPERS\.md\b|\b[b]efore-stop\b", "a name from a workplace, not from the project"),
    (r"\b[c]heck-values\.md\b|(?<!\w)brief/(?:rules|contract)", "a name from a workplace, not from the project"),
    (r"\b[s]eed (?:document|talk|video)\b", "where an idea was heard does not belong here"),
    (r"\b(?:[X]XX|[F]IXME|[T]ODO)\b", "an unfinished thought: do it, or write it down as an open point in docs"),
)


def words(path: str, text: str) -> Iterator[Finding]:
    """Find machine paths, workplace names and unfinished notes in any text file."""
    for number, line in enumerate(text.splitlines(), start=1):
        for pattern, rule in FORBIDDEN_WORDS:
            if re.search(pattern, line):
                yield Finding(path, number, rule)


LOCK_HOSTS = {"pypi.org", "files.pythonhosted.org"}


def lock_hosts(path: str, text: str) -> Iterator[Finding]:
    """Find addresses in uv.lock that only one workplace can reach."""
    for number, line in enumerate(text.splitlines(), start=1):
        for host in re.findall(r"\bhttps?://([^/\"\s]+)", line):
            if host not in LOCK_HOSTS:
                yield Finding(path, number, f"the lock names {host}: only the public index may stand in it")


# ---- modules ----------------------------------------------------------------------------------
def purpose(path: str, text: str) -> Iterator[Finding]:
    """A module opens by saying what it is for: a docstring whose first line is not empty."""
    if not text.strip():
        yield Finding(path, 1, "an empty module: say in its first line what it is for")
        return
    first = ast.get_docstring(ast.parse(text), clean=False)
    lines = [line for line in text.splitlines() if not line.startswith(("#!", "# SPDX-"))]
    if first is None or not first.splitlines()[0].strip() or not re.match(r'[rR]?"""', lines[0]):
        yield Finding(path, 1, "the first line must say in plain words what the module is for")


def length(path: str, text: str) -> Iterator[Finding]:
    """A module that has grown past 500 lines holds two things."""
    count = len(text.splitlines())
    if count > LONGEST_MODULE:
        yield Finding(path, LONGEST_MODULE + 1, f"{count} lines: over {LONGEST_MODULE}, so take it apart")


def leftovers(path: str, text: str) -> Iterator[Finding]:
    """Find print() outside the faces, a debugger left in, and an except that swallows everything."""
    library = path.startswith(LIBRARY) and not path.startswith(FACES)
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.ExceptHandler) and node.type is None:
            yield Finding(path, node.lineno, "a bare except: name the exceptions you can answer")
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            if node.func.id == "breakpoint":
                yield Finding(path, node.lineno, "breakpoint() left in")
            if node.func.id == "print" and library:
                yield Finding(path, node.lineno, "print() in the core: return the value, a face will show it")
        if isinstance(node, ast.Import) and any(name.name in {"pdb", "ipdb"} for name in node.names):
            yield Finding(path, node.lineno, "a debugger left in")


# ---- imports ----------------------------------------------------------------------------------
# The floors between rooms are import-linter's (see pyproject.toml). These are the walls to the
# outside: what a room may take from other people's packages. They hold for rooms yet to be built.
SHOWING = {"typer", "rich", "fastapi", "starlette", "uvicorn", "jinja2", "plotly", "typst", "segno", "click"}
CALCULATING = {"numpy", "scipy", "numba"}
TOW_MAY = CALCULATING | {"spreadwright.tow"}


def imports(path: str, text: str) -> Iterator[Finding]:
    """Hold tow to plain numbers, faces to showing, the core to not showing, and leaf modules to being leaves."""
    if not path.startswith(LIBRARY):
        return
    inside = path.removeprefix(LIBRARY)
    for line, name in _imported(path, text):
        package, room = name.split(".")[0], ".".join(name.split(".")[:2])
        if package in sys.stdlib_module_names:
            continue
        if inside.startswith("tow/"):
            if package not in TOW_MAY and room not in TOW_MAY:
                yield Finding(path, line, f"tow/ takes plain numbers: it may not import {name}")
        elif path.startswith(FACES):
            if package in CALCULATING or room == "spreadwright.tow":
                yield Finding(path, line, f"a face computes nothing: it may not import {name}")
        elif package in SHOWING:
            yield Finding(path, line, f"the core shows nothing: it may not import {name}")
        if inside in {"quantity.py", "faults.py"} and package == "spreadwright":
            yield Finding(path, line, f"{inside} is a leaf that all may use: it may not import {name}")


def _imported(path: str, text: str) -> Iterator[tuple[int, str]]:
    """Every module named by an import, absolute; `from a.b import c` counts as a.b.c, which may be a module."""
    here = path.removeprefix("src/").removesuffix(".py").split("/")
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = here[: -node.level] if node.level else []
            start = ".".join(base + ([node.module] if node.module else []))
            yield from ((node.lineno, f"{start}.{alias.name}") for alias in node.names)


# ---- units in docstrings ----------------------------------------------------------------------
UNIT_ROOMS = ("src/spreadwright/tow/", "src/spreadwright/rig/", "src/spreadwright/day/")
UNIT_ATOM = (
    r"(?:[kmc]?m|mm|k?g|m?s|min|h|k?N|k?Pa|MPa|GPa|k?J|k?W|m?rad|deg|kn|K|degC|°C|Hz|L|%|1|-|any)[23]?(?:\^?-?\d)?"
)
UNIT = re.compile(rf"\[{UNIT_ATOM}(?:[ ·*/]{UNIT_ATOM})*(?:,[^\]]*)?\]")


def units(path: str, text: str) -> Iterator[Finding]:
    """Where plain floats come in, the docstring must name at least one unit in brackets, such as [m/s].

    Asked of public functions with a float parameter and of public classes with a float field or method,
    in the rooms that work in bare SI numbers. A class may name its units anywhere in its body.
    """
    if not path.startswith(UNIT_ROOMS):
        return
    for node in ast.parse(text).body:
        if not isinstance(node, ast.FunctionDef | ast.ClassDef) or node.name.startswith("_"):
            continue
        if isinstance(node, ast.ClassDef):
            told = "\n".join(text.splitlines()[node.lineno - 1 : node.end_lineno])
        else:
            told = ast.get_docstring(node) or ""
        if any(map(_is_float, _taken(node))) and not UNIT.search(told):
            yield Finding(path, node.lineno, f"{node.name} takes floats: name their units: [m], [-] or [any]")


def _taken(node: ast.stmt) -> Iterator[ast.expr | None]:
    """The annotations of what comes in: a function's parameters, a class's fields and its public methods'."""
    if isinstance(node, ast.FunctionDef):
        for argument in node.args.posonlyargs + node.args.args + node.args.kwonlyargs:
            yield argument.annotation
    elif isinstance(node, ast.ClassDef):
        for part in node.body:
            if isinstance(part, ast.AnnAssign):
                yield part.annotation
            elif isinstance(part, ast.FunctionDef) and not part.name.startswith("_"):
                yield from _taken(part)


def _is_float(annotation: ast.expr | None) -> bool:
    return annotation is not None and "float" in ast.unparse(annotation).split(" | ")


# ---- the tree ---------------------------------------------------------------------------------
MODULE_RULES = (purpose, length, leftovers, imports, units)


def tracked(root: Path = ROOT) -> list[str]:
    """The files of the project as git knows them, new ones included, as paths from the root."""
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(command, cwd=root, capture_output=True, text=True, check=True).stdout
    return sorted(path for path in listed.split("\0") if path and (root / path).is_file())


def check(path: str, text: str) -> list[Finding]:
    """Everything the rules find in one file."""
    rules: list[Callable[[str, str], Iterator[Finding]]] = [words]
    if path.endswith(".py"):
        rules += MODULE_RULES
    elif path.endswith((".js", ".mjs")):
        rules.append(length)
    elif path == "uv.lock":
        rules = [lock_hosts]
    return [finding for rule in rules for finding in rule(path, text)]


def check_tree(root: Path = ROOT) -> list[Finding]:
    """Everything the rules find in the whole project; files that are not text are passed over."""
    found: list[Finding] = []
    for path in tracked(root):
        content = (root / path).read_bytes()
        if b"\0" not in content:
            found += check(path, content.decode("utf-8"))
    return found


if __name__ == "__main__":
    findings = check_tree()
    for finding in findings:
        print(finding)
    sys.exit(1 if findings else 0)
