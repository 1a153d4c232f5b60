"""Every link of every rig of the demo's plan: load, strength, and the weakest truly the weakest."""

from __future__ import annotations

import pytest
from tests.plan.demo import Demo
from tests.plan.trips import POUND

from spreadwright.plan.value import LinkLoad, RodPlan


def share(link: LinkLoad) -> float:
    """Load over strength; nothing where the strength is not known."""
    return link.load.usual / link.strength.usual if link.strength else 0.0


def link(rod: RodPlan, name: str) -> LinkLoad:
    """The link of that name."""
    return next(each for each in rod.links if each.link == name)


def test_every_link_from_spool_to_hook_is_there(demo: Demo) -> None:
    for rod in demo.plan.rods:
        outfit = demo.trip.outfit(rod.rod)
        names = [each.link for each in rod.links]
        assert len(set(names)) == len(names)
        wanted = ["main line", "snap swivel", "weight's cable", "shock leader", "bite leader"]
        wanted += ["double line"] if outfit.double_line else []
        wanted += ["wind-on"] if outfit.wind_on else []
        assert set(wanted) <= set(names)
        assert names[-1] in ("hook", "hooks")
        order = [names.index(name) for name in names if name in wanted]
        assert order == sorted(order)


def test_shares_are_load_over_strength_with_their_ranges(demo: Demo) -> None:
    for rod in demo.plan.rods:
        for each in rod.links:
            assert 0.0 < each.load.low <= each.load.usual <= each.load.high
            if each.strength is None or each.share is None:
                assert each.strength is None
                assert each.share is None
                assert each.verdict == "not known"
                continue
            assert each.share.usual == pytest.approx(share(each))
            assert each.share.low <= each.share.usual <= each.share.high
            assert each.share.high <= each.load.high / each.strength.low * 1.001


def test_the_weakest_link_is_the_one_with_the_largest_share(demo: Demo) -> None:
    for rod in demo.plan.rods:
        largest = max(rod.links, key=share)
        assert share(rod.weakest) == pytest.approx(share(largest))
        assert rod.weakest in rod.links


def test_every_link_carries_at_least_the_drag_at_the_strike(demo: Demo) -> None:
    """The hardest case is never under the drag the reel is set to: all of it goes through every link."""
    for rod in demo.plan.rods:
        for each in rod.links:
            if each.strength is not None:
                assert each.load.usual >= rod.strike_drag * 0.999


def test_no_rig_parts_under_its_loads(demo: Demo) -> None:
    assert all(each.verdict in ("holds", "not known", "near") for rod in demo.plan.rods for each in rod.links) or all(
        each.verdict != "parts" for rod in demo.plan.rods for each in rod.links
    )


def test_strength_is_never_above_what_is_written_on_the_gear(demo: Demo) -> None:
    """A knot, a crimp or water only ever takes strength away; 1.25 of the label is the most a line is reckoned at."""
    shelf = demo.trip.shelf
    for rod in demo.plan.rods:
        labels = {
            "main line": demo.trip.outfit(rod.rod).line.strength,
            "weight's cable": next(w.cable_strength for w in shelf.weights if w.name == rod.weight),
            "shock leader": next(s.strength for s in shelf.shock_leaders if s.name == rod.shock_leader),
            "bite leader": next(b.strength for b in shelf.bite_leaders if b.name == rod.bite_leader),
            "snap swivel": next(s.strength for s in shelf.snap_swivels if s.name == rod.swivel),
        }
        for name, label in labels.items():
            strength = link(rod, name).strength
            assert strength is not None
            assert strength.usual <= label * 1.001


def test_the_main_line_is_weaker_at_its_knot(demo: Demo) -> None:
    """130 lb nylon holds less than 130 lb where the double line is tied."""
    strength = link(demo.plan.rod("red 130"), "main line").strength
    assert strength is not None
    assert 60 * POUND < strength.usual < 128 * POUND


def test_drag_rises_as_line_goes_out(demo: Demo) -> None:
    """Same torque on a smaller spool; what the fish feels comes on top."""
    for rod in demo.plan.rods:
        assert rod.drag
        pulls = [point.reel_drag for point in rod.drag]
        assert pulls == sorted(pulls)
        assert pulls[0] == pytest.approx(rod.strike_drag, rel=0.05)
        assert all(point.at_fish >= point.reel_drag * 0.999 for point in rod.drag)


def test_every_rod_says_what_parts_first(demo: Demo) -> None:
    assert all(rod.parts_first and rod.parts_first != "not known" for rod in demo.plan.rods)
