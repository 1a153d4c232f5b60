"""Imports point down only, and the contract that says so is seen to break on a copy that breaks it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import house

LINT_IMPORTS = Path(sys.executable).with_name("lint-imports")
FLOORS = "imports point down only"
CIRCLES = "no two modules or rooms import each other in a circle"
TOW = "tow is plain numbers: numpy, scipy, numba and nothing else"


def lint(root: Path) -> subprocess.CompletedProcess[str]:
    """Run the contract of `root` on the package of `root`, not on the installed one."""
    return subprocess.run(
        [LINT_IMPORTS, "--no-logo", "--no-cache"],
        cwd=root,
        env={**os.environ, "PYTHONPATH": str(root / "src")},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    shutil.copy(house.ROOT / "pyproject.toml", tmp_path)
    left_out = shutil.ignore_patterns("__pycache__", "static", "templates")
    shutil.copytree(house.ROOT / "src", tmp_path / "src", ignore=left_out)
    return tmp_path


def test_the_package_keeps_the_contract():
    told = lint(house.ROOT)
    assert told.returncode == 0, told.stdout
    for contract in (FLOORS, CIRCLES, TOW):
        assert f"{contract} KEPT" in told.stdout


BROKEN = {
    "up a floor": ({"tackle/intruder.py": "import spreadwright.spread"}, FLOORS, "spreadwright.tackle"),
    "up to the top": ({"day/intruder.py": "from spreadwright import web"}, FLOORS, "spreadwright.day"),
    "across a floor": ({"stock/intruder.py": "from spreadwright import rig"}, FLOORS, "spreadwright.stock"),
    "a room nobody listed": ({"attic/__init__.py": ""}, FLOORS, "spreadwright.attic"),
    "a circle of modules": (
        {
            "rig/first_intruder.py": "from spreadwright.rig import second_intruder",
            "rig/second_intruder.py": "from spreadwright.rig import first_intruder",
        },
        CIRCLES,
        "first_intruder",
    ),
    "tow beside its room": ({"tow/intruder.py": "import spreadwright.day"}, TOW, "spreadwright.tow.intruder"),
    "tow to the outside": ({"tow/intruder.py": "import pydantic"}, TOW, "pydantic"),
}


@pytest.mark.parametrize(("files", "contract", "named"), BROKEN.values(), ids=BROKEN.keys())
def test_a_copy_with_a_forbidden_import_goes_red(copy, files, contract, named):
    for path, code in files.items():
        intruder = copy / "src" / "spreadwright" / path
        intruder.parent.mkdir(exist_ok=True)
        intruder.write_text(f'"""An intruder."""\n\n{code}\n', encoding="utf-8")
    told = lint(copy)
    assert told.returncode == 1, told.stdout + told.stderr
    assert f"{contract} BROKEN" in told.stdout
    assert named in told.stdout


# ---- walls to the outside, held by tools/house.py ----
TOP = '"""Says what it is for."""\n'


@pytest.mark.parametrize(
    ("path", "code", "told"),
    [
        ("tow/march.py", "import pandas", "tow/ takes plain numbers"),
        ("tow/clearance/gaps.py", "from pydantic import BaseModel", "tow/ takes plain numbers"),
        ("tow/march.py", "from .. import quantity", "tow/ takes plain numbers"),
        ("tow/march.py", "def late():\n    import spreadwright.rig", "tow/ takes plain numbers"),
        ("web/pages.py", "import numpy as np", "a face computes nothing"),
        ("cli/__init__.py", "from scipy.optimize import milp", "a face computes nothing"),
        ("sheets/deck.py", "from spreadwright import tow", "a face computes nothing"),
        ("sheets/deck.py", "from ..tow.march import march", "a face computes nothing"),
        ("plan.py", "import typer", "the core shows nothing"),
        ("day/light.py", "from rich.console import Console", "the core shows nothing"),
        ("quantity.py", "from spreadwright import faults", "is a leaf"),
        ("faults.py", "from . import quantity", "is a leaf"),
    ],
)
def test_each_wall_can_fail(path, code, told):
    (found,) = house.imports(house.LIBRARY + path, TOP + code + "\n")
    assert told in found.rule


@pytest.mark.parametrize(
    ("path", "code"),
    [
        (
            "tow/march.py",
            "import math\nimport numpy\nfrom numba import njit\nfrom scipy.linalg import solve_banded",
        ),
        ("tow/march.py", "from . import track\nfrom .track import circle\nfrom spreadwright.tow.track import circle"),
        ("tow/clearance/__init__.py", "from ..track import circle"),
        ("web/pages.py", "import fastapi\nfrom spreadwright import plan"),
        ("spread/solver.py", "import numpy\nfrom spreadwright.tow import march"),
        ("quantity.py", "import pint"),
    ],
)
def test_what_is_allowed_passes(path, code):
    assert list(house.imports(house.LIBRARY + path, TOP + code + "\n")) == []
