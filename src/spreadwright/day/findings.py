"""One line of the go list: a number of the day held against one of the captain's own limits."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from spreadwright.day.ranges import Range
from spreadwright.day.wording import Number, Sentence


class Answer(IntEnum):
    """The three answers; the greater, the stronger the reason to stay."""

    GO = 0
    WAIT = 1
    NO_GO = 2

    @property
    def word(self) -> str:
        """As it is said."""
        return ("go", "wait", "no-go")[self]


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the list: the topic, the answer, its reason and the next step."""

    topic: str
    answer: Answer
    reason: Sentence
    next_step: str


def not_set(topic: str) -> Finding:
    """Wait: the captain has not said what is too much."""
    return Finding(
        topic,
        Answer.WAIT,
        Sentence(f"You have set no limit for {topic}."),
        f"decide what this boat and crew take and enter it as your limit for {topic}",
    )


def not_known(topic: str, limit: float, dimension: str) -> Finding:
    """Wait: there is a limit [any] and nothing to hold against it."""
    return Finding(
        topic,
        Answer.WAIT,
        Sentence.of(f"Nothing is known of {topic}, and your limit is {{limit}}.", limit=Number(limit, dimension)),
        "get a forecast or a report",
    )


def at_most(topic: str, given: Range, limit: float, dimension: str) -> Finding:
    """No-go over the limit [any], wait if the doubt reaches over it, else go."""
    numbers = {
        "given": Number(given.usual, dimension),
        "high": Number(given.high, dimension),
        "limit": Number(limit, dimension),
    }
    name = topic.capitalize()
    if given.usual > limit:
        reason = Sentence.of(f"{name} {{given}}, over your limit of {{limit}}.", **numbers)
        return Finding(topic, Answer.NO_GO, reason, "stay in, or wait for it to ease")
    if given.high > limit:
        reason = Sentence.of(f"{name} {{given}}, within your limit of {{limit}}, but it may reach {{high}}.", **numbers)
        return Finding(topic, Answer.WAIT, reason, "look at the next forecast, or fish closer to home")
    return Finding(
        topic, Answer.GO, Sentence.of(f"{name} {{given}}, within your limit of {{limit}}.", **numbers), "watch it"
    )


def at_least(topic: str, given: Range, limit: float, dimension: str) -> Finding:
    """No-go under the limit [any], wait if the doubt reaches under it, else go."""
    numbers = {
        "given": Number(given.usual, dimension),
        "low": Number(given.low, dimension),
        "limit": Number(limit, dimension),
    }
    name = topic.capitalize()
    if given.usual < limit:
        reason = Sentence.of(f"{name} {{given}}, under your limit of {{limit}}.", **numbers)
        return Finding(topic, Answer.NO_GO, reason, "stay in until it is enough")
    if given.low < limit:
        reason = Sentence.of(
            f"{name} {{given}}, within your limit of {{limit}}, but it may fall to {{low}}.", **numbers
        )
        return Finding(topic, Answer.WAIT, reason, "wait until it is sure")
    return Finding(
        topic, Answer.GO, Sentence.of(f"{name} {{given}}; you want {{limit}} or more.", **numbers), "watch it"
    )
