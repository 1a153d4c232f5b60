"""Papers and limits as entered: what has run out, what is stale, and no claim to know the law."""

from datetime import date

import pytest

from spreadwright.day.papers import NOTICE, CatchLimit, Concern, Paper, review

TRIP = date(2026, 4, 4)


def one(entry, **more):
    papers, limits = ([entry], []) if isinstance(entry, Paper) else ([], [entry])
    (finding,) = review(papers, limits, TRIP, **more)
    return finding


def test_a_licence_that_has_run_out_is_not_valid_however_freshly_checked():
    found = one(Paper("fishing licence", "mate", valid_until=date(2026, 4, 3), checked_on=TRIP))
    assert found.concern is Concern.NOT_VALID
    assert found.entry == "fishing licence (mate)"
    assert found.words == "entered as valid until 2026-04-03, before the trip on 2026-04-04"
    assert found.next_step == "renew it, or correct the entry"


def test_the_last_day_still_holds():
    assert one(Paper("permit", valid_until=TRIP, checked_on=TRIP)).concern is Concern.FINE


@pytest.mark.parametrize(
    ("checked", "concern"),
    [(date(2026, 4, 4), Concern.FINE), (date(2026, 3, 5), Concern.FINE), (date(2026, 3, 4), Concern.LOOK_AGAIN)],
)
def test_a_limit_goes_stale_after_thirty_days(checked, concern):
    found = one(CatchLimit("wahoo", "the bank", 2, "person and day", source="notice board", checked_on=checked))
    assert found.concern is concern
    if concern is Concern.LOOK_AGAIN:
        assert found.words == "checked on 2026-03-04, 31 days before the trip (more than 30)"
    else:
        assert found.next_step == "read the authority's notice again on the day"


def test_a_paper_goes_stale_after_a_year_or_as_asked():
    paper = Paper("registration", checked_on=date(2025, 9, 1))
    assert one(paper).concern is Concern.FINE
    assert one(paper, stale_paper_days=90).concern is Concern.LOOK_AGAIN


@pytest.mark.parametrize("entry", [Paper("registration"), CatchLimit("wahoo", "", source="hearsay")])
def test_an_entry_without_a_date_is_never_fine(entry):
    found = one(entry)
    assert found.concern is Concern.LOOK_AGAIN
    assert "no date was entered" in found.words


def test_a_check_dated_after_the_trip_is_a_slip():
    found = one(Paper("registration", checked_on=date(2026, 5, 1)))
    assert found.concern is Concern.LOOK_AGAIN
    assert "after the trip" in found.words


def test_a_limit_without_its_source_cannot_be_checked_again():
    found = one(CatchLimit("wahoo", "the bank", 2, checked_on=TRIP))
    assert found.concern is Concern.LOOK_AGAIN
    assert found.words == "no source was entered"


def test_the_most_pressing_comes_first_and_nothing_is_dropped():
    papers = [Paper("a", checked_on=TRIP), Paper("b"), Paper("c", valid_until=date(2020, 1, 1))]
    found = review(papers, [CatchLimit("wahoo", "x")], TRIP)
    assert [finding.concern for finding in found] == [
        Concern.NOT_VALID, Concern.LOOK_AGAIN, Concern.LOOK_AGAIN, Concern.FINE,
    ]  # fmt: skip
    assert review([], [], TRIP) == ()


def test_it_never_claims_to_know_the_law():
    assert "not the law" in NOTICE
    found = review([Paper("a", checked_on=TRIP)], [CatchLimit("wahoo", "x", 2, source="s", checked_on=TRIP)], TRIP)
    for finding in found:
        assert "legal" not in finding.words
        assert finding.next_step
