"""docs/trip-file.md against the models: every key, its meaning, its example and its default; every piece reads."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from pydantic import ValidationError
from tests.tackle.trips import DEMO, only_fault, small

from spreadwright.quantity import DIMENSIONS, read
from spreadwright.tackle import Trip, trip_from_text
from spreadwright.tackle.fields import FROM_FILE
from spreadwright.tackle.keys import Key, every_key, model_at

PAGE = (Path(__file__).parents[2] / "docs" / "trip-file.md").read_text(encoding="utf-8")
KEYS = {(key.table, key.name): key for key in every_key()}


def rows() -> dict[tuple[str, str], list[str]]:
    """Every row of the page's key tables: (table, key) -> its other cells."""
    found: dict[tuple[str, str], list[str]] = {}
    table = None
    for line in PAGE.splitlines():
        if line.startswith("#"):
            header = re.search(r"`\[+([a-z_.]+)\]+`", line)
            table = header[1] if header else "" if "top of the file" in line else None
        elif table is not None and (row := re.fullmatch(r"\| `(\w+)` \| (.*) \| (.*) \| (.*) \|", line)):
            assert (table, row[1]) not in found, f"{table} {row[1]} stands twice"
            found[table, row[1]] = [row[2], row[3], row[4]]
    return found


ROWS = rows()


def test_the_page_has_every_key_and_no_other() -> None:
    assert set(ROWS) == set(KEYS)
    assert len(KEYS) > 100


@pytest.mark.parametrize("key", KEYS.values(), ids=[f"{table}.{name}" for table, name in KEYS])
def test_a_row_says_what_the_model_says(key: Key) -> None:
    meaning, example, default = ROWS[key.table, key.name]
    assert meaning == key.field.description
    assert example == f"`{key.example}`"
    assert (default == "needed") == key.field.is_required()


def test_the_defaults_on_the_page_are_those_of_the_models() -> None:
    """A file that writes every default out reads as the file that leaves them all out."""
    written: dict[str, list[str]] = {}
    for (table, name), (_, _, default) in ROWS.items():
        if default.startswith("`"):
            written.setdefault(table, []).append(f"{name} = {default.strip('`')}\n")
    assert {"pattern", "water", "wishes", "spares"} <= set(written)
    text = small(
        ('title = "Small"\n', 'title = "Small"\n' + "".join(written.pop(""))),
        ("[pattern]\n", "[pattern]\n" + "".join(written.pop("pattern"))),
        ("[[shelf.weights]]\n", "[[shelf.weights]]\n" + "".join(written.pop("shelf.weights"))),
        ("[[shelf.shock_leaders]]\n", "[[shelf.shock_leaders]]\n" + "".join(written.pop("shelf.shock_leaders"))),
        ('length = "600 yd"}', 'length = "600 yd"}\nwind_on = {strength = "200 lb", length = "9 m", material="nylon"}'),
    )
    assert written.pop("outfits.wind_on") == ['material = "nylon"\n']
    text += "".join(f"[{table}]\n{''.join(lines)}" for table, lines in written.items())
    plain = small(
        ('length = "600 yd"}', 'length = "600 yd"}\nwind_on = {strength = "200 lb", length = "9 m"}'),
    )
    assert trip_from_text(text) == trip_from_text(plain)


PLAIN = {place: key for place, key in KEYS.items() if not key.example.startswith("[")}  # not a table


@pytest.mark.parametrize("key", PLAIN.values(), ids=[f"{table}.{name}" for table, name in PLAIN])
def test_every_example_is_one_that_the_models_take(key: Key) -> None:
    """The example that a message offers as the next step must itself be free of fault."""
    model = model_at(tuple(key.table.split("."))) if key.table else Trip
    assert model is not None
    with pytest.raises(ValidationError) as caught:  # everything else is missing
        model.model_validate(tomllib.loads(key.example) | {"?": 0}, context=FROM_FILE, by_alias=True, by_name=False)
    assert key.name not in {each["loc"][0] for each in caught.value.errors() if each["loc"]}


def test_every_piece_of_the_page_is_in_the_demo() -> None:
    demo = (DEMO / "trip.toml").read_text(encoding="utf-8")
    pieces = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    assert len(pieces) >= 8
    for piece in pieces:
        for line in piece.splitlines():
            assert line in demo, line


def test_every_unit_on_the_page_reads() -> None:
    kinds = {
        "lengths": "length", "masses": "mass", "forces: strength and drag": "force", "speeds": "speed",
        "angles": "angle", "times": "time", "areas": "area", "densities": "density", "shares": "number",
    }  # fmt: skip
    section = PAGE.split("## When something is wrong")[0]
    seen = set()
    for words, units, examples in re.findall(r"^\| ([a-z: ]+) \| (`.*?) \| (`.*) \|$", section, re.MULTILINE):
        dimension = kinds[words]
        seen.add(words)
        for unit in re.findall(r"`([^`]+)`", units):
            assert read(f"2 {unit}", dimension) > 0.0
        for example in re.findall(r'`"?([^`"]+)"?`', examples):
            assert read(example, dimension) > 0.0
    assert seen == set(kinds)
    assert set(kinds.values()) <= set(DIMENSIONS)


def test_the_message_on_the_page_is_one_that_the_reader_gives() -> None:
    words = re.search(r"```\n(outfits\[2\].*?)\n```", PAGE, re.DOTALL)
    assert words is not None
    text = small(
        ('name = "blue"', 'name = "green 80"'),
        ('marks = ["100 ft"]\n', 'marks = ["100 ft", "200 ft", "900 yd"]\n'),
    )
    fault = str(only_fault("\n" * (48 - text[: text.index("900 yd")].count("\n") - 1) + text))
    assert fault == words[1]
