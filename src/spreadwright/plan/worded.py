"""Sentences of a plan in both unit systems: made together, kept side by side, changed over when others are asked."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from spreadwright.plan.value import Plan
from spreadwright.quantity import System

TWINS = "other_units"  # the key of a plan's parts that holds each sentence's twin


class Worded(str):
    """A sentence in the trip's units that knows the same sentence in the other ones."""

    __slots__ = ("twin",)
    twin: str


def worded(units: System, say: Callable[[System], str]) -> Worded:
    """What `say` tells, in `units`, with the same in the other units beside it.

    >>> said = worded("us", lambda system: f"said in {system} units")
    >>> said, said.twin
    ('said in us units', 'said in metric units')
    """
    said = Worded(say(units))
    said.twin = say("us" if units == "metric" else "metric")
    return said


def as_part(sentence: str) -> str:
    """A sentence as a part of another: no capital, no full stop."""
    return f"{sentence[0].lower()}{sentence[1:].removesuffix('.')}"


def within(frame: str, said: str) -> str:
    """A sentence set into a frame at its {}, in both units if the sentence has both.

    >>> within("although {}", worded("us", lambda system: system)).twin  # type: ignore[attr-defined]
    'although metric'
    """
    if not isinstance(said, Worded):
        return frame.format(said)
    found = Worded(frame.format(said))
    found.twin = frame.format(said.twin)
    return found


def often_in_words(share: float) -> str:
    """How often something is so, from its share of the ways that it may be [-].

    >>> often_in_words(0.47), often_in_words(0.01)
    ('in about 5 of 10 ways that it may be', 'in fewer than 1 of 10 ways that it may be')
    """
    if share < 0.05:
        return "in fewer than 1 of 10 ways that it may be"
    return f"in about {max(1, round(10.0 * share))} of 10 ways that it may be"


def twins(sentences: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Each sentence that reads otherwise in the other units, and how it reads there."""
    found = {str(each): each.twin for each in sentences if isinstance(each, Worded)}
    return tuple((said, twin) for said, twin in found.items() if twin != said)


def in_units(plan: Plan, system: System | None) -> Plan:
    """The plan with its sentences in the units asked for; its numbers are SI either way.

    A plan made before sentences were kept in both units comes back as it is, and `units` says so.
    """
    if system is None or system == plan.units:
        return plan
    values = plan.model_dump()
    known = dict(_known(values))
    if not known:
        return plan
    changed: dict[str, Any] = _changed(values, known)
    return Plan.model_validate({**changed, "units": system})


def _known(part: Any) -> Iterable[tuple[str, str]]:
    """Every sentence with its twin, anywhere in the plan."""
    if isinstance(part, dict):
        for key, value in part.items():
            yield from value if key == TWINS else _known(value)
    elif isinstance(part, (list, tuple)) and part and not isinstance(part[0], float):
        for value in part:
            yield from _known(value)


def _changed(part: Any, known: dict[str, str]) -> Any:
    if isinstance(part, str):
        return known.get(part, part)
    if isinstance(part, dict):
        return {
            key: [(twin, said) for said, twin in value] if key == TWINS else _changed(value, known)
            for key, value in part.items()
        }
    if isinstance(part, (list, tuple)) and part and not isinstance(part[0], float):
        return [_changed(value, known) for value in part]
    return part
