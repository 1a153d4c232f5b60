"""What to look at and when: by age, by hours trolled, the work list with its usual remedies."""

from __future__ import annotations

import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.store.rooms import JET, SLEEVE

from spreadwright.stock.inspection import INTERVALS, LOOKS, Interval, due, due_list, remedy_for, work_list
from spreadwright.stock.kinds import KIND_NAMES
from spreadwright.stock.piece import piece_of
from spreadwright.stock.replay import OpenFault, State

CAME = datetime(2031, 3, 1, 9, tzinfo=UTC)
LURE, CRIMP = piece_of("lure", JET), piece_of("crimp", SLEEVE)


def test_every_kind_has_something_to_look_at_and_an_interval() -> None:
    assert set(LOOKS) == set(INTERVALS) == set(KIND_NAMES)
    assert all(look.how and look.fault and look.remedy for looks in LOOKS.values() for look in looks)


@pytest.mark.parametrize(("days", "overdue"), [(59, False), (60, True), (61, True)])
def test_age_counts_from_the_day_it_came_until_the_first_look(days, overdue) -> None:
    """A lure is looked at every 60 days."""
    told = due(LURE, State(fit=1, since=CAME), CAME.date() + timedelta(days=days))
    assert told is not None
    assert (told.overdue, told.day) == (overdue, date(2031, 4, 30))
    seen = due(LURE, State(fit=1, since=CAME, last_inspected=CAME + timedelta(days=50)), date(2031, 5, 1))
    assert seen is not None
    assert not seen.overdue


@pytest.mark.parametrize(("hours", "overdue"), [(9.9, False), (10.0, True)])
def test_hours_trolled_bring_the_look_nearer(hours, overdue) -> None:
    """A lure is looked at every 10 h in the water."""
    told = due(LURE, State(fit=1, since=CAME, hours=30.0, hours_since=hours), CAME.date())
    assert told is not None
    assert told.overdue == overdue
    assert told.hours_left == pytest.approx(10.0 - hours)
    assert ("10 h trolled since" in told.reason) == overdue


def test_a_captain_s_own_interval_goes_before_the_usual() -> None:
    own = {**INTERVALS, "lure": Interval(None, None)}
    told = due(LURE, State(fit=1, since=CAME, hours_since=500.0), date(2040, 1, 1), own)
    assert told is not None
    assert (told.overdue, told.day, told.hours_left) == (False, None, None)


def test_what_is_not_there_is_not_due_and_overdue_comes_first() -> None:
    states = {LURE.id: State(fit=1, since=CAME), CRIMP.id: State(fit=9, since=CAME)}
    assert [each.piece.kind for each in due_list([CRIMP, LURE], states, date(2031, 6, 1))] == ["lure", "crimp"]
    assert due(LURE, State(used=3, since=CAME), date(2040, 1, 1)) is None


def test_the_work_list_says_what_is_usually_done() -> None:
    states = {LURE.id: State(fit=0, work=(OpenFault("1" * 32, LURE.id, "dull hook", 2, CAME),))}
    (work,) = work_list([LURE, CRIMP], states)
    assert (work.fault.what, work.fault.quantity, work.remedy) == ("dull hook", 2, "sharpen")
    assert remedy_for("lure", "smells odd") == "judge: repair or retire"


def test_what_the_log_and_the_bench_saw_becomes_rates(tmp_path: Path) -> None:
    """An empty log leaves the guess; a logged day of cut-offs and damage at the bench moves each cause."""
    from tests.store.rooms import put

    from spreadwright.logbook.entry import Entry, Sheet
    from spreadwright.stock.event import happened
    from spreadwright.stock.losses import CAUSES
    from spreadwright.store.log_keep import add_entries
    from spreadwright.store.open import open_store
    from spreadwright.store.room import record
    from spreadwright.store.room_losses import learnt_rates

    start = datetime(2031, 3, 8, 6, tzinfo=UTC)

    def entry(number: int, kind: str, hour: float, **more: object) -> Entry:
        given = {"id": f"{number:032x}", "kind": kind, "at": start + timedelta(hours=hour), "rod": "red", **more}
        return Entry.model_validate(given)

    with open_store(tmp_path / "a.sqlite") as store:
        assert learnt_rates(store) == {cause.name: cause.prior for cause in CAUSES}
        entries = [
            entry(1, "line_out", 0.0, rig={"lure": "jet"}),
            entry(2, "strike", 1.0, outcome="cut off", took="lure"),
            entry(3, "strike", 2.0, outcome="cut off", took="weight"),
            entry(4, "line_in", 4.0),
        ]
        add_entries(store, Sheet(id="a" * 32, trip="t", boat="b"), entries)
        lure = put(store, "lure", JET, 3)
        record(store, happened(lure.id, "use", 2, why="damaged"), happened(lure.id, "use", 1, why="lost"))
        learnt = learnt_rates(store)
    logged = {name: rate.exposure - 96.0 for name, rate in learnt.items()}
    assert len(set(logged.values())) == 1
    assert 0.0 < logged["broken off"] <= 4.0
    more = {cause.name: learnt[cause.name].shape - cause.prior.shape for cause in CAUSES}
    assert more == {
        "lure bitten off": 1, "weight bitten off": 1, "broken off": 0, "leader damaged": 0, "lure damaged": 2,
    }  # fmt: skip
