"""Reads a trip file: TOML in the words of the trade; every fault of the file at once, with its place."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path as FilePath
from typing import Any

from pydantic import ValidationError

from spreadwright.faults import Fault, Faults
from spreadwright.tackle.draft import draft_of_file
from spreadwright.tackle.fields import FROM_FILE
from spreadwright.tackle.file_faults import MOST_FAULTS, Source, faults_of
from spreadwright.tackle.file_kinds import check_kind
from spreadwright.tackle.toml_lines import find_lines
from spreadwright.tackle.trip import Trip
from spreadwright.tackle.trip_checks import check

LARGEST_FILE = 256 * 1024  # bytes: a hundred times a full trip; more is another kind of file
_TOML_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")


def read_trip(path: str | FilePath) -> Trip:
    """The trip of a TOML file. Raises Faults with every fault of the file, and nothing else."""
    name = str(path)
    try:
        with open(path, "rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        raise Faults([_unreadable(name, error)], name) from None
    if len(data) > LARGEST_FILE:
        fault = Fault(
            name,
            f"more than {LARGEST_FILE // 1024} KiB",
            "a trip file is a few pages of text",
            "check that this is the trip file",
        )
        raise Faults([fault], name)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        fault = Fault(
            name,
            f"the byte {data[error.start]:#04x}",
            "a trip file is text in UTF-8",
            "save it again as UTF-8 text",
            line=line,
        )
        raise Faults([fault], name) from None
    return trip_from_text(text, name)


def trip_from_text(text: str, source: str = "the trip") -> Trip:
    """The trip that a TOML text describes. Raises Faults with every fault, and nothing else.

    source   what to call the text in messages, such as its file's name
    """
    tables = _tables(text, source)
    check_kind(tables, "trip", source)
    where = Source(tables, find_lines(text))
    faults: list[Fault] = []
    trip = None
    try:
        trip = Trip.model_validate(tables, context=FROM_FILE, by_alias=True, by_name=False)
    except ValidationError as error:
        faults += faults_of(error.errors()[: 2 * MOST_FAULTS], where)
    draft, hidden = draft_of_file(where)
    faults += faults_of(hidden, where)
    faults += check(draft)
    if faults or trip is None:
        raise Faults(_in_order(faults), source)
    return trip


def _in_order(faults: list[Fault]) -> list[Fault]:
    """Faults in the order of the file, each once, and not more than anybody would read."""
    each = sorted(dict.fromkeys(faults), key=lambda fault: fault.line or 0)
    if len(each) <= MOST_FAULTS:
        return each
    rest = Fault(
        "the file",
        f"{len(each) - MOST_FAULTS} more faults or more",
        "a trip file has none",
        "correct those above first, and read it again",
    )
    return [*each[:MOST_FAULTS], rest]


def _tables(text: str, source: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except RecursionError:
        fault = Fault(
            source,
            "lists or tables nested too deeply to read",
            "a trip file nests three deep at most",
            "remove the surplus brackets",
        )
    except ValueError as error:  # TOMLDecodeError, and a number of thousands of digits
        message = str(error)
        place = _TOML_PLACE.search(message)
        line, column = (int(place[1]), int(place[2])) if place and place[1] else (None, None)
        at = f", column {column}" if column else ""
        fault = Fault(
            f"{source}{at}",
            _TOML_PLACE.sub("", message),
            "the file must be readable as TOML",
            "correct that line: text in quotes, one key = value a line, headers in brackets",
            line=line if line else (text.count("\n") + 1 if place else None),
        )
    raise Faults([fault], source) from None


def _unreadable(name: str, error: OSError | ValueError) -> Fault:
    if isinstance(error, FileNotFoundError):
        return Fault(name, "no such file", "the trip file must exist", "check its name and folder")
    if isinstance(error, IsADirectoryError):
        return Fault(name, "a folder", "the trip file must be a file", "give the file in it, such as trip.toml")
    if isinstance(error, PermissionError):
        return Fault(name, "a file you may not read", "the trip file must be readable", "change its rights")
    reason = getattr(error, "strerror", None) or str(error)
    return Fault(name, reason, "the trip file must be readable", "check its name and folder")
