"""Reads the tracks of a GPX 1.1 file (an open standard) with the standard library's parser.

A general GPX library would do, in five times the time (docs/logbook.md has both). Reading it here lets a file that
breaks off keep what it has, counts each point left out with its reason, and refuses a document type.
"""

from __future__ import annotations

import xml.parsers.expat
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.fixes import Fixes, clean

NAMESPACE = "http://www.topografix.com/GPX/1/1"
_SPACE = NAMESPACE + " "


class _Points:
    """Collects track points as the parser meets them."""

    def __init__(self) -> None:
        self.times: list[float] = []
        self.latitude: list[float] = []
        self.longitude: list[float] = []
        self.bad: Counter[str] = Counter()
        self.example: dict[str, str] = {}
        self.place: tuple[float, float] | None = None
        self.when: float | None = None
        self.words: list[str] | None = None
        self.inside = False
        self.root = ""

    def start(self, name: str, given: dict[str, str]) -> None:
        if not self.root:
            self.root = name
        if name == _SPACE + "trkpt":
            self.inside, self.when = True, None
            self.place = self.read_place(given)
        elif self.inside and name == _SPACE + "time":
            self.words = []

    def text(self, words: str) -> None:
        if self.words is not None:
            self.words.append(words)

    def end(self, name: str) -> None:
        if self.words is not None and name == _SPACE + "time":
            said = "".join(self.words).strip()
            self.words = None
            try:
                at = datetime.fromisoformat(said)
            except ValueError:
                self.refuse("a time that cannot be read", said)
                self.place = None
            else:
                # The standard's times are universal; some writers leave the Z out.
                self.when = (at if at.tzinfo else at.replace(tzinfo=UTC)).timestamp()
        elif name == _SPACE + "trkpt":
            self.inside = False
            if self.place is not None and self.when is None:
                self.refuse("a point without its time", f"{self.place[0]}, {self.place[1]}")
            elif self.place is not None and self.when is not None:
                self.times.append(self.when)
                self.latitude.append(self.place[0])
                self.longitude.append(self.place[1])

    def read_place(self, given: dict[str, str]) -> tuple[float, float] | None:
        """Latitude and longitude within the schema's bounds: -90 to 90, and -180 up to but not 180."""
        try:
            place = float(given["lat"]), float(given["lon"])
        except (KeyError, ValueError):
            self.refuse("a point without a readable place", str(dict(given)))
            return None
        if not (-90.0 <= place[0] <= 90.0 and -180.0 <= place[1] < 180.0):
            self.refuse("a place outside the standard's bounds", f"{place[0]}, {place[1]}")
            return None
        return place

    def refuse(self, reason: str, example: str) -> None:
        self.bad[reason] += 1
        self.example.setdefault(reason, example[:60])


class _Refused(Exception):  # noqa: N818 (caught in this file)
    """The file declares a document type, which a track has no use for and which can be made to swell endlessly."""


def _no_doctype(*_: object) -> None:
    raise _Refused


def read_gpx(path: Path) -> Fixes:
    """The track points of a GPX 1.1 file, all its tracks and segments together. Raises Faults for what is no GPX."""
    points = _Points()
    parser = xml.parsers.expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler, parser.EndElementHandler = points.start, points.end
    parser.CharacterDataHandler = points.text
    parser.StartDoctypeDeclHandler = _no_doctype
    source = path.name
    try:
        with open(path, "rb") as file:
            parser.ParseFile(file)
    except OSError as error:
        raise Faults([Fault(str(path), f"could not be read ({error.strerror})", "the file must be readable",
                            "check its name and folder")], source) from None  # fmt: skip
    except _Refused:
        raise Faults([Fault(source, "a document type of its own", "a GPX file has none",
                            "export the track again")], source) from None  # fmt: skip
    except xml.parsers.expat.ExpatError as error:
        if not points.times:
            raise Faults([Fault(source, f"text that is no XML at line {error.lineno}", "a GPX file is XML",
                                "export the track again")], source) from None  # fmt: skip
        points.refuse("the file breaks off", f"line {error.lineno}")
    if points.root != _SPACE + "gpx":
        given = points.root.rsplit(" ", 1)[-1] or "nothing"
        raise Faults([Fault(source, f"a file of <{given}>", f"a track is GPX 1.1: <gpx xmlns='{NAMESPACE}'>",
                            "export the track as GPX 1.1")], source) from None  # fmt: skip
    bad = tuple((reason, count, points.example[reason]) for reason, count in points.bad.items())
    return clean(np.array(points.times), np.array(points.latitude), np.array(points.longitude), source, "GPX 1.1", bad)
