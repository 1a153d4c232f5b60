"""Weights, lures, stations, outfits and wishes: sizes from shapes, sides in words, what is refused."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError

from spreadwright.tackle import Ban, Lock, Lure, Outfit, Pattern, Station, TrollingWeight

FOOT = 0.3048


def weight(**changes: object) -> TrollingWeight:
    given = {"name": "w", "mass": "32 oz", "cable_strength": "480 lb", "count": 1, **changes}
    return TrollingWeight.model_validate(given)


def test_a_ball_of_lead_has_the_diameter_of_a_sphere() -> None:
    """Sphere: V = pi d^3 / 6. One kilogram of lead at 11340 kg/m3 is 88.18 cm3, 55.2 mm across."""
    ball = weight(mass="1 kg", shape="ball")
    assert ball.diameter == pytest.approx((6.0 / (math.pi * 11340.0)) ** (1 / 3), rel=1e-12)
    assert ball.length == pytest.approx(ball.diameter, rel=1e-12)


def test_an_egg_is_an_ellipsoid() -> None:
    """Ellipsoid of revolution: V = pi d^2 L / 6."""
    egg = weight(shape="egg")
    assert math.pi * egg.diameter**2 * egg.length / 6.0 == pytest.approx(egg.volume, rel=1e-12)


@given(
    ounces=st.floats(min_value=1, max_value=200),
    shape=st.sampled_from(["torpedo", "egg", "ball"]),
    metal=st.sampled_from(["lead", "steel", "tungsten"]),
)
def test_sizes_that_follow_from_each_other_agree(ounces: float, shape: str, metal: str) -> None:
    """A size that is estimated, written into the file and read again gives the other size back."""
    first = weight(mass=f"{ounces} oz", shape=shape, metal=metal)
    by_length = weight(mass=f"{ounces} oz", shape=shape, metal=metal, length=first.length)
    by_diameter = weight(mass=f"{ounces} oz", shape=shape, metal=metal, diameter=first.diameter)
    assert by_length.diameter == pytest.approx(first.diameter, rel=1e-9)
    assert by_diameter.length == pytest.approx(first.length, rel=1e-9)
    assert weight(mass=f"{ounces} oz", shape=shape, metal=metal, length=first.length, diameter=first.diameter)


@pytest.mark.parametrize("sizes", [{"length": "9 in", "diameter": "0.5 in"}, {"length": "9 in", "diameter": "3 in"}])
def test_a_size_that_cannot_hold_the_mass_is_refused(sizes: dict[str, str]) -> None:
    with pytest.raises(ValidationError, match="a torpedo of lead of that size holds about"):
        weight(**sizes)


def station(**changes: object) -> Station:
    tip = {"tip_from_transom": "3 ft aft", "tip_from_centreline": "5 ft to port", "tip_above_water": "4 ft"}
    return Station.model_validate({"name": "s", **tip, **changes})


@pytest.mark.parametrize(
    ("key", "text", "field", "expected"),
    [
        ("tip_from_transom", "3 ft aft", "forward", -3 * FOOT),
        ("tip_from_transom", "2 ft forward", "forward", 2 * FOOT),
        ("tip_from_transom", "0 m", "forward", 0.0),
        ("tip_from_centreline", "5 ft to port", "port", 5 * FOOT),
        ("tip_from_centreline", "5 ft port", "port", 5 * FOOT),
        ("tip_from_centreline", "6 ft 3 in to Starboard", "port", -6.25 * FOOT),
        ("tip_from_centreline", "0 ft to starboard", "port", 0.0),
    ],
)
def test_sides_are_words_and_become_signs(key: str, text: str, field: str, expected: float) -> None:
    """Body frame: x forward, y to port, z up."""
    value = getattr(station(**{key: text}), field)
    assert value == pytest.approx(expected)
    assert math.copysign(1.0, value) == math.copysign(1.0, expected)


@pytest.mark.parametrize(
    ("key", "text", "rule"),
    [
        ("tip_from_centreline", "5 ft", "a length with its side: port or starboard"),
        ("tip_from_centreline", "5 ft aft", "a length with its side: port or starboard"),
        ("tip_from_centreline", "-5 ft to port", "no minus sign"),
        ("tip_from_centreline", "to port", "a number with its unit"),
        ("tip_from_transom", "90 m aft", "at most 60 m"),
        ("tip_above_water", "-1 ft", "more than zero"),
        ("tip_above_water", "0 ft", "more than zero"),
        ("tip_above_water", "5 ft up", "no unit known"),
    ],
)
def test_stations_refuse(key: str, text: str, rule: str) -> None:
    with pytest.raises(ValidationError, match=rule):
        station(**{key: text})


def pattern(**changes: object) -> Pattern:
    return Pattern.model_validate(
        {"speed": "15 kn", "turn_radius": "45 m", "turns": ["90 deg to port", "90 deg starboard"], **changes}
    )


def test_turns_to_port_are_positive() -> None:
    assert pattern().turns == pytest.approx((math.pi / 2, -math.pi / 2))


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"turns": ["90 deg"]}, "a turn says its side"),
        ({"turns": ["-90 deg to port"]}, "more than zero"),
        ({"turns": ["0 deg to port"]}, "more than zero"),
        ({"turns": ["400 deg to port"]}, "at most 360 deg"),
        ({"turns": []}, "at least 1 item"),
        ({"speed": "60 kn"}, "at most 40 kn"),
        ({"speed": "0 kn"}, "at least 1 kn"),
        ({"turn_radius": "1 m"}, r"at least 5 m \(16.4 ft\)"),
        ({"speed_loss": "90 %"}, "at most 0.8"),
    ],
)
def test_patterns_refuse(change: dict[str, Any], rule: str) -> None:
    with pytest.raises(ValidationError, match=rule):
        pattern(**change)


def outfit(**changes: object) -> Outfit:
    given = {
        "name": "red",
        "reel": {"name": "50", "holds": "650 yd", "max_drag": "45 lb"},
        "line": {"material": "nylon", "strength": "80 lb", "length": "600 yd"},
        "marks": ["100 ft", "300 ft"],
        "strike_drag": "22 lb",
    }
    return Outfit.model_validate({**given, **changes})


def test_a_mark_beyond_the_line_is_refused_in_python_too() -> None:
    with pytest.raises(ValidationError, match="given 2100 ft"):
        outfit(marks=["700 yd"])
    assert outfit(marks=["600 yd", "1800 ft"]).marks[0] == pytest.approx(1800 * FOOT)


def test_a_wanted_mark_means_the_tied_one() -> None:
    assert outfit().tied_mark(30.5) == outfit().marks[0]
    assert outfit().tied_mark(30.6) is None


def test_lures_have_one_or_two_hooks_and_a_doubt_only_with_an_area() -> None:
    given = {
        "name": "l", "head": "jet", "mass": "8 oz", "length": "9 in", "head_diameter": "1 in", "colours": ["black"],
        "hooks": 2, "count": 1,
    }  # fmt: skip
    assert Lure.model_validate(given).drag_area is None
    with pytest.raises(ValidationError, match="less than or equal to 2"):
        Lure.model_validate({**given, "hooks": 3})
    with pytest.raises(ValidationError, match="a doubt belongs to a drag area"):
        Lure.model_validate({**given, "drag_area_doubt": "20 %"})
    assert Lure.model_validate({**given, "drag_area": "9 cm2"}).drag_area == pytest.approx(9e-4)


def test_locks_and_bans_must_say_something() -> None:
    assert Lock(rod="red", lure="jet").chosen == {"lure": "jet"}
    assert Ban(mark=30.48, weight="96 oz").chosen == {"mark": 30.48, "weight": "96 oz"}
    with pytest.raises(ValidationError, match="a fixed rod says what is fixed"):
        Lock(rod="red")
    with pytest.raises(ValidationError, match="a ban says what is banned"):
        Ban(rod="red", reason="no idea")


def test_floats_from_python_are_si_and_texts_carry_units() -> None:
    assert Station(name="s", forward=-1.0, port=2.0, up=3.0).tip == (-1.0, 2.0, 3.0)
    assert weight(mass=0.5).mass == 0.5
    for bad in (math.nan, math.inf, -1.0, "0.5"):
        with pytest.raises(ValidationError):
            weight(mass=bad)


@pytest.mark.parametrize("thing", [weight(), station(), pattern(), outfit()])
def test_everything_is_frozen_and_closed(thing: BaseModel) -> None:
    with pytest.raises(ValidationError, match="frozen"):
        setattr(thing, next(iter(type(thing).model_fields)), "x")
    with pytest.raises(ValidationError, match="Extra inputs"):
        type(thing).model_validate({**thing.model_dump(), "colour": 1})
    assert type(thing).model_validate_json(thing.model_dump_json()) == thing


@pytest.mark.parametrize("name", ["", "   ", "a\nb", "a\u2028b", "x" * 81])
def test_names_are_one_short_line(name: str) -> None:
    with pytest.raises(ValidationError):
        weight(name=name)
