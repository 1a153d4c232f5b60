"""Keys, nearest words and line numbers of a trip file."""

from __future__ import annotations

import pytest

from spreadwright.tackle.file_faults import place_of
from spreadwright.tackle.keys import example_line, field_at, model_at, nearest
from spreadwright.tackle.toml_lines import DEEPEST, find_lines, line_of
from spreadwright.tackle.weight import TrollingWeight


@pytest.mark.parametrize(
    ("word", "known", "expected"),
    [
        ("mark", ["marks", "name"], "marks"),
        ("turn-radius", ["turn_radius", "turns"], "turn_radius"),
        ("Turn Radius", ["turn_radius", "turns"], "turn_radius"),
        ("9/0", ["8/0 stainless", "9/0 stainless"], "9/0 stainless"),
        ("zzz", ["marks", "name"], None),
        ("", ["marks"], None),
        ("mark", [], None),
    ],
)
def test_the_nearest_word(word: str, known: list[str], expected: str | None) -> None:
    assert nearest(word, known) == expected


def test_models_and_fields_are_found_by_path() -> None:
    assert model_at(("shelf", "weights", 3)) is TrollingWeight
    assert model_at(("shelf", "wieghts")) is None
    field = field_at(("shelf", "weights", 3, "mass"))
    assert field is not None
    assert example_line("mass", field) == 'mass = "32 oz"'
    marks = field_at(("outfits", 0, "marks", 2))
    assert marks is not None
    assert example_line("marks", marks) == 'marks = ["100 ft", "200 ft"]'


def test_places_count_from_one_and_quote_odd_keys() -> None:
    assert place_of(("outfits", 1, "marks", 2)) == "outfits[2].marks[3]"
    assert place_of(()) == "the file"
    assert place_of(("a\nb",)) == "'a\\nb'"
    assert len(place_of(("k" * 10_000,))) < 80


TEXT = """\
# a remark with [[outfits]] in it
title = "x"

[[outfits]]
name = "a"
[outfits.line]
length = "1 ft"
reel.holds = "2 ft"
  [[ outfits ]]
  name = "b"
  [ outfits . "line" ]
  length = '''
  strength = "no key"'''
  marks = [
    "1 ft",
  ]
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 2),
        (("outfits", 0), 4),
        (("outfits", 0, "line", "length"), 7),
        (("outfits", 0, "line", "reel", "holds"), 8),
        (("outfits", 1), 9),
        (("outfits", 1, "name"), 10),
        (("outfits", 1, "line"), 11),
        (("outfits", 1, "line", "marks", 0), 14),
        (("outfits", 1, "colour"), 9),
        (("pattern", "speed"), None),
    ],
)
def test_lines_of_headers_and_keys(path: tuple[str | int, ...], line: int | None) -> None:
    assert line_of(find_lines(TEXT), path) == line


def test_a_name_of_thousands_of_parts_is_not_followed_down() -> None:
    assert max(len(path) for path in find_lines("[" + ".".join("a" * 20_000) + "]")) == DEEPEST
