"""The plan as a value: frozen all through, and the same after it was written and read back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError
from tests.plan.demo import Demo
from tests.plan.trips import SAMPLES, small_plan

from spreadwright.plan.value import Estimate, Plan


def parts(value: Any, where: str = "plan") -> Iterator[tuple[str, Any]]:
    """Everything in a plan, with its place."""
    yield where, value
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from parts(getattr(value, name), f"{where}.{name}")
    elif isinstance(value, tuple):
        for i, each in enumerate(value):
            yield from parts(each, f"{where}[{i}]")


def test_no_part_of_a_plan_can_be_changed(demo: Demo) -> None:
    models = [(where, part) for where, part in parts(demo.plan) if isinstance(part, BaseModel)]
    assert len(models) > 300
    for where, part in models:
        name = next(iter(type(part).model_fields))
        with pytest.raises(ValidationError, match="frozen"):
            setattr(part, name, getattr(part, name))
        with pytest.raises((ValidationError, TypeError, AttributeError)):
            delattr(part, name)
        with pytest.raises((ValidationError, ValueError)):
            part.something_new = 1  # type: ignore[attr-defined]
        assert where


def test_a_plan_holds_nothing_that_can_be_changed_from_within(demo: Demo) -> None:
    """Models, tuples, words and numbers: no list and no dictionary anywhere."""
    for where, part in parts(demo.plan):
        assert isinstance(part, BaseModel | tuple | str | int | float | bool | None), where


def test_a_plan_is_the_same_after_its_json_is_read(demo: Demo) -> None:
    text = demo.plan.to_json()
    again = Plan.from_json(text)
    assert again == demo.plan
    assert again.to_json() == text


def test_a_plan_is_the_same_after_it_was_written_and_read(demo: Demo, tmp_path: Path) -> None:
    path = tmp_path / "a plan ü.json"
    demo.plan.write(path)
    assert Plan.read(path) == demo.plan
    assert path.read_bytes() == demo.written.read_bytes()


def test_the_json_is_plain_and_says_what_it_is(demo: Demo) -> None:
    def no_constant(name: str) -> None:
        raise AssertionError(f"{name} is no JSON")

    told = json.loads(demo.plan.to_json(), parse_constant=no_constant)
    assert told["format"] == "spreadwright plan"
    assert told["version"] == 1


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"version": 2}, "version"),
        ({"format": "another plan"}, "format"),
        ({"something": 1}, "something"),
        ({"rods": [{}]}, "rods"),
        ({"speed": "fast"}, "speed"),
        ({"why": None}, "why"),
    ],
)
def test_what_is_no_plan_is_refused_by_name(change: dict[str, Any], place: str) -> None:
    told = json.loads(small_plan().to_json())
    Plan.from_json(json.dumps(told))
    with pytest.raises(ValidationError, match=place):
        Plan.from_json(json.dumps({**told, **change}))


def test_a_plan_with_a_part_missing_is_refused() -> None:
    told = json.loads(small_plan().to_json())
    del told["pairs"]
    with pytest.raises(ValidationError, match="pairs"):
        Plan.from_json(json.dumps(told))


def test_plans_that_differ_are_not_equal() -> None:
    plan = small_plan()
    assert plan.model_copy(update={"speed": plan.speed + 1e-9}) != plan


def test_the_same_trip_gives_the_same_plan() -> None:
    """Twice from the start: the search counts work, not seconds, so nothing depends on the machine's mood."""
    from tests.plan.trips import small_trip

    from spreadwright.plan.build import make_plan

    assert make_plan(small_trip(), samples=SAMPLES).to_json() == small_plan().to_json()


def test_a_rod_is_found_by_its_name() -> None:
    plan = small_plan()
    assert plan.rod("gold").rod == "gold"
    with pytest.raises(KeyError, match="purple"):
        plan.rod("purple")


def test_the_doubt_of_an_estimate_is_its_wider_side() -> None:
    assert Estimate(usual=5.0, low=4.0, high=8.0).doubt == 3.0
    assert Estimate(usual=5.0, low=1.0, high=6.0).doubt == 4.0
