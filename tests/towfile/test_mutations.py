"""Whatever is done to a tow file, reading it gives a tow file or faults in plain words: never a traceback."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.towfile.texts import EXAMPLES

from spreadwright.faults import Faults
from spreadwright.towfile import TowFile, tow_file_from_text

TEXTS = [path.read_text(encoding="utf-8").splitlines() for path in sorted(EXAMPLES.glob("*.toml"))]
POINTS = """
[motion]
kind = "track"
columns = ["t (s)", "x (m)", "y (m)"]
points = [[0, 0, 0], [1, 7, 0], [2, 14, 0.5]]
"""
TEXTS.append(
    [line for line in TEXTS[-1] if "[motion]" not in line and "kind =" not in line and "file =" not in line]
    + POINTS.splitlines()
)
VALUES = st.sampled_from(
    ["nan", "-inf", "0", "-1", "1e400", "true", "''", "'-5 ft'", "'5 ft'", "'5 kn'", "'5 s'", "'nan ft'", "'9/0'", "[]",
     "[[]]", "{}", "{name = 1}", "2031-02-03", "07:30:00", "1979-05-27T07:32:00Z", "'\\u0000'", "'é'", '"\\u2028"',
     "[nan, {}]", "99999999999999999999", "['100 ft', '100 ft']", "'1e308 nmi'", "'1/0 ft'", "'{given}'", "15 kn",
     "'inextensible'", "'slender'", "'circle'", "'s-turn'", "'track'", "'port corner'", "'../x.csv'", "'5 deg to port'",
     "[[0, 0, 0], [0, 1, 1], [nan, 2, 2]]", "[['a', {}, []]]", "[[1], 2, [3, 4, 5, 6]]", "'1e-30 N'", "'1e9 N'"],
)  # fmt: skip
HEADERS = st.sampled_from(
    ["[water]", "[[water]]", "[motion]", "[[motion]]", "[lines]", "[[lines]]", "[lines.sections]", "[[lines.sections]]",
     "[lines.sections.body]", "[[lines.sections.body]]", "[water.current]", "[[water.waves]]", "[water.wash]",
     "[numerics]", "[[numerics]]", "[a.b.c]", "['']", "[units]", "[[title]]"],
)  # fmt: skip


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """An example's text with one to six lines changed, lost, doubled, moved, or filled with nonsense."""
    lines = list(draw(st.sampled_from(TEXTS)))
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(lines) - 1))
        match draw(st.sampled_from(["value", "value", "key", "drop", "double", "header", "swap", "text", "cut"])):
            case "value":
                filled = [number for number, line in enumerate(lines) if "=" in line] or [at]
                at = draw(st.sampled_from(filled))
                lines[at] = lines[at].split("=")[0] + "= " + draw(VALUES)
            case "key":
                lines[at] = draw(st.sampled_from("xyz_")) + lines[at]
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
    try:
        read = tow_file_from_text(text, folder=EXAMPLES)
    except Faults as faults:
        for fault in faults:
            for words in (fault.place, fault.given, fault.rule, fault.next_step):
                assert words
                assert "\n" not in words
            assert fault.line is None or 1 <= fault.line <= text.count("\n") + 1
        return
    assert isinstance(read, TowFile)
    assert read.lines
    for each in read.lines:
        assert len(each.line.sections) == len(each.line.bodies) == len(each.sections) == len(each.bodies) > 0


def test_the_examples_themselves_are_sound() -> None:
    for lines in TEXTS:
        assert tow_file_from_text("\n".join(lines), folder=EXAMPLES).lines


@settings(max_examples=300, deadline=None)
@given(mutated())
def test_a_mutated_example_gives_a_tow_file_or_faults(text: str) -> None:
    check(text)


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=300))
def test_any_text_gives_a_tow_file_or_faults(text: str) -> None:
    check(text)
