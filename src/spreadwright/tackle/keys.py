"""The keys a trip file may hold, read off the models, so that messages and the manual cannot drift."""

from __future__ import annotations

import difflib
import typing
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from spreadwright.tackle.trip import Trip

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Key:
    """One key of the trip file: the table it stands in, its name, and its field in the model."""

    table: str
    name: str
    field: FieldInfo

    @property
    def example(self) -> str:
        """An example as it stands in the file, such as `mass = "32 oz"` or `[boat]`."""
        return example_line(self.name, self.field)


def file_keys(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """The keys of one table as the file spells them, with their fields."""
    return {str(field.validation_alias or name): field for name, field in model.model_fields.items()}


def table_model(field: FieldInfo) -> type[BaseModel] | None:
    """The model of the table (or of each table of the list) that a field holds, or None."""
    waiting = [field.annotation]
    while waiting:
        kind = waiting.pop()
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            return kind
        waiting.extend(typing.get_args(kind))
    return None


def is_list(field: FieldInfo) -> bool:
    """True where the field holds a list."""
    return typing.get_origin(field.annotation) is tuple


def model_at(path: Path) -> type[BaseModel] | None:
    """The model of the table at a path of keys and list positions, or None."""
    model: type[BaseModel] | None = Trip
    for step in path:
        if isinstance(step, int):
            continue
        field = file_keys(model).get(step) if model else None
        model = table_model(field) if field else None
    return model


def field_at(path: Path) -> FieldInfo | None:
    """The field at a path; for an entry of a list, the list's field."""
    steps = list(path)
    while steps and isinstance(steps[-1], int):
        steps.pop()
    model = model_at(tuple(steps[:-1])) if steps else None
    return file_keys(model).get(str(steps[-1])) if model else None


def nearest(word: str, known: Sequence[str]) -> str | None:
    """The known word that is most like the given one, or None when none is much like it."""
    plain = word.casefold().replace("-", "_").replace(" ", "_")
    by_plain = {name.casefold().replace(" ", "_"): name for name in known}
    within = [name for form, name in by_plain.items() if len(plain) > 2 and plain in form]
    if len(within) == 1:
        return within[0]
    matches = difflib.get_close_matches(plain, by_plain, n=1, cutoff=0.6)
    return by_plain[matches[0]] if matches else None


def example_line(name: str, field: FieldInfo) -> str:
    """How a key is written in the file, with its example."""
    example = str((field.examples or ["..."])[0])
    if example.startswith("[") and table_model(field):
        return example
    kinds = {field.annotation, *typing.get_args(field.annotation)}
    bare = example.startswith("[") or bool(kinds & {int, bool})
    return f"{name} = {example}" if bare else f'{name} = "{example}"'


def every_key(model: type[BaseModel] = Trip, table: str = "") -> Iterator[Key]:
    """Every key of the file, table by table, from the top."""
    below: list[tuple[type[BaseModel], str]] = []
    for name, field in file_keys(model).items():
        yield Key(table, name, field)
        inner = table_model(field)
        if inner is not None:
            below.append((inner, f"{table}.{name}".lstrip(".")))
    for inner, its_table in below:
        yield from every_key(inner, its_table)
