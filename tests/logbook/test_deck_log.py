"""The deck sheet's export: read whole, faulty entries named with their place, unknown keys told."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.logbook.logs import SHEET, SHORT, entry, exported

from spreadwright.faults import Faults
from spreadwright.logbook.deck_log import deck_log_from_text, deck_log_text, read_deck_log

# As the deck sheet writes one: milliseconds and Z, nulls for what is not known.
RIG = {
    "station": "port corner", "mark": 30.48, "weight": "64 oz torpedo", "shock_leader": "20 ft of 400 lb",
    "bite_leader": "3 ft of 270 lb wire", "lure": "black-purple jet 9 in",
}  # fmt: skip
STRIKE: dict[str, Any] = {
    "id": "0123456789abcdef0123456789abcdef", "kind": "strike", "at": "2031-03-08T06:41:07.120Z", "rod": "red 130",
    "rig": RIG,
    "took": "lure", "outcome": "landed", "species": "wahoo", "length": 1.2, "mass": None,
    "position": [26.5, -70.25], "turn": "port", "note": "",
}  # fmt: skip


def test_an_export_is_read():
    log = deck_log_from_text(exported([STRIKE]))
    (strike,) = log.entries
    assert (log.sheet.id, log.sheet.trip, log.sheet.boat) == (SHEET, "Test trip", "Dory")
    assert strike.at.isoformat() == "2031-03-08T06:41:07.120000+00:00"
    assert strike.rig is not None
    assert strike.rig.mark == 30.48
    assert strike.position == (26.5, -70.25)
    assert (strike.mass, strike.turn, strike.outcome) == (None, "port", "landed")
    assert log.faults == ()
    assert log.remarks == ()


def test_what_is_written_is_read_back_the_same():
    log = deck_log_from_text(exported([STRIKE, entry("line_out", 0), entry("undo", 3, "", of=STRIKE["id"])]))
    again = deck_log_from_text(deck_log_text(log.sheet, log.entries))
    assert set(again.entries) == set(log.entries)
    assert again.sheet == log.sheet


def test_every_faulty_entry_is_named_and_the_sound_ones_are_read():
    bad = [
        {**STRIKE, "id": "short"},
        {**STRIKE, "kind": "bite"},
        {key: value for key, value in STRIKE.items() if key != "at"},
        {**STRIKE, "at": "yesterday", "mass": -3.0},
        "no table",
        {**STRIKE, "rig": {**SHORT, "mark": "far"}},
        {**STRIKE, "rod": ""},
    ]
    log = deck_log_from_text(exported([STRIKE, *bad]))
    assert [e.id for e in log.entries] == [STRIKE["id"]]
    places = {fault.place for fault in log.faults}
    assert places >= {
        "entries[2].id", "entries[3].kind", "entries[4].at", "entries[5].at", "entries[5].mass", "entries[6]",
        "entries[7].rig.mark", "entries[8]",
    }  # fmt: skip
    for fault in log.faults:
        assert fault.given
        assert fault.rule
        assert "{" not in fault.rule + fault.next_step
    kinds = next(fault for fault in log.faults if fault.place == "entries[3].kind")
    assert "line_out" in kinds.rule
    assert kinds.given == "'bite'"
    assert next(f for f in log.faults if f.place == "entries[4].at").rule == "'at' is needed here"


def test_keys_of_a_later_sheet_are_told_and_left_out():
    later = {**STRIKE, "barometer": 1013, "rig": {**RIG, "trim": 2}}
    log = deck_log_from_text(exported([later, {**later, "id": "f" * 32}], colour="dark"))
    assert len(log.entries) == 2
    assert any("'barometer'" in remark and "2 times" in remark for remark in log.remarks)
    assert any("'trim' of a rig" in remark for remark in log.remarks)
    assert any("'colour' at the top" in remark for remark in log.remarks)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("no json", "no JSON"),
        ("[]", "a deck log says format"),
        (json.dumps({"format": "something"}), "a deck log says format"),
        (exported([], version=2), "version 1"),
        (exported([]).replace('"entries": []', '"entries": 3'), "list of entries"),
        (exported([], sheet="x"), "32 hexadecimal"),
    ],
)
def test_what_is_no_deck_log_is_told(text, told):
    with pytest.raises(Faults, match=told):
        deck_log_from_text(text)


def test_a_file_that_is_not_there_and_one_that_is_no_text(tmp_path):
    with pytest.raises(Faults, match="could not be read"):
        read_deck_log(tmp_path / "none.json")
    (tmp_path / "x.json").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(Faults, match="no text"):
        read_deck_log(tmp_path / "x.json")
