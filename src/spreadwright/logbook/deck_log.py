"""Reads the log that a deck sheet or this program exported; every fault at once, each with its place in the file."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.entry import Entry, FishedRig, Sheet, as_json, identity_of
from spreadwright.quantity import quote, show_given, show_turned

FORMAT, VERSION = "spreadwright deck log", 1
LARGEST_FILE = 32 * 1024 * 1024  # bytes: a season of entries is under one megabyte
MOST_FAULTS = 100
_EXPORT = "export the log again from the deck sheet"


@dataclass(frozen=True, slots=True)
class DeckLog:
    """A log as read: where it comes from, its sound entries, what is wrong, and what was passed over.

    faults    entries that could not be read, with the reason; the sound ones are there all the same
    remarks   keys that this version does not know and has left out
    """

    sheet: Sheet
    entries: tuple[Entry, ...]
    faults: tuple[Fault, ...] = ()
    remarks: tuple[str, ...] = ()


def read_deck_log(path: Path) -> DeckLog:
    """The log in a file. Raises Faults where the file as a whole is no log; faulty entries are values."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise Faults([Fault(str(path), f"could not be read ({error.strerror})", "the file must be readable",
                            "check its name and folder")], str(path)) from None  # fmt: skip
    if len(data) > LARGEST_FILE:
        raise Faults([Fault(str(path), f"{len(data) // 2**20} MiB", "a deck log is far smaller", _EXPORT)], str(path))
    try:
        return deck_log_from_text(data.decode("utf-8-sig"), str(path))
    except UnicodeDecodeError:
        raise Faults([Fault(str(path), "bytes that are no text", "a deck log is text in UTF-8", _EXPORT)]) from None


def deck_log_from_text(text: str, source: str = "the log") -> DeckLog:
    """The log in a text (see docs/logbook.md). Raises Faults where the whole is no log."""
    whole = _whole(text, source)
    remarks: list[str] = []
    sheet = _sheet(whole, source, remarks)
    entries: list[Entry] = []
    faults: list[Fault] = []
    for number, given in enumerate(whole["entries"], start=1):
        place = f"entries[{number}]"
        if not isinstance(given, dict):
            faults.append(Fault(place, quote(given), "an entry is a table of keys", _EXPORT))
            continue
        try:
            entries.append(Entry.model_validate(_known(given, remarks)))
        except ValidationError as error:
            faults += faults_of(error.errors(), place, _whose(given))
    return DeckLog(sheet, tuple(entries), tuple(faults[:MOST_FAULTS]), _counted(remarks))


def deck_log_text(sheet: Sheet, entries: Iterable[Entry]) -> str:
    """The same format written: what this reads back, and what a deck sheet may take in."""
    head: dict[str, Any] = {"format": FORMAT, "version": VERSION, "trip": sheet.trip, "boat": sheet.boat,
                            "sheet": sheet.id}  # fmt: skip
    if sheet.made is not None:
        head["made"] = sheet.model_dump(mode="json")["made"]
    ordered = sorted(entries, key=lambda e: (e.at, e.id))
    return json.dumps({**head, "entries": [as_json(e) for e in ordered]}, indent=1, ensure_ascii=False)


def faults_of(
    errors: Sequence[ErrorDetails],
    place: str,
    item: str = "",
    line: int | None = None,
    typed: Mapping[str, str] | None = None,
) -> list[Fault]:
    """The faults of one entry in a captain's words; `place` names the entry, `item` the rod it is about.

    typed   what was written for a key, where the entry holds it in SI units: it is shown as it was written
    """
    faults = []
    for error in errors:
        key = ".".join(str(step + 1) if isinstance(step, int) else step for step in error["loc"])
        where = f"{place}.{key}" if key else place
        name = key.rpartition(".")[2]
        given = "nothing" if error["type"] == "missing" else _said(error["input"], name, typed or {})
        if isinstance(error["input"], dict):
            given = "an entry without it" if error["type"] == "missing" else "this entry"
        faults.append(Fault(where, given, *_rule(error, key, name), item, line))
    return faults


def _rule(error: ErrorDetails, key: str, name: str) -> tuple[str, str]:
    """The rule that was broken and the next step; limits of a quantity carry their units."""
    context = dict(error.get("ctx", {}))
    if error["type"] == "fault":
        return str(context["rule"]), str(context["next_step"])
    rule, step = _RULES.get(error["type"], (error["msg"], "correct it"))
    dimension = DIMENSIONS.get(name)
    if dimension:
        context.update({limit: _both(context[limit], dimension) for limit in ("gt", "ge", "le") if limit in context})
    return rule.format(**{"expected": "", "pattern": "", **context, "key": key}), step


def _both(value: float, dimension: str) -> str:
    """A limit in the units of both systems: "1000 m (3281 ft)"."""
    metric, us = show_given(value, dimension, "metric"), show_turned(value, dimension, "us")
    return metric if metric == us else f"{metric} ({us})"


def _said(value: object, name: str, typed: Mapping[str, str]) -> str:
    """What was given: the text as it was typed, or the number of a log with the unit it is in there."""
    if name in typed:
        return quote(typed[name])
    if name in DIMENSIONS and isinstance(value, int | float) and not isinstance(value, bool):
        return f"{value:.6g} {_UNITS[DIMENSIONS[name]]}"
    return quote(value)


DIMENSIONS = {"mark": "length", "length": "length", "mass": "mass", "speed": "speed",
              "water_temperature": "temperature"}  # fmt: skip
_UNITS = {"length": "m", "mass": "kg", "speed": "m/s", "temperature": "K"}  # as a log has them


_RULES: dict[str, tuple[str, str]] = {
    "missing": ("'{key}' is needed here", "add it"),
    "literal_error": ("this must be one of: {expected}", "write one of them"),
    "string_pattern_mismatch": ("an id is 32 hexadecimal digits", _EXPORT),
    "string_too_long": ("text here has at most {max_length} characters", "shorten it"),
    "string_type": ("this must be text", "write it in quotes"),
    "datetime_from_date_parsing": ("a time has its date, its time and its zone", "write it as 2031-03-08T06:41:07Z"),
    "datetime_parsing": ("a time has its date, its time and its zone", "write it as 2031-03-08T06:41:07Z"),
    "datetime_type": ("a time has its date, its time and its zone", "write it as 2031-03-08T06:41:07Z"),
    "timezone_aware": ("a time needs its zone", "add Z for universal time, or the zone's hours such as -05:00"),
    "float_parsing": ("this must be a number", "write a number"),
    "float_type": ("this must be a number", "write a number"),
    "finite_number": ("this must be a finite number", "write a number that can be measured"),
    "greater_than": ("this number must be more than {gt}", "check the number and its unit"),
    "greater_than_equal": ("this number must be at least {ge}", "check the number and its unit"),
    "less_than_equal": ("this number must be at most {le}", "check the number and its unit"),
}


def _whole(text: str, source: str) -> dict[str, Any]:
    try:
        whole = json.loads(text)
    except (ValueError, RecursionError) as error:
        line = getattr(error, "lineno", None)
        raise Faults([Fault(source, "text that is no JSON", "a deck log is JSON", _EXPORT, line=line)]) from None
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        given = quote(whole.get("format")) if isinstance(whole, dict) else "something else"
        raise Faults([Fault(f"{source}: format", given, f"a deck log says format: {FORMAT!r}", _EXPORT)], source)
    faults = []
    if whole.get("version") != VERSION:
        step = "update this program" if str(whole.get("version")) > str(VERSION) else _EXPORT
        faults.append(Fault("version", quote(whole.get("version")), f"this program reads version {VERSION}", step))
    if not isinstance(whole.get("entries"), list):
        faults.append(Fault("entries", quote(whole.get("entries")), "a deck log has a list of entries", _EXPORT))
    if faults:
        raise Faults(faults, source)
    return whole


def _sheet(whole: dict[str, Any], source: str, remarks: list[str]) -> Sheet:
    named = {key: whole[key] for key in ("trip", "boat", "made") if whole.get(key) is not None}
    identity = whole.get("sheet") or identity_of("sheet", named.get("trip", ""), named.get("boat", ""), "deck log")
    known = {"format", "version", "trip", "boat", "sheet", "made", "entries"}
    remarks += [f"the key {quote(key)} at the top" for key in whole if key not in known]
    try:
        return Sheet.model_validate({"id": identity, **named})
    except ValidationError as error:
        raise Faults(faults_of(error.errors(), "the log's head"), source) from None


def _known(given: dict[str, Any], remarks: list[str]) -> dict[str, Any]:
    """The keys this version knows; null counts as left out, and other keys are named and left out."""
    known = {key: value for key, value in given.items() if key in Entry.model_fields and value is not None}
    remarks += [f"the key {quote(key)} of an entry" for key in given if key not in Entry.model_fields]
    rig = known.get("rig")
    if isinstance(rig, dict):
        fields = FishedRig.model_fields
        remarks += [f"the key {quote(key)} of a rig" for key in rig if key not in fields]
        known["rig"] = {key: value for key, value in rig.items() if key in fields and value is not None}
    return known


def _whose(given: dict[str, Any]) -> str:
    words = [str(given.get(key, ""))[:40] for key in ("kind", "rod", "at")]
    return " ".join(word for word in words if word)


def _counted(remarks: Sequence[str]) -> tuple[str, ...]:
    """Each remark once, with how often."""
    return tuple(f"{words} is not known here and was left out ({remarks.count(words)} times)"
                 for words in dict.fromkeys(remarks))  # fmt: skip
