"""Checks between the parts of a trip: names, stations, marks, drag and what the spool holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from spreadwright.faults import Fault
from spreadwright.quantity import QuantityError, quote, read
from spreadwright.tackle.choice_checks import CHOICE_RULES
from spreadwright.tackle.draft import Draft, Entry, draft_of_trip
from spreadwright.tackle.fields import LONGEST_LIST
from spreadwright.tackle.file_faults import place_of
from spreadwright.tackle.joint_checks import joints_suit
from spreadwright.tackle.outfit import MARK_TOLERANCE, Outfit, mark_beyond_words, marks_beyond
from spreadwright.tackle.toml_lines import Path
from spreadwright.tackle.trip import Trip

_STATIONS = ("boat", "stations")


def check_trip(trip: Trip) -> list[Fault]:
    """All faults between the parts of a trip built in Python (a trip file is checked as it is read)."""
    return check(draft_of_trip(trip))


def check(draft: Draft) -> list[Fault]:
    """All faults of a draft that lie between its parts."""
    return [fault for rule in (*_RULES, *CHOICE_RULES) for fault in rule(draft)]


def _twice(draft: Draft) -> Iterator[Fault]:
    lists: list[Sequence[Entry[Any]]] = [draft.stations, draft.outfits, *draft.gear.values()]
    for entries in lists:
        first: dict[str, Entry[Any]] = {}
        for entry in entries:
            plain = entry.name.casefold()
            if plain and plain in first:
                yield draft.source.fault(
                    (*entry.path, "name"),
                    quote(entry.name),
                    f"a name stands once in a list, and entry {_number(first[plain])} has it too",
                    "give one of the two another name",
                )
            first.setdefault(plain, entry)


def _number(entry: Entry[Any]) -> int:
    last = entry.path[-1]
    return last + 1 if isinstance(last, int) else 1


def _stations_apart(draft: Draft) -> Iterator[Fault]:
    known = [(entry, entry.thing) for entry in draft.stations if entry.thing is not None]
    for at, (entry, station) in enumerate(known):
        for earlier, other in known[:at]:
            apart = max(abs(a - b) for a, b in zip(station.tip, other.tip, strict=True))
            if apart < 0.01:
                yield draft.source.fault(
                    entry.path,
                    f"the same tip as station {_number(earlier)} '{earlier.name}'",
                    "two rod tips cannot be in one place",
                    "measure both tips again",
                )


def _enough_stations(draft: Draft) -> Iterator[Fault]:
    rods, stations = len(draft.outfits), len(draft.stations)
    if 0 < stations < rods:
        yield draft.source.fault(
            _STATIONS,
            f"{stations} for {rods} rods",
            "every rod needs a station of its own",
            f"add {rods - stations} with [[boat.stations]], or leave outfits out",
        )


def _one_rod_a_station(draft: Draft) -> Iterator[Fault]:
    places = {entry.name: entry.path for entry in reversed(draft.outfits)}
    taken: dict[str, Path] = {}  # station -> the outfit that stands there
    said = [(entry.path, entry.path, entry.raw.get("station")) for entry in draft.outfits]
    for entry in draft.fixed:
        rod = places.get(str(entry.raw.get("rod")).strip())
        said += [(entry.path, rod, entry.raw.get("station"))] if rod else []
    for path, rod, station in said:
        if not isinstance(station, str) or not station.strip():
            continue
        holder = taken.setdefault(station.strip(), rod)
        if holder != rod:
            yield draft.source.fault(
                (*path, "station"),
                quote(station),
                f"one rod a station, and {place_of(holder)} '{draft.source.item(holder)}' stands there already",
                "choose another station for one of the two",
            )


def _stations_exist(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        station = entry.raw.get("station")
        if isinstance(station, str) and station.strip():
            yield from draft.unknown((*entry.path, "station"), station, _STATIONS)


def _readable(raw: object, dimension: str) -> float | None:
    """What a text says, or None: the models have reported it already."""
    try:
        return read(raw, dimension)
    except QuantityError:
        return None


def _inside(entry: Entry[Outfit], path: tuple[str, ...], dimension: str) -> float | None:
    """A value of an outfit (SI), as far as it can be read even where the outfit has other faults."""
    if entry.thing is not None:
        value: float | None = attrgetter(".".join(path))(entry.thing)
        return value
    raw: Any = entry.raw
    for key in path:
        raw = raw.get(key) if isinstance(raw, Mapping) else None
    return _readable(raw, dimension)


def _raw_marks(entry: Entry[Outfit]) -> list[tuple[int, float]]:
    if entry.thing is not None:
        return list(enumerate(entry.thing.marks))
    raw = entry.raw.get("marks")
    written = raw[:LONGEST_LIST] if isinstance(raw, list) else []
    marks = [(at, _readable(mark, "length")) for at, mark in enumerate(written)]
    return [(at, mark) for at, mark in marks if mark is not None]


def _marks_on_line(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        length = _inside(entry, ("line", "length"), "length")
        marks = _raw_marks(entry)
        for at in marks_beyond(length, [mark for _, mark in marks]) if length else []:
            path = (*entry.path, "marks", marks[at][0])
            said = draft.source.said
            on_spool = said((*entry.path, "line", "length"), length or 0.0, "length")
            given = said(path, marks[at][1], "length")
            yield draft.source.fault(path, *mark_beyond_words(given, on_spool))


def _marks_differ(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        marks = _raw_marks(entry)
        for position, (at, mark) in enumerate(marks):
            if any(abs(mark - other) <= MARK_TOLERANCE for _, other in marks[:position]):
                path = (*entry.path, "marks", at)
                yield draft.source.fault(
                    path,
                    draft.source.said(path, mark, "length"),
                    "each mark of a rod is listed once",
                    "remove it, or correct its distance",
                )


@dataclass(frozen=True)
class _Limit:
    """A value of an outfit that may not reach beyond another one of it."""

    value: tuple[str, ...]
    limit: tuple[str, ...]
    dimension: str
    rule: str  # with {limit} in it
    next_step: str
    slack: float = 1.000001  # the value may be that many times the limit: yards against feet


_LIMITS = (
    _Limit(
        ("line", "length"),
        ("reel", "holds"),
        "length",
        "the reel holds {limit} of this line",
        "correct the line's length, or what the reel holds",
    ),
    _Limit(
        ("strike_drag",),
        ("reel", "max_drag"),
        "force",
        "the reel brakes with at most {limit}",
        "set a lower strike drag, or correct the reel's max_drag",
    ),
    _Limit(
        ("strike_drag",),
        ("line", "strength"),
        "force",
        "the strike drag must be below the line's strength, {limit}",
        "set it to a quarter or a third of the line's strength",
        slack=0.999,
    ),
    _Limit(
        ("reel", "spool_core_diameter"),
        ("reel", "spool_full_diameter"),
        "size",
        "the bare spool must be thinner than the full one, {limit}",
        "measure both again",
        slack=0.999,
    ),
)


def _within_limits(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        for each in _LIMITS:
            value = _inside(entry, each.value, each.dimension)
            limit = _inside(entry, each.limit, each.dimension)
            if value is None or limit is None or value <= each.slack * limit:
                continue
            said = draft.source.said
            path = (*entry.path, *each.value)
            yield draft.source.fault(
                path,
                said(path, value, each.dimension),
                each.rule.format(limit=said((*entry.path, *each.limit), limit, each.dimension)),
                each.next_step,
            )


def _hooks_exist(draft: Draft) -> Iterator[Fault]:
    for entry in draft.gear[("shelf", "lures")]:
        hook = entry.raw.get("hook")
        if isinstance(hook, str) and hook.strip():
            yield from draft.unknown((*entry.path, "hook"), hook, ("shelf", "hooks"))


Rule = Callable[[Draft], Iterator[Fault]]
_RULES: tuple[Rule, ...] = (
    _twice,
    _stations_apart,
    _enough_stations,
    _one_rod_a_station,
    _stations_exist,
    _marks_on_line,
    _marks_differ,
    _within_limits,
    _hooks_exist,
    joints_suit,
)
