"""Whatever is done to a trip file, reading it gives a trip or faults in plain words: never a traceback."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.tackle.trips import DEMO

from spreadwright.faults import Faults
from spreadwright.tackle import Trip, trip_from_text

LINES = (DEMO / "trip.toml").read_text(encoding="utf-8").splitlines()
# Mostly steps that leave the file readable as TOML, so that the models are reached.
STEPS = ["value"] * 8 + ["key"] * 3 + ["drop one"] * 3 + ["drop", "double", "header", "swap", "text", "cut"]
VALUES = st.sampled_from(
    ["nan", "-inf", "0", "-1", "1e400", "true", "''", "'-5 ft'", "'5 ft'", "'5 kn'", "'nan ft'", "'9/0'", "[]", "[[]]",
     "{}", "{name = 1}", "2031-02-03", "07:30:00", "1979-05-27T07:32:00Z", "'\\u0000'", "'é' ", '"\\u2028"',
     "[nan, {}]", "99999999999999999999", "['100 ft', '100 ft']", "'1e308 nmi'", "'1/0 ft'", "'{given}'", "'red 130'",
     "15 kn"],
)  # fmt: skip
HEADERS = st.sampled_from(
    ["[boat]", "[[boat]]", "[boat.stations]", "[[boat.stations]]", "[outfits]", "[[outfits]]", "[outfits.line]",
     "[shelf]", "[[shelf.lures]]", "[a.b.c]", "[[fixed]]", "[[banned]]", "[wishes]", "[spares]", "['']"],
)  # fmt: skip


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """The demo's text with one to six lines changed, lost, doubled, moved, or filled with nonsense."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(lines) - 1))
        filled = [number for number, line in enumerate(lines) if "=" in line] or [at]
        match draw(st.sampled_from(STEPS)):
            case "value":
                at = draw(st.sampled_from(filled))
                lines[at] = lines[at].split("=")[0] + "= " + draw(VALUES)
            case "key":
                at = draw(st.sampled_from(filled))
                lines[at] = draw(st.sampled_from("xyz_")) + lines[at]
            case "drop one":
                del lines[draw(st.sampled_from(filled))]
                lines = lines or [""]
            case "drop":
                del lines[at : at + draw(st.integers(1, 12))]
                lines = lines or [""]
            case "double":
                lines.insert(at, lines[at])
            case "header":
                lines[at] = draw(HEADERS)
            case "swap":
                other = draw(st.integers(0, len(lines) - 1))
                lines[at], lines[other] = lines[other], lines[at]
            case "text":
                lines[at] = draw(st.text(max_size=40))
            case "cut":
                lines[at] = lines[at][: draw(st.integers(0, len(lines[at])))]
    return "\n".join(lines)


def check(text: str) -> None:
    """Read it; whatever is wrong must be said in full."""
    result = read(text)
    if isinstance(result, Trip):
        assert Trip.model_validate_json(result.model_dump_json()) == result
        return
    assert result.faults
    for fault in result:
        for words in (fault.place, fault.given, fault.rule, fault.next_step):
            assert words
            assert "\n" not in words
        assert fault.line is None or 1 <= fault.line <= text.count("\n") + 1


def read(text: str) -> Trip | Faults:
    """What comes of a text: a trip, or its faults. Anything else that is raised fails the test."""
    try:
        return trip_from_text(text)
    except Faults as faults:
        return faults


@settings(max_examples=300, deadline=None)
@given(mutated())
def test_a_mutated_demo_gives_a_trip_or_faults(text: str) -> None:
    check(text)


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=300))
def test_any_text_gives_a_trip_or_faults(text: str) -> None:
    check(text)
