"""What the pages keep: trips with their plans, rigs and hand-made spreads, in files of the data folder.

A trip goes by a name of our own, made from its text: nothing that a browser sends ever becomes part of a file's name,
it is only looked up among the names we have.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from pydantic import TypeAdapter, ValidationError

from spreadwright.faults import Fault, Faults
from spreadwright.plan.rig_answer import RigAnswers
from spreadwright.plan.tryout import Tryout
from spreadwright.plan.tryout_hand import first_hand, fished, hand_of_plan
from spreadwright.plan.tryout_planned import planned_ranges
from spreadwright.plan.tryout_value import HandSpread, TriedRanges
from spreadwright.plan.value import Part, Plan
from spreadwright.tackle import Trip, trip_from_text
from spreadwright.tackle.trip_file import LARGEST_FILE

T = TypeVar("T")

MOST_TRIPS = 200
MOST_SPREADS = 40
EXTRAS = ("readings.toml", "measure.json", "study.json", "day.toml")  # kinds of files beside a trip's own
LOADED = 8  # trips whose towed lines are kept in memory


class KeptSpread(Part):
    """A hand-made spread that was given a name."""

    name: str
    spread: HandSpread


SPREADS = TypeAdapter(tuple[KeptSpread, ...])


@dataclass
class KeptTrip:
    """One trip with all that was made of it; opened: the file it was read from at the start, None for an upload; lists:
    id of the lists in the store that hold its ticks, empty before the first tick."""

    name: str
    text: str
    trip: Trip
    opened: Path | None = None
    plan: Plan | None = None
    rigs: RigAnswers | None = None
    spreads: tuple[KeptSpread, ...] = ()
    lists: str = ""
    lock: threading.Lock = field(default_factory=threading.Lock)
    _tryout: Tryout | None = None

    @property
    def tryout(self) -> Tryout:
        """The trip's lines as far as they are towed."""
        with self.lock:
            if self._tryout is None:
                self._tryout = Tryout(self.trip)
            return self._tryout

    def forget_lines(self) -> None:
        """Let go of the towed lines; they are computed again when asked for."""
        with self.lock:
            self._tryout = None

    def planned_ranges(self, spread: HandSpread) -> TriedRanges | None:
        """How sure the spread is, if it is the plan's own."""
        return planned_ranges(self.trip, self.plan, spread, self.tryout.run(spread).pairs) if self.plan else None

    def start(self) -> HandSpread:
        """Where trying by hand starts: the plan's spread, or the first that fits."""
        return hand_of_plan(self.trip, self.plan) if self.plan is not None else first_hand(self.trip)


class Kept:
    """All trips of one server, those opened at the start and those uploaded, and their files."""

    def __init__(self, folder: Path, opened: tuple[Path, ...] = ()) -> None:
        self.folder = folder
        self._trips: dict[str, KeptTrip] = {}
        self._lock = threading.Lock()
        self._recent: list[str] = []
        folder.mkdir(parents=True, exist_ok=True)
        for path in opened:
            text = read_text(path)
            self._load(text, trip_from_text(text, str(path)), path)
        for path in sorted(folder.glob("*.trip.toml"))[:MOST_TRIPS]:
            self._load_upload(path)

    def all(self) -> list[KeptTrip]:
        """Every trip, the opened ones first."""
        return sorted(self._trips.values(), key=lambda kept: (kept.opened is None, kept.trip.title))

    def get(self, name: str) -> KeptTrip | None:
        """The trip of that name, or None."""
        kept = self._trips.get(name)
        if kept is not None:
            self._touch(name)
        return kept

    def add(self, text: str) -> KeptTrip:
        """Keep a trip file's text. Raises Faults for a text that is no trip file, or if there are too many."""
        if len(text.encode()) > LARGEST_FILE:
            raise Faults([Fault("the trip", f"more than {LARGEST_FILE // 1024} KiB", "a trip file is a few pages",
                                "check that this is the trip file")])  # fmt: skip
        trip = trip_from_text(text, "the trip")
        name = name_of(text)
        with self._lock:
            if name not in self._trips and len(self._trips) >= MOST_TRIPS:
                raise Faults([Fault("the trip", f"trip {MOST_TRIPS + 1}", f"{MOST_TRIPS} trips are kept at most",
                                    "remove one that is done")])  # fmt: skip
        if name not in self._trips:
            self._write(name, "trip.toml", text)
            self._load(text, trip, None)
        return self._trips[name]

    def remove(self, name: str) -> bool:
        """Remove an uploaded trip and what was made of it; False for one that was opened from a file."""
        kept = self._trips.get(name)
        if kept is None or kept.opened is not None:
            return False
        with self._lock:
            self._trips.pop(name, None)
        for kind in ("trip.toml", "plan.json", "rigs.json", "spreads.json", "lists.txt", *EXTRAS):
            self._path(name, kind).unlink(missing_ok=True)
        return True

    def read_again(self, name: str) -> KeptTrip | None:
        """Read an opened trip's file again: a changed text is a new trip in the old one's place."""
        kept = self._trips.get(name)
        if kept is None or kept.opened is None:
            return kept
        text = read_text(kept.opened)
        if text == kept.text:
            return kept
        trip = trip_from_text(text, str(kept.opened))
        with self._lock:
            self._trips.pop(name, None)
        return self._load(text, trip, kept.opened)

    def put_plan(self, kept: KeptTrip, plan: Plan) -> None:
        """Keep a trip's plan."""
        self._write(kept.name, "plan.json", plan.to_json())
        kept.plan = plan

    def put_rigs(self, kept: KeptTrip, rigs: RigAnswers) -> None:
        """Keep the answer about a trip's rigs."""
        self._write(kept.name, "rigs.json", rigs.model_dump_json(indent=1))
        kept.rigs = rigs

    def put_extra(self, kept: KeptTrip, kind: str, text: str) -> None:
        """Keep a text beside a trip; kind: one of EXTRAS. Raises KeyError for another."""
        if kind not in EXTRAS:
            raise KeyError(kind)
        self._write(kept.name, kind, text)

    def extra(self, kept: KeptTrip, kind: str) -> str:
        """The text of that kind beside a trip; empty where there is none. Raises KeyError for no kind of ours."""
        if kind not in EXTRAS:
            raise KeyError(kind)
        return _stored(self._path(kept.name, kind), str) or ""

    def put_lists(self, kept: KeptTrip, identity: str) -> None:
        """Keep which lists of the store hold a trip's ticks."""
        self._write(kept.name, "lists.txt", identity)
        kept.lists = identity

    def put_spread(self, kept: KeptTrip, spread: KeptSpread) -> None:
        """Keep a hand-made spread; one of the same name gives way. Raises Faults for too many, or a wrong one."""
        fished(kept.trip, spread.spread)
        others = tuple(each for each in kept.spreads if each.name != spread.name)
        if len(others) >= MOST_SPREADS:
            raise Faults([Fault("the spread", spread.name, f"{MOST_SPREADS} spreads are kept at most",
                                "remove one first")])  # fmt: skip
        self._put_spreads(kept, (*others, spread))

    def drop_spread(self, kept: KeptTrip, number: int) -> bool:
        """Remove a hand-made spread by its place (from 0)."""
        if not 0 <= number < len(kept.spreads):
            return False
        self._put_spreads(kept, (*kept.spreads[:number], *kept.spreads[number + 1 :]))
        return True

    def _put_spreads(self, kept: KeptTrip, spreads: tuple[KeptSpread, ...]) -> None:
        self._write(kept.name, "spreads.json", SPREADS.dump_json(spreads, indent=1).decode())
        kept.spreads = spreads

    def _load_upload(self, path: Path) -> None:
        """A trip kept by an earlier run; one that this version cannot read is left where it is."""
        try:
            text = read_text(path)
            trip = trip_from_text(text, path.name)
        except Faults:
            return
        if path.name == f"{name_of(text)}.trip.toml":
            self._load(text, trip, None)

    def _load(self, text: str, trip: Trip, opened: Path | None) -> KeptTrip:
        name = name_of(text)
        kept = KeptTrip(name, text, trip, opened)
        kept.plan = _stored(self._path(name, "plan.json"), Plan.from_json)
        kept.rigs = _stored(self._path(name, "rigs.json"), RigAnswers.model_validate_json)
        kept.spreads = _stored(self._path(name, "spreads.json"), SPREADS.validate_json) or ()
        kept.lists = _stored(self._path(name, "lists.txt"), str.strip) or ""
        with self._lock:
            if name not in self._trips or opened is not None:
                self._trips[name] = kept
        return self._trips[name]

    def _touch(self, name: str) -> None:
        """Let go of the lines of trips that nobody has looked at for longest."""
        with self._lock:
            self._recent = [*(each for each in self._recent if each != name), name]
            old, self._recent = self._recent[:-LOADED], self._recent[-LOADED:]
        for each in old:
            if each in self._trips:
                self._trips[each].forget_lines()

    def _path(self, name: str, kind: str) -> Path:
        return self.folder / f"{name}.{kind}"

    def _write(self, name: str, kind: str, text: str) -> None:
        """Write a file whole or not at all."""
        handle, made = tempfile.mkstemp(dir=self.folder, prefix="new-")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
        Path(made).replace(self._path(name, kind))


def name_of(text: str) -> str:
    """The name a trip goes by: made from its text."""
    return hashlib.sha256(text.encode()).hexdigest()[:20]


def read_text(path: Path) -> str:
    """A trip file's text. Raises Faults where it cannot be read."""
    from spreadwright.tackle import read_trip

    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError, ValueError):
        read_trip(path)  # tells in its own words what is wrong
        raise
    return text


def _stored(path: Path, read: Callable[[str], T]) -> T | None:
    """What a file of ours holds; None where there is none, or one of another version."""
    try:
        return read(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, ValidationError):
        return None
