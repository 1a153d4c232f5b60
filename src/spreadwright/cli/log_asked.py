"""What the log commands have in common: the store, zone, place and trip they are given, and text with its unit."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from spreadwright.cli.running import at_fault

if TYPE_CHECKING:
    from spreadwright.faults import Faults
    from spreadwright.store.open import Store
    from spreadwright.tackle.trip import Trip

T = TypeVar("T")
Where = Annotated[
    str, typer.Option("--store", metavar="WHERE", help="An SQLite file or a PostgreSQL address.", show_default=False)
]
Json = Annotated[bool, typer.Option("--json", help="Write the answer as JSON, in SI units.")]
Zone = Annotated[
    str, typer.Option("--zone", metavar="NAME", help="Time zone of times and days, such as America/Chicago.")
]
TripOption = Annotated[
    Path | None, typer.Option("--trip", metavar="TRIP.toml", help="The trip file with boat, rods and shelf.")
]
Place = Annotated[str, typer.Option(metavar="LAT, LON", help="Where it was, for the light, in degrees.")]
BoatName = Annotated[str, typer.Option("--boat", metavar="NAME", help="Only this boat's log; all boats if left out.")]


@contextmanager
def opened(where: str, as_json: bool = False, *, begin: bool = False) -> Iterator[Store]:
    """The store, closed at the end; faults on the way are shown and end the command with exit code 2.

    begin   a new store is made where there is none
    """
    from spreadwright.faults import Faults
    from spreadwright.store.open import open_store

    try:
        with open_store(where or None, begin=begin) as store:
            yield store
    except Faults as faults:
        raise at_fault(faults, as_json) from None


def asked(read: Callable[[], T], as_json: bool = False) -> T:
    """What was asked, read before anything is opened or loaded; a fault is shown and ends the command."""
    from spreadwright.faults import Faults

    try:
        return read()
    except Faults as faults:
        raise at_fault(faults, as_json) from None


def faulty(place: str, given: str, rule: str, next_step: str) -> Faults:
    """One fault of the command line."""
    from spreadwright.faults import Fault, Faults

    return Faults([Fault(place, given, rule, next_step)], "the command line")


def zone_asked(name: str) -> tzinfo:
    """The zone of that name; UTC where none is given. Raises Faults for one that is not known."""
    from spreadwright.day.light import UnknownZone, zone_named

    if not name:
        return UTC
    zone = zone_named(name)
    if isinstance(zone, UnknownZone):
        raise faulty("--zone", repr(zone.given), zone.rule, zone.next_step)
    return zone


def place_asked(text: str) -> tuple[float, float] | None:
    """Latitude and longitude in degrees from "26.5, -70.25"; None where nothing is given. Raises Faults."""
    if not text:
        return None
    try:
        north, east = (float(part) for part in text.replace(",", " ").split())
    except ValueError:
        north, east = 999.0, 999.0
    if not (abs(north) <= 90.0 and abs(east) <= 180.0):
        rule = "a place is latitude (-90 to 90) and longitude (-180 to 180) in degrees, north and east positive"
        raise faulty("--place", repr(text), rule, "write it as '26.5, -70.25'")
    return north, east


def time_asked(text: str, zone: tzinfo) -> datetime:
    """The moment of a text; now where nothing is given. Raises Faults."""
    if not text:
        return datetime.now(UTC)
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        raise faulty(
            "--at", repr(text), "a time is year-month-day and hours:minutes", "write 2031-03-08T06:41"
        ) from None
    return at if at.tzinfo else at.replace(tzinfo=zone)


def quantity_asked(option: str, text: str, dimension: str) -> float | None:
    """A number with its unit in SI; None where nothing is given. Raises Faults."""
    from spreadwright import quantity

    if not text:
        return None
    try:
        return quantity.read(text, dimension)
    except quantity.QuantityError as error:
        raise faulty(option, error.given, error.rule, error.next_step) from None


def trip_asked(path: Path | None) -> Trip | None:
    """The trip of a file, if one is named. Raises Faults."""
    from spreadwright.tackle import read_trip

    return read_trip(path) if path is not None else None


def shown(as_json: bool, whole: Callable[[], str], words: Callable[[], str]) -> None:
    """Put the answer on the output, as JSON or in words."""
    from spreadwright.cli.running import put_json

    if as_json:
        put_json(whole())
    else:
        from spreadwright.cli.width import fitted

        typer.echo(fitted(words()), nl=False)
