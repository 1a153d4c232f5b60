"""`spreadwright rig` end to end on a small trip: one rod and all, JSON, picture, a plan's rigs, and what is refused."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from tests.tackle.trips import small
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.plan.rig_answer import RigAnswers
from spreadwright.plan.rig_make import rig_answers
from spreadwright.sheets.rig_picture import strike_picture
from spreadwright.sheets.rig_report import rig_report
from spreadwright.tackle import trip_from_text


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, ["rig", *map(str, arguments)])


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    path = tmp_path / "trip.toml"
    path.write_text(small(), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def answers() -> RigAnswers:
    return rig_answers(trip_from_text(small()))


def test_one_rod_with_its_picture(trip, tmp_path):
    picture = tmp_path / "strike.svg"
    told = run(trip, "--rod", "red", "--picture", picture)
    assert told.exit_code == 0, told.output
    assert "RED" in told.output
    assert "BLUE" not in told.output
    for said in ("In the strike the worst link", "On braid of the same strength", "stays in the fish", "Record rules",
                 "Never wrap leader", "not a guarantee", "Floss marks", "as it is"):  # fmt: skip
        assert said in re.sub(r"\s+", " ", told.output)
    assert ET.fromstring(picture.read_text(encoding="utf-8")).tag.endswith("svg")


def test_all_rods_as_json(trip):
    told = run(trip, "--json")
    assert told.exit_code == 0, told.output
    found = json.loads(told.stdout)
    assert found["format"] == "spreadwright rigs"
    assert [rig["rod"] for rig in found["rigs"]] == ["red", "blue"]
    assert RigAnswers.model_validate(found).model_dump(mode="json") == found


def test_every_case_is_there_for_every_link(answers):
    for rig in answers.rigs:
        cases = {re.sub(r" \(\d+ ft\)$", "", load.case) for load in rig.loads}
        assert cases == {
            "steady tow", "peak in the turns", "drag at strike", "the strike", "drag with half the line out",
        }  # fmt: skip
        links = {load.link for load in rig.loads}
        assert len(rig.loads) == len(cases) * len(links)
        assert rig.weakest is not None
        assert rig.weakest.share is not None
        assert rig.weakest.share.usual == max(load.share.usual for load in rig.loads if load.share)


GUARD = 'bite_guard = {material = "cable", strength = "480 lb", length = "1 ft"}\n'
JOINTS = 'double_line = "12 ft"\njoints = {double_line = "plait keeps 91 %"}\n'
STATED = small(
    ('strike_drag = "22 lb"\n', JOINTS + GUARD + 'strike_drag = "22 lb"\n'),
    ("hooks = 2\n", 'hooks = 2\nhooks_apart = "5 in"\nhook_length = "4 in"\nhook_past_skirt = "0 in"\n'),
    more='[wishes]\nrig_length = "30 ft"\n',
)


def test_joints_guard_hooks_and_length_of_the_captain_are_in_the_answer():
    (red,) = rig_answers(trip_from_text(STATED), "red").rigs
    (bare,) = rig_answers(trip_from_text(small()), "red").rigs
    joined = {each.place: each for each in red.joints}
    assert joined["main line's lower end"].connection == "plait"
    keeps = joined["main line's lower end"].keeps
    assert keeps is not None
    assert keeps.low == pytest.approx(0.86)
    assert "pull test" in joined["main line's lower end"].source
    assert "assumed, not stated" in joined["bite leader's upper end"].source
    assert {"bite guard", "bite guard's upper crimp"} <= {load.link for load in red.loads}
    assert red.length == pytest.approx(bare.length + 13 * 0.3048)
    said = {each.given: each.rule for each in red.findings}
    assert any("30 ft" in rule for rule in said.values())
    assert not any("in front of the weight" in given for given in said)
    assert any("in front of the weight" in each.given for each in bare.findings)
    rules = {rule.rule: rule.inside for rule in red.rules}
    assert rules["hook spacing"] is True
    assert rules["trailing hook"] is True
    assert {rule.rule: rule.inside for rule in bare.rules}["hook spacing"] is None


MEASURES = 'max_drag = "45 lb", spool_width = "88 mm", spool_full_diameter = "100 mm", spool_core_diameter = "44 mm"}'


def test_the_report_says_what_a_measured_spool_takes(answers):
    assert "By its measures the spool takes" not in rig_report(answers)
    measured = rig_answers(trip_from_text(small(('max_drag = "45 lb"}', MEASURES))), "red")
    report = re.sub(r"\s+", " ", rig_report(measured, system="metric", width=140))
    assert re.search(r"the spool takes \d+ m of this line \(\d+ m loosely wound, \d+ m at most\)", report)


def test_the_report_lists_how_each_end_is_joined(answers):
    report = re.sub(r"\s+", " ", rig_report(answers, width=140))
    assert "How each end is joined" in report
    assert "haywire twist" in report
    assert "92 % to 100 %" in report
    assert "assumed, not stated" in report


def test_a_plan_holds_a_rig_to_the_captain_s_own_hand_hold(tmp_path):
    path = tmp_path / "trip.toml"
    path.write_text(small(more='[wishes]\nhand_hold_diameter = "4 mm"\n'), encoding="utf-8")
    refused = CliRunner().invoke(app, ["plan", str(path)])
    assert refused.exit_code == 2
    assert "a hand takes only monofilament" in re.sub(r"\s+", " ", refused.output)


def test_an_unknown_connection_stops_the_command_with_the_nearest_name(trip):
    trip.write_text(small(('length = "3 ft"\n', 'length = "3 ft"\njoint = "haywyre twist"\n')), encoding="utf-8")
    told = run(trip)
    assert told.exit_code == 2
    assert "did you mean 'haywire twist'" in re.sub(r"\s+", " ", told.output)


def test_as_it_is_is_marked_once_a_kind(answers):
    for rig in answers.rigs:
        marked = [each.kind for each in rig.swept if each.as_is]
        assert sorted(marked) == ["drag", "mark, nylon", "shock leader", "weight"]
        as_is = [each.share for each in rig.swept if each.as_is]
        assert as_is == pytest.approx([as_is[0]] * 4, rel=0.01)  # a mesh is shared by eight lines
        assert rig.strike is not None
        worst = max(link.share.usual for link in rig.strike.links if link.share)
        assert as_is[0] == pytest.approx(worst, rel=0.01)


def test_the_report_at_any_width(answers):
    for width in (60, 80, 120):
        report = rig_report(answers, width=width)
        assert max(map(len, report.splitlines())) <= width


def test_units_of_the_report(answers):
    metric, us = (
        rig_report(answers, system=system).split("The strike\n")[1].split("What else")[0] for system in ("metric", "us")
    )
    assert " kg" in metric
    assert " lb" not in metric
    assert " lb" in us


def test_the_picture_holds_a_curve_a_link(answers):
    drawn = ET.fromstring(strike_picture(answers))
    words = [text.text for text in drawn.iter("{http://www.w3.org/2000/svg}text")]
    for rig in answers.rigs:
        for trace in rig.traces:
            assert any(said and said.startswith(trace.link) for said in words)
    assert words.count("braid, reel stuck") == len(answers.rigs)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [(("--rod", "green"), "rods are red, blue"), (("--plan", "nothing.json"), "could not be read")],
)
def test_what_is_not_there_is_told(trip, arguments, said):
    told = run(trip, *arguments)
    assert told.exit_code == 2
    assert said in told.output


def test_a_file_that_is_no_plan_is_told(trip, tmp_path):
    other = tmp_path / "other.json"
    other.write_text('{"format": "something else"}', encoding="utf-8")
    told = run(trip, "--plan", other)
    assert told.exit_code == 2
    assert "--write PLAN.json" in told.output


def test_a_picture_that_cannot_be_written_is_told(trip, tmp_path):
    told = run(trip, "--rod", "red", "--picture", tmp_path / "no" / "folder.svg")
    assert told.exit_code == 2
    assert "a folder that is there" in told.stderr


def test_a_plan_s_rig_is_the_one_looked_at(tmp_path):
    text = small(('strike_drag = "22 lb"', 'strike_drag = "30 lb"'), more='[[fixed]]\nrod = "red"\nmark = "200 ft"\n')
    path, stored = tmp_path / "trip.toml", tmp_path / "plan.json"
    path.write_text(text, encoding="utf-8")
    planned = CliRunner().invoke(app, ["plan", str(path), "--json", "--write", str(stored)])
    assert planned.exit_code == 0, planned.output
    plan = json.loads(stored.read_text(encoding="utf-8"))
    told = run(path, "--rod", "red", "--plan", stored, "--json")
    assert told.exit_code == 0, told.output
    (rig,) = json.loads(told.stdout)["rigs"]
    assert rig["chosen_by"] == "as the plan chose it"
    assert rig["mark"] == pytest.approx(60.96)
    (red,) = [rod for rod in plan["rods"] if rod["rod"] == "red"]
    assert red["strike"] == rig["strike"]
    assert red["override"] == ""


ANYWAY = '[[fixed]]\nrod = "{}"\nweight = "32 oz"\nleader = "30 ft"\nbite_leader = "wire"\nlure = "jet"\nanyway = {}\n'
NARROW = '[[shelf.crimps]]\nname = "tiny"\nbore = "0.5 mm"\ncount = 9\n'


def test_a_failing_rig_is_fished_on_the_captain_s_word_only(tmp_path):
    path = tmp_path / "trip.toml"
    path.write_text(small(more=NARROW), encoding="utf-8")
    refused = CliRunner().invoke(app, ["plan", str(path)])
    assert refused.exit_code == 2
    assert "bore" in refused.output
    both = [NARROW + ANYWAY.format("red", "true") + ANYWAY.format("blue", blue) for blue in ("false", "true")]
    path.write_text(small(more=both[0]), encoding="utf-8")
    half = CliRunner().invoke(app, ["plan", str(path)])
    assert half.exit_code == 2
    path.write_text(small(more=both[1]), encoding="utf-8")
    fished = CliRunner().invoke(app, ["plan", str(path), "--json"])
    assert fished.exit_code == 0, fished.output
    for rod in json.loads(fished.stdout)["rods"]:
        assert "bore" in rod["override"]
        assert rod["findings"][0].startswith("fished on the captain's word")
    told = run(path, "--rod", "red")
    assert "FISHED ON THE CAPTAIN'S WORD" in told.output


def test_anyway_wants_the_whole_rig_named(trip):
    trip.write_text(small(more='[[fixed]]\nrod = "red"\nlure = "jet"\nanyway = true\n'), encoding="utf-8")
    told = run(trip)
    assert told.exit_code == 2
    assert "anyway = true without weight, leader, bite_leader" in told.output


def test_a_leader_that_parts_in_the_strike_is_left_out(tmp_path):
    """A thin leader behind a heavy weight: the strike's jerk parts it, the drag alone does not."""
    heavy = ('mass = "32 oz"', 'mass = "96 oz"')
    weak = ('strength = "270 lb"', 'strength = "60 lb"')
    path = tmp_path / "trip.toml"
    path.write_text(small(heavy, weak), encoding="utf-8")
    refused = CliRunner().invoke(app, ["plan", str(path)])
    assert refused.exit_code == 2
    assert "bite leader parts when a usual fish strikes" in re.sub(r"\s+", " ", refused.output)
