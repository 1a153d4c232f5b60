"""Reads a readings file: what a scale, an angle gauge or a depth logger showed; every fault of the file at once."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any, Protocol, TypeVar

from spreadwright import quantity
from spreadwright.faults import Fault, Faults
from spreadwright.plan.calibration_model import WHAT, Moment
from spreadwright.quantity import QuantityError, quote, show_given
from spreadwright.rig.strike import FishedRig
from spreadwright.tackle.file_faults import Source, place_of
from spreadwright.tackle.file_kinds import check_kind
from spreadwright.tackle.keys import nearest
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.toml_lines import Path, find_lines
from spreadwright.tackle.trip import Trip
from spreadwright.tackle.wishes import Lock

LARGEST_FILE = 256 * 1024  # [bytes]
MOST_READINGS = 60
MOST_FAULTS = 200
_KNOT = 1852.0 / 3600.0
_TOML_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")

SPEED_ERROR = 0.5 * _KNOT  # [m/s]
ANGLE_ERROR = math.radians(2.0)  # [rad]
DEPTH_ERROR = 0.3  # [m]
PULL_SHARE, PULL_LEAST = 0.05, 4.4482216152605  # of the pull [-], and one pound-force [N]


@dataclass(frozen=True)
class Key:
    """A key of the readings file: its dimension ("" for text), what it means, an example, its range [SI], the default
    as the manual says it."""

    name: str
    dimension: str
    words: str
    example: str
    default: str
    low: float = -math.inf
    high: float = math.inf


_FIXED = "what the trip file fixes for the rod, else needed"
KEYS = (
    Key("rod", "", "which rod, by its name in the trip file", "red 130", "needed"),
    Key("station", "", "where the rod stood, by name", "port corner", "the rod's own station, else needed"),
    Key("mark", "length", "the mark at the rod tip", "100 ft", _FIXED, 1.0, 1000.0),
    Key("weight", "", "the trolling weight, by name", "64 oz torpedo", _FIXED),
    Key("leader", "", "the shock leader, by name", "30 ft of 300 lb", _FIXED),
    Key("bite_leader", "", "the bite leader, by name", "3 ft of 270 lb wire", _FIXED),
    Key("lure", "", "the lure, by name", "black-purple jet 9 in", _FIXED),
    Key("speed", "speed", "speed through the water, held straight", "12 kn", "needed", 2.0 * _KNOT, 30.0 * _KNOT),
    Key("speed_error", "speed", "how far off that speed may be", "0.3 kn", "0.5 kn", 0.0, 10.0 * _KNOT),
    Key("pull", "force", "pull of the line at the rod tip, by a scale", "31 lb", "not read", 1.0, 5000.0),
    Key("pull_error", "force", "how far off the pull may be", "2 lb", "5 % of the pull, at least 1 lb", 0.01, 1000.0),
    Key("angle", "angle", "angle of the line below level at the rod tip", "9 deg", "not read", 0.0, 1.5),
    Key("angle_error", "angle", "how far off the angle may be", "1 deg", "2 deg", 1e-4, 1.0),
    Key("weight_depth", "length", "depth of the trolling weight", "6 ft", "not read", 0.0, 200.0),
    Key("lure_depth", "length", "depth of the lure", "7 ft", "not read", 0.0, 200.0),
    Key("depth_error", "length", "how far off the depths may be", "0.5 ft", "0.3 m", 0.001, 50.0),
)
_BY_NAME = {key.name: key for key in KEYS}
_ERROR_OF = {"pull_error": ("pull",), "angle_error": ("angle",), "depth_error": ("weight_depth", "lure_depth")}


class _Named(Protocol):
    @property
    def name(self) -> str: ...


Piece = TypeVar("Piece", bound=_Named)


def read_readings(path: str | FilePath, trip: Trip) -> list[Moment]:
    """The readings of a TOML file, taken with a trip's gear. Raises Faults with every fault, and nothing else."""
    name = str(path)
    try:
        with open(path, "rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        fault = Fault(name, reason, "the readings file must be there and readable", "check its name and folder")
        raise Faults([fault], name) from None
    if len(data) > LARGEST_FILE:
        given = f"more than {LARGEST_FILE // 1024} KiB"
        fault = Fault(name, given, "a readings file is a page or two of text", "check that this is the readings file")
        raise Faults([fault], name)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        given = f"the byte {data[error.start]:#04x}"
        fault = Fault(name, given, "a readings file is text in UTF-8", "save it again as UTF-8 text", line=line)
        raise Faults([fault], name) from None
    return readings_from_text(text, trip, name)


def readings_from_text(text: str, trip: Trip, source: str = "the readings") -> list[Moment]:
    """The readings that a TOML text describes. Raises Faults with every fault, and nothing else."""
    tables = _tables(text, source)
    check_kind(tables, "readings", source)
    reading = _Reading(Source(tables, find_lines(text)), trip)
    moments = reading.all()
    if reading.faults:
        each = sorted(dict.fromkeys(reading.faults), key=lambda fault: fault.line or 0)
        raise Faults(each[:MOST_FAULTS], source)
    return moments


def _tables(text: str, source: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except RecursionError:
        message, line = "lists or tables nested too deeply to read", None
    except ValueError as error:
        place = _TOML_PLACE.search(str(error))
        line = int(place[1]) if place and place[1] else None
        message = _TOML_PLACE.sub("", str(error))
    step = "correct that line: text in quotes, one key = value a line, each reading under a header [[readings]]"
    raise Faults([Fault(source, message, "the file must be readable as TOML", step, line=line)], source)


class _Reading:
    """One pass over a readings file: its moments, and the faults found on the way."""

    def __init__(self, source: Source, trip: Trip) -> None:
        self.source = source
        self.trip = trip
        self.faults: list[Fault] = []

    def fault(self, path: Path, given: str, rule: str, next_step: str) -> None:
        self.faults.append(self.source.fault(path, given, rule, next_step))

    def all(self) -> list[Moment]:
        """Every moment without fault."""
        tables = self.source.tables
        self._unknown((), tables, ["title", "readings"])
        if not isinstance(tables.get("title", ""), str):
            self.fault(("title",), quote(tables["title"]), "this must be text, in quotes", "put it in quotes")
        raw = tables.get("readings")
        if not isinstance(raw, list) or not all(isinstance(each, Mapping) for each in raw) or not raw:
            given = "nothing" if raw is None else quote(raw)
            rule = "readings are tables, each under a header with double brackets"
            self.fault(("readings",), given, rule, "write [[readings]] and its keys below it")
            return []
        if len(raw) > MOST_READINGS:
            rule = f"at most {MOST_READINGS} readings are taken together"
            self.fault(("readings",), f"{len(raw)} readings", rule, "leave the least sure ones out")
            return []
        found = [self._moment(("readings", i), each) for i, each in enumerate(raw)]
        return [each for each in found if each is not None]

    def _unknown(self, path: Path, table: Mapping[str, Any], known: Sequence[str]) -> set[str]:
        """Tell what is no key; returns the keys that were probably meant."""
        meant = set()
        for name in table:
            if name in known:
                continue
            near = nearest(name, [each for each in known if each not in table])
            meant |= {near} if near else set()
            where = f"in [[{place_of(path)}]]" if path else "at the top of the file"
            rule = f"there is no key {quote(name)} {where}; known are: {', '.join(known)}"
            step = f"did you mean '{near}'? rename or remove it" if near else "remove or rename it"
            self.fault((*path, name), f"{name[:60]} = {quote(table[name])}", rule, step)
        return meant

    def _moment(self, path: Path, table: Mapping[str, Any]) -> Moment | None:
        before = len(self.faults)
        meant = self._unknown(path, table, list(_BY_NAME))
        values = {name: self._value(path, name, table) for name in table if name in _BY_NAME}
        for name in ("rod", "speed"):
            if name not in table and name not in meant:
                self._missing(path, name)
        rod = self._rod(path, values.get("rod"))
        rig = self._rig(path, table, values, meant, rod) if rod is not None else None
        read = {name: value for name in WHAT if isinstance(value := values.get(name), float)}
        if not read and not any(name in table or name in meant for name in WHAT):
            self.fault(path, "no reading", f"one at least is needed of: {', '.join(WHAT)}", 'add pull = "31 lb"')
        for error, of in _ERROR_OF.items():
            if error in table and not any(name in table for name in of):
                rule = f"an error belongs to what was read: {' or '.join(of)}"
                self.fault((*path, error), quote(table[error]), rule, f"give {of[0]} too, or leave {error} out")
        if len(self.faults) > before or rig is None or rod is None:
            return None
        speed_error = values.get("speed_error", SPEED_ERROR)
        errors = {name: self._error(name, value, values) for name, value in read.items()}
        return Moment(rod, rig, float(values["speed"]), float(speed_error), read, errors, place_of(path))

    @staticmethod
    def _error(name: str, value: float, values: Mapping[str, Any]) -> float:
        if name == "pull":
            return float(values.get("pull_error", max(PULL_SHARE * value, PULL_LEAST)))
        if name == "angle":
            return float(values.get("angle_error", ANGLE_ERROR))
        return float(values.get("depth_error", DEPTH_ERROR))

    def _missing(self, path: Path, name: str) -> None:
        key = _BY_NAME[name]
        self.fault((*path, name), "nothing", f"'{name}' is needed: {key.words}", f'add {name} = "{key.example}"')

    def _value(self, path: Path, name: str, table: Mapping[str, Any]) -> Any:
        key, given = _BY_NAME[name], table[name]
        at = (*path, name)
        if not key.dimension:
            if isinstance(given, str) and given.strip():
                return given.strip()
            self.fault(at, quote(given), f"this must be text: {key.words}", f'write {name} = "{key.example}"')
            return None
        try:
            value = quantity.read(given, key.dimension)
        except QuantityError as error:
            self.fault(at, error.given, error.rule, error.next_step)
            return None
        if key.low <= value <= key.high:
            return value
        low, high = (show_given(edge, key.dimension, self.trip.units) for edge in (key.low, key.high))
        self.fault(at, quote(given), f"{key.words}: from {low} to {high}", "check the number and its unit")
        return None

    def _rod(self, path: Path, name: object) -> int | None:
        if not isinstance(name, str):
            return None
        names = [outfit.name for outfit in self.trip.outfits]
        if name in names:
            return names.index(name)
        self._no_such((*path, "rod"), name, names, "rods")
        return None

    def _no_such(self, path: Path, name: str, names: Sequence[str], what: str) -> None:
        near = nearest(name, names)
        step = f"did you mean '{near}'?" if near else "name one of them"
        self.fault(path, quote(name), f"the trip file's {what} are: {', '.join(names)}", step)

    def _rig(
        self, path: Path, table: Mapping[str, Any], values: Mapping[str, Any], meant: set[str], rod: int
    ) -> FishedRig | None:
        outfit, shelf, stations = self.trip.outfits[rod], self.trip.shelf, self.trip.boat.stations
        lock = self.trip.lock(outfit.name)
        pieces = {
            "station": self._piece(path, "station", table, values, meant, stations, outfit.station, lock),
            "weight": self._piece(path, "weight", table, values, meant, shelf.weights, None, lock),
            "shock_leader": self._piece(path, "leader", table, values, meant, shelf.shock_leaders, None, lock),
            "bite_leader": self._piece(path, "bite_leader", table, values, meant, shelf.bite_leaders, None, lock),
            "lure": self._piece(path, "lure", table, values, meant, shelf.lures, None, lock),
        }
        mark = self._mark(path, table, values, meant, outfit, lock)
        if mark is None or any(each is None for each in pieces.values()):
            return None
        return FishedRig(outfit=outfit, mark=mark, **pieces)  # type: ignore[arg-type]

    def _piece(
        self, path: Path, name: str, table: Mapping[str, Any], values: Mapping[str, Any], meant: set[str],
        there: Sequence[Piece], own: str | None, lock: Lock | None,
    ) -> Piece | None:  # fmt: skip
        given = values.get(name)
        if name not in table:
            given = (getattr(lock, name) if lock is not None else None) or own
            if given is None:
                if name not in meant:
                    self._missing(path, name)
                return None
        if not isinstance(given, str):
            return None
        found = next((each for each in there if each.name == given), None)
        if found is None:
            self._no_such((*path, name), given, [each.name for each in there], f"names for '{name}'")
        return found

    def _mark(
        self, path: Path, table: Mapping[str, Any], values: Mapping[str, Any], meant: set[str], outfit: Outfit,
        lock: Lock | None,
    ) -> float | None:  # fmt: skip
        given = values.get("mark")
        if "mark" not in table:
            given = lock.mark if lock is not None else None
            if given is None and "mark" not in meant:
                self._missing(path, "mark")
        if given is None:
            return None
        tied = outfit.tied_mark(given)
        if tied is None:
            marks = ", ".join(show_given(mark, "length", self.trip.units) for mark in outfit.marks)
            said = quote(table.get("mark", given))
            self.fault((*path, "mark"), said, f"rod {outfit.name} has marks at {marks}", "give one of them, or tie it")
        return tied
