"""Joints, a bite guard and size numbers in a trip file: what is taken, and every fault named with its fix."""

from __future__ import annotations

import pytest
from pydantic import ValidationError
from tests.tackle.trips import faults_of, only_fault, small

from spreadwright.faults import Fault
from spreadwright.tackle import MainLine, ShockLeader, Trip, check_trip, trip_from_text
from spreadwright.tackle.connections import Connection, read_connection

RED = 'strike_drag = "22 lb"\n'
GUARD = '[outfits.bite_guard]\nmaterial = "cable"\nstrength = "480 lb"\nlength = "1 ft"\n'


def outfit_with(text: str) -> str:
    """The small trip with more keys in its first outfit, in front of its drag."""
    return small((RED, text + RED))


def test_stated_joints_are_kept() -> None:
    trip = trip_from_text(
        small(
            (RED, 'double_line = "12 ft"\njoints = {double_line = "plait", to_swivel = "cat\'s paw"}\n' + RED),
            ('length = "30 ft"\n', 'length = "30 ft"\njoint = "locked-loop crimp"\n'),
        )
    )
    joints = trip.outfits[0].joints
    assert joints is not None
    assert (joints.double_line, joints.to_swivel, joints.line_end) == ("plait", "cat's paw", None)
    assert trip.shelf.shock_leaders[0].joint == "locked-loop crimp"
    assert trip.outfits[1].joints is None


def test_a_bite_guard_is_read() -> None:
    guard = trip_from_text(small(('[[outfits]]\nname = "blue"', GUARD + '[[outfits]]\nname = "blue"'))).outfits[0]
    assert guard.bite_guard is not None
    assert guard.bite_guard.length == pytest.approx(0.3048)


@pytest.mark.parametrize(
    ("text", "place", "given", "words"),
    [
        ('joints = {line_end = "palomer"}\n', "outfits[1].joints.line_end", "palomer", "did you mean 'palomar'"),
        ('joints = {line_end = "haywire twist"}\n', "outfits[1].joints.line_end", "haywire twist", "for nylon use"),
        ('joints = {double_line = "plait"}\n', "outfits[1].joints.double_line", "plait", "leave it out"),
        ('joints = {wind_on_lower = "crimp"}\n', "outfits[1].joints.wind_on_lower", "crimp", "leave it out"),
        ('joints = {spool = "spool knot"}\n', "outfits[1].joints.spool", "spool knot", "leave it out"),
        ('joints = {line_end = "my loop keeps 120 %"}\n', "outfits[1].joints.line_end", "120 %", "keeps 90 %"),
        ('joints = {line_end = "my loop keeps well"}\n', "outfits[1].joints.line_end", "well", "keeps 90 %"),
    ],
)  # fmt: skip
def test_a_bad_joint_is_named_with_its_line_and_the_fix(text: str, place: str, given: str, words: str) -> None:
    fault = only_fault(outfit_with(text))
    assert fault.place == place
    assert given in fault.given
    assert words in fault.next_step
    assert fault.line == outfit_with(text).split(text)[0].count("\n") + 1


def test_a_leader_s_joint_must_suit_it_too() -> None:
    nylon = only_fault(small(('length = "30 ft"\n', 'length = "30 ft"\njoint = "haywire twist"\n')))
    assert nylon.place == "shelf.shock_leaders[1].joint"
    wire = only_fault(small(('length = "3 ft"\n', 'length = "3 ft"\njoint = "crimp"\n')))
    assert wire.place == "shelf.bite_leaders[1].joint"
    assert "haywire twist" in wire.next_step


def test_a_piece_built_in_python_takes_no_unknown_joint() -> None:
    given = {"name": "a", "strength": "300 lb", "length": "9 m", "count": 1}
    assert ShockLeader.model_validate(given | {"joint": "Crimp"}).joint == "Crimp"
    with pytest.raises(ValidationError, match="did you mean 'crimp'"):
        ShockLeader.model_validate(given | {"joint": "crmp"})


def test_several_bad_joints_are_told_at_once() -> None:
    text = outfit_with('joints = {line_end = "haywire twist", backing = "double uni"}\n')
    assert [fault.place for fault in faults_of(text)] == ["outfits[1].joints.line_end", "outfits[1].joints.backing"]


def test_a_trip_built_in_python_is_checked_as_well() -> None:
    sound = trip_from_text(small())
    outfit = sound.outfits[0].model_copy(update={"bite_guard": None})
    assert check_trip(sound) == []
    bad = type(outfit).model_validate(outfit.model_dump() | {"joints": {"wind_on_upper": "loop to loop"}})
    trip: Trip = sound.model_copy(update={"outfits": (bad, *sound.outfits[1:])})
    assert [fault.place for fault in check_trip(trip)] == ["outfits[1].joints.wind_on_upper"]


def test_a_pull_test_of_the_captain_goes_before_the_table() -> None:
    known = read_connection("Bimini  Twist keeps 80 %", "nylon")
    own = read_connection("my own loop keeps 0.97")
    assert isinstance(known, Connection)
    assert isinstance(own, Connection)
    assert (known.name, known.kind) == ("bimini twist", "knot")
    assert known.efficiency.low == pytest.approx(0.75)
    assert known.efficiency.usual == pytest.approx(0.80)
    assert (own.name, own.kind, own.efficiency.high) == ("my own loop", "own", 1.0)
    assert "pull test" in own.source
    assert isinstance(read_connection("my own loop"), Fault)


def line(**changes: object) -> MainLine:
    return MainLine.model_validate({"material": "nylon", "strength": "30 lb", "length": "600 yd", **changes})


def test_a_size_number_gives_the_thickness() -> None:
    """JAFS: size 8 is 0.470 mm up to size 10's 0.520 mm; braid of size 4 is 800 denier."""
    nylon, braid = line(size=8), line(material="braid", size=4, strength="50 lb")
    assert nylon.diameter == pytest.approx(0.470e-3)
    assert nylon.diameter_known.high == pytest.approx(0.520e-3)
    assert not nylon.diameter_estimated
    assert line().diameter_estimated
    assert braid.diameter_known.low < braid.diameter < braid.diameter_known.high
    assert braid.diameter == pytest.approx(0.394e-3, abs=1e-6)
    leader = ShockLeader.model_validate({"name": "a", "strength": "300 lb", "length": "9 m", "size": 100, "count": 1})
    assert leader.diameter == pytest.approx(1.65e-3)


@pytest.mark.parametrize("size", [0.12, 0.45, 0.7, 11.0, 60.0])
def test_a_size_between_the_table_s_steps_is_estimated(size: float) -> None:
    strength = 832e6 * 3.14159 / 4.0 * (0.165e-3) ** 2 * size  # rule of thumb: 4 lb for size 1
    between = line(size=size, strength=strength).diameter_known
    assert between.low < between.value < between.high
    assert between.value == pytest.approx(0.165e-3 * size**0.5, rel=0.08)


def test_a_size_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValidationError, match="thickness is given once"):
        line(size=8, diameter="0.47 mm")
    with pytest.raises(ValidationError, match="check the strength and the diameter"):
        line(size=0.5)
    with pytest.raises(ValidationError, match="at least"):
        line(size=0.0)
