"""SVG text: what is escaped, how short numbers are, and that texts never need more room than is kept for them."""

import unicodedata
from pathlib import Path
from xml.etree import ElementTree

import matplotlib as mpl
import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.sheets.svg import element, number, path, safe, shortened, text_width, wrapped


@given(st.text())
def test_any_text_comes_through_xml_without_its_control_characters(said):
    read = ElementTree.fromstring(element("text", safe(said), note="a & b")).text or ""
    assert read == "".join(sign for sign in said if unicodedata.category(sign)[0] != "C")


def test_attributes_are_escaped():
    assert ElementTree.fromstring(element("text", x_=1.0, data_name='<"&')).attrib == {"x": "1", "data-name": '<"&'}


@given(st.floats(-1e6, 1e6))
def test_numbers_are_plain_and_close(value):
    text = number(value)
    assert "e" not in text
    assert text != "-0"
    assert abs(float(text) - value) <= 0.005 + 1e-9


def test_a_path_reads_as_written():
    assert path([(0, 0), (1.5, -2)]) == "M0,0 1.5,-2"
    assert path([(0, 0), (1, 0), (1, 1)], closed=True).endswith("Z")


# Advance widths as published in the font's own tables: DejaVu Sans, one of the widest faces a page falls back to.
SAYINGS = [
    "green 80, 300 ft",
    "weight 10.7 ft ± 2.4",
    "From above, straight on at 15 kn",
    "Drawn to scale, but against the distance astern width is stretched 8 times",
    "400 ft",
    "starboard gunwale",
    "WWW mmm iii",
    "range in the turns",
]


@pytest.mark.parametrize(("face", "bold"), [("DejaVuSans.ttf", False), ("DejaVuSans-Bold.ttf", True)])
@pytest.mark.parametrize("said", SAYINGS)
def test_kept_room_is_enough_in_a_wide_face(said, face, bold):
    font = TTFont(Path(mpl.get_data_path()) / "fonts" / "ttf" / face)
    names, advances = font.getBestCmap(), font["hmtx"]
    real = sum(advances[names[ord(sign)]][0] for sign in said) / font["head"].unitsPerEm * 11.0
    assert real <= text_width(said, 11.0, bold=bold) <= 1.35 * real


def test_a_text_too_long_is_cut_and_says_so():
    assert shortened("port", 11.0, 100.0) == "port"
    cut = shortened("a very long name of a rod", 11.0, 60.0)
    assert cut.endswith("…")
    assert text_width(cut, 11.0) <= 60.0


@given(st.text("ab c", min_size=1, max_size=80))
def test_wrapped_lines_fit_and_lose_no_word(said):
    lines = wrapped(said, 11.0, 90.0)
    assert all(text_width(line, 11.0) <= 90.0 for line in lines)
    if all(text_width(word, 11.0) <= 90.0 for word in said.split()):
        assert " ".join(lines).split() == said.split()


def test_a_number_and_its_unit_stay_on_one_line():
    assert all(not line.endswith("66") for room in range(60, 200) for line in wrapped("come 66 s into it", 11.0, room))


def test_no_last_word_stands_alone_where_the_lines_before_can_spare_some():
    said = "white 80 and long braid come closest, 70 s into the run, as near as was asked for, or more"
    for room in range(200, 400, 7):
        lines = wrapped(said, 11.0, float(room))
        assert all(text_width(line, 11.0) <= room for line in lines)
        assert " ".join(lines).replace("\N{NO-BREAK SPACE}", " ") == said
        assert len(lines) == 1 or text_width(lines[-1], 11.0) > room / 4
