"""One line of the log, as the deck sheet, a CSV file or the command line writes it: a frozen value that only gathers.

A log is a set of entries that only grows. Nothing is changed or deleted: what was wrong is taken back by another entry
of the kind "undo". So logs of several phones may be put together in any order, as often as one likes.
Numbers are SI; a position is (latitude, longitude) in degrees, as charts and receivers have it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, AwareDatetime, BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

Kind = Literal["line_out", "line_in", "strike", "undo", "note"]
Took = Literal["lure", "weight", "both", "unknown"]
Outcome = Literal["missed", "lost", "cut off", "broke off", "landed", "unknown"]
Turn = Literal["straight", "port", "starboard", "unknown"]

KINDS: tuple[Kind, ...] = ("line_out", "line_in", "strike", "undo", "note")
OUTCOMES: tuple[Outcome, ...] = ("missed", "lost", "cut off", "broke off", "landed", "unknown")
EARLIEST, LATEST = datetime(1990, 1, 1, tzinfo=UTC), datetime(2150, 1, 1, tzinfo=UTC)


def refuse(rule: str, next_step: str) -> PydanticCustomError:
    """The error that a check here raises; the readers turn it into a located fault."""
    return PydanticCustomError("fault", "{rule}; {next_step}", {"rule": rule, "next_step": next_step})


def _moment(at: datetime) -> datetime:
    moment = at.astimezone(UTC)
    if not EARLIEST <= moment < LATEST:
        raise refuse(f"a time in the log lies from {EARLIEST.year} to {LATEST.year - 1}", "check the phone's clock")
    return moment


def _place(place: tuple[float, float] | None) -> tuple[float, float] | None:
    if place is not None and not (abs(place[0]) <= 90.0 and abs(place[1]) <= 180.0):
        raise refuse("a position is latitude (-90 to 90) and longitude (-180 to 180) in degrees", "check the position")
    return place


Moment = Annotated[AwareDatetime, AfterValidator(_moment)]
Identity = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
Named = Annotated[str, Field(max_length=80)]
Place = Annotated[tuple[float, float] | None, AfterValidator(_place)]


class Record(BaseModel):
    """Base of what the log keeps: frozen, strict about keys, finite numbers only."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, str_strip_whitespace=True)


class FishedRig(Record):
    """What a rod fished, by the names of the trip file; mark [m] on the slack line. Empty where nobody said."""

    station: Named = ""
    mark: Annotated[float, Field(ge=0.0, le=1000.0)] | None = None
    weight: Named = ""
    shock_leader: Named = ""
    bite_leader: Named = ""
    lure: Named = ""


class Entry(Record):
    """One entry of the log.

    length [m] and mass [kg] of the fish; speed of the boat [m/s]; water_temperature [K]; turn: which way the boat was
    turning; of: the entry that an undo takes back.
    """

    id: Identity
    kind: Kind
    at: Moment
    rod: Named = ""
    rig: FishedRig | None = None
    took: Took = "unknown"
    outcome: Outcome = "unknown"
    species: Named = ""
    length: Annotated[float, Field(gt=0.0, le=10.0)] | None = None
    mass: Annotated[float, Field(gt=0.0, le=2000.0)] | None = None
    position: Place = None
    turn: Turn = "unknown"
    speed: Annotated[float, Field(ge=0.0, le=50.0)] | None = None
    water_temperature: Annotated[float, Field(ge=268.0, le=315.0)] | None = None
    of: Identity | None = None
    note: Annotated[str, Field(max_length=2000)] = ""

    @model_validator(mode="after")
    def _says_what_its_kind_needs(self) -> Self:
        if self.kind in ("line_out", "line_in", "strike") and not self.rod:
            raise refuse(f"a {self.kind.replace('_', ' ')} says which rod", "name the rod")
        if self.kind == "line_out" and self.rig is None:
            raise refuse("a line that goes out says what it fishes", "give the rig, at least its mark or lure")
        if self.kind == "undo" and self.of is None:
            raise refuse("an undo says which entry it takes back", "give that entry's id as 'of'")
        return self

    def canonical(self) -> str:
        """The entry as one line of JSON without what was left out: equal entries give equal text."""
        return json.dumps(self.model_dump(mode="json", exclude_defaults=True), sort_keys=True, ensure_ascii=False)


class Sheet(Record):
    """Where entries come from: one deck sheet, CSV file or hand-kept log of one trip."""

    id: Identity
    trip: Named = ""
    boat: Named = ""
    made: Moment | None = None


def identity_of(*parts: object) -> str:
    """A lasting id for something that has none: the same parts give the same id, so a second import adds nothing."""
    text = json.dumps([str(part) for part in parts], ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def merged(*logs: Iterable[Entry]) -> dict[str, Entry]:
    """All entries by id. Any order and any repetition of the logs gives the same answer.

    Two entries of one id that differ (which a sound deck sheet never writes): the one that says more is kept, and of
    two that say as much the one whose text sorts last.
    """
    kept: dict[str, Entry] = {}
    for log in logs:
        for entry in log:
            before = kept.get(entry.id)
            if before is None or _says_more(entry, before):
                kept[entry.id] = entry
    return kept


def _says_more(entry: Entry, before: Entry) -> bool:
    first, second = entry.canonical(), before.canonical()
    return (len(json.loads(first)), first) > (len(json.loads(second)), second)


def standing(entries: Mapping[str, Entry]) -> list[Entry]:
    """Entries that nobody took back, by time; an undo may itself be taken back. Undo entries are left out."""
    undone_by: dict[str, list[str]] = {}
    for entry in entries.values():
        if entry.kind == "undo" and entry.of is not None:
            undone_by.setdefault(entry.of, []).append(entry.id)
    stands: dict[str, bool] = {}

    def holds(identity: str, asking: frozenset[str]) -> bool:
        if identity in asking:  # entries that undo one another in a circle: neither counts
            return False
        if identity not in stands:
            below = asking | {identity}
            stands[identity] = not any(holds(undo, below) for undo in undone_by.get(identity, ()))
        return stands[identity]

    kept = [e for e in entries.values() if e.kind != "undo" and holds(e.id, frozenset())]
    return sorted(kept, key=lambda e: (e.at, e.id))


def as_json(entry: Entry) -> dict[str, Any]:
    """The entry as the deck sheet writes it: keys that do not apply are left out."""
    return entry.model_dump(mode="json", exclude_defaults=True)
