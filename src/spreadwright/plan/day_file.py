"""Reads the day file: place, wind, fuel, hours, the captain's limits and papers; every fault at once, located."""

from __future__ import annotations

import datetime
import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, Field, ValidationError

from spreadwright.day.light import UnknownZone, zone_named
from spreadwright.faults import Fault, Faults
from spreadwright.quantity import quote
from spreadwright.tackle.fields import FROM_FILE, Count, Name, Tackle, Words, reader, refusal
from spreadwright.tackle.file_kinds import check_kind
from spreadwright.tackle.keys import example_line, nearest, table_model
from spreadwright.tackle.toml_lines import find_lines, line_of
from spreadwright.tackle.trip import Day

Speed = Annotated[float, BeforeValidator(reader("speed", 0.0, 60.0))]
Way = Annotated[float, BeforeValidator(reader("speed", 0.0, 40.0, above=True))]
Stream = Annotated[float, BeforeValidator(reader("speed", -10.0, 10.0))]
Distance = Annotated[float, BeforeValidator(reader("length", 0.0, 5e6, above=True))]
Size = Annotated[float, BeforeValidator(reader("length", 0.0, 100.0, above=True))]
Height = Annotated[float, BeforeValidator(reader("length", 0.0, 30.0))]
Span = Annotated[float, BeforeValidator(reader("time", 0.0, 30 * 86400.0))]
Period = Annotated[float, BeforeValidator(reader("time", 0.0, 40.0, above=True))]
Volume = Annotated[float, BeforeValidator(reader("volume", 0.0, 1000.0))]
Burn = Annotated[float, BeforeValidator(reader("fuel_rate", 0.0, 1.0, above=True))]
Part = Annotated[float, BeforeValidator(reader("number", 0.0, 0.95))]


def _clock(given: Any) -> datetime.time | None:
    if given is None or isinstance(given, datetime.time):
        return given
    try:
        return datetime.time.fromisoformat(given)
    except (TypeError, ValueError):
        raise refusal(quote(given), "a time of day is hours:minutes", "write it as 06:30") from None


class Wind(Tackle):
    """The wind that raises the sea, at 10 m: speeds [m/s], fetch to windward [m], how long it blew [s]."""

    speed: Speed = Field(description="mean wind, at 10 m", examples=["14 kn"])
    doubt: Speed = Field(default=0.0, description="how far off the forecast may be, either way", examples=["4 kn"])
    gust: Speed | None = Field(default=None, description="gusts", examples=["20 kn"])
    fetch: Distance = Field(description="open water to windward", examples=["150 nmi"])
    time: Annotated[float, BeforeValidator(reader("time", 60.0, 30 * 86400.0))] = Field(
        description="how long it has blown so", examples=["9 h"]
    )


class Sea(Tackle):
    """The sea beside the wind: swell [m], current along the waves [m/s], or a height from a forecast [m]."""

    height: Height | None = Field(
        default=None, description="significant height by the forecast; else from the wind", examples=["1.2 m"]
    )
    period: Period | None = Field(default=None, description="peak period by the forecast", examples=["6 s"])
    swell_height: Height | None = Field(default=None, description="swell beside it", examples=["0.8 m"])
    swell_period: Period | None = Field(default=None, description="period of the swell", examples=["9 s"])
    current: Stream | None = Field(
        default=None, description="current along the waves; against them with a minus", examples=["-1.5 kn"]
    )


class Outlook(Tackle):
    """The official forecast: how old it is [s], what else it says; visibility [m]."""

    age: Span | None = Field(default=None, description="since it was issued", examples=["3 h"])
    thunder: bool | None = Field(default=None, strict=True, description="thunderstorms in it", examples=["false"])
    visibility: Distance | None = Field(default=None, description="visibility", examples=["8 nmi"])


class Course(Tackle):
    """The crossing and the hours on the pattern: distances [m], speeds [m/s], times [s]."""

    distance: Distance = Field(description="from the dock to the ground", examples=["32 nmi"])
    distance_home: Distance | None = Field(default=None, description="home, if not the same", examples=["36 nmi"])
    crossing_speed: Way = Field(description="speed of the crossing", examples=["22 kn"])
    pattern: Span = Field(description="time with all lines in", examples=["5 h"])
    lines_in: Annotated[datetime.time | None, BeforeValidator(_clock)] = Field(
        default=None, description="when the first line goes in; at first light if left out", examples=["06:30"]
    )
    run_in_the_dark: bool = Field(default=True, strict=True, description="cross before first light", examples=["true"])
    before_dark: Span = Field(default=1800.0, description="home so long before sunset", examples=["30 min"])


class Reading(Tackle):
    """One reading of the burn curve: speed [m/s] and fuel rate [m3/s]."""

    speed: Speed = Field(description="speed", examples=["15 kn"])
    rate: Burn = Field(description="fuel an hour at that speed, all engines", examples=["22 gal/h"])


class Tank(Tackle):
    """Fuel on board [m3], the share kept back [-], and the burn curve."""

    on_board: Volume = Field(description="usable fuel at the dock", examples=["260 gal"])
    reserve: Part = Field(default=1.0 / 3.0, description="share kept back", examples=["33 %"])
    burn: tuple[Reading, ...] = Field(
        min_length=2, max_length=50, description="the burn curve, slowest first", examples=["[[fuel.burn]]"]
    )


class BoatSize(Tackle):
    """The boat at the waterline, for her motion [m]."""

    length: Size = Field(description="length at the waterline", examples=["9.5 m"])
    beam: Size = Field(description="beam at the waterline", examples=["3 m"])
    draught: Size = Field(description="draught of the hull", examples=["0.7 m"])


class OwnLimits(Tackle):
    """The captain's own limits: speeds [m/s], lengths [m], time [s]; none where none is set."""

    wind: Speed | None = Field(default=None, description="mean wind, at most", examples=["18 kn"])
    gust: Speed | None = Field(default=None, description="gusts, at most", examples=["25 kn"])
    wave_height: Height | None = Field(default=None, description="significant height, at most", examples=["1.5 m"])
    steepness: Part | None = Field(default=None, description="height over length, at most", examples=["0.05"])
    visibility: Distance | None = Field(default=None, description="visibility, at least", examples=["3 nmi"])
    forecast_age: Span | None = Field(default=None, description="age of the forecast, at most", examples=["6 h"])
    crew: Count | None = Field(default=None, description="people aboard, at least", examples=["2"])


class PaperEntry(Tackle):
    """A paper as the captain entered it."""

    name: Name = Field(description="what it is", examples=["radio licence"])
    holder: Words = Field(default="", description="whose", examples=["Odile"])
    number: Words = Field(default="", description="its number", examples=["77-1"])
    valid_until: Day | None = Field(default=None, description="last day it holds", examples=["2031-12-31"])
    checked_on: Day | None = Field(default=None, description="when someone last looked", examples=["2031-02-20"])
    note: Words = Field(default="", description="anything else", examples=["in the blue box"])


class LimitEntry(Tackle):
    """A limit on what may be kept, as the captain entered it."""

    species: Name = Field(description="the fish", examples=["wahoo"])
    area: Words = Field(default="", description="where it holds", examples=["inside the line"])
    kept: Count | None = Field(default=None, description="how many may be kept", examples=["2"])
    per: Words = Field(default="", description="what that number is for", examples=["person and day"])
    length: Words = Field(default="", description="in the captain's words", examples=["fork length 70 cm"])
    season: Words = Field(default="", description="in the captain's words", examples=["all year"])
    source: Words = Field(default="", description="where it was read", examples=["the authority's notice"])
    checked_on: Day | None = Field(default=None, description="when it was checked", examples=["2031-03-01"])


class DayFile(Tackle):
    """Everything of a day file; what is left out is named in the answer as not known."""

    date: Day | None = Field(default=None, description="the day; the trip's first if left out", examples=["2031-03-08"])
    latitude: Annotated[float, Field(ge=-90.0, le=90.0)] = Field(
        description="of the ground, in degrees, north positive", examples=["26.5"]
    )
    longitude: Annotated[float, Field(ge=-180.0, le=180.0)] = Field(
        description="of the ground, in degrees, east positive", examples=["-70.25"]
    )
    zone: Name = Field(default="UTC", description="time zone of the boat's clock", examples=["America/Nassau"])
    wind: Wind | None = Field(default=None, description="the wind", examples=["[wind]"])
    sea: Sea = Field(default=Sea(), description="the sea beside the wind", examples=["[sea]"])
    forecast: Outlook = Field(default=Outlook(), description="the official forecast", examples=["[forecast]"])
    course: Course | None = Field(default=None, description="crossing and pattern", examples=["[course]"])
    fuel: Tank | None = Field(default=None, description="fuel", examples=["[fuel]"])
    boat: BoatSize | None = Field(default=None, description="the boat's size", examples=["[boat]"])
    limits: OwnLimits = Field(default=OwnLimits(), description="your own limits", examples=["[limits]"])
    papers: tuple[PaperEntry, ...] = Field(
        default=(), max_length=200, description="papers and licences", examples=["[[papers]]"]
    )
    catch_limits: tuple[LimitEntry, ...] = Field(
        default=(), max_length=200, description="catch limits", examples=["[[catch_limits]]"]
    )


LARGEST_FILE = 256 * 1024


def read_day_file(path: Path) -> DayFile:
    """The day file. Raises Faults with every fault of it."""
    try:
        data = path.read_bytes()[: LARGEST_FILE + 1]
        text = data.decode("utf-8-sig")
    except OSError as error:
        raise Faults([Fault(str(path), f"could not be read ({error.strerror})", "the day file must be readable",
                            "see docs/logbook.md for what it holds")], str(path)) from None  # fmt: skip
    except UnicodeDecodeError:
        raise Faults(
            [Fault(str(path), "bytes that are no text", "a day file is text in UTF-8", "save it again")]
        ) from None
    return day_from_text(text, str(path))


def day_from_text(text: str, source: str = "the day") -> DayFile:
    """The day that a TOML text describes. Raises Faults with every fault, and nothing else."""
    try:
        tables = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        rule = "the file must be readable as TOML"
        raise Faults(
            [Fault(source, str(error)[:80], rule, "correct that line: key = value, texts in quotes")]
        ) from None
    check_kind(tables, "day", source)
    lines = find_lines(text)
    try:
        day = DayFile.model_validate(tables, context=FROM_FILE)
    except ValidationError as error:
        faults = [_fault(each, lines) for each in error.errors()]
        raise Faults(sorted(faults, key=lambda fault: fault.line or 0), source) from None
    faults = _beyond(day)
    if faults:
        raise Faults(faults, source)
    return day


def _fault(error: Any, lines: Any) -> Fault:
    path, kind, context = tuple(error["loc"]), error["type"], error.get("ctx", {})
    place = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in path).lstrip(".") or "the file"
    line = line_of(lines, path)
    table, field = _field(path)
    example = example_line(str(path[-1]), field) if field is not None else "see docs/logbook.md"
    if kind == "fault":
        return Fault(place, context["given"], context["rule"], context["next_step"], line=line)
    if kind == "extra_forbidden":
        known = list(table.model_fields) if table else []
        near = nearest(str(path[-1]), known)
        step = f"did you mean '{near}'?" if near else "remove or rename it"
        return Fault(
            place, quote(error["input"]), f"there is no such key; known are: {', '.join(known)}", step, line=line
        )
    if kind == "missing":
        words = field.description if field is not None else ""
        return Fault(place, "nothing", f"it is needed: {words}", f"add {example}", line=line)
    return Fault(place, quote(error["input"]), error["msg"].lower(), f"write it as {example}", line=line)


def _field(path: tuple[str | int, ...]) -> tuple[type[BaseModel] | None, Any]:
    """The table a path stands in, and the field at its end."""
    table: type[BaseModel] | None = DayFile
    names = [step for step in path if isinstance(step, str)]
    for name in names[:-1]:
        field = table.model_fields.get(name) if table else None
        table = table_model(field) if field else None
    return table, table.model_fields.get(names[-1]) if table and names else None


def _beyond(day: DayFile) -> list[Fault]:
    """What single fields cannot see."""
    faults = []
    zone = zone_named(day.zone)
    if isinstance(zone, UnknownZone):
        faults.append(Fault("zone", quote(zone.given), zone.rule, zone.next_step))
    if (day.sea.height is None) != (day.sea.period is None):
        faults.append(Fault("sea", "a height or a period alone", "a forecast sea has both", "add the other"))
    if (day.sea.swell_height is None) != (day.sea.swell_period is None):
        faults.append(Fault("sea", "a swell's height or period alone", "a swell has both", "add the other"))
    speeds = [reading.speed for reading in day.fuel.burn] if day.fuel else []
    if any(b <= a for a, b in pairwise(speeds)):
        faults.append(Fault("fuel.burn", "speeds that do not rise", "readings go from slow to fast, each speed once",
                            "put them in order"))  # fmt: skip
    return faults
