"""The lock answers the dependencies as they are written now, and each kind of disagreement is found."""

import tomllib
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import house

Wanted = set[tuple[str, str, str, str]]  # group or extra, name, extras, versions


def written(project: dict[str, Any]) -> Wanted:
    groups = {
        "": project["project"]["dependencies"],
        **project["project"]["optional-dependencies"],
        **{f"group {name}": items for name, items in project["dependency-groups"].items()},
    }
    parsed = [(group, Requirement(item)) for group, items in groups.items() for item in items]
    return {
        (group, canonicalize_name(one.name), ",".join(sorted(one.extras)), str(one.specifier)) for group, one in parsed
    }


def locked(lock: dict[str, Any]) -> Wanted:
    (own,) = [package for package in lock["package"] if package["name"] == "spreadwright"]
    metadata = own["metadata"]
    entries = [(one.get("marker", "").removeprefix("extra == ").strip("'"), one) for one in metadata["requires-dist"]]
    for name, items in metadata["requires-dev"].items():
        entries += [(f"group {name}", one) for one in items]
    return {
        (group, one["name"], ",".join(sorted(one.get("extras", []))), one.get("specifier", ""))
        for group, one in entries
    }


def load(name: str) -> dict[str, Any]:
    return tomllib.loads((house.ROOT / name).read_text(encoding="utf-8"))


def test_the_lock_answers_the_dependencies_as_written():
    assert written(load("pyproject.toml")) == locked(load("uv.lock")), "run `make lock`"
    assert load("pyproject.toml")["project"]["requires-python"] == load("uv.lock")["requires-python"]


@pytest.mark.parametrize("part", ["dependencies", "extra", "group"])
def test_a_dependency_that_is_not_locked_is_found(part):
    project = load("pyproject.toml")
    target = {
        "dependencies": project["project"]["dependencies"],
        "extra": project["project"]["optional-dependencies"]["cluster"],
        "group": project["dependency-groups"]["dev"],
    }[part]
    target.append("newcomer>=1")
    assert written(project) != locked(load("uv.lock"))


def test_a_changed_bound_is_found():
    project = load("pyproject.toml")
    project["project"]["dependencies"][0] += ",<99"
    assert written(project) != locked(load("uv.lock"))
