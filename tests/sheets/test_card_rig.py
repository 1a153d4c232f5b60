"""A rig in words, from reel to hook: complete with the trip, honest without it, in the captain's units."""

from pathlib import Path

import pytest
from tests.sheets.example_plan import example_plan

from spreadwright.sheets.card_rig import rig_rows
from spreadwright.tackle import read_trip

TRIP = read_trip(Path(__file__).parents[2] / "examples" / "demo" / "trip.toml")


def said(rod: str, system="us", trip=TRIP):
    return [(row.sign, f"{row.what}: {row.more}") for row in rig_rows(example_plan().rod(rod), trip, system)]


def test_with_the_trip_every_piece_from_reel_to_hook_is_named():
    assert said("green 80") == [
        ("reel", "two-speed 50 wide: reel, strike drag 22 lb"),
        ("line", "80 lb nylon: main line to its 300 ft mark, the last 12 ft doubled"),
        ("swivel", "300 lb ball bearing: snap swivel"),
        ("weight", "24 oz torpedo: weight"),
        ("shock", "30 ft of 300 lb: shock leader: the only place for a hand"),
        ("bite", "3 ft of 270 lb wire: bite leader"),
        ("lure", "black-orange bullet 7 in: lure, 1 hook, 8/0 stainless"),
    ]


def test_a_wind_on_is_named_and_units_follow_the_captain():
    assert said("long braid")[1][1].endswith("to its 400 ft mark, with a 40 ft wind-on of 200 lb")
    assert (
        said("long braid", "metric")[1][1]
        == "59.0 kg braid: main line to its 122 m mark, with a 12.2 m wind-on of 90.7 kg"
    )
    assert said("red 130")[-1][1].endswith("2 hooks, 10/0 stainless")


@pytest.mark.parametrize("rod", ["green 80", "long braid"])
def test_a_plan_alone_names_what_it_knows_and_no_more(rod):
    rows = dict(said(rod, trip=None))
    assert rows["line"].startswith("main line: to its ")
    assert rows["lure"].endswith(": lure")
    assert "hook" not in rows["lure"]


def test_what_the_rod_does_not_carry_is_left_out():
    rod = example_plan().rod("green 80").model_copy(update={"swivel": "", "bite_leader": ""})
    assert [row.sign for row in rig_rows(rod, TRIP, "us")] == ["reel", "line", "weight", "shock", "lure"]
