"""Reads and shows quantities with units ("15 kn", "32 oz", "6 ft 3 in"); inside, all is SI floats.

Every number a captain writes carries its unit, and nothing but this module knows any unit other
than SI. The conversion factors come from pint; the spellings that are accepted are listed here,
so that a text can never make pint evaluate an expression.

Pint takes a good part of a second to start, so it is imported at the first conversion only.
"""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from functools import cache
from reprlib import Repr
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import pint

System = Literal["us", "metric"]
LONGEST_TEXT = 80


class QuantityError(ValueError):
    """A quantity that cannot be read: what was given, the rule, and the next step."""

    def __init__(self, given: str, rule: str, next_step: str) -> None:
        super().__init__(given, rule, next_step)
        self.given = given
        self.rule = rule
        self.next_step = next_step

    def __str__(self) -> str:
        return f"given {self.given}: {self.rule}; {self.next_step}"


@dataclass(frozen=True)
class Dimension:
    """One kind of quantity: its SI unit, the spellings it is read from, and how it is shown."""

    words: str  # "a length", as a sentence needs it
    si: str  # pint's name of the SI unit that the floats inside are in
    example: str  # a good text, offered as the next step
    spellings: dict[str, str]  # what a captain writes -> pint's unit
    us: tuple[tuple[float, str], ...]  # shown as: the last unit whose start [SI] is reached
    metric: tuple[tuple[float, str], ...] = ()  # empty: as in us
    compound: tuple[str, ...] = ()  # pint's units that may follow one another, largest first
    figures: int = 3  # shown where no doubt is given


def _spell(**units: str) -> dict[str, str]:
    """Turn pint_unit="spelling spelling ..." into a table; "_" in a spelling stands for a space."""
    return {
        spelling.replace("_", " "): unit for unit, line in units.items() for spelling in line.split()
    }


_LENGTH = _spell(
    m="m metre metres meter meters",
    cm="cm centimetre centimetres centimeter centimeters",
    mm="mm millimetre millimetres millimeter millimeters",
    km="km kilometre kilometres kilometer kilometers",
    ft="ft foot feet '",
    inch='in inch inches "',
    yard="yd yds yard yards",
    fathom="fathom fathoms fm",
    nautical_mile="nmi NM nautical_mile nautical_miles sea_mile sea_miles",
    mile="mi mile miles",
)
_FEET_INCHES = ("yard", "ft", "inch")
_NEWTON = _spell(newton="N newton newtons", kilonewton="kN kilonewton kilonewtons")
_EVERY_FORCE = _NEWTON | _spell(
    force_pound="lb lbs lbf pound pounds pounds_force",
    force_kilogram="kg kgf kilo kilos kilogram kilograms",
    force_ounce="oz ozf ounce ounces",
    force_gram="g gf gram grams",
)

_OUNCES_TO_POUNDS = 10 * 0.45359237  # kg: trolling weights are sold by the ounce far beyond 16

DIMENSIONS: dict[str, Dimension] = {
    "length": Dimension(
        "a length", "m", "400 ft", _LENGTH, ((0.0, "ft"),), ((0.0, "m"),), _FEET_INCHES
    ),
    "size": Dimension(  # lures, weights, gaps between hooks
        "a length", "m", "9 in", _LENGTH, ((0.0, "in"),), ((0.0, "cm"),), _FEET_INCHES
    ),
    "diameter": Dimension(
        "a diameter", "m", "1.1 mm", _LENGTH, ((0.0, "in"),), ((0.0, "mm"),), _FEET_INCHES
    ),
    "mass": Dimension(
        "a mass", "kg", "32 oz",
        _spell(
            kg="kg kilo kilos kilogram kilograms", g="g gram grams",
            oz="oz ounce ounces", lb="lb lbs pound pounds",
            tonne="t tonne tonnes",
        ),
        ((0.0, "oz"), (_OUNCES_TO_POUNDS, "lb")), ((0.0, "g"), (1.0, "kg")),
        ("lb", "oz"),
    ),
    "speed": Dimension(
        "a speed", "m/s", "15 kn",
        _spell(**{
            "knot": "kn kt kts knot knots", "m/s": "m/s", "km/h": "km/h kph",
            "mile/hour": "mph mi/h", "ft/s": "ft/s",
        }),
        ((0.0, "kn"),),
    ),
    "force": Dimension(
        "a force", "newton", "80 lb", _EVERY_FORCE, ((0.0, "lb"),), ((0.0, "kg"),)
    ),
    "angle": Dimension(
        "an angle", "radian", "90 deg",
        _spell(degree="deg degree degrees °", radian="rad radian radians"), ((0.0, "deg"),),
    ),
    "time": Dimension(
        "a time", "s", "20 s",
        _spell(
            s="s sec second seconds", minute="min minute minutes", hour="h hr hrs hour hours",
            day="d day days", millisecond="ms",
        ),
        ((0.0, "s"), (120.0, "min"), (7200.0, "h"),), compound=("hour", "minute", "s"),
    ),
    "density": Dimension(
        "a density", "kg/m**3", "1025 kg/m3",
        _spell(**{
            "kg/m**3": "kg/m3 kg/m^3 kg/m³", "g/cm**3": "g/cm3 g/cm^3 g/cm³ kg/l kg/L",
            "lb/ft**3": "lb/ft3 lb/ft^3",
        }),
        ((0.0, "kg/m3"),), figures=4,
    ),
    "area": Dimension(
        "an area", "m**2", "2.5 cm2",
        _spell(**{
            "m**2": "m2 m^2 m²", "cm**2": "cm2 cm^2 cm²", "mm**2": "mm2 mm^2 mm²",
            "inch**2": "in2 in^2 sq_in", "ft**2": "ft2 ft^2 sq_ft",
        }),
        ((0.0, "in2"),), ((0.0, "cm2"),),
    ),
    "volume": Dimension(
        "a volume", "m**3", "80 cm3",
        _spell(**{
            "m**3": "m3 m^3 m³", "cm**3": "cm3 cm^3 cm³ ml mL cc", "liter": "l L litre litres liter liters",
            "gallon": "gal gallon gallons", "imperial_gallon": "imp_gal", "inch**3": "in3 in^3",
        }),
        ((0.0, "in3"), (0.003785411784, "gal")), ((0.0, "cm3"), (1e-3, "l"), (1.0, "m3")),
    ),
    "temperature": Dimension(
        "a temperature", "kelvin", "26 degC",
        _spell(
            degC="degC °C C deg_C celsius", degF="degF °F F deg_F fahrenheit", kelvin="K kelvin"
        ),
        ((0.0, "degF"),), ((0.0, "degC"),),
    ),
    "number": Dimension(
        "a plain number", "dimensionless", "0.3",
        {"": "dimensionless"} | _spell(percent="% percent per_cent"), ((0.0, ""),),
    ),
    "fuel_rate": Dimension(
        "a rate of fuel", "m**3/s", "30 gal/h",
        _spell(**{
            "liter/hour": "l/h L/h lph litres_per_hour", "gallon/hour": "gal/h gph gallons_per_hour",
            "imperial_gallon/hour": "imp_gal/h",
        }),
        ((0.0, "gal/h"),), ((0.0, "l/h"),),
    ),
    "energy": Dimension(
        "an energy", "joule", "500 J",
        _spell(**{
            "joule": "J joule joules", "kilojoule": "kJ", "foot*force_pound": "ft_lb ft_lbf",
            "watt*hour": "Wh", "kilowatt*hour": "kWh",
        }),
        ((0.0, "J"),),
    ),
    "pressure": Dimension(
        "a pressure or a modulus", "pascal", "1.5 GPa",
        _spell(
            pascal="Pa", hectopascal="hPa", kilopascal="kPa", megapascal="MPa N/mm2", gigapascal="GPa",
            millibar="mbar mb", bar="bar", psi="psi", ksi="ksi",
        ),
        ((0.0, "psi"), (6894757.0, "ksi")), ((0.0, "Pa"), (1e3, "kPa"), (1e6, "MPa"), (1e9, "GPa")),
    ),
    "acceleration": Dimension(
        "an acceleration", "m/s**2", "9.80665 m/s2",
        _spell(**{"m/s**2": "m/s2 m/s^2 m/s²", "ft/s**2": "ft/s2 ft/s^2"}), ((0.0, "m/s2"),),
    ),
    "angular_rate": Dimension(
        "a rate of turn", "radian/s", "10 deg/s",
        _spell(**{
            "degree/s": "deg/s °/s", "degree/minute": "deg/min °/min", "radian/s": "rad/s",
            "revolution/minute": "rpm",
        }),
        ((0.0, "deg/s"),),
    ),
    "force_per_length": Dimension(
        "a force per length", "newton/m", "0.5 N/m",
        _spell(**{
            "newton/m": "N/m", "force_pound/ft": "lb/ft lbf/ft", "force_kilogram/m": "kg/m kgf/m",
        }),
        ((0.0, "N/m"),),
    ),
    "mass_per_length": Dimension(
        "a mass per length", "kg/m", "0.9 g/m",
        _spell(**{
            "kg/m": "kg/m", "g/m": "g/m", "lb/ft": "lb/ft", "denier": "denier", "tex": "tex",
        }),
        ((0.0, "g/m"),),
    ),
}

_BREVITY = Repr()
_BREVITY.maxstring = _BREVITY.maxother = _BREVITY.maxlong = 60


def quote(given: object) -> str:
    """A short text that shows a captain what was given, however long or deep it is."""
    return _BREVITY.repr(given)


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry(cache_folder=None)


@cache
def _scale(unit: str, si: str) -> tuple[float, float]:
    """Factor and offset that take a magnitude in `unit` to SI: value * factor + offset."""
    registry = _registry()
    zero = float(registry.Quantity(0.0, unit).to(si).magnitude)
    if zero == 0.0:
        return float(registry.Quantity(1.0, unit).to(si).magnitude), 0.0
    # A scale with an offset (degC, degF): a span of 100 gives the factor with least rounding.
    hundred = float(registry.Quantity(100.0, unit).to(si).magnitude)
    return (hundred - zero) / 100.0, zero


def _dimension(name: str) -> Dimension:
    try:
        return DIMENSIONS[name]
    except KeyError:
        raise KeyError(f"no dimension {name!r}; known: {', '.join(DIMENSIONS)}") from None


def _spelled(text: str, dimension: Dimension) -> str | None:
    """Pint's unit for a captain's spelling, or None. Capitals count only where units have them."""
    spelling = " ".join(text.split())
    if spelling in dimension.spellings:
        return dimension.spellings[spelling]
    if any(spelling in other.spellings for other in DIMENSIONS.values()):
        return None  # "kN" is a force, never 10 "kn"
    return dimension.spellings.get(spelling.lower())


_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)"
_WHOLE = re.compile(rf"([+-]?)\s?({_NUMBER})\s?(.*)")
_PART = re.compile(rf"({_NUMBER})\s?([^\d.]+?)\s?(?=\d|$)")
_NOT_FINITE = re.compile(r"[+-]?(nan|inf(inity)?)\b", re.IGNORECASE)
_ONE_SIGN = str.maketrans({"\u2212": "-", "\u00a0": " ", "\u202f": " ", "\u2032": "'", "\u2033": '"'})


def _magnitude(number: str) -> float:
    """The value of "3 1/2", "3-1/2", "1/2" or "0.5"; a fraction over zero is infinite."""
    total = 0.0
    for piece in re.split(r"\s+|(?<=\d)-(?=\d+/)", number):
        above, _, below = piece.partition("/")
        if below:
            total += float(above) / float(below) if float(below) else math.inf
        else:
            total += float(above)
    return total


def _unit_refusal(dimension: Dimension, spelling: str, given: str) -> QuantityError:
    """The refusal of a unit: names the units of this dimension, and the kind it does measure."""
    first = {unit: text for text, unit in reversed(dimension.spellings.items())}
    known = ", ".join(text for text in reversed(first.values()) if text)
    next_step = f"write {dimension.words} in one of: {known}; such as '{dimension.example}'"
    kind = next((d.words for d in DIMENSIONS.values() if _spelled(spelling, d)), None)
    if kind is not None:
        return QuantityError(
            given, f"this must be {dimension.words}, and '{spelling}' measures {kind}", next_step
        )
    near = difflib.get_close_matches(spelling, dimension.spellings, n=1)
    guess = f" (did you mean '{near[0]}'?)" if near else ""
    return QuantityError(
        given, f"'{spelling}' is no unit known here for {dimension.words}{guess}", next_step
    )


def _single(number: float, spelling: str, dimension: Dimension) -> float | None:
    """SI value of one number with one unit; None when the unit is not one of this dimension."""
    unit = _spelled(spelling, dimension)
    if unit is None:
        return None
    factor, offset = _scale(unit, dimension.si)
    return number * factor + offset


def _compound(text: str, dimension: Dimension) -> float | None:
    """SI value of "6 ft 3 in", "2 lb 4 oz", "1 h 20 min"; None when it is no such text."""
    total, at, rank = 0.0, 0, -1
    while at < len(text):
        match = _PART.match(text, at)
        unit = _spelled(match[2], dimension) if match else None
        if match is None or unit not in dimension.compound:
            return None
        if dimension.compound.index(unit) <= rank:  # "3 in 6 ft", "6 ft 3 ft"
            return None
        rank = dimension.compound.index(unit)
        total += _magnitude(match[1]) * _scale(unit, dimension.si)[0]
        at = match.end()
    return total


def _from_text(text: str, dimension: Dimension) -> float:
    given = quote(text)
    example = f"write a number with its unit, such as '{dimension.example}'"
    tidy = " ".join(text.translate(_ONE_SIGN).split())
    if len(text) > LONGEST_TEXT:
        raise QuantityError(given, f"a quantity has at most {LONGEST_TEXT} characters", example)
    if _NOT_FINITE.match(tidy):
        raise QuantityError(given, "not-a-number and infinity measure nothing", example)
    match = _WHOLE.fullmatch(tidy)
    if match is None:
        raise QuantityError(given, f"this must be {dimension.words}: a number with its unit", example)
    sign, number, rest = match.groups()
    if rest[:1] in {",", "."} or rest[:1].isdigit():
        raise QuantityError(
            given, "a number has no commas and at most one decimal point",
            f"write 1000 for a thousand and 1.5 for one and a half, such as '{dimension.example}'",
        )
    if not rest and "" not in dimension.spellings:
        raise QuantityError(given, "a bare number has no unit", _write_a_unit(number, dimension))
    value = _single(_magnitude(sign + number), rest, dimension)
    if value is None:
        value = _compound(tidy.removeprefix(sign).lstrip(), dimension)
        if value is None:
            raise _unit_refusal(dimension, rest, given)
        value = -value if sign == "-" else value
    return value


def _write_a_unit(number: object, dimension: Dimension) -> str:
    unit = dimension.example.split(" ", 1)[-1]
    return f"write a unit, such as '{number} {unit}' if that is what you mean"


def read(given: object, dimension: str) -> float:
    """SI value of a text such as "15 kn" as a quantity of `dimension` (a key of DIMENSIONS).

    "lb" and "kg" mean a mass or a force (pound-force, kilogram-force), whichever is asked for;
    "gal" is the US gallon; temperatures come back in kelvin, angles in radians.
    Raises QuantityError for a bare number (unless the dimension is "number"), for a unit of
    another dimension, for NaN and infinities, and for anything that is no text.

    >>> read("15 kn", "speed")
    7.716666666666667
    """
    wanted = _dimension(dimension)
    if isinstance(given, str):
        value = _from_text(given, wanted)
    elif isinstance(given, bool) or not isinstance(given, int | float):
        raise QuantityError(
            quote(given), f"this must be {wanted.words}, written as text",
            f"write it in quotes, such as '{wanted.example}'",
        )
    elif isinstance(given, float) and not math.isfinite(given):
        raise QuantityError(
            quote(given), "not-a-number and infinity measure nothing",
            f"write a number with its unit, such as '{wanted.example}'",
        )
    elif "" not in wanted.spellings:
        raise QuantityError(quote(given), "a bare number has no unit", _write_a_unit(given, wanted))
    else:
        value = float(given) if abs(given) < 1e300 else math.inf
    if not math.isfinite(value):
        raise QuantityError(
            quote(given), "the number must be finite (no division by zero, no overflow)",
            f"write a number that can be measured, such as '{wanted.example}'",
        )
    return value


def _plain(magnitude: float, decimals: int) -> str:
    """A number rounded to `decimals` places (negative: tens, hundreds), never "-0"."""
    rounded = round(magnitude, decimals) + 0.0
    return f"{rounded:.{max(decimals, 0)}f}" if rounded else f"{0.0:.{max(decimals, 0)}f}"


def _decimals(magnitude: float, figures: int) -> int:
    """Decimal places that leave `figures` significant figures of `magnitude`."""
    return figures - 1 - math.floor(math.log10(abs(magnitude))) if magnitude else figures - 1


def show_unit(value: float, dimension: str, system: System) -> str:
    """The unit's spelling that `show` chooses for an SI value (the empty text for a number)."""
    wanted = _dimension(dimension)
    choices = (wanted.metric if system == "metric" else ()) or wanted.us
    reached = [spelling for start, spelling in choices if abs(value) >= start * (1 - 1e-12)]
    return reached[-1] if reached else choices[0][1]


def show(
    value: float,
    dimension: str,
    system: System = "us",
    *,
    doubt: float | None = None,
    figures: int | None = None,
    unit: str | None = None,
) -> str:
    """Text of an SI value in the captain's units, rounded to what is known.

    doubt    how far off the value may be [same SI unit]: the last digit shown is the doubt's
             first one (its second where the first is a 1, so that rounding adds little to it)
    figures  significant figures where no doubt is given (3, and 4 for a density)
    unit     a spelling of the dimension to show it in, instead of the system's own

    >>> show(7.716666, "speed"), show(121.92, "length", doubt=3.0)
    ('15.0 kn', '400 ft')
    """
    wanted = _dimension(dimension)
    if not math.isfinite(value):
        return "not known"
    spelling = show_unit(value, dimension, system) if unit is None else unit
    pint_unit = _spelled(spelling, wanted)
    if pint_unit is None:
        raise _unit_refusal(wanted, spelling, quote(spelling))
    factor, offset = _scale(pint_unit, wanted.si)
    magnitude = (value - offset) / factor
    decimals = _decimals(magnitude, wanted.figures if figures is None else figures)
    if doubt is not None and doubt > 0.0:
        share = doubt / factor
        leading_one = f"{share:e}".startswith("1")
        decimals = _decimals(share, 2 if leading_one else 1)
    return f"{_plain(magnitude, min(decimals, 12))} {spelling}".rstrip()


def show_given(value: float, dimension: str, system: System = "us") -> str:
    """Text of a value that somebody gave, such as the mass of a weight: "32 oz", not "32.0 oz"."""
    text = show(value, dimension, system, figures=5)
    number, _, spelling = text.partition(" ")
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return f"{number} {spelling}".rstrip()
