"""From entries to exposure and strikes: hours that somebody vouches for, and what is odd is told."""

from __future__ import annotations

import pytest
from tests.logbook.logs import LONG, SHORT, entry, folded


def test_a_line_fishes_from_out_to_in():
    book = folded(entry("line_out", 0), entry("strike", 30, outcome="missed"), entry("line_in", 90))
    (exposure,), (strike,) = book.exposures, book.strikes
    assert exposure.hours == pytest.approx(1.5)
    assert strike.exposure == exposure
    assert strike.rig.lure == SHORT["lure"]
    assert book.remarks == ()


@pytest.mark.parametrize("outcome", ["landed", "cut off", "broke off"])
def test_a_strike_that_takes_the_line_out_ends_the_hours(outcome):
    book = folded(entry("line_out", 0), entry("strike", 30, outcome=outcome), entry("line_in", 90))
    assert book.hours == pytest.approx(0.5)


@pytest.mark.parametrize("outcome", ["missed", "lost", "unknown"])
def test_a_strike_that_leaves_the_line_fishing_does_not(outcome):
    book = folded(entry("line_out", 0), entry("strike", 30, outcome=outcome), entry("line_in", 90))
    assert book.hours == pytest.approx(1.5)


def test_a_change_of_rig_without_taking_in_ends_the_first():
    book = folded(entry("line_out", 0), entry("line_out", 60, rig=LONG), entry("line_in", 90))
    assert [(e.rig.lure, round(e.hours, 9)) for e in book.exposures] == [(SHORT["lure"], 1.0), (LONG["lure"], 0.5)]


def test_a_line_never_taken_in_stops_at_the_sheets_last_entry_and_at_sixteen_hours():
    book = folded(entry("line_out", 0), entry("note", 45, "", note="home"))
    assert book.hours == pytest.approx(0.75)
    assert "never taken in" in book.remarks[0]
    late = folded(entry("line_out", 0), entry("note", 60 * 30, "", note="home"))
    assert late.hours == pytest.approx(16.0)
    assert any("16 h" in remark for remark in late.remarks)


def test_a_strike_without_a_line_out_is_kept_and_told_and_counts_in_no_rate():
    book = folded(entry("line_out", 0), entry("line_in", 10), entry("strike", 30), entry("strike", 5, "blue"))
    assert len(book.strikes) == 2
    assert book.counted == ()
    assert sum("in no rate" in remark for remark in book.remarks) == 2


def test_a_strike_that_names_another_rig_counts_on_the_one_that_went_out():
    book = folded(entry("line_out", 0), entry("strike", 5, rig=LONG), entry("line_in", 60))
    assert book.counted[0].rig.lure == SHORT["lure"]
    assert "another rig" in book.remarks[0]


def test_undone_entries_leave_no_trace_and_lost_undos_are_told():
    out = entry("line_out", 0)
    wrong = entry("strike", 5)
    book = folded(out, wrong, entry("undo", 6, "", of=wrong.id), entry("line_in", 60))
    assert book.strikes == ()
    assert book.remarks == ()
    lost = folded(out, entry("undo", 6, "", of="0" * 32), entry("line_in", 60))
    assert "not in the log" in lost.remarks[0]


def test_rods_and_hours_add_up():
    book = folded(
        entry("line_out", 0), entry("line_out", 5, "blue", rig=LONG), entry("line_in", 65, "blue"), entry("line_in", 60)
    )
    assert book.hours == pytest.approx(2.0)
    assert {e.rod for e in book.exposures} == {"red", "blue"}
