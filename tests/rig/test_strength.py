"""Loads laid on links, margins, the weakest link, and the words for it."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rig import rigs

from spreadwright.rig.assemble import Joints, assemble
from spreadwright.rig.loads import (
    SPOOL_RUN_DOWN,
    STEADY_TOW,
    STRIKE_DRAG,
    STRIKE_PEAK,
    drag_case,
    strike_case,
    tow_case,
)
from spreadwright.rig.strength import margin_in_words, review_strength, strength_in_words
from spreadwright.tackle.span import Span


def chain():
    return assemble(rigs.outfit(), rigs.gear())


def towing(ahead=120.0, behind=60.0):
    return tow_case(chain(), STEADY_TOW, Span.about(ahead, 0.1), Span.about(behind, 0.1))


def test_the_weight_parts_the_loads_of_towing():
    loads = towing().loads
    assert loads["main line"].usual == loads["snap swivel"].usual == loads["weight's cable"].usual == 120.0
    assert loads["shock leader"].usual == loads["bite leader"].usual == loads["hooks"].usual == 60.0
    assert "lure" not in loads


def test_without_a_weight_the_swivel_is_the_border():
    bare = assemble(rigs.outfit(), rigs.gear(weight=None))
    loads = tow_case(bare, STEADY_TOW, Span.exactly(50.0), Span.exactly(30.0)).loads
    assert loads["snap swivel"].usual == 50.0
    assert loads["shock leader"].usual == 30.0


def test_the_crimp_at_the_weight_bears_the_load_behind_it():
    assert towing().loads["shock leader's upper crimp"].usual == 60.0


def test_drag_goes_through_every_link_with_the_water_on_top():
    case = drag_case(chain(), SPOOL_RUN_DOWN, Span.exactly(150.0), Span.exactly(40.0))
    assert {load.usual for load in case.loads.values()} == {190.0}
    assert set(case.loads) == {link.name for link in chain().bearing}


def test_margin_by_hand():
    review = review_strength(chain(), [drag_case(chain(), STRIKE_DRAG, Span(90.0, 100.0, 110.0))])
    main = review.of_link("main line")[0]
    strength = chain().link("main line").strength
    assert strength is not None
    assert main.margin is not None
    assert main.share is not None
    assert main.margin.low == pytest.approx(strength.low / 110.0)
    assert main.margin.usual == pytest.approx(strength.usual / 100.0)
    assert main.share.high == pytest.approx(110.0 / strength.low)
    assert main.verdict == "holds"


def test_the_weakest_link_is_named_with_its_case():
    cases = [towing(), drag_case(chain(), STRIKE_DRAG, Span.exactly(100.0))]
    review = review_strength(chain(), cases)
    assert review.weakest is not None
    assert (review.weakest.link, review.weakest.case) == ("main line", STEADY_TOW)
    text = strength_in_words(review)
    assert text.startswith("Weakest link of green 80: main line at its bimini twist: sees 40 %")
    assert "of its strength in steady tow" in text
    assert "lb" in text
    assert "kg" in strength_in_words(review, "metric")


@pytest.mark.parametrize(("pull", "verdict"), [(150.0, "holds"), (280.0, "may part"), (330.0, "parts")])
def test_verdicts(pull, verdict):
    review = review_strength(chain(), [drag_case(chain(), STRIKE_DRAG, Span.exactly(pull))])
    main = review.of_link("main line")[0]
    assert main.verdict == verdict
    assert review.holds is (verdict != "parts")
    if verdict != "holds":
        assert "less drag, or a stronger link" in margin_in_words(main)


def test_a_strike_on_the_leader_alone_is_seen_there():
    case = strike_case(chain(), {"shock leader": Span.exactly(1500.0)})
    review = review_strength(chain(), [towing(), case])
    assert review.weakest is not None
    assert (review.weakest.link, review.weakest.case) == ("shock leader", STRIKE_PEAK)
    assert not review.holds


def test_a_load_on_a_link_that_is_not_there_is_an_error():
    with pytest.raises(KeyError):
        strike_case(chain(), {"towrope": Span.exactly(1.0)})


def test_an_unknown_strength_is_said_and_does_not_hold():
    broken = assemble(rigs.outfit(), rigs.gear(), Joints(double_line="bimni"))
    review = review_strength(broken, [drag_case(broken, STRIKE_DRAG, Span.exactly(100.0))])
    main = review.of_link("main line")[0]
    assert main.verdict == "not known"
    assert "not known" in margin_in_words(main)
    assert not review.holds


def test_a_hook_without_a_strength_is_said_but_does_not_fail_the_rig():
    unrated = assemble(rigs.outfit(), rigs.gear(hook=rigs.hook(None)))
    review = review_strength(unrated, [drag_case(unrated, STRIKE_DRAG, Span.exactly(100.0))])
    assert review.of_link("hooks")[0].verdict == "not known"
    assert review.holds


def test_no_load_no_weakest():
    review = review_strength(chain(), [])
    assert review.weakest is None
    assert "no link" in strength_in_words(review)


@given(st.floats(1.0, 2000.0), st.floats(1.01, 3.0))
def test_a_harder_pull_never_makes_a_link_safer(pull, factor):
    order = ["holds", "may part", "parts"]
    soft = review_strength(chain(), [drag_case(chain(), STRIKE_DRAG, Span.exactly(pull))])
    hard = review_strength(chain(), [drag_case(chain(), STRIKE_DRAG, Span.exactly(pull * factor))])
    for one, other in zip(soft.margins, hard.margins, strict=True):
        assert order.index(one.verdict) <= order.index(other.verdict)


def test_a_case_is_frozen():
    with pytest.raises(dataclasses.FrozenInstanceError):
        towing().name = "other"
