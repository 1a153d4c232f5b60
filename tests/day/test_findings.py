"""A number against a limit: go, wait or no-go, and the words for it."""

import pytest

from spreadwright.day.findings import Answer, at_least, at_most, not_known, not_set
from spreadwright.day.ranges import Range
from spreadwright.day.wind import KNOT


@pytest.mark.parametrize(
    ("low", "usual", "high", "answer", "words"),
    [
        (10, 14, 18, Answer.GO, "Wind 14 kn, within your limit of 20 kn."),
        (10, 14, 20, Answer.GO, "Wind 14 kn, within your limit of 20 kn."),
        (10, 14, 24, Answer.WAIT, "Wind 14 kn, within your limit of 20 kn, but it may reach 24 kn."),
        (10, 20, 24, Answer.WAIT, "Wind 20 kn, within your limit of 20 kn, but it may reach 24 kn."),
        (10, 22, 24, Answer.NO_GO, "Wind 22 kn, over your limit of 20 kn."),
    ],
)
def test_at_most(low, usual, high, answer, words):
    found = at_most("wind", Range(low * KNOT, usual * KNOT, high * KNOT), 20 * KNOT, "speed")
    assert (found.answer, found.reason.read()) == (answer, words)
    assert found.next_step


@pytest.mark.parametrize(
    ("low", "usual", "answer", "words"),
    [
        (3000, 5000, Answer.GO, "Visibility 5000 m; you want 2000 m or more."),
        (1500, 5000, Answer.WAIT, "Visibility 5000 m, within your limit of 2000 m, but it may fall to 1500 m."),
        (1000, 1500, Answer.NO_GO, "Visibility 1500 m, under your limit of 2000 m."),
    ],
)
def test_at_least(low, usual, answer, words):
    found = at_least("visibility", Range(low, usual, 9000.0), 2000.0, "length")
    assert (found.answer, found.reason.read()) == (answer, words)


def test_what_is_not_set_or_not_known_waits():
    assert not_set("wind").answer is Answer.WAIT
    assert not_set("wind").reason.read() == "You have set no limit for wind."
    unknown = not_known("wave height", 1.5, "length")
    assert unknown.answer is Answer.WAIT
    assert unknown.reason.read() == "Nothing is known of wave height, and your limit is 1.5 m."


def test_the_words_of_the_answers():
    assert [answer.word for answer in Answer] == ["go", "wait", "no-go"]
