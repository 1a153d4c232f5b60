"""Many writers at once, and writers that are killed: no error, no lost update, nothing lost that was acknowledged."""

from __future__ import annotations

import json
import os
import signal
import sqlite3
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from itertools import islice
from pathlib import Path

import httpx
from tests.store.pages import device, serving
from tests.store.rooms import HOOK, put

from spreadwright.stock.event import happened
from spreadwright.store.open import Store, open_store
from spreadwright.store.room import all_events, read_room, record

WRITER = Path(__file__).with_name("writer.py")
ROOT = Path(__file__).parents[2]
ENOUGH = 1000  # acknowledged writes, over all the writers that are killed
KILLS = 4
COMMAND = "from spreadwright.cli import main; main()"  # what the installed command runs


def start(where: str, pieces: list[str], number: int) -> subprocess.Popen[str]:
    command = [sys.executable, str(WRITER), where, str(number), *pieces]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def killed_after(where: str, pieces: list[str], number: int) -> list[str]:
    """Let a writer acknowledge so many writes, kill it with no warning, and hand back all that it acknowledged."""
    writer = start(where, pieces, 100_000)
    assert writer.stdout is not None
    told = [line.strip() for line in islice(writer.stdout, number)]
    os.kill(writer.pid, signal.SIGKILL)
    told += [line.strip() for line in writer.stdout if line.endswith("\n")]
    assert writer.wait() == -signal.SIGKILL, writer.stderr.read() if writer.stderr else ""
    return told


def test_kill_9_loses_no_acknowledged_write_and_leaves_the_store_sound(where: str) -> None:
    with open_store(where) as store:
        hooks = [put(store, "hook", HOOK.model_copy(update={"name": f"{size}/0"}), 0) for size in range(1, 21)]
    acknowledged: list[str] = []
    for _ in range(KILLS):
        acknowledged += killed_after(where, [hook.id for hook in hooks], ENOUGH // KILLS)
    assert len(acknowledged) >= ENOUGH
    with open_store(where) as store:  # opening checks the file
        kept = {event.id for event in all_events(store)}
        assert kept >= set(acknowledged)
        # A write may have been kept and killed before it was told: at most one for each writer.
        extra = len(kept) - len(hooks) - len(acknowledged)
        assert 0 <= extra <= KILLS
        room = read_room(store)
        assert sum(room.state(hook).fit for hook in hooks) == len(kept) - len(hooks)
    if "://" not in where:
        connection = sqlite3.connect(where)
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        connection.close()


def test_twenty_writers_at_once_lose_nothing(where: str, tmp_path: Path) -> None:
    """Commands in processes of their own, devices that ask a running server, and callers of the functions.

    Twenty in all, on one lot: nobody gets an error, every write is there once, and the sum is right.
    """
    commanding, asking, calling = 4, 6, 10  # a command takes a second of its own to start
    with open_store(where) as store, serving(where, tmp_path / "pages") as address, ExitStack() as devices:
        hook = put(store, "hook", HOOK, 100)
        go = threading.Barrier(asking + calling)

        def call() -> None:
            go.wait()
            with open_store(where) as mine:
                for _ in range(5):
                    record(mine, happened(hook.id, "buy", 2), happened(hook.id, "use", 1))

        def ask(client: httpx.Client, token: str) -> list[int]:
            form = {"token": token, "piece": hook.id, "what": "dull hook", "number": "2"}
            go.wait()
            return [client.post("/room/faulty", data=form).status_code for _ in range(3)]

        def command() -> tuple[int, str]:
            line = [sys.executable, "-c", COMMAND, "room", "buy", "9/0", "3", "--store", where]
            done = subprocess.run(line, capture_output=True, text=True, check=False, cwd=ROOT)
            return done.returncode, done.stderr

        browsers = [devices.enter_context(device(address)) for _ in range(asking)]
        with ThreadPoolExecutor(20) as pool:
            commands = [pool.submit(command) for _ in range(commanding)]  # each a new process
            askers = [pool.submit(ask, *browser) for browser in browsers]
            callers = [pool.submit(call) for _ in range(calling)]
            assert [each.result() for each in askers] == [[200] * 3] * asking
            assert [each.result() for each in callers] == [None] * calling
            assert [each.result() for each in commands] == [(0, "")] * commanding
        state = read_room(store).state(hook)
        assert state.fit == 100 + calling * 5 * (2 - 1) + commanding * 3 - asking * 3 * 2
        assert sum(fault.quantity for fault in state.work) == asking * 3 * 2
        assert len(all_events(store)) == 1 + calling * 10 + commanding + asking * 3


def test_a_store_opened_twice_in_one_program_still_holds_its_place_against_others(tmp_path: Path) -> None:
    """Any close of the file drops all of a process's locks on it (POSIX; How To Corrupt An SQLite Database File, 2.2).

    Another program that then closes the store takes itself for the last one and removes the log that we write to.
    """
    where = str(tmp_path / "store.sqlite")
    with open_store(where) as store:
        hook = put(store, "hook", HOOK, 10)
        open_store(where).close()
        line = [sys.executable, "-c", COMMAND, "room", "buy", "9/0", "3", "--store", where]
        assert subprocess.run(line, capture_output=True, check=False, cwd=ROOT).returncode == 0
        assert Path(f"{where}-wal").exists()
        record(store, happened(hook.id, "use", 1))
    seen = [sys.executable, "-c", COMMAND, "room", "show", "hook", "--json", "--store", where]
    told = subprocess.run(seen, capture_output=True, text=True, check=True, cwd=ROOT).stdout
    assert [piece["fit"] for piece in json.loads(told)["pieces"]] == [10 + 3 - 1]


def test_of_two_who_take_the_last_one_only_one_gets_it(store: Store) -> None:
    hook = put(store, "hook", HOOK, 10)
    go = threading.Barrier(20)

    def take() -> bool:
        from spreadwright.faults import Faults

        go.wait()
        try:
            record(store, happened(hook.id, "use", 1))
        except Faults:
            return False
        return True

    with ThreadPoolExecutor(20) as pool:
        taken = [each.result() for each in [pool.submit(take) for _ in range(20)]]
    assert sum(taken) == 10
    assert read_room(store).state(hook).fit == 0


def test_twenty_who_open_a_new_store_at_once_all_get_it(where: str) -> None:
    go = threading.Barrier(20)

    def begin() -> int:
        go.wait()
        with open_store(where) as store:
            return len(all_events(store))

    with ThreadPoolExecutor(20) as pool:
        assert [each.result() for each in [pool.submit(begin) for _ in range(20)]] == [0] * 20


def test_a_writer_killed_inside_a_transaction_leaves_nothing_of_it(where: str) -> None:
    with open_store(where) as store:
        hook = put(store, "hook", HOOK, 1)
    code = (
        "import sys,time\n"
        "from spreadwright.store.open import open_store\n"
        "from spreadwright.store.room import write_events\n"
        "from spreadwright.stock.event import happened\n"
        "with open_store(sys.argv[1]) as store, store.writing() as connection:\n"
        "    write_events(connection, [happened(sys.argv[2], 'buy', 5)])\n"
        "    print('inside', flush=True)\n"
        "    time.sleep(60)\n"
    )
    writer = subprocess.Popen([sys.executable, "-c", code, where, hook.id], stdout=subprocess.PIPE, text=True)
    assert writer.stdout is not None
    assert writer.stdout.readline() == "inside\n"
    os.kill(writer.pid, signal.SIGKILL)
    writer.wait()
    with open_store(where) as store:
        record(store, happened(hook.id, "use", 1))  # and the lock is free
        assert read_room(store).state(hook).fit == 0
