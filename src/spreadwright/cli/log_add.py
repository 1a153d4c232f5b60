"""`spreadwright log add`: one entry by hand; all that is wrong with it is told at once, and what is odd about it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeVar, cast

import typer

from spreadwright.cli.log_asked import (
    Json,
    Place,
    Where,
    Zone,
    faulty,
    opened,
    place_asked,
    quantity_asked,
    shown,
    time_asked,
    zone_asked,
)
from spreadwright.cli.running import at_fault

if TYPE_CHECKING:
    from spreadwright.faults import Fault
    from spreadwright.logbook.entry import Entry

T = TypeVar("T")
KINDS = {"out": "line_out", "in": "line_in", "strike": "strike", "note": "note"}


def add(
    kind: Annotated[str, typer.Argument(help="out, in, strike or note.")],
    rod: Annotated[str, typer.Argument(help="The rod's name.")] = "",
    at: Annotated[str, typer.Option(metavar="TIME", help="When; now if left out.")] = "",
    plan_file: Annotated[
        Path | None, typer.Option("--plan", metavar="PLAN.json", help="Line out: the rig this plan gives the rod.")
    ] = None,
    station: str = "",
    mark: Annotated[str, typer.Option(metavar="LENGTH", help="Such as '200 ft'.")] = "",
    weight: str = "",
    shock_leader: str = "",
    bite_leader: str = "",
    lure: str = "",
    took: str = "",
    outcome: Annotated[str, typer.Option(help="missed, lost, cut off, broke off or landed.")] = "",
    species: str = "",
    length: str = "",
    mass: str = "",
    turn: Annotated[str, typer.Option(help="straight, port or starboard.")] = "",
    place: Place = "",
    speed: Annotated[str, typer.Option(metavar="SPEED", help="Of the boat, such as '15 kn'.")] = "",
    water: Annotated[str, typer.Option(metavar="TEMPERATURE", help="Of the sea, such as '26 degC'.")] = "",
    note: str = "",
    trip: Annotated[str, typer.Option(metavar="TITLE", help="The trip's title; its date if left out.")] = "",
    boat: str = "",
    zone: Zone = "",
    store: Where = "",
    as_json: Json = False,
) -> None:
    """Add one entry by hand: a line out or in, a strike, a note. What is odd about it is told; it is kept."""
    asking = Asking()
    where = asking.of(lambda: zone_asked(zone), UTC)
    moment = asking.of(lambda: time_asked(at, where), datetime.now(UTC))
    meant = asking.of(lambda: _kind(kind), "note")
    rig = asking.of(lambda: _from_plan(plan_file, rod), {})
    distance = asking.of(lambda: quantity_asked("--mark", mark, "length"), 1.0)
    said = {"station": station, "mark": distance, "weight": weight, "shock_leader": shock_leader,
            "bite_leader": bite_leader, "lure": lure}  # fmt: skip
    rig = {**rig, **{key: value for key, value in said.items() if value}}
    words = {"took": took, "outcome": outcome, "species": species, "turn": turn, "note": note}
    numbers = {"length": asking.of(lambda: quantity_asked("--length", length, "length"), None),
               "mass": asking.of(lambda: quantity_asked("--mass", mass, "mass"), None),
               "speed": asking.of(lambda: quantity_asked("--speed", speed, "speed"), None),
               "water_temperature": asking.of(lambda: quantity_asked("--water", water, "temperature"), None),
               "position": asking.of(lambda: place_asked(place), None)}  # fmt: skip
    rest = {key: value for key, value in {**words, **numbers, "rig": rig}.items() if value}
    typed = {"mark": mark, "length": length, "mass": mass, "speed": speed, "water_temperature": water, "at": at}
    entry = _entry({"kind": meant, "rod": rod, "at": moment, **rest}, typed, asking.faults)
    if entry is None or asking.faults:
        raise at_fault(asking.all(), as_json)
    with opened(store, as_json, begin=True) as kept:
        from spreadwright.logbook.fold import hand_sheet
        from spreadwright.logbook.noticed import noticed
        from spreadwright.store.log_keep import add_entries, log_of

        sheet = hand_sheet(trip or moment.astimezone(where).date().isoformat(), boat)
        add_entries(kept, sheet, [entry])
        shown(as_json, lambda: entry.model_dump_json(exclude_defaults=True), lambda: f"Noted as {entry.id[:8]}.\n")
        odd = noticed(log_of(kept, boat or None), entry, sheet.id, datetime.now(UTC))
        for each in odd:
            typer.echo(f"Note: {each}", err=True)
        if odd:
            typer.echo(f"It is kept; `spreadwright log undo {entry.id[:8]}` takes it back if it was a slip.", err=True)


class Asking:
    """Reads what was asked one by one, and keeps every fault for the end."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def of(self, read: Callable[[], T], instead: Any) -> T:
        """What was read; something in its place where it is at fault, so that the rest can be looked at too."""
        from spreadwright.faults import Faults

        try:
            return read()
        except Faults as faults:
            self.faults += faults
            return cast("T", instead)

    def all(self) -> Any:
        """Every fault as one."""
        from spreadwright.faults import Faults

        return Faults(self.faults, "the command line")


def _kind(given: str) -> str:
    plain = given.strip().lower().replace("_", " ").removeprefix("line ")
    if plain not in KINDS:
        raise faulty("the kind", repr(given), f"kinds are {', '.join(KINDS)}", "write one of them, such as strike")
    return KINDS[plain]


def _from_plan(plan_file: Path | None, rod: str) -> dict[str, Any]:
    if plan_file is None:
        return {}
    from spreadwright.plan.log_use import planned_rig

    try:
        return planned_rig(plan_file, rod).model_dump()
    except KeyError:
        raise faulty("the rod", repr(rod), f"{plan_file} plans no such rod", "name a rod of that plan") from None


def _entry(values: Mapping[str, Any], typed: Mapping[str, str], faults: list[Fault]) -> Entry | None:
    """The entry, with a fresh id; None, and the faults put to the others, where something is wrong with it."""
    import uuid

    from pydantic import ValidationError

    from spreadwright.logbook.entry import Entry

    given = {"id": uuid.uuid4().hex, **values}
    try:
        return Entry.model_validate(given)
    except ValidationError as error:
        wrong = {str(each["loc"][0]) for each in error.errors() if each["loc"]}
        faults += _told(error, typed)
    if wrong:  # what an entry of its kind needs is looked at only where all its parts are sound
        sound = {key: value for key, value in given.items() if key not in wrong}
        sound = {"at": datetime.now(UTC), **sound} | ({"rig": {}} if "rig" in wrong else {})
        try:
            Entry.model_validate(sound)
        except ValidationError as error:
            faults += _told(error, typed)
    return None


def _told(error: Any, typed: Mapping[str, str]) -> list[Fault]:
    """Faults by the names of the options."""
    from dataclasses import replace

    from spreadwright.logbook.deck_log import faults_of

    names = {"rod": "the rod", "water_temperature": "--water", "position": "--place", "at": "--at"}
    faults = []
    for fault in faults_of(error.errors(), "this entry", typed={k: v for k, v in typed.items() if v}):
        key = fault.place.rpartition(".")[2]
        place = fault.place if "." not in fault.place else names.get(key, "--" + key.replace("_", "-"))
        faults.append(replace(fault, place=place))
    return faults
