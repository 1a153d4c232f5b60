"""docs/tow-file.md against the keys and the result: every key, its example and its default; every piece reads."""

from __future__ import annotations

import re
import tomllib

import pytest
from tests.towfile.texts import EXAMPLES, ROOT, read, small

from spreadwright.towfile import result as results
from spreadwright.towfile import tow_file_from_text
from spreadwright.towfile.fields import Several
from spreadwright.towfile.key import LEFT_OUT, NEEDED, Key, table
from spreadwright.towfile.keys import TABLES

MANUAL = (ROOT / "docs" / "tow-file.md").read_text(encoding="utf-8")
EVERY = [(header, key) for header, keys in TABLES.items() for key in keys]


def row(key: Key) -> str:
    without = {NEEDED: "needed", LEFT_OUT: "left out"}.get(key.without, f"`{key.without}`")
    return f"| `{key.name}` | {key.words} | `{key.line}` | {without} |"


@pytest.mark.parametrize(("header", "key"), EVERY, ids=[f"{header} {key.name}" for header, key in EVERY])
def test_every_key_stands_in_the_manual_as_it_is(header: str, key: Key) -> None:
    assert row(key) in MANUAL


def test_the_manual_names_no_key_that_is_none() -> None:
    listed = re.findall(r"^\| `\w+` \|.*\|.*\|.*\|$", MANUAL, re.MULTILINE)
    assert set(listed) == {row(key) for _, key in EVERY}


@pytest.mark.parametrize(("header", "key"), EVERY, ids=[f"{header} {key.name}" for header, key in EVERY])
def test_every_example_and_default_of_a_key_is_good(header: str, key: Key) -> None:
    if key.read is table:
        assert tomllib.loads(key.line)
        return
    value = tomllib.loads(key.line)[key.name]
    if isinstance(key.read, Several):
        assert all(key.read.each(entry) is not None for entry in key.read(value))
    else:
        assert key.read(value) is not None
    assert (key.default is None) == (key.without in {NEEDED, LEFT_OUT})


def test_every_piece_of_the_manual_reads() -> None:
    pieces = re.findall(r"```toml\n(.*?)```", MANUAL, re.DOTALL)
    assert pieces
    for piece in pieces:
        assert tow_file_from_text(piece).lines


def test_every_key_of_the_result_stands_in_the_manual() -> None:
    for model in (results.TowResult, results.Boat, results.SteadyLine, results.MovingLine, results.SteadyEnd):
        for name in model.model_fields:
            assert f"`{name}`" in MANUAL, (model.__name__, name)


def test_the_mesh_scales_left_out_are_those_of_the_manual() -> None:
    """The words of `mesh_scale` say 0.125 for a steady shape and 0.25 over time."""
    assert read(small(numerics="")).numerics.mesh_scale == 0.125
    followed = '[motion]\nkind = "straight"\nspeed = "15 kn"\nduration = "5 s"\n'
    assert read(small(numerics="", motion=followed)).numerics.mesh_scale == 0.25


def test_every_example_is_listed() -> None:
    for path in EXAMPLES.iterdir():
        assert f"examples/tow/{path.name}" in MANUAL
