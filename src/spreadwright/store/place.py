"""Where a store lives: the file or database that is meant, and a name for it that shows no password."""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import quote

ENVIRONMENT = "SPREADWRIGHT_STORE"
FILE_NAME = "spreadwright.sqlite"
_RULE = "a store is an SQLite file, or the address of a PostgreSQL database"
_NEXT = "name a file, such as 'garage.sqlite', or write postgresql://name@machine/database"


@dataclass(frozen=True)
class Place:
    """A store's place: its address, and the file where it is one.

    file    the SQLite file; None for a database on a server
    usual   True where nothing was named: the program's own place, whose folder it may make
    """

    url: URL
    file: Path | None
    usual: bool = False

    @property
    def shown(self) -> str:
        """The place as it may be shown: a server's password never."""
        return str(self.file) if self.file is not None else self.url.render_as_string(hide_password=True)


def place_of(where: str | Path | None = None) -> Place:
    """The place that is meant by a path, an address, or nothing at all.

    Nothing means the environment's SPREADWRIGHT_STORE, and without it a file in the user's data folder.
    Raises Faults for an address of a kind that is not known.
    """
    usual = where is None and not os.environ.get(ENVIRONMENT, "").strip()
    if where is None:
        where = os.environ.get(ENVIRONMENT, "").strip() or data_folder() / FILE_NAME
    if isinstance(where, str) and "://" in where:
        return _address(where)
    if not str(where).strip():
        raise Faults([Fault("store", quote(str(where)), _RULE, _NEXT)])
    file = Path(where).expanduser()
    return Place(URL.create("sqlite", database=str(file)), file, usual)


def _address(text: str) -> Place:
    try:
        url = make_url(text)
    except ArgumentError:
        raise Faults([Fault("store", "an address that cannot be read", _RULE, _NEXT)]) from None
    if url.drivername in {"postgresql", "postgres", "postgresql+psycopg"} and url.database:
        return Place(url.set(drivername="postgresql+psycopg"), None)
    if url.drivername == "sqlite" and url.database:
        return place_of(Path(url.database))
    raise Faults([Fault("store", url.render_as_string(hide_password=True), _RULE, _NEXT)])


def data_folder() -> Path:
    """The folder where this user's programs keep their data, by the habit of the system; it may not exist yet."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA") or home / "AppData" / "Roaming") / "spreadwright"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "spreadwright"
    return Path(os.environ.get("XDG_DATA_HOME") or home / ".local" / "share") / "spreadwright"
