"""The terminal report: every rod, pair and number of the plan is in it, it fits the width, the answer comes first."""

import io
import math
import re
from itertools import pairwise, takewhile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console
from tests.sheets.example_plan import example_plan
from tests.sheets.plans import plans

from spreadwright.plan.value import Estimate, Plan, RodPlan, StrikePlan, Swing
from spreadwright.quantity import System
from spreadwright.sheets.terminal import report, show_report

# Exact by definition: international foot and pound, standard gravity (NIST SP 811, appendix B).
UNITS = {
    "us": {"length": 0.3048, "force": 0.45359237 * 9.80665},
    "metric": {"length": 1.0, "force": 9.80665},
}  # fmt: skip
HEADS = [
    "THE ANSWER IN SHORT", "SET OUT FROM", "HOW DEEP", "WHAT THE RODS FEEL", "HOW NEAR", "THE WEAKEST LINK", "TO BUY",
    "WHY THIS SPREAD", "CAUTIONS", "WHAT IS IN DOUBT",
]  # fmt: skip
SYSTEMS: list[System] = ["us", "metric"]


def part(text: str, head: str) -> str:
    """What stands under one head, up to the next."""
    after = text[text.index(f"\n{head}") + 1 :].partition("\n")[2]
    ends = [after.index(f"\n{other}") for other in HEADS if f"\n{other}" in after]
    return after[: min(ends)] if ends else after


def row(text: str, start: str) -> str:
    return next(line for line in text.splitlines() if line.startswith(start))


def agree(text: str, values: list[float]) -> None:
    """The numbers of a text are these values, each to the last digit that is shown."""
    shown = re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?", text)
    assert len(shown) == len(values), f"{text!r} against {values}"
    for number, value in zip(shown, values, strict=True):
        last = 10.0 ** -len(number.partition(".")[2])
        assert abs(float(number) - value) <= 0.5000001 * last, f"{number} in {text!r} is not {value}"


def of_estimate(value: Estimate, unit: float) -> list[float]:
    below, above = value.usual - value.low, value.high - value.usual
    if min(below, above) < 0.75 * max(below, above):  # "6.0 ft (3.7 to 6.5)"
        return [value.usual / unit, value.low / unit, value.high / unit]
    return [value.usual / unit, max(below, above) / unit]


def of_swing(value: Swing, unit: float) -> list[float]:
    return [value.least / unit, value.greatest / unit, max(value.least - value.low, value.high - value.greatest) / unit]


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("width", [80, 120])
class TestNumbers:
    plan = example_plan()

    def wrapped(self, width: int, system: System, head: str, rod: RodPlan) -> str:
        """A rod's row with the lines that its cells go on in, cell after cell."""
        lines = part(report(self.plan, width=width, system=system), head).splitlines()
        at = next(i for i, line in enumerate(lines) if line.startswith(rod.rod))
        rows = [lines[at], *takewhile(lambda line: line.startswith(" ") and line.strip(), lines[at + 1 :])]
        cells = [re.split(r" {2,}", each.strip()) for each in rows]
        starts = [match.end() for match in re.finditer(r"\S(?: ?\S)*", rows[0])]  # columns end where their cells do
        columns = [""] * len(starts)
        for line, found in zip(rows, cells, strict=True):
            ends = [match.end() for match in re.finditer(r"\S(?: ?\S)*", line)]
            for said, end in zip(found, ends, strict=True):
                columns[min(range(len(starts)), key=[abs(start - end) for start in starts].__getitem__)] += f" {said}"
        return " ".join(columns).removeprefix(f" {rod.rod}")

    def numbers(self, width: int, system: System, head: str, rod: RodPlan) -> str:
        text = part(report(self.plan, width=width, system=system), head)
        return row(text, rod.rod).removeprefix(rod.rod)

    def test_depths(self, width, system):
        unit = UNITS[system]["length"]
        for rod in self.plan.rods:
            agree(
                self.wrapped(width, system, "HOW DEEP", rod),
                [
                    *of_estimate(rod.weight_depth, unit),
                    *of_swing(rod.weight_depth_swing, unit),
                    *of_estimate(rod.lure_depth, unit),
                    *of_swing(rod.lure_depth_swing, unit),
                ],
            )

    def test_pull_angle_and_speed(self, width, system):
        unit, knot, degree = UNITS[system], 1852.0 / 3600.0, math.pi / 180.0
        for rod in self.plan.rods:
            expected = [
                *of_estimate(rod.pull, unit["force"]),
                *of_swing(rod.pull_swing, unit["force"]),
                *of_estimate(rod.angle, degree),
                *of_swing(rod.lure_speed_swing, knot),
            ]
            shown = self.numbers(width, system, "WHAT THE RODS FEEL", rod)
            if width == 120:
                expected += [rod.in_air / unit["length"], rod.astern / unit["length"]]
            agree(shown, expected)

    def test_pairs(self, width, system):
        unit = UNITS[system]["length"]
        text = part(report(self.plan, width=width, system=system), "HOW NEAR")
        for pair in self.plan.pairs:
            found = row(text, f"{pair.first} and {pair.second}").removeprefix(f"{pair.first} and {pair.second}")
            agree(
                found.removesuffix("worst"),
                [
                    *of_estimate(pair.gear_gap, unit), pair.gear_time, pair.line_gap / unit, pair.line_time,
                    abs(pair.winding),
                ],
            )  # fmt: skip
            assert found.endswith("worst") == ({pair.first, pair.second} == set(self.plan.worst_pair or ()))

    def test_marks(self, width, system):
        unit = UNITS[system]["length"]
        text = part(report(self.plan, width=width, system=system), "SET OUT FROM").split("\n\n")
        for rod in self.plan.rods:
            block = next(block for block in text if rod.rod in block)
            start = re.search(rf"^ +{rod.set_out} +{rod.clear} +{rod.rod} +(\S+) ", block, re.MULTILINE)
            assert start is not None
            agree(start[1], [rod.mark / unit])
            runs, measure = re.search(r"runs ([\d.]+ ± [\d.]+)", block), re.search(r"measure ([\d.]+ ± [\d.]+)", block)
            assert runs is not None
            assert measure is not None
            agree(runs[1], of_estimate(rod.runs_at, unit))
            agree(measure[1], of_estimate(rod.slack_to_measure, unit))
            joined = re.sub(r"[^\w/]", "", block)
            for piece in (rod.station, rod.weight, rod.shock_leader, rod.lure, rod.swivel):
                assert re.sub(r"[^\w/]", "", piece) in joined or all(word in block for word in piece.split())

    def test_weakest_links(self, width, system):
        unit = UNITS[system]["force"]
        text = part(report(self.plan, width=width, system=system), "THE WEAKEST LINK")
        lines = text.splitlines()
        for rod in self.plan.rods:
            at = next(i for i, line in enumerate(lines) if line.startswith(rod.rod))
            told = " ".join(" ".join(lines[at : at + 4]).split())
            load = rod.weakest
            assert load.share is not None
            assert load.strength is not None
            share = re.search(r"(\d+) % \((\d+) to (\d+)\)", told)
            assert share is not None
            agree(share[0], [100 * load.share.usual, 100 * load.share.low, 100 * load.share.high])
            doubt = r"[\d.]+ (?:lb|kg) (?:± [\d.]+|\([\d.]+ to [\d.]+\))"
            against = re.search(rf"{doubt} on {doubt}", told)
            assert against is not None
            agree(against[0], [*of_estimate(load.load, unit), *of_estimate(load.strength, unit)])
            assert load.verdict in told
            assert load.weak_spot.split()[0] in told


def test_the_answer_comes_first_and_names_pair_gap_purchases_and_weakest():
    plan = example_plan()
    text = report(plan, width=120)
    assert [text.index(f"\n{head}") for head in HEADS] == sorted(text.index(f"\n{head}") for head in HEADS)
    answer = " ".join(part(text, HEADS[0]).split())
    assert "green 80 and yellow 80 come closest: 3.4 ft ± 1.4 from gear to line, 66 s into the run" in answer
    assert "3 × shock leader 30 ft of 300 lb" in answer
    assert "long braid: main line at its bimini twist" in answer
    assert "3 cautions" in answer


def test_grave_cautions_come_first_and_none_is_missing():
    plan = example_plan()
    text = part(report(plan, width=200), "CAUTIONS")
    places = [text.index(caution.text) for caution in plan.cautions]
    grave = [place for place, caution in zip(places, plan.cautions, strict=True) if caution.grave]
    assert max(grave) < min(place for place in places if place not in grave)
    assert all(f"{caution.work.capitalize()}: {caution.text}" in text for caution in plan.cautions)


def test_everything_to_buy_has_its_reason():
    plan = example_plan()
    text = part(report(plan, width=160), "TO BUY")
    for item in plan.shopping:
        line = next(line for line in text.splitlines() if item.name in line)
        assert line.split()[0] == str(item.quantity)
        assert item.kind in line
        assert item.reason in line
    nothing = part(report(plan.model_copy(update={"shopping": ()})), "TO BUY")
    assert "Nothing" in nothing


def test_reasons_doubts_and_notice_are_told():
    plan = example_plan()
    text = report(plan, width=400)
    for said in (*plan.why.sentences, plan.why.limited_by, *plan.doubts, plan.notice, plan.why.skipped[0].reason):
        assert said[1:] in text  # its first letter may have become a capital
    for rod in plan.rods:
        assert f"First to part: {rod.parts_first}" in text
        assert all(finding[1:] in text for finding in rod.findings)


def test_what_is_said_twice_in_the_plan_is_said_once():
    plan = example_plan()
    why = plan.why.model_copy(update={"sentences": (*plan.why.sentences, f"{plan.why.limited_by}.", plan.why.proof)})
    text = report(plan.model_copy(update={"why": why}), width=200)
    assert text.count(plan.why.limited_by[1:]) == 1
    assert text.count(plan.why.proof[1:]) == 1


def test_a_rig_that_the_captain_wants_anyway_is_told_with_its_strike():
    plan = example_plan()
    strike = StrikePlan(
        links=(), paid_out=Estimate(usual=3.0, low=2.0, high=4.0), seconds=2.0, sentence="The worst link sees half."
    )
    rods = (plan.rods[0].model_copy(update={"override": "it parts in the strike", "strike": strike}), *plan.rods[1:])
    text = part(report(plan.model_copy(update={"rods": rods}), width=200), "THE WEAKEST LINK")
    assert "red 130: Fished because you want it: It parts in the strike." in text
    assert "red 130: The worst link sees half." in text


@settings(max_examples=25, deadline=None)
@given(plans(), st.integers(60, 140), st.sampled_from([None, *SYSTEMS]))
def test_no_line_is_longer_than_the_width(plan, width, system):
    text = report(plan, width=width, system=system)
    assert max(cell_len(line) for line in text.splitlines()) <= width


@settings(max_examples=15, deadline=None)
@given(plans(names=st.text("abcdefgh123", min_size=1, max_size=6)), st.integers(80, 140))
def test_every_rod_and_every_pair_is_named(plan, width):
    text = report(plan, width=width)
    for head in ("SET OUT FROM", "HOW DEEP", "WHAT THE RODS FEEL", "THE WEAKEST LINK"):
        assert all(re.search(rf"(^|\s){rod.rod}\s", part(text, head)) for rod in plan.rods)
    near = part(text, "HOW NEAR")
    assert all(f"{pair.first} and {pair.second} " in near for pair in plan.pairs)


def test_numbers_and_units_are_not_torn_apart():
    plan = example_plan()
    for width in range(60, 130, 3):
        lines = report(plan, width=width).splitlines()
        for above, below in pairwise(lines):
            if above.endswith(tuple("0123456789±×≈")):
                assert not re.match(r" *(ft|lb|s|kn|±|%)\b", below), f"{above!r} / {below!r}"


def printed(plan: Plan, **options: object) -> str:
    stream = io.StringIO()
    show_report(plan, Console(file=stream, width=80, **options))  # type: ignore[arg-type]
    return stream.getvalue()


def test_a_pipe_gets_plain_text_a_terminal_gets_bold_and_no_color_is_respected(monkeypatch):
    plan = example_plan()
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert "\x1b" not in printed(plan)
    coloured = printed(plan, force_terminal=True, color_system="standard")
    assert re.search(r"\x1b\[[\d;]*3[0-7]m", coloured)
    monkeypatch.setenv("NO_COLOR", "1")
    bare = printed(plan, force_terminal=True, color_system="standard")
    assert not re.search(r"\x1b\[[\d;]*(3|4|9)[0-7]m", bare)
    assert re.sub(r"\x1b\[[\d;]*m", "", coloured).split() == report(plan, width=80).split()


def test_names_are_shown_as_written_and_cannot_steer_the_terminal():
    plan = example_plan()
    odd = plan.model_copy(update={"title": "[red]Two[/red] \x1b[2Jdays :fish:", "boat": "a\x07b"})
    text = report(odd)
    assert "[red]Two[/red] [2Jdays :fish:" in text
    assert "\x1b" not in text
    assert "\x07" not in text


def test_a_stream_that_only_takes_ascii_gets_ascii():
    class Old(io.StringIO):
        encoding = "ascii"

    stream = Old()
    show_report(example_plan(), Console(file=stream, width=80))
    text = stream.getvalue()
    assert text.isascii()
    assert "3.4 ft +- 1.4" in text
    assert max(map(len, text.splitlines())) <= 90  # signs that become two letters may make a line longer


def test_a_pair_that_can_tangle_says_so_in_the_table():
    plan = example_plan()
    pairs = tuple(pair.model_copy(update={"tangle": {pair.first, pair.second} == set(plan.worst_pair or ())})
                  for pair in plan.pairs)  # fmt: skip
    near = part(report(plan.model_copy(update={"pairs": pairs})), "HOW NEAR").splitlines()
    at = next(i for i, line in enumerate(near) if line.endswith(" worst"))
    assert near[at + 1].strip() == "- can tangle"
    assert sum("can tangle" in line for line in near) == 1


def test_one_line_alone_has_nothing_to_come_near():
    plan = example_plan()
    alone = plan.model_copy(
        update={"rods": plan.rods[:1], "pairs": (), "worst_pair": None, "drawing": plan.drawing[:1]}
    )
    assert "One line only" in report(alone)


def test_unknown_strength_is_said_and_not_guessed():
    plan = example_plan()
    hooks = plan.rods[0].links[-1]
    rods = tuple(rod.model_copy(update={"weakest": hooks, "links": (hooks,)}) for rod in plan.rods)
    text = " ".join(report(plan.model_copy(update={"rods": rods})).split())
    assert "No link's strength is known" in text
    assert "on a strength not known" in text


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"tangle": True}, "They can tangle"),
        ({"gear_gap": Estimate(usual=1.0, low=0.2, high=2.0)}, "near enough to tangle"),
        ({"gear_gap": Estimate(usual=1.0, low=0.9, high=2.0)}, "but 6 ft is asked for"),
        ({"gear_gap": Estimate(usual=2.5, low=2.0, high=3.0)}, "That is the 6 ft asked for, or more; low end 6.6 ft"),
        (
            {"gear_gap": Estimate(usual=1.815, low=1.5, high=3.0)},
            "That is as good as the 6 ft asked for; low end 4.9 ft",
        ),
        ({"gear_gap": Estimate(usual=1.80, low=1.5, high=3.0)}, "That clears a tangle, but 6 ft is asked for"),
    ],
)
def test_the_gap_is_judged_against_reach_and_wish(change, said):
    plan = example_plan()
    pairs = tuple(
        pair.model_copy(update=change) if {pair.first, pair.second} == set(plan.worst_pair or ()) else pair
        for pair in plan.pairs
    )
    assert said in " ".join(report(plan.model_copy(update={"pairs": pairs})).split())
