"""The units that quantities may be written in: each dimension's SI unit, spellings, and how it is shown.

Nothing outside this room knows any unit other than SI. The conversion factors come from pint; the
spellings that are accepted are listed here, so that a text can never make pint evaluate an
expression. Pint takes a good part of a second to start: it is imported at the first conversion.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint


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
    return {spelling.replace("_", " "): unit for unit, line in units.items() for spelling in line.split()}


_LENGTH = _spell(
    m="m metre metres meter meters",
    cm="cm centimetre centimetres centimeter centimeters",
    mm="mm millimetre millimetres millimeter millimeters",
    km="km kilometre kilometres kilometer kilometers",
    ft="ft foot feet '",
    inch='in inch inches "',
    yard="yd yds yard yards",
    sea_fathom="fathom fathoms fm",
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

# fmt: off
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
# fmt: on


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
    registry.define("sea_fathom = 6 * foot")  # pint's own fathom counts in US survey feet
    return registry


@cache
def scale(unit: str, si: str) -> tuple[float, float]:
    """Factor and offset that take a magnitude in `unit` to SI: value * factor + offset."""
    registry = _registry()
    zero = float(registry.Quantity(0.0, unit).to(si).magnitude)
    if zero == 0.0:
        return float(registry.Quantity(1.0, unit).to(si).magnitude), 0.0
    # A scale with an offset (degC, degF): a span of 100 gives the factor with least rounding.
    hundred = float(registry.Quantity(100.0, unit).to(si).magnitude)
    return (hundred - zero) / 100.0, zero


def dimension_of(name: str) -> Dimension:
    """The dimension of that name; KeyError, with the names there are, if it is none."""
    try:
        return DIMENSIONS[name]
    except KeyError:
        raise KeyError(f"no dimension {name!r}; known: {', '.join(DIMENSIONS)}") from None


def unit_spelled(text: str, dimension: Dimension) -> str | None:
    """Pint's unit for a captain's spelling, or None. Capitals count only where units have them."""
    spelling = " ".join(text.split())
    if spelling in dimension.spellings:
        return dimension.spellings[spelling]
    if any(spelling in other.spellings for other in DIMENSIONS.values()):
        return None  # "kN" is a force, never 10 "kn"
    return dimension.spellings.get(spelling.lower())
