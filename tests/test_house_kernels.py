"""A kernel compiled before its neighbour was edited is thrown away, and numba is shown to need that."""

import os
import subprocess
import sys
import time
from pathlib import Path

import fresh_kernels

FORCES = "import numba\n@numba.njit(cache=True)\ndef drag(speed):\n    return speed * {factor}\n"
MARCH = "import numba\nfrom forces import drag\n@numba.njit(cache=True)\ndef step(speed):\n    return drag(speed) + 1\n"


def run(folder: Path) -> int:
    # the interpreter must not carry on with a .pyc of the same second and size
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
    environment.pop("NUMBA_CACHE_DIR", None)
    command = [sys.executable, "-c", "import march; print(march.step(10))"]
    told = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=True)
    return int(told.stdout)


def test_an_edited_neighbour_needs_the_kernels_dropped(tmp_path):
    (tmp_path / "forces.py").write_text(FORCES.format(factor=2), encoding="utf-8")
    (tmp_path / "march.py").write_text(MARCH, encoding="utf-8")
    assert run(tmp_path) == 21
    assert fresh_kernels.drop_stale(tmp_path) == 0, "nothing was edited: the kernels must stay, or caching is lost"

    time.sleep(0.01)
    (tmp_path / "forces.py").write_text(FORCES.format(factor=3), encoding="utf-8")
    assert run(tmp_path) == 21, "numba now notices edited neighbours by itself: tools/fresh_kernels.py can go"
    (tmp_path / "forces.py").touch()
    assert fresh_kernels.drop_stale(tmp_path) > 0
    assert run(tmp_path) == 31


def test_only_rooms_with_kernels_are_looked_at(tmp_path):
    kernel = tmp_path / "tow" / "__pycache__" / "march.step-3.py311.nbi"
    kernel.parent.mkdir(parents=True)
    kernel.touch()
    (tmp_path / "cli.py").touch()
    (tmp_path / "web").mkdir()
    (tmp_path / "web" / "pages.py").touch()
    assert fresh_kernels.drop_stale(tmp_path) == 0
    (tmp_path / "tow" / "clearance").mkdir()
    (tmp_path / "tow" / "clearance" / "gaps.py").touch()
    assert fresh_kernels.drop_stale(tmp_path) == 1
    assert not kernel.exists()
