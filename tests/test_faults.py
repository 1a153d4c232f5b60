"""Faults: one block a fault, and never an empty list."""

from __future__ import annotations

import dataclasses
import pickle

import pytest

from spreadwright.faults import Fault, Faults

MARK = Fault(
    place="outfits[2].marks[3]",
    given="'900 yd'",
    rule="a mark must be on the line, and '600 yd' is on the spool",
    next_step="tie the mark nearer, or correct the line's length",
    item="green 80",
    line=48,
)


def test_a_fault_reads_as_one_block() -> None:
    assert str(MARK) == (
        'outfits[2].marks[3] ("green 80", line 48)\n'
        "  given: '900 yd'\n"
        "  rule:  a mark must be on the line, and '600 yd' is on the spool\n"
        "  next:  tie the mark nearer, or correct the line's length"
    )


def test_place_alone_when_nothing_else_is_known() -> None:
    assert str(dataclasses.replace(MARK, item="", line=None)).splitlines()[0] == "outfits[2].marks[3]"


def test_all_faults_are_shown_at_once() -> None:
    text = str(Faults([MARK, MARK], "trip.toml"))
    assert text == f"2 faults in trip.toml:\n\n{MARK}\n\n{MARK}"
    assert str(Faults([MARK])).startswith("1 fault:\n\n")


def test_faults_are_a_value_too() -> None:
    faults = Faults(iter([MARK]), "trip.toml")
    assert list(faults) == [MARK]
    assert len(faults) == 1
    copy = pickle.loads(pickle.dumps(faults))  # as it travels from a worker process
    assert (copy.faults, copy.source) == (faults.faults, "trip.toml")


def test_no_fault_is_no_failure() -> None:
    with pytest.raises(ValueError, match="at least one Fault"):
        Faults([])


def test_a_fault_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        MARK.rule = "another"  # type: ignore[misc]
