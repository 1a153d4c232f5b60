"""Turns what the models refuse in a trip file into located faults in a captain's words."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from spreadwright.faults import Fault
from spreadwright.quantity import System, quote, show_given
from spreadwright.tackle import keys
from spreadwright.tackle.toml_lines import Path, line_of

MOST_FAULTS = 200  # shown of one file: beyond that the file is something else
_MANUAL = "see docs/trip-file.md"


@dataclass(frozen=True)
class Source:
    """The trip file as it was read: its tables, and where its lines are."""

    tables: Mapping[str, Any]
    lines: dict[Path, int] = field(default_factory=dict)

    def fault(self, path: Path, given: str, rule: str, next_step: str) -> Fault:
        """A fault at a path, with the name of the thing it belongs to and its line."""
        return Fault(place_of(path), given, rule, next_step, self.item(path), line_of(self.lines, path))

    def said(self, path: Path, value: float, dimension: str) -> str:
        """A value as the file has it; where it comes from Python, in the units of the trip."""
        inside: Any = self.tables
        for step in path:
            try:
                inside = inside[step]
            except (KeyError, IndexError, TypeError):
                break
        if isinstance(inside, str):
            return quote(inside)
        system: System = "metric" if self.tables.get("units") == "metric" else "us"
        return show_given(value, dimension, system)

    def item(self, path: Path) -> str:
        """The name (or, for what is fixed, the rod) of the innermost thing around a path."""
        found, inside = "", self.tables
        for step in path:
            try:
                inside = inside[step]  # type: ignore[index]
            except (KeyError, IndexError, TypeError):
                break
            if isinstance(inside, Mapping):
                name = inside.get("name", inside.get("rod"))
                found = name[:80] if isinstance(name, str) and name.strip() else found
        return found


def place_of(path: Path) -> str:
    """A path in the words of the file, counted from 1: outfits[2].marks[3]."""
    place = ""
    for step in path:
        place += f"[{step + 1}]" if isinstance(step, int) else f".{_plain_key(step)}"
    return place.lstrip(".") or "the file"


def _plain_key(key: str) -> str:
    """A key as it can stand in a message: an odd or endless one is quoted and cut short."""
    return key if len(key) <= 60 and re.fullmatch(r"[\w-]+", key) else quote(key)


def faults_of(errors: Sequence[ErrorDetails], source: Source) -> list[Fault]:
    """One fault an error, in the order of the file; a misspelt key is not also reported missing."""
    misspelt = set()
    for error in errors:
        if error["type"] == "extra_forbidden":
            *table, name = error["loc"]
            meant = _meant_key(tuple(table), str(name))
            misspelt.add((*table, meant))
    return [
        _fault_of(error, source)
        for error in errors
        if not (error["type"] == "missing" and error["loc"] in misspelt) and not _only_faulty(error)
    ]


def _only_faulty(error: ErrorDetails) -> bool:
    """True for a list that is called too short because its entries have faults of their own."""
    least = error.get("ctx", {}).get("min_length", 0)
    return error["type"] == "too_short" and len(error["input"]) >= least


def _meant_key(table: Path, name: str) -> str | None:
    model = keys.model_at(table)
    return keys.nearest(name, list(keys.file_keys(model))) if model else None


def _fault_of(error: ErrorDetails, source: Source) -> Fault:
    path: Path = error["loc"]
    kind = error["type"]
    if kind == "fault":
        context = error["ctx"]
        next_step = _with_own_example(context["next_step"], context["example"], path)
        return source.fault(path, context["given"], context["rule"], next_step)
    if kind == "extra_forbidden":
        return _unknown_key(path, error["input"], source)
    field_info = keys.field_at(path)
    if kind == "missing":
        return _missing(path, field_info, source)
    words = _WORDS.get(kind, _other)
    rule, next_step = words(error, path, field_info)
    return source.fault(path, quote(error["input"]), rule, next_step)


def _with_own_example(next_step: str, example: str, path: Path) -> str:
    """Put the field's own example for a general one: "2 m" for a gap, and not "400 ft"."""
    field_info = keys.field_at(path)
    own = str((field_info.examples or [""])[0]) if field_info else ""
    if not example or not own or own.startswith("["):
        return next_step
    return next_step.replace(f"such as '{example}'", f"such as '{own}'")


def _unknown_key(path: Path, given: object, source: Source) -> Fault:
    *table, name = path
    model = keys.model_at(tuple(table))
    known = list(keys.file_keys(model)) if model else []
    meant = keys.nearest(str(name), known)
    where = f"in [{place_of(tuple(table))}]" if table else "at the top of the file"
    plain = _plain_key(str(name))
    rule = f"there is no key {plain} {where}; known are: {', '.join(known)}"
    next_step = f"did you mean '{meant}'? rename or remove it" if meant else "remove or rename it"
    return source.fault(path, f"{plain} = {quote(given)}", rule, next_step)


def _missing(path: Path, field_info: FieldInfo | None, source: Source) -> Fault:
    name = str(path[-1])
    meaning = field_info.description if field_info else ""
    example = keys.example_line(name, field_info) if field_info else name
    return source.fault(path, "nothing", f"'{name}' is needed: {meaning}", f"add {example}")


Words = Callable[[ErrorDetails, Path, FieldInfo | None], tuple[str, str]]


def _write(path: Path, field_info: FieldInfo | None) -> str:
    if field_info is None:
        return _MANUAL
    name = next((str(step) for step in reversed(path) if isinstance(step, str)), "")
    return f"write it as {keys.example_line(name, field_info)}"


def _text(_: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    return "this must be text, in quotes", _write(path, field_info)


def _text_length(error: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    context = error.get("ctx", {})
    if "max_length" in context:
        return f"text here has at most {context['max_length']} characters", "shorten it"
    return "text here must not be empty", _write(path, field_info)


def _whole(_: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    return "this must be a whole number, without quotes", _write(path, field_info)


def _bound(error: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    context = error.get("ctx", {})
    if "le" in context:
        return f"this number must be at most {context['le']}", _write(path, field_info)
    return f"this number must be at least {context.get('ge', 0)}", _write(path, field_info)


def _yes_or_no(_: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    return "this must be true or false, without quotes", _write(path, field_info)


def _one_of(error: ErrorDetails, *_: object) -> tuple[str, str]:
    known = [word.strip("'") for word in error["ctx"]["expected"].replace(" or ", ", ").split(", ")]
    near = keys.nearest(str(error["input"])[:80], known)
    rule = f"this must be one of: {', '.join(known)}"
    return rule, f"did you mean '{near}'?" if near else f"write one of them, such as '{known[0]}'"


def _list(error: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    if isinstance(error["input"], Mapping) and field_info and keys.table_model(field_info):
        name = place_of(path)
        return (
            "this is a list of tables: its header has double brackets",
            f"write [[{name}]] instead of [{name}]",
        )
    return "this must be a list, in square brackets", _write(path, field_info)


def _list_length(error: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    context = error.get("ctx", {})
    meaning = field_info.description if field_info else "entries"
    if "max_length" in context:
        return f"at most {context['max_length']} entries: {meaning}", "remove some"
    name = str(path[-1])
    example = keys.example_line(name, field_info) if field_info else name
    least = "one" if context.get("min_length") == 1 else context.get("min_length")
    return f"at least {least} is needed: {meaning}", f"add {example}"


def _table(_: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    name = place_of(tuple(step for step in path if isinstance(step, str)))
    header = f"[[{name}]]" if field_info and keys.is_list(field_info) else f"[{name}]"
    return "this must be a table", f"write it under a header {header} of its own"


def _other(error: ErrorDetails, path: Path, field_info: FieldInfo | None) -> tuple[str, str]:
    return error["msg"], _write(path, field_info)


_WORDS: dict[str, Words] = {
    "string_type": _text,
    "string_too_short": _text_length,
    "string_too_long": _text_length,
    "int_type": _whole,
    "int_parsing": _whole,
    "int_from_float": _whole,
    "less_than_equal": _bound,
    "greater_than_equal": _bound,
    "bool_type": _yes_or_no,
    "bool_parsing": _yes_or_no,
    "literal_error": _one_of,
    "tuple_type": _list,
    "too_short": _list_length,
    "too_long": _list_length,
    "model_type": _table,
    "model_attributes_type": _table,
}
