"""How the pages are served: where they listen, whose names they answer to, and where they keep their files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

LOOPBACK = "127.0.0.1"
OWN_NAMES = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True)
class Settings:
    """How one server runs.

    hosts    names, with their port, that a request may be addressed to; any other is turned away
    folder   where uploads, plans and hand-made spreads are kept
    trips    trip files opened at the start
    store    which tackle room and logbook (see store.place); None for the usual one
    paired   True where machines other than this one may come in, after pairing
    """

    hosts: frozenset[str]
    folder: Path
    trips: tuple[Path, ...] = ()
    store: str | None = None
    paired: bool = False


def own_hosts(port: int, *others: str) -> frozenset[str]:
    """The names of this machine with their port, and any others it goes by."""
    return frozenset(f"{name}:{port}".lower() for name in (*OWN_NAMES, *others))
