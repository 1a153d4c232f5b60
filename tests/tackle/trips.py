"""A small sound trip file as text, for tests that break one thing of it."""

from __future__ import annotations

from pathlib import Path

from spreadwright.faults import Fault, Faults
from spreadwright.tackle import Trip, trip_from_text

DEMO = Path(__file__).parents[2] / "examples" / "demo"

SMALL = """\
title = "Small"
[boat]
name = "Dory"
[[boat.stations]]
name = "port"
tip_from_transom = "3 ft aft"
tip_from_centreline = "5 ft to port"
tip_above_water = "4 ft"
[[boat.stations]]
name = "starboard"
tip_from_transom = "3 ft aft"
tip_from_centreline = "5 ft to starboard"
tip_above_water = "4 ft"
[[outfits]]
name = "red"
marks = ["100 ft", "200 ft"]
strike_drag = "22 lb"
reel = {name = "50", holds = "650 yd", max_drag = "45 lb"}
line = {material = "nylon", strength = "80 lb", length = "600 yd"}
[[outfits]]
name = "blue"
marks = ["100 ft"]
strike_drag = "22 lb"
reel = {name = "50", holds = "650 yd", max_drag = "45 lb"}
line = {material = "nylon", strength = "80 lb", length = "600 yd"}
[[shelf.weights]]
name = "32 oz"
mass = "32 oz"
cable_strength = "480 lb"
count = 2
[[shelf.shock_leaders]]
name = "30 ft"
strength = "300 lb"
length = "30 ft"
count = 2
[[shelf.bite_leaders]]
name = "wire"
material = "single strand"
strength = "270 lb"
length = "3 ft"
count = 2
[[shelf.lures]]
name = "jet"
head = "jet"
mass = "10 oz"
length = "9 in"
head_diameter = "1.25 in"
colours = ["black"]
hooks = 2
count = 2
[pattern]
speed = "15 kn"
turn_radius = "150 ft"
turns = ["60 deg to port", "60 deg to starboard"]
"""


def small(*changes: tuple[str, str], more: str = "") -> str:
    """The small trip with each (old, new) text replaced once, and more tables at its end."""
    text = SMALL
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text + more


def faults_of(text: str) -> tuple[Fault, ...]:
    """The faults of a trip file's text; none if it is sound."""
    try:
        trip = trip_from_text(text)
    except Faults as faults:
        return faults.faults
    assert isinstance(trip, Trip)
    return ()


def only_fault(text: str) -> Fault:
    """The one fault of a trip file's text."""
    faults = faults_of(text)
    assert len(faults) == 1, "\n\n".join(map(str, faults))
    return faults[0]
