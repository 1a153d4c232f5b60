"""Entries: merging in any order gives one log, an undo takes back, and every kind says what it needs."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from tests.logbook.logs import SHORT, at, entry

from spreadwright.logbook.entry import Entry, identity_of, merged, standing

IDS = [identity_of(i) for i in range(6)]


def said(log):
    return {key: value.canonical() for key, value in log.items()}


def test_entries_are_kept_in_universal_time():
    told = Entry.model_validate({"id": IDS[0], "kind": "note", "at": "2031-03-08T06:41:07.120-05:00", "note": "x"})
    assert told.at.isoformat() == "2031-03-08T11:41:07.120000+00:00"


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.builds(
            lambda i, minutes, note, of: entry("undo", minutes, "", id=IDS[i], of=IDS[of], note=note)
            if of < i
            else entry("strike", minutes, "red", id=IDS[i], note=note),
            st.integers(0, 5), st.integers(0, 3), st.sampled_from(["", "a", "bb"]), st.integers(0, 5),
        ),
        max_size=12,
    ),
    st.randoms(use_true_random=False),
)  # fmt: skip
def test_any_order_and_any_repetition_give_the_same_log(entries, random):
    shuffled = [*entries, *entries[: len(entries) // 2]]
    random.shuffle(shuffled)
    half = len(shuffled) // 2
    once, twice = merged(entries), merged(merged(shuffled[half:]).values(), shuffled[:half], entries)
    assert said(once) == said(twice)
    assert [e.id for e in standing(once)] == [e.id for e in standing(twice)]


def test_of_two_entries_with_one_id_the_one_that_says_more_is_kept():
    bare = entry("strike", 5, "red", id=IDS[0])
    full = entry("strike", 5, "red", id=IDS[0], outcome="landed", species="wahoo")
    for order in itertools.permutations([bare, full]):
        assert merged(order)[IDS[0]] == full


def test_an_undo_takes_back_and_may_be_taken_back():
    strike = entry("strike", 5, "red", id=IDS[0])
    undo = entry("undo", 6, "", id=IDS[1], of=IDS[0])
    again = entry("undo", 7, "", id=IDS[2], of=IDS[1])
    assert standing(merged([strike])) == [strike]
    assert standing(merged([strike, undo])) == []
    assert standing(merged([again, strike, undo])) == [strike]


def test_undos_in_a_circle_end():
    strike = entry("strike", 5, "red", id=IDS[0])
    circle = [entry("undo", 6, "", id=IDS[1], of=IDS[2]), entry("undo", 6, "", id=IDS[2], of=IDS[1])]
    assert standing(merged([strike, *circle])) == [strike]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"kind": "strike", "rod": ""}, "says which rod"),
        ({"kind": "line_out"}, "what it fishes"),
        ({"kind": "undo"}, "which entry it takes back"),
        ({"id": "12"}, "32|pattern"),
        ({"at": "2031-03-08T06:41:07"}, "timezone"),
        ({"at": "1970-01-01T00:00:00Z"}, "1990"),
        ({"position": [91.0, 0.0]}, "latitude"),
        ({"mass": float("nan")}, "finite|greater"),
        ({"surprise": 1}, "xtra"),
    ],
)
def test_what_an_entry_refuses(change, told):
    sound = {"id": IDS[0], "kind": "strike", "at": at(0), "rod": "red"}
    assert Entry.model_validate(sound).rod == "red"
    with pytest.raises(ValidationError, match=told):
        Entry.model_validate({**sound, **change})


def test_an_id_made_from_what_is_said_lasts():
    assert identity_of("a", 1) == identity_of("a", "1")
    assert identity_of("a", 1) != identity_of("a1")
    rig = entry("line_out", 3).rig
    assert rig is not None
    assert rig.mark == SHORT["mark"]
