"""What is kept: across restarts, under names of our own, and never over a file of the captain's."""

from __future__ import annotations

import pytest

from spreadwright.faults import Faults
from spreadwright.plan.tryout_hand import first_hand
from spreadwright.web import kept as module
from spreadwright.web.kept import Kept, KeptSpread, name_of


def test_an_upload_its_plan_and_its_spreads_survive_a_restart(tmp_path, text, plan):
    kept = Kept(tmp_path)
    trip = kept.add(text)
    kept.put_plan(trip, plan)
    kept.put_spread(trip, KeptSpread(name="mine", spread=first_hand(trip.trip)))
    again = Kept(tmp_path).get(trip.name)
    assert again is not None
    assert again.plan == plan
    assert [each.name for each in again.spreads] == ["mine"]
    assert again.start() == trip.start()


def test_files_go_by_names_of_our_own(tmp_path, text):
    kept = Kept(tmp_path)
    kept.add(text)
    assert [path.name for path in tmp_path.iterdir()] == [f"{name_of(text)}.trip.toml"]


def test_the_same_text_is_one_trip(tmp_path, text):
    kept = Kept(tmp_path)
    assert kept.add(text) is kept.add(text)
    assert len(kept.all()) == 1


def test_a_trip_at_fault_is_not_kept(tmp_path, text):
    kept = Kept(tmp_path)
    with pytest.raises(Faults):
        kept.add(text.replace("15 kn", "15"))
    assert list(tmp_path.iterdir()) == []


def test_an_opened_file_is_read_again_but_never_written_or_removed(tmp_path, trip_file, text):
    kept = Kept(tmp_path / "kept", (trip_file,))
    (trip,) = kept.all()
    assert not kept.remove(trip.name)
    assert kept.read_again(trip.name) is trip
    trip_file.write_text(text.replace("A small trip", "Another"), encoding="utf-8")
    fresh = kept.read_again(trip.name)
    assert fresh is not None
    assert fresh.trip.title == "Another"
    assert [each.trip.title for each in kept.all()] == ["Another"]


def test_removing_an_upload_removes_all_that_was_made_of_it(tmp_path, text, plan):
    kept = Kept(tmp_path)
    trip = kept.add(text)
    kept.put_plan(trip, plan)
    assert kept.remove(trip.name)
    assert list(tmp_path.iterdir()) == []
    assert kept.get(trip.name) is None


def test_a_file_of_ours_that_cannot_be_read_is_passed_over(tmp_path, text):
    kept = Kept(tmp_path)
    trip = kept.add(text)
    (tmp_path / f"{trip.name}.plan.json").write_text("{", encoding="utf-8")
    (tmp_path / "stray.trip.toml").write_text("= nothing", encoding="utf-8")
    again = Kept(tmp_path)
    assert [each.plan for each in again.all()] == [None]


def test_there_are_limits(tmp_path, text, monkeypatch):
    monkeypatch.setattr(module, "MOST_TRIPS", 1)
    monkeypatch.setattr(module, "MOST_SPREADS", 1)
    kept = Kept(tmp_path)
    trip = kept.add(text)
    with pytest.raises(Faults, match="1 trips are kept"):
        kept.add(text + "\n# another")
    one = KeptSpread(name="one", spread=first_hand(trip.trip))
    kept.put_spread(trip, one)
    kept.put_spread(trip, one)
    with pytest.raises(Faults, match="remove one first"):
        kept.put_spread(trip, one.model_copy(update={"name": "two"}))
    with pytest.raises(Faults, match="KiB"):
        kept.add("#" * 300_000)
