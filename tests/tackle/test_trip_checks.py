"""Faults between the parts of a trip: each rule is broken once in an otherwise sound file."""

from __future__ import annotations

import pytest
from tests.tackle.trips import faults_of, only_fault, small

from spreadwright.tackle import check_trip, trip_from_text
from spreadwright.tackle.choice_checks import most_served


def test_the_small_trip_is_sound() -> None:
    assert faults_of(small()) == ()


FIXED = '[[fixed]]\nrod = "red"\n'
BANNED = "[[banned]]\n"
ALONE = [
    # (what is changed, tables added, place, given, part of the rule, part of the next step)
    (('["100 ft", "200 ft"]', '["100 ft", "601 yd"]'), "", "outfits[1].marks[2]", "'601 yd'",
     "'600 yd' is on the spool", "tie the mark nearer"),
    (('["100 ft", "200 ft"]', '["100 ft", "30.48 m"]'), "", "outfits[1].marks[2]", "'30.48 m'",
     "listed once", "correct its distance"),
    (('length = "600 yd"', 'length = "700 yd"'), "", "outfits[1].line.length", "'700 yd'",
     "the reel holds '650 yd'", "correct"),
    (('strike_drag = "22 lb"', 'strike_drag = "46 lb"'), "", "outfits[1].strike_drag", "'46 lb'",
     "brakes with at most '45 lb'", "lower strike drag"),
    (('max_drag = "45 lb"}', 'max_drag = "45 lb", spool_full_diameter = "5 cm", spool_core_diameter = "6 cm"}'),
     "", "outfits[1].reel.spool_core_diameter", "'6 cm'", "thinner than the full one, '5 cm'", "measure"),
    (('name = "red"', 'name = "red"\nstation = "prot"'), "", "outfits[1].station", "'prot'",
     "one of boat.stations: 'port', 'starboard'", "did you mean 'port'?"),
    (('name = "blue"', 'name = "Red"'), "", "outfits[2].name", "'Red'",
     "a name stands once in a list, and entry 1 has it too", "another name"),
    (('tip_from_centreline = "5 ft to starboard"', 'tip_from_centreline = "60 in to port"'), "", "boat.stations[2]",
     "the same tip as station 1 'port'", "cannot be in one place", "measure"),
    (("hooks = 2", 'hooks = 2\nhook = "9/0"'), '[[shelf.hooks]]\nname = "9/0 stainless"\ncount = 1\n',
     "shelf.lures[1].hook", "'9/0'", "one of shelf.hooks: '9/0 stainless'", "did you mean '9/0 stainless'?"),
    (("", ""), FIXED + 'lure = "jett"\n', "fixed[1].lure", "'jett'", "one of shelf.lures: 'jet'",
     "did you mean 'jet'?"),
    (("", ""), FIXED.replace("red", "pink") + 'lure = "jet"\n', "fixed[1].rod", "'pink'",
     "one of outfits: 'red', 'blue'", "correct the name"),
    (("", ""), FIXED + 'mark = "300 ft"\n', "fixed[1].mark", "'300 ft'",
     "one of the marks tied on 'red': '100 ft', '200 ft'", "tie that mark"),
    (("", ""), FIXED + 'lure = "jet"\n' + FIXED + 'weight = "32 oz"\n', "fixed[2].rod", "'red'",
     "stands in one table", "put both in one"),
    (('name = "red"', 'name = "red"\nstation = "port"'), FIXED + 'station = "starboard"\n',
     "fixed[1].station", "'starboard'", "always stands at 'port'", "one place only"),
    (('name = "blue"', 'name = "blue"\nstation = "port"'), FIXED + 'station = "port"\n',
     "fixed[1].station", "'port'", "outfits[2] 'blue' stands there already", "another station"),
    (("", ""), FIXED + 'lure = "jet"\n' + BANNED + 'lure = "jet"\n', "fixed[1]", "lure jet",
     "banned[1] forbids this", "remove one"),
    (("", ""), FIXED + 'mark = "200 ft"\nlure = "jet"\n' + BANNED + 'rod = "red"\nmark = "60.96 m"\n', "fixed[1]",
     "mark 200 ft", "banned[1] forbids this", "remove one"),
    (('["100 ft", "200 ft"]', '["100 ft"]'), "[wishes]\none_line_a_mark = true\n", "wishes.one_line_a_mark", "true",
     "1 of 2 rods can have one", "tie more marks"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "more", "place", "given", "rule", "next_step"), ALONE)
def test_one_thing_wrong_is_one_fault(
    change: tuple[str, str], more: str, place: str, given: str, rule: str, next_step: str
) -> None:
    fault = only_fault(small(change, more=more))
    assert fault.place == place
    assert fault.given == given
    assert rule in fault.rule
    assert next_step in fault.next_step


@pytest.mark.parametrize(
    "more",
    [
        FIXED + 'lure = "jet"\n' + BANNED + 'rod = "blue"\nlure = "jet"\n',
        FIXED + 'lure = "jet"\n' + BANNED + 'lure = "jet"\nweight = "32 oz"\n',
        FIXED + 'mark = "100 ft"\n' + BANNED + 'mark = "200 ft"\n',
        FIXED + 'mark = "30.5 m"\n',
        FIXED + 'station = "port"\n',
        "[wishes]\none_line_a_mark = true\n",
    ],
)
def test_what_is_allowed_is_no_fault(more: str) -> None:
    assert faults_of(small(more=more)) == ()


def test_a_fixed_mark_can_leave_too_few_for_the_others() -> None:
    more = '[wishes]\none_line_a_mark = true\n[[fixed]]\nrod = "red"\nmark = "100 ft"\n'
    assert only_fault(small(more=more)).place == "wishes.one_line_a_mark"


def test_two_rods_on_one_station() -> None:
    text = small(('name = "red"', 'name = "red"\nstation = "port"'), ('name = "blue"', 'name = "blue"\nstation="port"'))
    assert only_fault(text).rule == "one rod a station, and outfits[1] 'red' stands there already"


def test_zero_stations_and_too_few() -> None:
    start = small().index("[[boat.stations]]")
    second = small().index("[[boat.stations]]", start + 1)
    end = small().index("[[outfits]]")
    none = small()[:start] + "stations = []\n" + small()[end:]
    assert only_fault(none).rule == "at least one is needed: rod stations, one table each"
    one = only_fault(small()[:second] + small()[end:])
    assert (one.place, one.given) == ("boat.stations", "1 for 2 rods")


def test_faults_of_one_entry_do_not_hide_those_between_entries() -> None:
    """An outfit with a fault of its own still has its name, its marks and its drag checked."""
    text = small(
        ('name = "red"\n', 'name = "red"\nrodd = "x"\nstation = "stern"\n'),
        ('["100 ft", "200 ft"]', '["ten ft", "700 yd"]'),
        ('strike_drag = "22 lb"', 'strike_drag = "90 lb"'),
    )
    assert {fault.place for fault in faults_of(text)} == {
        "outfits[1].rodd", "outfits[1].station", "outfits[1].marks[1]", "outfits[1].marks[2]",
        "outfits[1].strike_drag",
    }  # fmt: skip
    assert sum(fault.place == "outfits[1].strike_drag" for fault in faults_of(text)) == 2


def test_an_unknown_key_does_not_hide_what_only_whole_entries_show() -> None:
    text = small(('length = "600 yd"}', 'length = "600 yd", diameter = "0.09 mm", colour = "blue"}'))
    assert {fault.place for fault in faults_of(text)} == {"outfits[1].line.colour", "outfits[1].line"}


def test_a_trip_changed_in_python_is_checked_too() -> None:
    trip = trip_from_text(small())
    red = trip.outfits[0]
    twice = trip.model_copy(update={"outfits": (red, red)})
    assert [fault.place for fault in check_trip(twice)] == ["outfits[2].name"]
    hard = red.model_copy(update={"strike_drag": 1000.0})
    (fault,) = [each for each in check_trip(trip.model_copy(update={"outfits": (hard,)})) if "reel" in each.rule]
    assert fault.given == "224.81 lb"
    metric = trip.model_copy(update={"outfits": (hard,), "units": "metric"})
    assert check_trip(metric)[0].given == "101.97 kg"


@pytest.mark.parametrize(
    ("choices", "served"),
    [
        ([[1], [1, 2], [2]], 2),
        ([[1, 2], [1], [2, 3]], 3),
        ([[1], [1], [1]], 1),
        ([], 0),
        ([[]], 0),
    ],
)
def test_how_many_can_be_served(choices: list[list[int]], served: int) -> None:
    """Hall's marriage theorem: all are served exactly when every group of k wants k things or more."""
    assert most_served(choices) == served
