"""Checks between the parts of a trip: names, stations, marks, drag and what the spool holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from spreadwright.faults import Fault
from spreadwright.quantity import QuantityError, quote, read, show_given
from spreadwright.tackle.choice_checks import CHOICE_RULES
from spreadwright.tackle.draft import Draft, Entry, draft_of_trip
from spreadwright.tackle.file_faults import place_of
from spreadwright.tackle.outfit import MARK_TOLERANCE, Outfit, mark_beyond_words, marks_beyond
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
                    (*entry.path, "name"), quote(entry.name),
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
                    entry.path, f"the same tip as station {_number(earlier)} '{earlier.name}'",
                    "two rod tips cannot be in one place", "measure both tips again",
                )


def _enough_stations(draft: Draft) -> Iterator[Fault]:
    rods, stations = len(draft.outfits), len(draft.stations)
    if 0 < stations < rods:
        yield draft.source.fault(
            _STATIONS, f"{stations} for {rods} rods",
            "every rod needs a station of its own",
            f"add {rods - stations} with [[boat.stations]], or leave outfits out",
        )


def _one_rod_a_station(draft: Draft) -> Iterator[Fault]:
    taken: dict[str, tuple[str, str]] = {}  # station -> rod, and where that was said
    rods = [(entry.path, entry.name, entry.raw.get("station")) for entry in draft.outfits]
    locks = [(entry.path, str(entry.raw.get("rod")), entry.raw.get("station")) for entry in draft.fixed]
    for path, rod, station in rods + locks:
        if not isinstance(station, str) or not station.strip():
            continue
        station = station.strip()
        holder, where = taken.setdefault(station, (rod, place_of(path)))
        if holder != rod:
            yield draft.source.fault(
                (*path, "station"), quote(station),
                f"one rod a station, and '{holder}' stands there already ({where})",
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


def _inside(entry: Entry[Outfit], table: str, key: str, dimension: str) -> float | None:
    """A value of an outfit (SI), as far as it can be read even where the outfit has other faults."""
    if entry.thing is not None:
        owner = getattr(entry.thing, table) if table else entry.thing
        value: float | None = getattr(owner, key)
        return value
    raw: Any = entry.raw.get(table) if table else entry.raw
    return _readable(raw.get(key), dimension) if isinstance(raw, Mapping) else None


def _raw_marks(entry: Entry[Outfit]) -> list[tuple[int, float]]:
    if entry.thing is not None:
        return list(enumerate(entry.thing.marks))
    raw = entry.raw.get("marks")
    marks = [(at, _readable(mark, "length")) for at, mark in enumerate(raw if isinstance(raw, list) else [])]
    return [(at, mark) for at, mark in marks if mark is not None]


def _marks_on_line(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        length = _inside(entry, "line", "length", "length")
        marks = _raw_marks(entry)
        for at in marks_beyond(length, [mark for _, mark in marks]) if length else []:
            path = (*entry.path, "marks", marks[at][0])
            yield draft.source.fault(path, *mark_beyond_words(marks[at][1], length or 0.0))


def _marks_differ(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        marks = _raw_marks(entry)
        for position, (at, mark) in enumerate(marks):
            if any(abs(mark - other) <= MARK_TOLERANCE for _, other in marks[:position]):
                yield draft.source.fault(
                    (*entry.path, "marks", at), show_given(mark, "length"),
                    "each mark of a rod is listed once", "remove it, or correct its distance",
                )


def _spool_and_drag(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        length = _inside(entry, "line", "length", "length")
        holds = _inside(entry, "reel", "holds", "length")
        strength = _inside(entry, "line", "strength", "force")
        strike = _inside(entry, "", "strike_drag", "force")
        most = _inside(entry, "reel", "max_drag", "force")
        if length and holds and length > 1.01 * holds:  # 1 %: yards are rounded on every label
            yield draft.source.fault(
                (*entry.path, "line", "length"), show_given(length, "length"),
                f"the reel holds {show_given(holds, 'length')} of this line",
                "correct the line's length, or what the reel holds",
            )
        if strike and most and strike > most:
            yield draft.source.fault(
                (*entry.path, "strike_drag"), show_given(strike, "force"),
                f"the reel brakes with at most {show_given(most, 'force')}",
                "set a lower strike drag, or correct the reel's max_drag",
            )
        if strike and strength and strike >= strength:
            yield draft.source.fault(
                (*entry.path, "strike_drag"), show_given(strike, "force"),
                f"the line parts at {show_given(strength, 'force')}",
                "set the strike drag to a quarter or a third of the line's strength",
            )


def _spool_sizes(draft: Draft) -> Iterator[Fault]:
    for entry in draft.outfits:
        core = _inside(entry, "reel", "spool_core_diameter", "size")
        full = _inside(entry, "reel", "spool_full_diameter", "size")
        if core and full and core >= full:
            yield draft.source.fault(
                (*entry.path, "reel", "spool_core_diameter"), show_given(core, "size"),
                f"the bare spool is thinner than the full one, {show_given(full, 'size')}",
                "measure both again",
            )


def _hooks_exist(draft: Draft) -> Iterator[Fault]:
    for entry in draft.gear[("shelf", "lures")]:
        hook = entry.raw.get("hook")
        if isinstance(hook, str) and hook.strip():
            yield from draft.unknown((*entry.path, "hook"), hook, ("shelf", "hooks"))


Rule = Callable[[Draft], Iterator[Fault]]
_RULES: tuple[Rule, ...] = (
    _twice, _stations_apart, _enough_stations, _one_rod_a_station, _stations_exist, _marks_on_line,
    _marks_differ, _spool_and_drag, _spool_sizes, _hooks_exist,
)
