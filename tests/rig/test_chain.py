"""A chain put together from tackle: order, strengths by hand, joints, what is left behind."""

import pytest
from tests.rig import rigs

from spreadwright.rig.assemble import Joints, assemble, crimp_for, gear_from_shelf, swivel_for
from spreadwright.rig.chain import Chain, Link, rig_length
from spreadwright.tackle.span import Span
from spreadwright.tackle.trip import Shelf

POUND = 4.4482216152605


def names(chain):
    return [link.name for link in chain.links]


def test_the_usual_rig_from_reel_to_hook():
    chain = assemble(rigs.outfit(), rigs.gear())
    assert chain.faults == ()
    assert names(chain) == [
        "main line", "double line", "snap swivel", "weight's cable", "shock leader's upper crimp", "shock leader",
        "shock leader's lower crimp", "bite leader", "lure", "hooks",
    ]  # fmt: skip


def test_everything_that_can_be_there():
    backing = rigs.outfit().line.model_copy(update={"length": 300.0})
    chain = assemble(rigs.outfit(wind_on=rigs.wind_on(), backing=backing), rigs.gear(bite_guard=rigs.bite_guard()))
    assert names(chain)[:8] == [
        "backing", "main line", "double line", "wind-on", "wind-on's lower crimp", "snap swivel",
        "bite guard's upper crimp", "bite guard",
    ]  # fmt: skip
    assert not chain.link("backing").bears_load
    assert not chain.link("lure").bears_load
    assert chain.faults == ()


def test_strength_by_hand():
    """80 lb nylon: x 0.875 wet x 0.97 bimini; its double line twice that leg, 0.95 shared, 0.93 knot."""
    chain = assemble(rigs.outfit(), rigs.gear())
    main, double = chain.link("main line").strength, chain.link("double line").strength
    assert main is not None
    assert double is not None
    assert main.usual == pytest.approx(80 * POUND * 0.875 * 0.97)
    assert main.low == pytest.approx(80 * POUND * 0.95 * 0.85 * 0.90)
    assert double.usual == pytest.approx(80 * POUND * 0.875 * 2 * 0.95 * 0.93)
    crimp = chain.link("shock leader's upper crimp").strength
    assert crimp is not None
    assert crimp.usual == pytest.approx(300 * POUND * 0.875 * 0.95)
    assert chain.link("main line").weak_spot == "main line at its bimini twist"


def test_assumed_joints_say_so_and_stated_ones_do_not():
    assumed = assemble(rigs.outfit(), rigs.gear()).link("main line").lower
    stated = assemble(rigs.outfit(), rigs.gear(), Joints(double_line="plait")).link("main line").lower
    assert assumed is not None
    assert stated is not None
    assert "assumed" in assumed.source
    assert stated.connection == "plait"
    assert "assumed" not in stated.source


def test_an_unknown_connection_is_a_fault_and_leaves_the_strength_unknown():
    chain = assemble(rigs.outfit(), rigs.gear(), Joints(double_line="bimni twist"))
    assert [fault.given for fault in chain.faults] == ["bimni twist"]
    assert "bimini twist" in chain.faults[0].next_step
    assert "green 80" in chain.faults[0].place
    assert chain.link("main line").strength is None
    assert chain.link("main line").weak_end == "none"


def test_a_twist_in_cable_is_a_fault():
    gear = rigs.gear(bite_leader=rigs.bite_leader(material="cable"))
    chain = assemble(rigs.outfit(), gear, Joints(bite_leader="haywire twist"))
    assert "cable" in chain.faults[0].given


def test_joints_come_from_outfit_and_leaders_where_the_captain_states_them():
    stated = rigs.outfit(
        joints={"double_line": "plait", "to_swivel": "cat's paw"}, bite_guard=rigs.bite_guard(joint="locked-loop crimp")
    )
    gear = rigs.gear(
        shock_leader=rigs.shock_leader(joint="improved clinch"),
        bite_leader=rigs.bite_leader(joint="haywire keeps 90 %"),
        bite_guard=stated.bite_guard,
    )  # fmt: skip
    chain = assemble(stated, gear)
    assert chain.faults == ()
    ends = {
        (link.name, end): joint
        for link in chain.links
        for end, joint in (("u", link.upper), ("l", link.lower))
        if joint is not None
    }
    joined = {at: joint.connection for at, joint in ends.items()}
    assert joined == {
        ("main line", "l"): "plait", ("double line", "l"): "cat's paw",
        ("bite guard's upper crimp", "u"): "locked-loop crimp", ("bite guard's lower crimp", "u"): "locked-loop crimp",
        ("shock leader", "u"): "improved clinch", ("shock leader", "l"): "improved clinch",
        ("bite leader", "u"): "haywire twist", ("bite leader", "l"): "haywire twist",
    }  # fmt: skip
    assert not any("assumed" in joint.source for joint in ends.values())
    own = chain.link("bite leader").efficiency
    assert own is not None
    assert own.usual == pytest.approx(0.90)
    assert "pull test" in ends["bite leader", "u"].source


def test_backing_is_in_the_chain_where_the_outfit_has_it():
    backing = rigs.outfit().line.model_copy(update={"length": 300.0})
    chain = assemble(rigs.outfit(backing=backing, joints={"spool": "uni knot"}), rigs.gear())
    first = chain.links[0]
    assert (first.name, first.length) == ("backing", 300.0)
    assert first.upper is not None
    assert first.upper.connection == "uni knot"
    assert assemble(rigs.outfit(), rigs.gear()).links[0].name == "main line"


def test_a_bite_guard_counts_in_the_rig_s_length():
    bare = rig_length(assemble(rigs.outfit(), rigs.gear()))
    guarded = rig_length(assemble(rigs.outfit(), rigs.gear(bite_guard=rigs.bite_guard())))
    assert guarded - bare == pytest.approx(0.3048)


def test_braid_takes_its_own_figures():
    line = {"material": "braid", "strength": "80 lb", "length": "600 yd", "diameter": "0.45 mm"}
    joints = Joints(line_end="improved clinch")
    braid = assemble(rigs.outfit(line=line, double_line=None), rigs.gear(), joints).link("main line")
    nylon = assemble(rigs.outfit(double_line=None), rigs.gear(), joints).link("main line")
    assert braid.efficiency == Span(0.31, 0.50, 0.75)
    assert nylon.efficiency == Span(0.70, 0.85, 0.95)


def test_teeth_and_hands():
    chain = assemble(rigs.outfit(wind_on=rigs.wind_on()), rigs.gear())
    assert chain.link("shock leader").bitten_through
    assert not chain.link("bite leader").bitten_through
    assert not chain.link("weight's cable").bitten_through
    assert chain.link("shock leader").held_by_hand()
    assert chain.link("wind-on").held_by_hand(1.4e-3)
    assert not chain.link("wind-on").held_by_hand(1.5e-3)
    assert not chain.link("bite leader").held_by_hand(0.0)
    assert not chain.link("double line").held_by_hand(0.0)


def test_what_a_fish_keeps():
    chain = assemble(rigs.outfit(), rigs.gear())
    at_knot = chain.left_behind("main line")
    assert at_knot.names == tuple(names(chain)[1:])
    assert at_knot.length == pytest.approx(rig_length(chain))
    assert at_knot.mass == pytest.approx((48 + 8) * 0.028349523125)
    at_end = chain.left_behind("shock leader's lower crimp")
    assert at_end.names == ("shock leader's lower crimp", "bite leader", "lure", "hooks")
    assert at_end.mass == pytest.approx(8 * 0.028349523125)
    assert chain.left_behind("double line").names[0] == "snap swivel"


def test_length_counts_from_the_double_line_s_knot():
    chain = assemble(rigs.outfit(), rigs.gear())
    feet = 12 + 30 + 3 + 9 / 12
    assert rig_length(chain) == pytest.approx(feet * 0.3048 + 0.10 + rigs.weight().length)


def test_every_link_has_a_name_of_its_own():
    link = Link("one", "hook", "metal", None)
    with pytest.raises(ValueError, match="name of its own"):
        Chain("rod", (link, link))
    with pytest.raises(KeyError):
        Chain("rod", (link,)).link("two")


def test_crimps_and_swivels_are_taken_as_small_as_will_do():
    crimps = [rigs.crimp("3.0 mm"), rigs.crimp("2.0 mm"), rigs.crimp("1.4 mm")]
    found = crimp_for(1.8e-3, crimps)
    assert found is not None
    assert found.name == "2.0 mm sleeve"
    assert crimp_for(3.1e-3, crimps) is None
    swivels = [rigs.swivel("500 lb"), rigs.swivel("300 lb"), rigs.swivel("150 lb")]
    enough, strongest = swivel_for(200 * POUND, swivels), swivel_for(900 * POUND, swivels)
    assert enough is not None
    assert strongest is not None
    assert (enough.name, strongest.name) == ("300 lb", "500 lb")
    assert swivel_for(1.0, []) is None


def test_a_hook_s_strength_says_where_it_comes_from():
    known = assemble(rigs.outfit(), rigs.gear()).link("hooks")
    unknown = assemble(rigs.outfit(), rigs.gear(hook=None)).link("hooks")
    assert (known.basis, known.rated is None) == ("load that opens it, as given", False)
    assert (unknown.basis, unknown.rated) == ("no strength given", None)
    assert assemble(rigs.outfit(), rigs.gear(lure=rigs.lure(hooks=1))).links[-1].name == "hook"


def test_gear_from_the_shelf():
    shelf = Shelf(
        weights=(rigs.weight(),),
        shock_leaders=(rigs.shock_leader(),),
        bite_leaders=(rigs.bite_leader(),),
        lures=(rigs.lure(),),
        snap_swivels=tuple(rigs.swivel(strength) for strength in ("500 lb", "100 lb", "200 lb")),
        crimps=(rigs.crimp("2.0 mm"),),
        hooks=(rigs.hook(),),
    )
    chosen = (shelf.shock_leaders[0], shelf.bite_leaders[0])
    gear = gear_from_shelf(shelf, rigs.outfit(), *chosen, rigs.lure(hook="9/0"), shelf.weights[0])
    assert gear.swivel is not None
    assert gear.swivel.name == "200 lb"  # twice 80 lb and no more than needed
    assert gear.hook == rigs.hook()
    assert gear.crimps == shelf.crimps
    assert gear_from_shelf(shelf, rigs.outfit(), *chosen, rigs.lure(), None).hook is None
    guarded = rigs.outfit(bite_guard=rigs.bite_guard())
    assert gear.bite_guard is None
    assert gear_from_shelf(shelf, guarded, *chosen, rigs.lure(), None).bite_guard == rigs.bite_guard()
