"""The moon's names and quarters, month after month."""

import itertools
from datetime import UTC, datetime, timedelta

import pytest

from spreadwright.day.moon import moon_phase, next_quarters


def test_the_names_go_round_in_a_month():
    found = next_quarters(datetime(2026, 5, 1, tzinfo=UTC), 9)
    start = next(index for index, (_, name) in enumerate(found) if name == "new moon")
    names = []
    for (one, _), (other, _) in itertools.pairwise(found[start : start + 5]):
        names += [moon_phase(one).name, moon_phase(one + (other - one) / 2).name]
    assert names == [
        "new moon", "waxing crescent", "first quarter", "waxing gibbous",
        "full moon", "waning gibbous", "last quarter", "waning crescent",
    ]  # fmt: skip


def test_lit_and_age_at_the_quarters():
    for when, name in next_quarters(datetime(2026, 1, 1, tzinfo=UTC), 12):
        phase = moon_phase(when)
        assert phase.name == name
        wanted = {"new moon": 0.0, "first quarter": 0.5, "full moon": 1.0, "last quarter": 0.5}[name]
        assert phase.lit == pytest.approx(wanted, abs=0.005)
        if name == "full moon":
            assert phase.age_days == pytest.approx(14.77, abs=0.01)


def test_quarters_follow_one_another_by_six_to_nine_days_forever():
    after = datetime(2026, 1, 1, tzinfo=UTC)
    found = next_quarters(after, 50)
    assert found[0][0] > after
    for (one, name), (other, next_name) in itertools.pairwise(found):
        assert timedelta(days=6) < other - one < timedelta(days=9)
        assert name != next_name
    assert next_quarters(after, 0) == ()
    again = next_quarters(found[0][0] + timedelta(seconds=1), 1)
    assert again[0] == found[1]


def test_a_moment_without_a_zone_is_refused():
    with pytest.raises(ValueError, match="needs its time zone"):
        moon_phase(datetime(2026, 1, 1))
