"""A trip file as far as it can be understood, so that its sound parts are checked too.

All faults of a file are reported at once: those inside an entry come from the models, those
between entries from checks that run on a `Draft`, in which a faulty entry is only its text.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from spreadwright.faults import Fault
from spreadwright.quantity import quote
from spreadwright.tackle import keys
from spreadwright.tackle.boat import Station
from spreadwright.tackle.fields import FROM_FILE, LONGEST_LIST
from spreadwright.tackle.file_faults import Source
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.toml_lines import Path
from spreadwright.tackle.trip import Shelf, Trip
from spreadwright.tackle.wishes import Ban, Lock, Wishes

T = TypeVar("T", bound=BaseModel)
SHELF: dict[str, type[BaseModel]] = {
    kind: model for kind, field in Shelf.model_fields.items() if (model := keys.table_model(field)) is not None
}


@dataclass(frozen=True)
class Entry(Generic[T]):
    """One entry of a list of the file: where it is, its name, what was written, and the thing itself.

    thing   None where the entry has faults of its own
    """

    path: Path
    name: str
    raw: Mapping[str, Any]
    thing: T | None


@dataclass(frozen=True)
class Draft:
    """A trip as far as it can be understood."""

    source: Source
    stations: Sequence[Entry[Station]]
    outfits: Sequence[Entry[Outfit]]
    gear: Mapping[tuple[str, str], Sequence[Entry[Any]]]
    fixed: Sequence[Entry[Lock]]
    banned: Sequence[Entry[Ban]]
    wishes: Wishes | None

    def unknown(self, path: Path, name: str, where: tuple[str, str]) -> Iterator[Fault]:
        """A fault where a name is not in the list of the file that it must come from."""
        names = self.named(where)
        if name.strip() in names:
            return
        meant = keys.nearest(name, names)
        listed = ", ".join(f"'{other}'" for other in names[:12]) or "none"
        yield self.source.fault(
            path,
            quote(name),
            f"it must name one of {'.'.join(filter(None, where))}: {listed}",
            f"did you mean '{meant}'?" if meant else "correct the name, or add that entry",
        )

    def named(self, where: tuple[str, str]) -> list[str]:
        """The names in one list of the file."""
        lists: Mapping[tuple[str, str], Sequence[Entry[Any]]] = {
            **self.gear,
            ("boat", "stations"): self.stations,
            ("", "outfits"): self.outfits,
        }
        entries = lists[where]
        return [entry.name for entry in entries if entry.name]


def draft_of_file(source: Source) -> tuple[Draft, list[ErrorDetails]]:
    """The draft of a trip file, and what the models find only once unknown keys are put aside."""
    hidden: list[ErrorDetails] = []

    def entries(path: Path, model: type[T]) -> list[Entry[T]]:
        inside: Any = source.tables
        for step in path:
            inside = inside.get(step) if isinstance(inside, Mapping) else None
        # One pair of brackets too few, reported by the models, still leaves an entry to name.
        tables = inside if isinstance(inside, list) else [inside]
        return [
            _entry((*path, at), model, raw, hidden)
            for at, raw in enumerate(tables[:LONGEST_LIST])
            if isinstance(raw, Mapping)
        ]

    wishes = source.tables.get("wishes", {})
    draft = Draft(
        source=source,
        stations=entries(("boat", "stations"), Station),
        outfits=entries(("outfits",), Outfit),
        gear={("shelf", kind): entries(("shelf", kind), model) for kind, model in SHELF.items()},
        fixed=entries(("fixed",), Lock),
        banned=entries(("banned",), Ban),
        wishes=_sound(("wishes",), Wishes, wishes, hidden) if isinstance(wishes, Mapping) else None,
    )
    return draft, hidden


def draft_of_trip(trip: Trip) -> Draft:
    """The draft of a trip that was built in Python: everything in it is understood."""

    def entries(path: Path, things: Sequence[T]) -> list[Entry[T]]:
        return [
            Entry((*path, at), str(getattr(thing, "name", "")), _written(thing), thing)
            for at, thing in enumerate(things)
        ]

    return Draft(
        source=Source(_written(trip)),
        stations=entries(("boat", "stations"), trip.boat.stations),
        outfits=entries(("outfits",), trip.outfits),
        gear={("shelf", kind): entries(("shelf", kind), getattr(trip.shelf, kind)) for kind in SHELF},
        fixed=entries(("fixed",), trip.fixed),
        banned=entries(("banned",), trip.banned),
        wishes=trip.wishes,
    )


def _written(thing: BaseModel) -> dict[str, Any]:
    """A thing as its table in a file would hold it."""
    return {
        str(field.validation_alias or name): getattr(thing, name) for name, field in type(thing).model_fields.items()
    }


def _entry(path: Path, model: type[T], raw: Mapping[str, Any], hidden: list[ErrorDetails]) -> Entry[T]:
    name = raw.get("name")
    tidy = name.strip() if isinstance(name, str) else ""
    return Entry(path, tidy, raw, _sound(path, model, raw, hidden))


def _sound(path: Path, model: type[T], raw: Mapping[str, Any], hidden: list[ErrorDetails]) -> T | None:
    """The thing a table describes, unknown keys put aside; None where it has other faults."""
    try:
        return model.model_validate(raw, context=FROM_FILE, by_alias=True, by_name=False)
    except ValidationError as error:
        unknown = [each["loc"] for each in error.errors() if each["type"] == "extra_forbidden"]
        if len(unknown) < error.error_count():
            return None
    try:
        known = _without(raw, unknown)
        return model.model_validate(known, context=FROM_FILE, by_alias=True, by_name=False)
    except ValidationError as error:
        for each in error.errors():
            each["loc"] = (*path, *each["loc"])
            hidden.append(each)
        return None


def _without(raw: Mapping[str, Any], unknown: Sequence[Path]) -> dict[str, Any]:
    """A table without its unknown keys, at any depth."""
    here = {path[0] for path in unknown if len(path) == 1}
    deeper = [path for path in unknown if len(path) > 1]
    return {
        key: _without(value, [path[1:] for path in deeper if path[0] == key]) if isinstance(value, Mapping) else value
        for key, value in raw.items()
        if key not in here
    }
