"""The whole review of one rig, and the cautions of the room."""

import pytest
from tests.rig import rigs

from spreadwright.rig.assemble import assemble
from spreadwright.rig.cautions import ALL, DEFER, WORKS, cautions_for
from spreadwright.rig.loads import STRIKE_DRAG, drag_case
from spreadwright.rig.review import review_rig
from spreadwright.rig.spooled import check_drag
from spreadwright.tackle.span import Span


def reviewed(gear=None, pull=100.0, **options):
    gear = gear or rigs.gear()
    chain = assemble(rigs.outfit(), gear)
    return review_rig(chain, gear, [drag_case(chain, STRIKE_DRAG, Span.exactly(pull))], **options)


def test_a_sound_rig_is_sound_and_says_its_weakest_link_first():
    found = reviewed()
    assert found.sound
    assert found.messages[0].startswith("Weakest link of green 80")
    assert found.messages[1].startswith("First to part")
    assert found.hand_hold == pytest.approx(30 * 0.3048)
    assert found.order[0].link == "main line"


def test_too_much_pull_or_a_bad_piece_makes_it_unsound():
    assert not reviewed(pull=400.0).sound
    weak = reviewed(rigs.gear(swivel=rigs.swivel("60 lb")))
    assert not weak.sound
    assert [finding.code for finding in weak.failures] == ["swivel under-rated"]


def test_findings_from_elsewhere_count_too():
    found = reviewed(more_findings=check_drag(rigs.outfit(strike_drag="50 lb")))
    assert not found.sound
    assert any("brakes 45 lb at most" in message for message in found.messages)


def test_every_caution_belongs_somewhere_and_every_work_has_some():
    assert len({caution.key for caution in ALL}) == len(ALL)
    for work in WORKS:
        assert cautions_for(work)
    for caution in ALL:
        assert caution.works
        assert set(caution.works) <= set(WORKS)
        assert caution.text.endswith(".")


@pytest.mark.parametrize(
    ("work", "words"),
    [
        ("leadering", "Never wrap"),
        ("leadering", "gloves"),
        ("strike", "flies back"),
        ("landing", "dehooker"),
        ("setting out", "lanyards"),
        ("trolling", "Kill-switch"),
        ("landing", "swings and can break"),
    ],
)
def test_the_trade_s_cautions_are_where_the_work_is(work, words):
    """Common practice, no source: what can hurt someone at each work."""
    assert any(words in caution.text for caution in cautions_for(work))


def test_cautions_for_gear_that_is_not_there_are_left_out():
    assert "weight at the tip" not in {each.key for each in cautions_for("landing", frozenset({"hooks"}))}
    assert "weight at the tip" in {each.key for each in cautions_for("landing", frozenset({"weight"}))}


def test_numbers_are_no_guarantee():
    assert "not a guarantee" in DEFER
    assert "licensed practice" in DEFER
