"""Quantities: what is read, what is refused and with which words, and that showing loses little."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.quantity import DIMENSIONS, QuantityError, read, show, show_given, show_turned, show_unit

POUND = 0.45359237  # kg, exact: international yard and pound agreement of 1959
GRAVITY = 9.80665  # m/s2, exact: standard acceleration, CGPM 1901
INCH = 0.0254  # m, exact: the same agreement of 1959


# Definitions: each factor is exact by treaty or standard (NIST Special Publication 811, appendix B),
# so pint and the spellings are held to them and not to themselves.
@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("15 kn", "speed", 15 * 1852 / 3600),
        ("15 mph", "speed", 15 * 5280 * 12 * INCH / 3600),
        ("1 nmi", "length", 1852.0),
        ("400 ft", "length", 400 * 12 * INCH),
        ("600 yd", "length", 600 * 36 * INCH),
        ("10 fathoms", "length", 60 * 12 * INCH),
        ("1.1 mm", "diameter", 1.1e-3),
        ("0.035 in", "diameter", 0.035 * INCH),
        ("32 oz", "mass", 2 * POUND),
        ("80 lb", "mass", 80 * POUND),
        ("80 lb", "force", 80 * POUND * GRAVITY),
        ("36 kg", "force", 36 * GRAVITY),
        ("355 N", "force", 355.0),
        ("1.2 kN", "force", 1200.0),
        ("90 deg", "angle", math.pi / 2),
        ("2 h", "time", 7200.0),
        ("1025 kg/m3", "density", 1025.0),
        ("1.025 g/cm3", "density", 1025.0),
        ("9 cm2", "area", 9e-4),
        ("80 cm3", "volume", 8e-5),
        ("1 gal", "volume", 231 * INCH**3),
        ("1 imp gal", "volume", 4.54609e-3),
        ("30 gal/h", "fuel_rate", 30 * 231 * INCH**3 / 3600),
        ("26 degC", "temperature", 299.15),
        ("32 °F", "temperature", 273.15),
        ("212 F", "temperature", 373.15),
        ("33 %", "number", 0.33),
        ("0.3", "number", 0.3),
        ("1/3", "number", 1 / 3),
        ("100 ksi", "pressure", 1e5 * POUND * GRAVITY / INCH**2),
        ("1.5 GPa", "pressure", 1.5e9),
        ("1 kWh", "energy", 3.6e6),
        ("10 deg/s", "angular_rate", math.radians(10)),
        ("32.2 ft/s2", "acceleration", 32.2 * 12 * INCH),
        ("1 lb/ft", "force_per_length", POUND * GRAVITY / (12 * INCH)),
        ("200 denier", "mass_per_length", 200e-3 / 9000),
    ],
)
def test_reads_what_the_definitions_say(text: str, dimension: str, expected: float) -> None:
    assert read(text, dimension) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "same_as"),
    [
        ("6 ft 3 in", "length", "75 in"),
        ("6'3\"", "length", "75 in"),
        ("2 lb 4 oz", "mass", "36 oz"),
        ("1 h 20 min", "time", "80 min"),
        ("3 1/2 in", "size", "3.5 in"),
        ("3-1/2 in", "size", "3.5 in"),
        ("1/2 in", "size", "0.5 in"),
        ("-6 ft 3 in", "length", "-75 in"),
        ("15KN", "speed", "15 kn"),
        ("400FT", "length", "400 ft"),
        ("  400   ft ", "length", "400 ft"),
        ("400\u00a0ft", "length", "400 ft"),
        ("\u22125 ft", "length", "-5 ft"),
        (".5 m", "length", "0.5 m"),
        ("5e2 ft", "length", "500 ft"),
        ("1 nautical mile", "length", "1 nmi"),
    ],
)
def test_ways_to_write_the_same(text: str, dimension: str, same_as: str) -> None:
    assert read(text, dimension) == pytest.approx(read(same_as, dimension), rel=1e-14)


@pytest.mark.parametrize(
    ("given", "dimension", "rule", "next_step"),
    [
        (15, "speed", "a bare number has no unit", "such as '15 kn'"),
        ("15", "speed", "a bare number has no unit", "such as '15 kn'"),
        (0.0, "length", "a bare number has no unit", "such as '0.0 ft'"),
        ("15 kn", "length", "this must be a length, and 'kn' measures a speed", "such as '400 ft'"),
        ("10 kN", "speed", "'kN' measures a force", "such as '15 kn'"),
        ("5 fet", "length", "(did you mean 'feet'?)", "ft"),
        ("5 parsecs", "length", "'parsecs' is no unit known here", "nmi"),
        ("nan ft", "length", "not-a-number and infinity measure nothing", "write a number"),
        (math.nan, "number", "not-a-number and infinity measure nothing", "write a number"),
        ("-inf m", "length", "not-a-number and infinity measure nothing", "write a number"),
        (math.inf, "length", "not-a-number and infinity measure nothing", "write a number"),
        ("1/0 ft", "length", "must be finite", "can be measured"),
        ("1e999 ft", "length", "must be finite", "can be measured"),
        (10**400, "number", "must be finite", "can be measured"),
        ("1,000 ft", "length", "no commas", "write 1000 for a thousand"),
        ("1.2.3 ft", "length", "at most one decimal point", "1.5 for one and a half"),
        ("3 in 6 ft", "length", "is no unit known here", "such as '400 ft'"),
        ("6 ft 3 kn", "length", "is no unit known here", "such as '400 ft'"),
        ("2**10**10 ft", "length", "is no unit known here", "such as '400 ft'"),
        ("ft", "length", "a number with its unit", "such as '400 ft'"),
        ("", "mass", "a number with its unit", "such as '32 oz'"),
        ("5 mPa", "pressure", "'mPa' is no unit known here", "MPa"),
        (True, "number", "written as text", "such as '0.3'"),
        (None, "length", "written as text", "such as '400 ft'"),
        ([15], "speed", "written as text", "such as '15 kn'"),
        ("9" * 500 + " ft", "length", "at most 80 characters", "such as '400 ft'"),
    ],
)
def test_refuses_with_the_rule_and_the_next_step(given: object, dimension: str, rule: str, next_step: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read(given, dimension)
    assert rule in caught.value.rule
    assert next_step in caught.value.next_step
    assert len(caught.value.given) <= 80
    assert caught.value.given in str(caught.value)


def test_a_message_quotes_what_was_given() -> None:
    with pytest.raises(QuantityError) as caught:
        read("15 kn", "length")
    assert str(caught.value) == (
        "given '15 kn': this must be a length, and 'kn' measures a speed; write a length in one of: "
        "m, cm, mm, km, ft, in, yd, fathom, nmi, mi; such as '400 ft'"
    )


@pytest.mark.parametrize("name", DIMENSIONS)
def test_every_spelling_of_every_dimension_converts(name: str) -> None:
    dimension = DIMENSIONS[name]
    assert math.isfinite(read(dimension.example, name))
    for spelling in dimension.spellings:
        assert math.isfinite(read(f"2 {spelling}", name)), spelling
    for _, shown in dimension.us + dimension.metric:
        assert shown in dimension.spellings


@pytest.mark.parametrize("name", DIMENSIONS)
def test_no_two_units_of_a_dimension_differ_by_capitals_only_unless_listed(name: str) -> None:
    """What is written in other capitals means the same unit, or is refused: never a thousandth of it."""
    folded: dict[str, str] = {}
    for spelling, unit in DIMENSIONS[name].spellings.items():
        assert folded.setdefault(spelling.lower(), unit) == unit


def test_an_unknown_dimension_is_a_mistake_of_ours() -> None:
    with pytest.raises(KeyError, match="no dimension 'colour'; known: length"):
        read("5 ft", "colour")


MAGNITUDES = st.floats(min_value=1e-3, max_value=1e6)


@given(
    name=st.sampled_from(sorted(set(DIMENSIONS) - {"temperature"})),
    magnitude=MAGNITUDES,
    negative=st.booleans(),
    system=st.sampled_from(["us", "metric"]),
    figures=st.integers(min_value=1, max_value=9),
)
def test_reading_what_was_shown_is_close(
    name: str, magnitude: float, negative: bool, system: str, figures: int
) -> None:
    """A number rounded to n figures is off by at most half of the last: 5 x 10^-n of it."""
    value = -magnitude if negative else magnitude
    text = show(value, name, system, figures=figures)  # type: ignore[arg-type]
    assert read(text, name) == pytest.approx(value, rel=5.000001 * 10.0**-figures)


@given(celsius=st.floats(min_value=-5, max_value=40), system=st.sampled_from(["us", "metric"]))
def test_reading_a_shown_temperature_is_close(celsius: float, system: str) -> None:
    value = celsius + 273.15
    text = show(value, "temperature", system, doubt=0.1)  # type: ignore[arg-type]
    assert read(text, "temperature") == pytest.approx(value, abs=0.06)


@given(value=st.floats(min_value=-1e4, max_value=1e4), doubt=st.floats(min_value=1e-4, max_value=1e3))
def test_rounding_to_a_doubt_moves_the_value_by_less_than_the_doubt(value: float, doubt: float) -> None:
    shown = read(show(value, "length", "metric", doubt=doubt), "length")
    assert abs(shown - value) <= 0.5000001 * doubt


def test_a_doubt_hides_the_digits_that_are_not_known() -> None:
    assert show(12.3456, "length", "metric", doubt=0.4) == "12.3 m"
    assert show(12.3456, "length", "metric", doubt=4.0) == "12 m"
    assert show(123.456, "length", "metric", doubt=30.0) == "120 m"
    assert show(12.3456, "length", "metric", doubt=0.12) == "12.35 m"


@pytest.mark.parametrize(
    ("value", "dimension", "us", "metric"),
    [
        (7.716667, "speed", "15.0 kn", "15.0 kn"),
        (121.92, "length", "400 ft", "122 m"),
        (0.0011, "diameter", "0.0433 in", "1.10 mm"),
        (0.2286, "size", "9.00 in", "22.9 cm"),
        (32 * POUND / 16, "mass", "32.0 oz", "907 g"),
        (96 * POUND / 16, "mass", "96.0 oz", "2.72 kg"),
        (40 * POUND, "mass", "40.0 lb", "18.1 kg"),
        (80 * POUND * GRAVITY, "force", "80.0 lb", "36.3 kg"),
        (1025.0, "density", "1025 kg/m3", "1025 kg/m3"),
        (299.15, "temperature", "78.8 degF", "26.0 degC"),
        (0.0, "length", "0.00 ft", "0.00 m"),
        (-1e-9, "angle", "-0.0000000573 deg", "-0.0000000573 deg"),
        (math.nan, "length", "not known", "not known"),
    ],
)
def test_shows_in_the_captains_units(value: float, dimension: str, us: str, metric: str) -> None:
    assert show(value, dimension, "us") == us
    assert show(value, dimension, "metric") == metric


def test_zero_has_no_sign() -> None:
    assert show(-0.0001, "length", "metric", doubt=0.2) == "0.0 m"
    assert show(-0.0, "speed") == "0.00 kn"


@pytest.mark.parametrize("text", ["32 oz", "96 oz", "1.2 mm", "400 ft", "6.25 ft", "15 kn", "0.035 in", "80 lb"])
def test_shows_what_was_given_as_it_was_given(text: str) -> None:
    unit = text.split()[1]
    dimension = {"oz": "mass", "mm": "diameter", "ft": "length", "kn": "speed", "in": "diameter", "lb": "force"}[unit]
    assert show_given(read(text, dimension), dimension, "metric" if unit == "mm" else "us") == text


def test_shows_in_a_unit_that_is_asked_for() -> None:
    assert show(355.858, "force", unit="N") == "356 N"
    assert show_unit(2.0, "mass", "metric") == "kg"
    with pytest.raises(QuantityError, match="'kn' measures a speed"):
        show(1.0, "force", unit="kn")


def test_importing_does_not_start_pint() -> None:
    """`spreadwright --help` must be quick: pint is imported at the first conversion, not before."""
    code = "import sys, spreadwright.quantity as q; assert 'pint' not in sys.modules; q.read('1 ft', 'length')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_what_was_given_in_other_units_is_shown_to_three_figures():
    """Exact by definition: the foot is 0.3048 m, the pound 0.45359237 kg (international yard and pound, 1959)."""
    asked = [(30.48, "length"), (60.96, "length"), (9.144, "length"), (480 * 0.45359237 * 9.80665, "force")]
    assert [show_turned(*each, "us") for each in asked] == ["100 ft", "200 ft", "30 ft", "480 lb"]
    assert [show_turned(*each, "metric") for each in asked] == ["30.5 m", "61.0 m", "9.14 m", "218 kg"]
    assert show_turned(1333.456, "length", "metric") == "1333 m"
