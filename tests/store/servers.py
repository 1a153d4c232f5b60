"""A real PostgreSQL server for tests: made in a folder of its own, as an unprivileged user, and stopped at the end."""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

MISSING = (
    "PostgreSQL's server programs initdb and pg_ctl are not on this machine. Run `make test-tools` as root, "
    "or install Debian's package postgresql; the store's tests must run on both databases"
)


def server_program(name: str) -> str:
    """The path of a server program: on the PATH, or where Debian keeps them; AssertionError where there is none."""
    debian = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    found = shutil.which(name) or (str(debian[-1]) if debian else None)
    assert found is not None, MISSING
    return found


@contextmanager
def running_server() -> Iterator[str]:
    """Make a database cluster, start its server on a socket of its own, and hand out its address."""
    initdb, pg_ctl = server_program("initdb"), server_program("pg_ctl")
    folder = Path(tempfile.mkdtemp(prefix="pg-"))
    folder.chmod(0o755)
    user = _give_to_somebody_unprivileged(folder)
    data, port = folder / "data", _free_port()
    options = f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} -c fsync=off"
    try:
        _run([initdb, "-D", str(data), "-U", "tester", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8"], user, folder)
        _run([pg_ctl, "-D", str(data), "-w", "-l", str(folder / "log"), "-o", options, "start"], user, folder)
        yield f"postgresql://tester@127.0.0.1:{port}/postgres"
    finally:
        _run([pg_ctl, "-D", str(data), "-m", "immediate", "stop"], user, folder, must=False)
        shutil.rmtree(folder, ignore_errors=True)


def _give_to_somebody_unprivileged(folder: Path) -> str | None:
    """The server refuses to run as root: hand the folder to another user, who then runs it."""
    if os.getuid() != 0:
        return None
    names = {entry.pw_name for entry in pwd.getpwall()}
    user = next(name for name in ("postgres", "nobody") if name in names)
    shutil.chown(folder, user)
    return user


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _run(command: list[str], user: str | None, folder: Path, *, must: bool = True) -> None:
    # No pipe: the server keeps what it inherits, and a pipe would never end.
    environment: Mapping[str, str] = {**os.environ, "HOME": str(folder)}
    told = folder / "told"
    with told.open("ab") as out:
        if user is not None:
            shutil.chown(told, user)
        done = subprocess.run(
            command,
            user=user,
            cwd=folder,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=out,
            timeout=60,
        )
    assert done.returncode == 0 or not must, told.read_text(errors="replace")
