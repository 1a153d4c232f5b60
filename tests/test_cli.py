"""The command line as a whole: help stays quick and light, versions, exit codes, progress, Ctrl-C."""

from __future__ import annotations

import ast
import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from typer.testing import CliRunner

from spreadwright import __version__, cli
from spreadwright.cli import running

START = "import sys; from spreadwright.cli import main; sys.argv = ['spreadwright', *sys.argv[1:]]; "
HEAVY = {"numba", "llvmlite", "numpy", "scipy", "pint", "sqlalchemy", "fastapi", "plotly", "typst"}


def run(*arguments: str, code: str = START + "main()", **more: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(  # type: ignore[call-overload, no-any-return]
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, timeout=300, check=False, **more
    )


@pytest.mark.parametrize("arguments", [("--help",), ("tow", "--help"), ("--version",), ()])
def test_help_and_version_load_no_compiled_code(arguments: tuple[str, ...]) -> None:
    code = (
        START
        + "import atexit; atexit.register(lambda: print(sorted({name.split('.')[0] for name in sys.modules}))); main()"
    )
    told = run(*arguments, code=code)
    assert told.returncode in {0, 2}, told.stderr
    loaded = set(ast.literal_eval(told.stdout.splitlines()[-1]))
    assert "typer" in loaded
    assert not HEAVY & loaded


def test_the_check_of_loaded_code_can_fail() -> None:
    code = START + "import numba; print('numba' in sys.modules)"
    assert run(code=code).stdout == "True\n"


def test_help_is_quick() -> None:
    """Processor time of its own, which other work on the machine does not lengthen."""
    code = "import os, sys; start = os.times()[0]; " + START
    code += "import atexit; atexit.register(lambda: print(os.times()[0] - start)); main()"
    told = run("--help", code=code)
    assert float(told.stdout.splitlines()[-1]) < 1.0


def test_the_version() -> None:
    told = CliRunner().invoke(cli.app, ["--version"])
    assert (told.exit_code, told.output) == (0, f"spreadwright {__version__}\n")


def test_help_names_every_command_and_its_purpose() -> None:
    told = CliRunner().invoke(cli.app, ["--help"])
    assert told.exit_code == 0
    for command in cli.app.registered_commands:
        assert command.callback is not None
        assert (command.name or command.callback.__name__.replace("_", "-")) in told.output
        assert command.callback.__doc__


@pytest.mark.parametrize(
    ("arguments", "told"),
    [(["towe"], "No such command 'towe'"), (["tow"], "Missing argument"), (["tow", "a", "--units", "feet"], "feet")],
)
def test_a_wrong_command_is_exit_code_2_without_a_traceback(arguments: list[str], told: str) -> None:
    got = CliRunner().invoke(cli.app, arguments)
    assert got.exit_code == 2
    assert told in got.output
    assert "Traceback" not in got.output


# ---- progress ----
class Screen:
    """An error stream that says it is a terminal, and keeps what was written."""

    def __init__(self, terminal: bool) -> None:
        self.terminal, self.written = terminal, ""

    def isatty(self) -> bool:
        return self.terminal

    def write(self, text: str) -> int:
        self.written += text
        return len(text)

    def flush(self) -> None:
        pass


def slow(tell: running.Tell) -> str:
    tell("preparing the calculation", 0, 3)
    time.sleep(0.7)
    tell("computing the lines", 2, 3)
    time.sleep(0.7)
    return "done"


@pytest.mark.parametrize(
    ("terminal", "quiet", "shown"), [(True, False, True), (True, True, False), (False, False, False)]
)
def test_a_progress_bar_is_shown_on_a_terminal_and_never_else(
    terminal: bool, quiet: bool, shown: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    screen = Screen(terminal)
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.setattr(running, "PATIENCE", 0.2)
    monkeypatch.setenv("TERM", "xterm")
    assert running.with_progress(slow, quiet=quiet) == "done"
    assert ("preparing the calculation" in screen.written) == shown
    assert ("computing the lines" in screen.written) == shown
    assert shown or not screen.written


def test_what_is_quick_shows_no_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = Screen(True)
    monkeypatch.setattr(sys, "stderr", screen)
    assert running.with_progress(lambda tell: tell("computing", 0, 1)) is True
    assert screen.written == ""


def test_what_the_work_raises_is_raised() -> None:
    def fail(tell: running.Tell) -> None:
        raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        running.with_progress(fail)


def test_ctrl_c_asks_the_work_to_stop(monkeypatch: pytest.MonkeyPatch) -> None:
    answers: list[bool] = []
    stopped = threading.Event()

    def work(tell: running.Tell) -> None:
        answers.append(tell("computing", 0, 1))
        os.kill(os.getpid(), signal.SIGINT)
        for _ in range(100):
            time.sleep(0.02)
            if not tell("computing", 0, 1):
                stopped.set()
                return

    with pytest.raises(KeyboardInterrupt):
        running.with_progress(work)
    assert stopped.wait(3.0)
    assert answers == [True]


LONG = """
import threading, time
from spreadwright import cli
from spreadwright.cli import running
def busy(tell):
    print("begun", flush=True)
    while True:  # like compiled code: it hears nobody
        time.sleep(0.05)
@cli.app.command()
def endless() -> None:
    "Never ends."
    running.with_progress(busy)
import sys
sys.argv = ["spreadwright", "endless"]
cli.main()
"""


@pytest.mark.skipif(os.name != "posix", reason="sends the signal that Ctrl-C sends")
def test_ctrl_c_leaves_at_once_with_a_word_and_130() -> None:
    process = subprocess.Popen([sys.executable, "-c", LONG], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert process.stdout is not None
    assert process.stdout.readline() == "begun\n"
    start = time.monotonic()
    process.send_signal(signal.SIGINT)
    _, told = process.communicate(timeout=60)
    assert time.monotonic() - start < 20.0
    assert process.returncode == 130
    assert told == "\nStopped with Ctrl-C; no result.\n"


def test_names_a_terminal_cannot_show_end_in_no_traceback(tmp_path: Path) -> None:
    path = tmp_path / "tow.toml"
    path.write_text('title = "Sankt Jürgen"\n"möve" = 1\n', encoding="utf-8")
    told = run("tow", str(path), env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert told.returncode == 2
    assert "Traceback" not in told.stderr
    assert "there is no key" in told.stderr
