"""The log in the store, on SQLite and PostgreSQL: imports in any order and any number, tracks once, bites renewed."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from tests.logbook.logs import SHORT, entry, season
from tests.logbook.tracks import weaving_fixes

from spreadwright.logbook.bite import Bite, Ran
from spreadwright.logbook.entry import Sheet, identity_of
from spreadwright.logbook.fixes import clean
from spreadwright.store.log_keep import add_entries, kept_bites, kept_log, log_of, put_bites
from spreadwright.store.log_tracks import add_track, kept_track, track_names
from spreadwright.store.open import open_store

ONE = Sheet(id=identity_of(1), trip="First", boat="Dory")
TWO = Sheet(id=identity_of(2), trip="Second", boat="Skiff")


def test_what_is_kept_is_what_came(store):
    entries = [
        entry("line_out", 0), entry("strike", 30, outcome="lost", position=(26.5, -70.25), mass=12.25, note="é “x”"),
        entry("line_in", 90),
    ]  # fmt: skip
    assert add_entries(store, ONE, entries).new == 3
    log = kept_log(store)
    assert set(log.entries.values()) == set(entries)
    assert log.sheets == {ONE.id: ONE}
    book = log_of(store)
    assert book.hours == pytest.approx(1.5)
    assert book.strikes[0].entry.note == "é “x”"


def test_reading_twice_adds_nothing(store):
    entries = season({"red": 0.5}, days=2)
    first = add_entries(store, ONE, entries)
    again = add_entries(store, ONE, list(reversed(entries)))
    assert (again.new, again.known, again.fuller) == (0, first.new, 0)
    assert "known already" in again.sentence


def test_imports_in_any_order_leave_the_same_log(tmp_path):
    out, strike, back = entry("line_out", 0), entry("strike", 5, id=identity_of("s")), entry("line_in", 60)
    fuller = entry("strike", 5, id=identity_of("s"), outcome="landed", species="wahoo")
    undo = entry("undo", 7, "", of=back.id)
    packets = [
        (ONE, [out, strike]),
        (TWO, [strike, back]),
        (ONE.model_copy(update={"trip": "First, renamed"}), [fuller, undo]),
    ]
    seen = []
    for number, order in enumerate(itertools.permutations(packets)):
        with open_store(tmp_path / f"{number}.sqlite") as store:
            for sheet, entries in order:
                add_entries(store, sheet, entries)
            log = kept_log(store)
            seen.append((sorted(e.canonical() for e in log.entries.values()), log.sheet_of, log.sheets))
    assert all(each == seen[0] for each in seen)
    assert any("landed" in text for text in seen[0][0])


def test_one_boat_of_several(store):
    add_entries(store, ONE, season({"red": 0.5}, days=1))
    add_entries(store, TWO, season({"blue": 0.5}, days=2))
    assert {e.rod for e in log_of(store, "Skiff").exposures} == {"blue"}
    assert len(log_of(store).exposures) == 3
    assert log_of(store, "nobody's").exposures == ()


def test_tracks_are_kept_once_and_come_back_whole(store):
    track = weaving_fixes(300)
    assert add_track(store, track)
    assert not add_track(store, track)
    later = clean(track.times + 1000.0, track.latitude, track.longitude, "later", "test")
    assert add_track(store, later)
    kept = kept_track(store)
    assert len(kept) == 602
    assert np.array_equal(kept.latitude[:301], track.latitude)
    assert len(kept.report.gaps) == 1
    assert [name for name, _, _ in track_names(store)] == ["made", "later"]


def test_no_track_is_no_fault(store):
    assert len(kept_track(store)) == 0
    with pytest.raises(ValueError, match="without a fix"):
        add_track(store, kept_track(store))


def test_bites_take_the_place_of_earlier_ones(store):
    out, strike = entry("line_out", 0, rig=SHORT), entry("strike", 5)
    add_entries(store, ONE, [out, strike])
    first = Bite(entry=strike.id, turn="port", side="inside", boat_speed=7.0, rate=0.1, lure_depth=1.4)
    put_bites(store, [first], [Ran(exposure=out.id, side={"inside": 1.0})])
    put_bites(store, [first.model_copy(update={"lure_depth": 2.0})], [Ran(exposure=out.id, side={"inside": 0.5})])
    bites, ran = kept_bites(store)
    assert bites[strike.id].lure_depth == 2.0
    assert ran[out.id].side == {"inside": 0.5}
