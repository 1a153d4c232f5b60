"""Reads one table of a tow file by its keys, and keeps every fault with its place for the end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from spreadwright.faults import Fault
from spreadwright.quantity import QuantityError, quote
from spreadwright.tackle.file_faults import Source, place_of
from spreadwright.tackle.keys import nearest
from spreadwright.tackle.toml_lines import Path
from spreadwright.towfile.fields import Several
from spreadwright.towfile.key import Key, table

LONGEST_LIST = 200


class Found:
    """What was found in one table: its values by name (None where left out or faulty), and what stood there."""

    def __init__(self, path: Path, raw: Mapping[str, Any]) -> None:
        self.path = path
        self.raw = raw
        self.values: dict[str, Any] = {}
        self.faulty: set[str] = set()

    def __getitem__(self, name: str) -> Any:
        return self.values[name]

    def __contains__(self, name: str) -> bool:
        return name in self.raw

    @property
    def sound(self) -> bool:
        """True where nothing in the table was at fault."""
        return not self.faulty


class Reading:
    """One pass over a tow file: the tables, and the faults found so far."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self.faults: list[Fault] = []

    def fault(self, path: Path, given: str, rule: str, next_step: str) -> None:
        """Keep a fault."""
        self.faults.append(self.source.fault(path, given, rule, next_step))

    def read(self, path: Path, raw: object, keys: Sequence[Key], *, inherits: bool = False) -> Found:
        """Read a table. inherits: what is left out comes from elsewhere, so nothing is missing or defaulted."""
        if not isinstance(raw, Mapping):
            return self._not_a_table(path, raw, keys)
        found = Found(path, raw)
        meant = self._unknown_keys(found, keys)
        for key in keys:
            if key.name in raw:
                found.values[key.name] = self._value(found, key)
            elif key.needed and not inherits:
                found.values[key.name] = None
                found.faulty.add(key.name)
                if key.name not in meant:
                    rule = f"'{key.name}' is needed: {key.words}"
                    self.fault((*path, key.name), "nothing", rule, f"add {key.line}")
            else:
                found.values[key.name] = None if inherits else key.default
        return found

    def tables(self, found: Found, name: str, header: str, most: int) -> list[tuple[Path, Any]]:
        """The tables of a list of tables, each with its path; a fault where it is none, or too many."""
        raw = found.raw.get(name)
        path = (*found.path, name)
        if raw is None:
            return []
        if isinstance(raw, Mapping):
            self.fault(path, quote(raw), "this is a list of tables: its header has double brackets", f"write {header}")
            raw = [raw]
        if not isinstance(raw, list):
            self.fault(path, quote(raw), "this is a list of tables", f"write each under a header {header}")
            return []
        if not 1 <= len(raw) <= most:
            self.fault(path, f"{len(raw)} tables", f"there must be 1 to {most}", f"write each under a header {header}")
        return [((*path, at), each) for at, each in enumerate(raw[:most])]

    def several(self, path: Path, given: list[object], reader: Several) -> tuple[Any, ...] | None:
        """The entries of a list, every bad one with its own place; None if there was one."""
        values, good = [], True
        for at, entry in enumerate(given):
            try:
                values.append(reader.each(entry))
            except QuantityError as error:
                self.fault((*path, at), error.given, error.rule, error.next_step)
                good = False
        return tuple(values) if good else None

    def _value(self, found: Found, key: Key) -> Any:
        if key.read is table:
            return found.raw[key.name]
        path = (*found.path, key.name)
        before = len(self.faults)
        value = None
        try:
            value = key.read(found.raw[key.name])
        except QuantityError as error:
            self.fault(path, error.given, error.rule, _own_example(error.next_step, key))
        if isinstance(key.read, Several) and value is not None:
            value = self.several(path, value, key.read)
        if len(self.faults) > before:
            found.faulty.add(key.name)
        return value

    def _unknown_keys(self, found: Found, keys: Sequence[Key]) -> set[str]:
        """Tell what is no key here; returns the keys that were probably meant, so that none is called missing too."""
        known = [key.name for key in keys]
        meant: set[str] = set()
        for given in list(found.raw)[:LONGEST_LIST]:
            if given in known:
                continue
            near = nearest(given, [name for name in known if name not in found.raw])
            meant |= {near} if near else set()
            where = f"in [{place_of(found.path)}]" if found.path else "at the top of the file"
            shown = quote(given).strip("'\"")
            found.faulty.add(given)
            self.fault(
                (*found.path, given),
                f"{shown} = {quote(found.raw[given])}",
                f"there is no key {shown} {where}; known are: {', '.join(known)}",
                f"did you mean '{near}'? rename or remove it" if near else "remove or rename it",
            )
        return meant

    def _not_a_table(self, path: Path, raw: object, keys: Sequence[Key]) -> Found:
        header = place_of(tuple(step for step in path if isinstance(step, str)))
        brackets = f"[[{header}]]" if isinstance(path[-1], int) else f"[{header}]"
        self.fault(path, quote(raw), "this must be a table", f"write it under a header {brackets} of its own")
        found = Found(path, {})
        found.values = {key.name: None for key in keys}
        found.faulty = set(found.values)
        return found


def _own_example(next_step: str, key: Key) -> str:
    """Put the key's own example for the general one of its dimension."""
    start = next_step.find("such as '")
    if start < 0 or not key.example.startswith('"') or "if that is what you mean" in next_step:
        return next_step
    end = next_step.find("'", start + 9)
    return f"{next_step[:start]}such as {key.example}{next_step[end + 1 :]}"
