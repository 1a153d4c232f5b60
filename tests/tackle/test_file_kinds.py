"""The wrong one of a captain's files is told in one sentence, and what was given is never a page of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from spreadwright.cli import app
from spreadwright.faults import Faults
from spreadwright.quantity import quote
from spreadwright.tackle.file_kinds import check_kind, kind_of_file

DEMO = Path(__file__).parents[2] / "examples" / "demo"
TRIP, DAY, READINGS = (DEMO / f"{name}.toml" for name in ("trip", "day", "readings"))
TOW = next((DEMO.parent / "tow").glob("*.toml"))


@pytest.mark.parametrize(
    ("arguments", "looks", "wanted"),
    [
        (("tow", TRIP), "trip", "tow"),
        (("measure", TRIP, TRIP), "trip", "readings"),
        (("day", TRIP, "--day", TRIP), "trip", "day"),
        (("plan", TOW), "tow", "trip"),
        (("plan", READINGS), "readings", "trip"),
        (("rig", DAY), "day", "trip"),
    ],
)
def test_the_wrong_file_is_one_fault(arguments: tuple[object, ...], looks: str, wanted: str) -> None:
    told = CliRunner().invoke(app, [*map(str, arguments)])
    assert told.exit_code == 2
    assert told.stderr.startswith("1 fault in ")
    assert f"this looks like a {looks} file" in told.stderr
    assert f"a {wanted} file is wanted" in told.stderr


def test_a_file_of_the_right_kind_or_of_none_is_read_on() -> None:
    check_kind({"lines": []}, "tow", "x")
    check_kind({"lines": [], "outfits": []}, "trip", "x")  # a trip file with a stray key: that key is told
    check_kind({"whatever": 1}, "trip", "x")
    assert kind_of_file({"whatever": 1}) == ""
    with pytest.raises(Faults, match="a day file is wanted"):
        check_kind({"readings": []}, "day", "x")


def test_what_was_given_is_never_more_than_60_characters() -> None:
    deep = {f"key {i}": {"inside": ["a long text that goes on"] * 6} for i in range(9)}
    assert len(quote(deep)) == 60
    assert quote(deep).endswith("...")
    assert quote("short") == "'short'"
