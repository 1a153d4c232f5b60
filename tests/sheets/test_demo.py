"""The sheets on the demo's real plan, as the command line makes it: complete, on the sheet, on one page each."""

import pytest
from tests.plan.demo import Demo, demo_plan
from tests.sheets.pictures import read
from tests.sheets.test_drawing import check_room
from tests.sheets.test_terminal import HEADS, SYSTEMS, UNITS, agree, of_estimate, of_swing, part, row

from spreadwright.sheets.cards import card_pictures, fits
from spreadwright.sheets.deck import deck_sheet
from spreadwright.sheets.drawing import spread_drawing
from spreadwright.sheets.terminal import report
from spreadwright.sheets.wording import worst_pair


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Demo:
    return demo_plan(tmp_path_factory, worker_id)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("width", [80, 120])
def test_the_report_is_complete_and_its_numbers_are_the_plans(demo, width, system):
    plan = demo.plan
    text = report(plan, width=width, system=system)
    assert max(map(len, text.splitlines())) <= width
    assert all(f"\n{head}" in text for head in HEADS)
    unit = UNITS[system]
    for rod in plan.rods:
        agree(
            row(part(text, "HOW DEEP"), rod.rod).removeprefix(rod.rod),
            [
                *of_estimate(rod.weight_depth, unit["length"]),
                *of_swing(rod.weight_depth_swing, unit["length"]),
                *of_estimate(rod.lure_depth, unit["length"]),
                *of_swing(rod.lure_depth_swing, unit["length"]),
            ],
        )
        for head in ("SET OUT FROM", "WHAT THE RODS FEEL", "THE WEAKEST LINK"):
            assert rod.rod in part(text, head)
    near = part(text, "HOW NEAR")
    for pair in plan.pairs:
        assert f"{pair.first} and {pair.second} " in near
    worst = worst_pair(plan)
    assert worst is not None
    assert near.splitlines()[3].startswith(f"{worst.first} and {worst.second}")


@pytest.mark.parametrize("width", [390.0, 760.0])
def test_the_drawing_has_every_line_and_fits(demo, width):
    text = spread_drawing(demo.plan, width=width, worst=True)
    picture = read(text)
    check_room(picture)
    for view in ("above", "side", "closest"):
        assert [line.attributes["data-rod"] for line in picture.lines(view)] == [rod.rod for rod in demo.plan.rods]
    assert len(text) < 40_000  # the deck sheet carries it within 300 kB


def test_the_boat_of_the_worst_moment_has_its_rod_tips_where_they_are_aboard(demo):
    """Bow to the right, port up, whatever the boat's heading was at that moment."""
    lines = read(spread_drawing(demo.plan, worst=True)).lines("closest")
    tips = [(rod.tip[0], line.points[0][0], rod.tip[1], line.points[0][1]) for rod, line in
            zip(demo.plan.rods, lines, strict=True)]  # fmt: skip
    for ahead, x, port, y in tips:
        for other_ahead, other_x, other_port, other_y in tips:
            if ahead > other_ahead + 0.3:
                assert x > other_x
            if port > other_port + 0.3:
                assert y < other_y


@pytest.mark.parametrize("kind", ["spread", "rods", "marks", "shopping", "packing", "crew"])
def test_every_card_is_on_its_page_in_readable_type(demo, kind):
    pages = card_pictures(demo.plan, kind, sharpness=30.0)
    assert len(pages) == (len(demo.plan.rods) if kind == "rods" else 1)
    assert all(each["fits"] and each["size"] >= 0.8 for each in fits(demo.plan, kind))


def test_the_bench_goes_on_to_a_second_page_where_its_findings_are_many(demo):
    assert len(card_pictures(demo.plan, "bench", sharpness=30.0)) <= 2
    assert all(each["size"] >= 0.8 for each in fits(demo.plan, "bench"))


def test_cards_with_rigs_named_from_the_reel_on_stay_readable(demo):
    assert all(each["fits"] and each["size"] >= 0.8 for each in fits(demo.plan, "rods", trip=demo.trip))


def test_the_deck_sheet_of_the_demo_goes_into_a_message(demo):
    assert len(deck_sheet(demo.plan, trip=demo.trip).encode()) < 300_000
