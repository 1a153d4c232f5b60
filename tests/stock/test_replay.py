"""Events and what follows from them: no count below zero, nothing lost or made up, any day's state."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.stock.event import Event, event_fault, happened
from spreadwright.stock.replay import NEVER_BELOW, end_of, history, replay

START = datetime(2031, 3, 1, 12, tzinfo=UTC)
PIECE = "a" * 32


def at(hours: float) -> datetime:
    return START + timedelta(hours=hours)


def event(kind: str, quantity: int = 0, hours: float = 0.0, **more: object) -> Event:
    return happened(PIECE, kind, quantity, at=at(hours), **more)  # type: ignore[arg-type]


def state(*events: Event, until: datetime | None = None):
    outcome = replay(events, until)
    assert outcome.wrong == ()
    return outcome.state(PIECE)


def test_a_season_by_hand() -> None:
    dull = event("fault", 2, 5, why="dull hook")
    told = state(
        event("count", 5, 0), event("buy", 3, 1), event("use", 1, 2, why="bitten off"), event("make", 1, 3), dull,
        event("repaired", 1, 6, of=dull.id), event("retire", 1, 7, of=dull.id), event("retire", 2, 8),
        replace(event("trolled", 0, 9), hours=4.0), event("count", 3, 10),
    )  # fmt: skip
    assert (told.fit, told.needs_work, told.used, told.retired, told.found) == (3, 0, 1, 3, 5 - 2)
    assert told.hours == told.hours_since == 4.0
    assert told.last_counted == at(10)


def test_the_work_list_keeps_what_is_left_of_a_fault() -> None:
    dull = event("fault", 3, 1, why="dull hook")
    told = state(event("count", 4), dull, event("repaired", 1, 2, of=dull.id))
    assert told.fit == 2
    assert [(fault.what, fault.quantity, fault.since) for fault in told.work] == [("dull hook", 2, at(1))]
    assert told.there == 4


def test_a_look_starts_the_hours_anew_and_moving_says_where() -> None:
    told = state(
        event("count", 1), replace(event("trolled", 0, 1), hours=6.0), event("inspect", 0, 2),
        replace(event("trolled", 0, 3), hours=2.0), event("moved", 0, 4, why="left drawer"),
    )  # fmt: skip
    assert (told.hours, told.hours_since, told.last_inspected, told.place) == (8.0, 2.0, at(2), "left drawer")


@pytest.mark.parametrize(
    "events",
    [
        [event("count", 2), event("use", 3, 1)],
        [event("use", 1)],
        [event("buy", 2), event("retire", 3, 1)],
        [event("buy", 2), event("fault", 3, 1, why="rust")],
        [event("buy", 2), event("repaired", 1, 1, of="f" * 32)],
        [event("buy", 2, 5), event("use", 1, 1)],  # used before it came
    ],
)
def test_what_would_go_below_zero_is_left_out_and_named(events) -> None:
    outcome = replay(events)
    assert [fault.rule for fault in outcome.wrong] == [NEVER_BELOW]
    assert outcome.state(PIECE).fit >= 0


def test_a_later_count_makes_an_earlier_slip_right() -> None:
    """What was found to be there counts, whatever was written down before it."""
    assert state(event("buy", 9, 0), event("count", 4, 2), event("use", 2, 1)).fit == 4


def test_any_day_s_state_is_rebuilt() -> None:
    events = [event("count", 5, 0), event("use", 2, 24), event("buy", 4, 48)]
    days = [date(2031, 2, 28), date(2031, 3, 1), date(2031, 3, 2), date(2031, 3, 3)]
    assert [replay(events, end_of(day)).state(PIECE).fit for day in days] == [0, 5, 3, 7]


def test_history_tells_before_and_after() -> None:
    lines = history([event("count", 5, 0), event("use", 2, 1), event("inspect", 0, 2)])
    assert [(line.event.kind, line.before, line.after) for line in lines] == [
        ("count", 0, 5), ("use", 5, 3), ("inspect", 3, 3),
    ]  # fmt: skip


STEPS = st.lists(
    st.tuples(
        st.sampled_from(["count", "use", "buy", "make", "retire", "fault", "repaired", "settle"]),
        st.integers(0, 6), st.integers(0, 3),
    ),
    max_size=40,
)  # fmt: skip


def season(steps: list[tuple[str, int, int]]) -> list[Event]:
    """Events from steps, each an hour after the one before; faults are settled by the ones that are open."""
    events: list[Event] = []
    for hour, (kind, number, pick) in enumerate(steps):
        faults = [each.id for each in events if each.kind == "fault"]
        of = faults[pick % len(faults)] if faults else "f" * 32
        if kind == "count":
            events.append(event("count", number, hour))
        elif kind in ("repaired", "settle"):
            events.append(event("repaired" if kind == "repaired" else "retire", max(1, number), hour, of=of))
        else:
            events.append(event(kind, max(1, number), hour, why="worn"))
    return events


@given(STEPS)
def test_counts_never_go_below_zero_and_nothing_is_lost(steps) -> None:
    events = season(steps)
    outcome = replay(events)
    told = outcome.state(PIECE)
    assert min(told.fit, told.needs_work, told.used, told.retired) >= 0
    assert all(fault.quantity > 0 for fault in told.work)
    kept = [line.event for line in history(events)]
    came = sum(each.quantity for each in kept if each.kind in ("buy", "make"))
    assert told.fit + told.needs_work + told.used + told.retired == came + told.found
    assert len(kept) + len(outcome.wrong) == len(events)


@given(STEPS, st.integers(0, 40))
def test_a_day_s_state_is_what_was_known_then(steps, hour) -> None:
    events = season(steps)
    assert replay(events, at(hour)) == replay([each for each in events if each.at <= at(hour)])


@given(STEPS, st.randoms(use_true_random=False))
def test_the_order_of_writing_does_not_matter_where_times_differ(steps, dice) -> None:
    events = season(steps)
    shuffled = events[:]
    dice.shuffle(shuffled)
    assert replay(shuffled).states == replay(events).states


@pytest.mark.parametrize(
    ("wrong", "rule"),
    [
        (event("use", 0), "a whole number from 1"),
        (event("count", -1), "a whole number from 0"),
        (event("count", 10_000_001), "a whole number from 0"),
        (event("use", True), "a whole number"),
        (event("stolen", 1), "is one of"),
        (event("fault", 1), "says what is wrong"),
        (event("moved"), "says where it lies now"),
        (event("repaired", 1), "a fault on the work list"),
        (event("use", 1, of="f" * 32), "settles no fault"),
        (event("trolled"), "hours in the water"),
        (replace(event("use", 1), hours=2.0), "only 'trolled' has hours"),
        (replace(event("buy", 1), price=Decimal("-1")), "zero or more"),
        (replace(event("buy", 1), price=Decimal("NaN")), "zero or more"),
        (replace(event("buy", 1), at=datetime(2031, 3, 1)), "has its zone"),
        (event("use", 1, note="x" * 2001), "at most 2000 characters"),
        (event("use", 1, note="a\0b"), "at most 2000 characters"),
    ],
)
def test_an_event_that_makes_no_sense_says_why(wrong, rule) -> None:
    fault = event_fault(wrong)
    assert fault is not None
    assert rule in fault.rule
    assert event_fault(event("use", 1)) is None
