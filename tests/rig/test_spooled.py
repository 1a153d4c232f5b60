"""An outfit's reel: spooled from what the trip file says, its drag table, its drag checked."""

import pytest
from tests.rig import rigs

from spreadwright.faults import Fault
from spreadwright.rig.drag import DragRow
from spreadwright.rig.spooled import Spooled, check_drag, check_spool, drag_table, room_for_line, spool_line
from spreadwright.tackle.span import Span

STRENGTH = Span(250.0, 300.0, 350.0)
MEASURED = {
    "name": "invented 50", "holds": "650 yd", "max_drag": "45 lb", "spool_width": "88 mm",
    "spool_full_diameter": "100 mm", "spool_core_diameter": "44 mm",
}  # fmt: skip


def spooled(**changes):
    found = spool_line(rigs.outfit(**changes))
    assert isinstance(found, Spooled)
    return found


def rows(**changes):
    found = drag_table(rigs.outfit(**changes), STRENGTH)
    assert not isinstance(found, Fault)
    return found


def test_a_measured_spool_is_taken_as_measured():
    found = spooled(reel=MEASURED)
    assert not found.estimated
    assert found.wound.spool.full_radius == pytest.approx(0.050)
    assert found.missing == pytest.approx(50 * 0.9144)


def test_what_a_measured_spool_takes_follows_from_its_space_and_packing():
    """Ring of 88 mm from 22 to 50 mm radius: 557.3 cm3; 0.95 mm line has 0.7088 mm2: 550 m at 70 % packing."""
    room = room_for_line(rigs.outfit(reel=MEASURED))
    assert room is not None
    assert room.usual == pytest.approx(0.70 * 557.35e-6 / 0.70882e-6, rel=1e-3)
    assert room.low == pytest.approx(room.usual * 0.45 / 0.70 / 1.03**2, rel=1e-3)
    assert room.high == pytest.approx(room.usual * 0.7854 / 0.70 / 0.97**2, rel=1e-3)
    assert room_for_line(rigs.outfit()) is None


def test_a_spool_said_to_hold_more_than_it_takes_is_told():
    assert check_spool(rigs.outfit(reel=MEASURED)) == ()
    assert check_spool(rigs.outfit()) == ()
    (small,) = check_spool(rigs.outfit(reel=MEASURED | {"holds": "740 yd"}))  # 677 m; 656 m at the most
    assert (small.code, small.severity) == ("spool too small", "caution")
    assert "at most" in small.rule
    (wrong,) = check_spool(rigs.outfit(reel=MEASURED | {"holds": "900 yd"}))  # over 100 % of the space
    assert wrong.code == "spool measures"
    assert "not told" in wrong.fix


def test_without_measures_the_usual_proportions_are_taken_and_said():
    found = spooled()
    assert found.estimated
    assert found.wound.spool.arbor_radius / found.wound.spool.full_radius == pytest.approx(0.45)
    assert found.wound.packing == pytest.approx(0.70)


def test_the_table_runs_from_the_set_drag_to_the_end_of_the_line():
    table = rows(reel=MEASURED)
    assert table[0].line_out == 0.0
    assert table[0].reel_drag == pytest.approx(rigs.outfit().strike_drag)
    assert table[-1].line_out == pytest.approx(600 * 0.9144)
    assert table[-1].reel_drag > 1.5 * table[0].reel_drag


def test_the_water_s_pull_is_asked_for_line_out_not_line_off_a_full_spool():
    asked: list[float] = []

    def pull(out):
        asked.append(out)
        return 0.0

    drag_table(rigs.outfit(reel=MEASURED), STRENGTH, pull, rows=3)
    assert asked == pytest.approx([0.0, 300 * 0.9144, 600 * 0.9144])


def test_the_drag_ratio_does_not_hang_on_the_line_s_thickness():
    thick = {"material": "nylon", "strength": "80 lb", "length": "600 yd", "diameter": "1.0 mm"}
    one, other = rows(), rows(line=thick)
    assert [row.reel_drag for row in one] == pytest.approx([row.reel_drag for row in other])


def test_estimated_thickness_that_would_not_fit_is_no_fault_but_given_thickness_is():
    line = {"material": "nylon", "strength": "130 lb", "length": "600 yd"}
    assert isinstance(spool_line(rigs.outfit(reel=MEASURED, line=line)), Spooled)
    measured = spool_line(rigs.outfit(reel=MEASURED, line=line | {"diameter": "1.3 mm"}))
    assert isinstance(measured, Fault)
    assert "green 80" in measured.place
    assert "91 %" in measured.rule


def test_more_line_than_the_reel_holds_is_a_fault():
    line = {"material": "nylon", "strength": "80 lb", "length": "700 yd"}
    found = spool_line(rigs.outfit(line=line))
    assert isinstance(found, Fault)
    assert "holds" in found.rule
    assert isinstance(drag_table(rigs.outfit(line=line), STRENGTH), Fault)


def test_a_spool_thinner_full_than_bare_is_a_fault():
    found = spool_line(rigs.outfit(reel=MEASURED | {"spool_core_diameter": "120 mm"}))
    assert isinstance(found, Fault)
    assert "measure both again" in found.next_step


@pytest.mark.parametrize(
    ("drag", "tow", "codes"),
    [
        ("22 lb", 50.0, []),
        ("30 lb", 50.0, ["drag high for the line"]),
        ("50 lb", 50.0, ["drag beyond reel", "drag high for the line"]),
        ("10 lb", 100.0, ["drag below the tow's pull"]),
    ],
)
def test_the_strike_drag_is_checked(drag, tow, codes):
    findings = check_drag(rigs.outfit(strike_drag=drag), tow)
    assert [finding.code for finding in findings] == codes
    assert all(finding.fix for finding in findings)


def test_rows_are_values():
    assert all(isinstance(row, DragRow) for row in rows())


def test_a_reel_may_be_exactly_full():
    line = {"material": "nylon", "strength": "80 lb", "length": "650 yd", "diameter": "0.95 mm"}
    assert spooled(line=line).missing == 0.0


def test_the_findings_say_the_numbers():
    high = check_drag(rigs.outfit(strike_drag="30 lb"))[0]
    assert "30 lb, 38 % of the line's rating" in high.given
    assert "set 20 lb to 27 lb" in high.fix
    low = check_drag(rigs.outfit(strike_drag="10 lb"), 111.2)[0]
    assert "pulls 25 lb while trolling" in low.given
    assert "more than 25 lb" in low.fix
