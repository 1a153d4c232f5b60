"""The order of parting: chances, what stays in the fish, the window for a weak link."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.rig import rigs

from spreadwright.rig.assemble import Joints, assemble
from spreadwright.rig.break_order import (
    break_order,
    break_order_in_words,
    chance_weakest,
    preferred_first,
    weak_link_window,
)
from spreadwright.tackle.span import Span


@st.composite
def spans(draw):
    return Span(*sorted(draw(st.floats(50.0, 500.0)) for _ in range(3)))


@given(st.lists(spans(), min_size=1, max_size=8))
@settings(max_examples=30)
def test_chances_are_chances(strengths):
    chances = chance_weakest(strengths)
    assert sum(chances) == pytest.approx(1.0)
    assert all(0.0 <= chance <= 1.0 for chance in chances)


def test_chances_against_throwing_dice():
    strengths = [Span(100.0, 150.0, 180.0), Span(120.0, 140.0, 260.0), Span(90.0, 200.0, 240.0)]
    dice = random.Random(7)
    count = [0, 0, 0]
    for _ in range(40_000):
        drawn = [dice.triangular(s.low, s.high, s.usual) for s in strengths]
        count[drawn.index(min(drawn))] += 1
    for chance, counted in zip(chance_weakest(strengths), count, strict=True):
        assert chance == pytest.approx(counted / 40_000, abs=0.01)


def test_exact_and_equal_strengths_share():
    assert chance_weakest([Span.exactly(100.0)] * 2) == pytest.approx([0.5, 0.5])
    assert chance_weakest([Span.exactly(100.0), Span.exactly(101.0)]) == pytest.approx([1.0, 0.0], abs=1e-3)
    assert chance_weakest([]) == []


def test_the_main_line_parts_first_and_the_fish_keeps_everything():
    chain = assemble(rigs.outfit(), rigs.gear())
    steps = break_order(chain)
    assert steps[0].link == "main line"
    assert steps[0].chance > 0.99
    assert steps[0].left.names[0] == "double line"
    assert [step.strength.usual for step in steps] == sorted(step.strength.usual for step in steps)


def test_the_words_name_spot_chance_and_what_is_left():
    chain = assemble(rigs.outfit(), rigs.gear())
    text = break_order_in_words(chain)
    assert "main line at its bimini twist (as good as certain)" in text
    assert "48" not in text  # the mass is that of weight and lure together: 56 oz
    assert "56 oz of weight and lure" in text
    assert "everything from the double line down, 47 ft in all" in text
    assert "if the bite leader parted first" in text


def test_a_weak_link_window_lies_between_load_and_next_weakest():
    chain = assemble(rigs.outfit(), rigs.gear())
    main = chain.link("main line").strength
    assert main is not None
    window = weak_link_window(chain, "bite leader", 150.0)
    assert window.least == pytest.approx(180.0)
    assert window.most == pytest.approx(0.9 * main.low)
    assert window.possible
    assert "To do that, make it" in break_order_in_words(chain, 150.0)


def test_where_nothing_both_holds_and_parts_first_it_is_said():
    chain = assemble(rigs.outfit(), rigs.gear())
    assert not weak_link_window(chain, "bite leader", 400.0).possible
    assert "both holds the greatest load and parts first" in break_order_in_words(chain, 400.0)
    with pytest.raises(KeyError):
        weak_link_window(chain, "towrope", 1.0)


def test_a_bite_leader_that_parts_first_leaves_least():
    chain = assemble(rigs.outfit(), rigs.gear(bite_leader=rigs.bite_leader(strength="60 lb")))
    assert preferred_first(chain).name == "bite leader"
    assert break_order(chain)[0].link == "bite leader"
    assert "That leaves least behind" in break_order_in_words(chain)


def test_links_of_unknown_strength_are_left_out():
    chain = assemble(rigs.outfit(), rigs.gear(), Joints(double_line="bimni"))
    assert "main line" not in [step.link for step in break_order(chain)]
