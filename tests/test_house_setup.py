"""The way in from a bare machine: what setup says when it cannot go on, and what CI and the task file call."""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

import house

NO_PYTHON_TOOLS = """#!/bin/sh
# a python3 of the right age with neither venv nor pip
case "$*" in *version_info*) exit 0 ;; *) exit 1 ;; esac
"""
OLD_PYTHON = """#!/bin/sh
case "$*" in --version) echo Python 3.9.2 ;; *) exit 1 ;; esac
"""


def setup(folder: Path, python: str) -> subprocess.CompletedProcess[str]:
    """Run the setup script in a folder of its own, with a stand-in for python3 and no apt-get to fall back on."""
    tools = folder / "tools"
    tools.mkdir()
    shutil.copy(house.ROOT / "tools" / "setup.sh", tools)
    stand_in = folder / "python"
    stand_in.write_text(python, encoding="utf-8")
    stand_in.chmod(0o755)
    programs = folder / "programs"
    programs.mkdir()
    for name in ("sh", "dirname", "mkdir", "rm", "id"):
        (programs / name).symlink_to(str(shutil.which(name)))
    environment = {"PATH": str(programs), "PYTHON": str(stand_in)}
    return subprocess.run([tools / "setup.sh"], env=environment, capture_output=True, text=True, check=False)


def test_an_old_python_is_refused_with_the_version_found_and_the_next_step(tmp_path):
    told = setup(tmp_path, OLD_PYTHON)
    assert told.returncode == 1
    assert "Python 3.9.2 found; spreadwright needs Python 3.11 or newer" in told.stderr
    assert "make setup PYTHON=python3.12" in told.stderr


def test_a_python_without_venv_and_pip_is_told_what_to_install(tmp_path):
    told = setup(tmp_path, NO_PYTHON_TOOLS)
    assert told.returncode == 1
    assert "this python3 has neither venv nor pip" in told.stderr
    assert "apt-get install python3-venv" in told.stderr


@pytest.mark.parametrize("script", ["tools/setup.sh", "tools/test-tools.sh", ".ci/run"])
def test_scripts_are_sound_and_may_be_run(script):
    path = house.ROOT / script
    assert path.stat().st_mode & 0o111, f"{script} is not executable"
    shell = "bash" if script == ".ci/run" else "sh"
    subprocess.run([shell, "-n", path], check=True)


def tools_wanted(folder: Path, wanted: str) -> subprocess.CompletedProcess[str]:
    script = (house.ROOT / "tools" / "test-tools.sh").read_text(encoding="utf-8")
    copy = folder / "test-tools.sh"
    copy.write_text(
        re.sub(r"wanted='.*?'", f"wanted='\n{wanted}\n'", script, count=1, flags=re.DOTALL), encoding="utf-8"
    )
    programs = folder / "programs"
    programs.mkdir()
    for name in ("sh", "id"):
        (programs / name).symlink_to(str(shutil.which(name)))
    command = [programs / "sh", copy]
    return subprocess.run(command, env={"PATH": str(programs)}, capture_output=True, text=True, check=False)


def test_missing_test_programs_are_named_where_they_cannot_be_installed(tmp_path):
    told = tools_wanted(tmp_path, "# a remark\nsh dash\nno-such-browser browser-package")
    assert told.returncode == 0
    assert "missing: no-such-browser." in told.stderr
    assert "apt-get install browser-package" in told.stderr


def test_present_test_programs_are_passed_over_in_silence(tmp_path):
    told = tools_wanted(tmp_path, "sh dash")
    assert (told.returncode, told.stdout, told.stderr) == (0, "", "")


def test_ci_calls_the_test_task_and_nothing_else():
    lines = (house.ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    commands = [line for line in lines if line and not line.startswith("#")]
    assert commands[-1] == "exec make test </dev/null"
    assert len(commands) == 3  # set, cd, make


def run_test_task(folder: Path, **exits: int) -> subprocess.CompletedProcess[str]:
    """Run `make test` of the real Makefile over stand-ins for the tools, each leaving with the code given."""
    shutil.copy(house.ROOT / "Makefile", folder)
    (folder / "programs").mkdir()
    for name in ("ruff", "lint-imports", "mypy", "pytest"):
        stand_in = folder / "programs" / name
        stand_in.write_text(f"#!/bin/sh\necho {name} was here\nexit {exits.get(name, 0)}\n", encoding="utf-8")
        stand_in.chmod(0o755)
    (folder / "tools").mkdir()
    shutil.copy(house.ROOT / "tools" / "test-tools.sh", folder / "tools")
    for name in ("tools/setup.sh", "uv.lock", "pyproject.toml", ".venv/.made"):  # the last is the newest: all is made
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).touch()
    command = ["make", "--no-print-directory", "test", "BIN=programs"]
    clean = {name: value for name, value in os.environ.items() if not name.startswith(("MAKE", "MFLAGS"))}
    return subprocess.run(command, cwd=folder, env=clean, capture_output=True, text=True, check=False)


def test_pytest_has_the_last_word(tmp_path):
    told = run_test_task(tmp_path)
    assert told.returncode == 0, told.stderr
    assert told.stdout.splitlines()[-1] == "pytest was here"


@pytest.mark.parametrize("failing", ["ruff", "lint-imports", "mypy", "pytest"])
def test_one_red_tool_turns_the_task_red_and_pytest_still_runs(tmp_path, failing):
    told = run_test_task(tmp_path, **{failing: 1})
    assert told.returncode != 0
    assert told.stdout.splitlines()[-1] == "pytest was here"


def test_the_readme_gives_the_two_commands_that_ci_and_the_task_file_know():
    readme = house.ROOT / "README.md"
    if not readme.exists():
        pytest.skip("README.md is not written yet")
    typed = re.findall(r"^[ $]*(make [a-z-]+)", readme.read_text(encoding="utf-8"), re.MULTILINE)
    assert {"make demo", "make test"} <= set(typed)
