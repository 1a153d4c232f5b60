"""Record rules: numbers at their edges, unknown measures, and nothing claimed beyond them."""

import dataclasses

import pytest
from tests.rig import rigs

from spreadwright.rig import record_rules
from spreadwright.rig.assemble import assemble
from spreadwright.rig.record_rules import RecordRig, review
from spreadwright.rig.review import record_rig

HEAVY = RecordRig(double_line=9.14, leader_length=3.05, hooks=1, line_strength=350.0, hook_length=0.08, past_skirt=0.0)
LIGHT = dataclasses.replace(HEAVY, double_line=1.5, leader_length=4.57, line_strength=90.0)


def outside(rig):
    return [check.rule for check in review(rig).outside]


def test_the_longest_of_each_class_is_inside():
    assert outside(HEAVY) == []
    assert outside(LIGHT) == []


@pytest.mark.parametrize(
    ("rig", "changes", "rule"),
    [
        (HEAVY, {"double_line": 9.2, "leader_length": 1.0}, "double line"),
        (HEAVY, {"double_line": 0.0, "leader_length": 9.2}, "leader"),
        (HEAVY, {"leader_length": 3.2}, "double line and leader together"),
        (LIGHT, {"double_line": 0.0, "leader_length": 4.6}, "leader"),
        (LIGHT, {"double_line": 1.6}, "double line and leader together"),
        (HEAVY, {"hooks": 3, "hook_eyes_apart": 0.2}, "hooks on a skirted lure"),
        (HEAVY, {"gang_hooks": True}, "hooks on a skirted lure"),
        (HEAVY, {"line_is_wire": True}, "no wire as line"),
        (HEAVY, {"past_skirt": 0.09}, "trailing hook"),
        (HEAVY, {"hooks": 2, "hook_eyes_apart": 0.31}, "hook spacing"),
        (HEAVY, {"hooks": 2, "hook_eyes_apart": 0.07}, "hook spacing"),
        (HEAVY, {"line_strength": 600.0}, "line class"),
        (HEAVY, {"class_kg": 24}, "line class"),
    ],
)
def test_each_number_is_held(rig, changes, rule):
    assert outside(dataclasses.replace(rig, **changes)) == [rule]


def test_a_point_through_the_other_eye_may_be_closer():
    rig = dataclasses.replace(HEAVY, hooks=2, hook_eyes_apart=0.02, hooks_pinned_through_eye=True)
    assert outside(rig) == []


def test_missing_measures_are_unknown_not_inside():
    rig = dataclasses.replace(HEAVY, hooks=2, hook_length=None, past_skirt=None)
    found = review(rig)
    assert [check.rule for check in found.unknown] == ["hook spacing", "trailing hook"]
    assert all(check.inside is None for check in found.unknown)


def test_line_class_goes_by_kilograms():
    pounds = 4.4482216152605
    assert record_rules.line_class(80 * pounds) == 37
    assert record_rules.line_class(20 * pounds) == 10
    assert record_rules.line_class(22.1 * pounds) == 15  # 10 kg is 22.046 lb
    assert record_rules.line_class(133 * pounds) is None


def test_the_answer_says_that_a_ruling_decides_and_never_claims_more():
    found = review(dataclasses.replace(HEAVY, weight_fished=True))
    assert "ruling" in found.ruling
    assert "2021" in found.edition
    assert "weight" in found.notes[0]
    said = " ".join(
        [found.ruling, *found.notes, *(f"{check.rule} {check.limit} {check.next_step}" for check in found.checks)]
    ).lower()
    for claim in ("legal", "approved", "guarantee", "qualifies"):
        assert claim not in said


def test_an_ordinary_fast_trolling_rig_is_longer_than_the_rules_allow():
    """30 ft of leader and a 12 ft double line: over the combined 40 ft."""
    gear = rigs.gear()
    chain = assemble(rigs.outfit(), gear)
    rig = record_rig(rigs.outfit(), gear, chain)
    assert "double line and leader together" in outside(rig)
    assert rig.double_line + rig.leader_length == pytest.approx(
        sum(link.length for link in chain.links if link.name != "main line")
    )


def test_a_weight_brings_its_note_and_no_weight_brings_none():
    for weight, notes in ((rigs.weight(), 1), (None, 0)):
        gear = rigs.gear(weight=weight)
        rig = record_rig(rigs.outfit(), gear, assemble(rigs.outfit(), gear))
        assert len(review(rig).notes) == notes


def test_the_edges_belong_to_the_inside():
    apart = dataclasses.replace(HEAVY, hooks=2, hook_length=0.08)
    assert outside(dataclasses.replace(apart, hook_eyes_apart=0.3048)) == []
    assert outside(dataclasses.replace(apart, hook_eyes_apart=0.08)) == []
    assert outside(dataclasses.replace(HEAVY, past_skirt=0.08)) == []
    for kilograms in (10, 37, 60):
        assert record_rules.line_class(kilograms * 9.80665) == kilograms


def test_the_line_class_is_named_where_there_is_one():
    assert "in the 37 kg class" in review(HEAVY).checks[0].given
    assert "class" not in review(dataclasses.replace(HEAVY, line_strength=600.0)).checks[0].given
