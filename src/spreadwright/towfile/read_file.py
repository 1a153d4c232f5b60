"""Reads a tow file: TOML with units; every fault of the file at once, with its place."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path as FilePath
from typing import Any

from spreadwright.faults import Fault, Faults
from spreadwright.tackle.file_faults import Source
from spreadwright.tackle.file_kinds import check_kind
from spreadwright.tackle.toml_lines import find_lines
from spreadwright.tow.mesh import Grading, section_counts
from spreadwright.towfile.keys import TOP
from spreadwright.towfile.read_lines import read_lines
from spreadwright.towfile.read_motion import check_duration, read_motion, read_numerics, read_water
from spreadwright.towfile.read_track import Folder
from spreadwright.towfile.reading import Reading
from spreadwright.towfile.values import Circle, Recorded, Straight, STurn, TowFile

LARGEST_FILE = 1024 * 1024  # [bytes]: a track of many points may stand in it
MOST_FAULTS = 200
MOST_PIECES = 40_000  # of all lines together
MOST_WORK = 300_000_000  # pieces times steps: some minutes
MOST_STORED = 30_000_000  # pieces times stored moments: what fits into memory
_TOML_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")


def read_tow_file(path: str | FilePath) -> TowFile:
    """The tow file at a path. Raises Faults with every fault of the file, and nothing else."""
    name = str(path)
    try:
        with open(path, "rb") as file:
            data = file.read(LARGEST_FILE + 1)
        folder = FilePath(path).parent
    except (OSError, ValueError) as error:
        raise Faults([_unreadable(name, error)], name) from None
    if len(data) > LARGEST_FILE:
        rule = "a tow file is a few pages of text; a long track goes into a CSV file beside it"
        given = f"more than {LARGEST_FILE // 2**20} MiB"
        raise Faults([Fault(name, given, rule, "check that this is the tow file")], name)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        given = f"the byte {data[error.start]:#04x}"
        fault = Fault(name, given, "a tow file is text in UTF-8", "save it again as UTF-8 text", line=line)
        raise Faults([fault], name) from None
    return tow_file_from_text(text, name, folder)


def tow_file_from_text(text: str, source: str = "the tow file", folder: Folder = None) -> TowFile:
    """The tow file that a TOML text describes. Raises Faults with every fault, and nothing else.

    source   what to call the text in messages, such as its file's name
    folder   where a track in a CSV file may lie; None where there is none
    """
    tables = _tables(text, source)
    check_kind(tables, "tow", source)
    reading = Reading(Source(tables, find_lines(text)))
    file = _read(reading, folder)
    if reading.faults or file is None:
        raise Faults(_in_order(reading.faults), source)
    return file


def _read(reading: Reading, folder: Folder) -> TowFile | None:
    top = reading.read((), reading.source.tables, TOP)
    sea, moving = read_water(reading, top)
    motion = read_motion(reading, top, folder)
    check_duration(reading, motion, moving)
    lines = read_lines(reading, top, sea)
    numerics = read_numerics(reading, top, motion)
    if reading.faults or not top.sound or sea is None or motion is None or numerics is None:
        return None
    file = TowFile(top["title"], top["units"], sea, moving, motion, lines, numerics)
    _check_size(reading, file)
    return file


def _check_size(reading: Reading, file: TowFile) -> None:
    """Refuse what would take hours or more memory than there is."""
    pieces = sum(sum(section_counts(each.line, Grading().scaled(file.numerics.mesh_scale))) for each in file.lines)
    if pieces > MOST_PIECES:
        rule = f"all lines together may have {MOST_PIECES} pieces of mesh"
        reading.fault(("numerics", "mesh_scale"), f"{pieces} pieces", rule, "choose a larger mesh_scale or fewer lines")
    if not file.over_time:
        return
    steps = duration(file) / file.numerics.step
    if pieces * steps > MOST_WORK:
        rule = f"pieces of mesh times steps may be {MOST_WORK:,}, some minutes of computing"
        reading.fault(
            ("numerics", "step"), f"{pieces} pieces in {steps:.0f} steps", rule, "shorten the run, or lengthen the step"
        )
    if pieces * steps / file.numerics.store_every > MOST_STORED:
        rule = f"pieces of mesh times stored moments may be {MOST_STORED:,}"
        given = f"{pieces} pieces at {steps / file.numerics.store_every:.0f} moments"
        reading.fault(("numerics", "store_every"), given, rule, "store less often")


def duration(file: TowFile) -> float:
    """How long the motion lasts [s]; 0 where it is steady."""
    match file.motion:
        case Straight(duration=given) | Circle(duration=given):
            return given or 0.0
        case Recorded(times=times):
            return times[-1]
        case STurn() as turn:
            turning = turn.speed * (1.0 - turn.speed_loss)
            arcs = sum(abs(change) for change in turn.turns) * turn.radius / turning
            return turn.lead_in + arcs + (len(turn.turns) - 1) * turn.straight_run + turn.lead_out


def _in_order(faults: list[Fault]) -> list[Fault]:
    """Faults in the order of the file, each once, and not more than anybody would read."""
    each = sorted(dict.fromkeys(faults), key=lambda fault: fault.line or 0)
    if len(each) <= MOST_FAULTS:
        return each
    more = f"{len(each) - MOST_FAULTS} more faults"
    rest = Fault("the file", more, "a tow file has none", "correct those above first, and read it again")
    return [*each[:MOST_FAULTS], rest]


def _tables(text: str, source: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except RecursionError:
        given = "lists or tables nested too deeply to read"
        fault = Fault(source, given, "a tow file nests four deep at most", "remove the surplus brackets")
    except ValueError as error:  # TOMLDecodeError, and a number of thousands of digits
        message = str(error)
        place = _TOML_PLACE.search(message)
        line, column = (int(place[1]), int(place[2])) if place and place[1] else (None, None)
        fault = Fault(
            f"{source}, column {column}" if column else source,
            _TOML_PLACE.sub("", message),
            "the file must be readable as TOML",
            "correct that line: text in quotes, one key = value a line, headers in brackets",
            line=line if line else (text.count("\n") + 1 if place else None),
        )
    raise Faults([fault], source) from None


def _unreadable(name: str, error: OSError | ValueError) -> Fault:
    rule, step = "the tow file must be a file that can be read", "check its name and folder"
    if isinstance(error, FileNotFoundError):
        return Fault(name, "no such file", rule, step)
    if isinstance(error, IsADirectoryError):
        return Fault(name, "a folder", rule, "give the file in it")
    if isinstance(error, PermissionError):
        return Fault(name, "a file you may not read", rule, "change its rights")
    return Fault(name, getattr(error, "strerror", None) or str(error), rule, step)
