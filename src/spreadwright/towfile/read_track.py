"""Reads a track of times and places, written in the tow file or in a CSV file beside it."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path as FilePath

import numpy as np

from spreadwright import quantity
from spreadwright.quantity import QuantityError, quote
from spreadwright.tackle.toml_lines import Path
from spreadwright.tow.track import recorded
from spreadwright.towfile.keys import LONGEST_TIME, MOTIONS
from spreadwright.towfile.reading import Found, Reading
from spreadwright.towfile.values import Recorded

Folder = FilePath | None
Row = tuple[float, float, float]
Series = tuple[float, ...]

LARGEST_TRACK = 2 * 1024 * 1024  # [bytes]
MOST_POINTS = 20_000
FASTEST = 50.0  # [m/s]
SHARPEST = math.radians(90.0)  # from one leg of the track to the next
STRAIGHT_AHEAD = 0.5  # least share of the speed that is along the heading
FARTHEST = 1e6  # [m]
_COLUMN = re.compile(r"\s*([A-Za-z]+)\s*[(\[]\s*([^)\]]+?)\s*[)\]]\s*")
_DIMENSIONS = {"t": "time", "x": "length", "y": "length"}
_HOW = "name three columns t, x and y with their units, such as t (s), x (m), y (m)"
MOST_ROW_FAULTS = 20


def read_track(reading: Reading, found: Found, folder: Folder) -> Recorded | None:
    """The track of a [motion] table; None where it is faulty."""
    path = found.path
    if ("file" in found) == ("points" in found):
        given = "both file and points" if "file" in found else "nothing"
        keys = {key.name: key for key in MOTIONS["track"]}
        step = "remove one of them" if "file" in found else f"add {keys['file'].line}, or columns and points"
        reading.fault((*path, "points"), given, "a track is given by file or by points", step)
        return None
    if "file" in found:
        return _from_file(reading, found, folder)
    if "columns" not in found:
        reading.fault(
            (*path, "columns"), "nothing", "bare numbers have no unit", _HOW.replace("name", "add columns:", 1)
        )
    scales = _scales(reading, (*path, "columns"), found["columns"]) if found["columns"] is not None else None
    rows = found["points"]
    if not isinstance(rows, list):
        reading.fault((*path, "points"), quote(rows), "points are a list of rows", "write [[0, 0, 0], [1, 7.7, 0]]")
        return None
    if scales is None or not found.sound:
        return None
    return _track(reading, (*path, "points"), rows, scales)


def _scales(reading: Reading, path: Path, columns: tuple[str, ...]) -> list[tuple[str, float]] | None:
    """The name (t, x or y) of each column and the worth of its unit in SI."""
    scales = []
    for column in columns:
        match = _COLUMN.fullmatch(column)
        letter = match[1].lower() if match else ""
        if match is None or letter not in _DIMENSIONS:
            reading.fault(path, quote(column), "a column has a name, t, x or y, and its unit in brackets", _HOW)
            return None
        try:
            scales.append((letter, quantity.read(f"1 {match[2]}", _DIMENSIONS[letter])))
        except QuantityError as error:
            reading.fault(path, quote(column), error.rule, error.next_step)
            return None
    if sorted(letter for letter, _ in scales) != ["t", "x", "y"]:
        reading.fault(path, quote(", ".join(columns)), "the columns are t, x and y, each once", _HOW)
        return None
    return scales


def _from_file(reading: Reading, found: Found, folder: Folder) -> Recorded | None:
    path = (*found.path, "file")
    if found["file"] is None:
        return None
    if "columns" in found:
        reading.fault(
            (*found.path, "columns"), quote(found.raw["columns"]), "a CSV file names its own columns", "remove it"
        )
        return None
    text = _text_of(reading, path, found["file"], folder)
    if text is None:
        return None
    try:
        lines = [row for row in csv.reader(io.StringIO(text), strict=True) if any(cell.strip() for cell in row)]
    except csv.Error as error:
        reading.fault(path, quote(found["file"]), f"the file must be readable as CSV ({error})", "save it again as CSV")
        return None
    if not lines:
        reading.fault(path, "an empty file", "the first row names the columns", _HOW)
        return None
    scales = _scales(reading, path, tuple(lines[0]))
    return None if scales is None else _track(reading, path, lines[1:], scales)


def _text_of(reading: Reading, path: Path, name: str, folder: Folder) -> str | None:
    """The text of a file beside the tow file. No name leads out of that folder, be it by '..' or by a link."""

    def refuse(given: str, rule: str, next_step: str) -> None:
        reading.fault(path, given, rule, next_step)

    if folder is None:
        refuse(quote(name), "there is no folder to look in: this text did not come from a file", "give points instead")
        return None
    try:
        inside = folder.resolve()
        wanted = (inside / name).resolve()
        if not wanted.is_relative_to(inside) or FilePath(name).is_absolute():
            refuse(quote(name), "the track must lie in the folder of this file, or below", "copy it there")
            return None
        if not wanted.is_file():
            refuse(quote(name), "there is no such file beside this one", "check its name")
            return None
        with wanted.open("rb") as file:
            data = file.read(LARGEST_TRACK + 1)
        if len(data) > LARGEST_TRACK:
            refuse(f"more than {LARGEST_TRACK // 2**20} MiB", "a track file has at most that", "thin it out")
            return None
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        refuse(quote(name), "a track file is text in UTF-8", "save it again as UTF-8 text")
    except (OSError, ValueError, RuntimeError) as error:
        refuse(
            quote(name), f"the file must be readable ({getattr(error, 'strerror', None) or error})", "check its name"
        )
    return None


def _track(reading: Reading, path: Path, rows: Sequence[object], scales: list[tuple[str, float]]) -> Recorded | None:
    if not 3 <= len(rows) <= MOST_POINTS:
        reading.fault(path, f"{len(rows)} points", f"a track has 3 to {MOST_POINTS} points", "add or thin out points")
        return None
    before = len(reading.faults)
    points = []
    for at, row in enumerate(rows):
        point = _point(reading, (*path, at), row, scales)
        if point is not None:
            points.append(point)
        if len(reading.faults) - before >= MOST_ROW_FAULTS:
            return None
    if len(reading.faults) > before or not _runs(reading, path, points):
        return None
    origin = points[0]
    t, x, y = (tuple(point[i] - origin[i] for point in points) for i in range(3))
    return Recorded(t, x, y) if _curve_runs(reading, path, t, x, y) else None


def _curve_runs(reading: Reading, path: Path, t: Series, x: Series, y: Series) -> bool:
    """True where the smooth curve through the points can be run too: it must not swing about between them."""
    ends = np.array(t)
    times = np.unique(np.concatenate([ends[:-1] + share * np.diff(ends) for share in (0.0, 0.25, 0.5, 0.75)] + [ends]))
    try:
        pose = recorded(ends, np.array(x), np.array(y)).pose(times)
    except ValueError as error:
        reading.fault(path, f"{len(t)} points", str(error).split(";")[0], "leave out the parts without way on")
        return False
    speed = np.hypot(pose.vx, pose.vy)
    ahead = pose.vx * np.cos(pose.heading) + pose.vy * np.sin(pose.heading)
    bad = np.flatnonzero(~((ahead > STRAIGHT_AHEAD * speed) & (speed > 0.1) & (speed <= FASTEST)))
    if bad.size:
        given = f"{speed[bad[0]]:.3g} m/s at {times[bad[0]]:.4g} s after the first point"
        rule = "the smooth curve through the points must go ahead all the way; between these it swings or stops"
        reading.fault(path, given, rule, "give more points there, or leave out those that leap")
        return False
    return True


def _point(reading: Reading, path: Path, row: object, scales: list[tuple[str, float]]) -> Row | None:
    """One point (t [s], x [m], y [m])."""
    if not isinstance(row, list) or len(row) != 3:
        reading.fault(path, quote(row), "a point has three numbers", "write it as [1, 7.7, 0]")
        return None
    values = {}
    for cell, (letter, worth) in zip(row, scales, strict=True):
        try:
            if isinstance(cell, bool):
                raise ValueError
            value = float(cell) * worth
        except (TypeError, ValueError, OverflowError):
            value = math.nan
        if not abs(value) <= FARTHEST:
            rule = f"'{letter}' must be a plain number, at most {FARTHEST:g} in SI"
            reading.fault(path, quote(cell), rule, "write the number only; its unit is in the column's name")
            return None
        values[letter] = value
    return values["t"], values["x"], values["y"]


def _runs(reading: Reading, path: Path, points: list[Row]) -> bool:
    """True where a boat could run the track: time goes on, way on, no leap, no corner."""
    heading = None
    for at, ((t0, x0, y0), (t1, x1, y1)) in enumerate(pairwise(points)):
        here = (*path, at + 1)
        if t1 <= t0:
            reading.fault(here, f"{t1:g} s after {t0:g} s", "time must go on from point to point", "put them in order")
            return False
        speed = math.hypot(x1 - x0, y1 - y0) / (t1 - t0)
        if not 0.1 < speed <= FASTEST:
            rule = f"from point to point the boat must make 0.1 to {FASTEST:g} m/s"
            reading.fault(here, f"{speed:.3g} m/s", rule, "leave out the parts without way on, or correct the point")
            return False
        way = math.atan2(y1 - y0, x1 - x0)
        if heading is not None and abs(math.remainder(way - heading, 2.0 * math.pi)) > SHARPEST:
            turned = math.degrees(abs(math.remainder(way - heading, 2.0 * math.pi)))
            rule = f"the track may turn by at most {math.degrees(SHARPEST):.0f} deg at a point"
            reading.fault(
                here, f"a turn of {turned:.0f} deg", rule, "give more points in the turns, or smooth the track"
            )
            return False
        heading = way
    if points[-1][0] - points[0][0] > LONGEST_TIME:
        given = f"{points[-1][0] - points[0][0]:g} s"
        reading.fault(path, given, f"a track may last {LONGEST_TIME:g} s", "give a part of it")
        return False
    return True
