"""A calibration in sentences: what is known now, whether the readings fit together, and what to read next."""

from __future__ import annotations

from spreadwright.plan.calibration import Calibration, Fitted, Narrowed, Next
from spreadwright.quantity import System, show, show_given

NAMES = {
    "pull": ("pull at the rod", "force"),
    "angle": ("angle of the line", "angle"),
    "weight_depth": ("depth of the weight", "length"),
    "lure_depth": ("depth of the lure", "length"),
}
ILL = 0.01  # chance of a worse fit below which readings do not fit together
FAR = 2.0  # standard errors beyond which a reading stands out

NOTES = (
    "every range here holds the truth nine times in ten, if the stated ranges and errors do",
    "all lines err alike from usual, whatever their material; so do all weights",
    "lures that were not read follow those that were by half, as their drag comes from one rule: assumed",
    "counted along and then left out: the error of each speed, 2 % of each mark, the stiffness of nylon",
    "not counted: waves, boat motion, current, the wash; read on flat water and straight ahead, and average",
    "the depths before and after show the doubt of drag alone: speed, marks and turns add to it in the plan",
)


def coefficient_in_words(each: Narrowed) -> str:
    """What a coefficient is of."""
    if each.what == "lure":
        return f"drag area of {', '.join(each.lures)}"
    return {
        "line across": "drag of lines across, smooth line",
        "line along": "drag of lines along, smooth line",
        "weight": "drag of weights along, over the usual",
    }[each.what]


def sentences(made: Calibration, system: System | None = None) -> tuple[str, ...]:
    """The short answer, most important first, in the trip's units or others."""
    units = system or made.units
    said = [_how_many(made), *_fit(made, units), _depths(made, units)]
    most = max(made.coefficients, key=lambda each: each.known, default=None)
    if most is not None and most.known > 0.02:
        said.append(f"Best known now: {coefficient_in_words(most)}; {100 * most.known:.0f} % of its doubt is gone.")
    if made.next:
        said.append(_next(made.next[0], units))
    return tuple(said)


def _how_many(made: Calibration) -> str:
    rods = len({each.rod for each in made.readings})
    count = len(made.readings)
    ended = "" if made.settled else " The search for the best fit did not come to rest: take the ranges as rough."
    return f"{count} reading{'s' * (count != 1)} on {rods} rod{'s' * (rods != 1)}.{ended}"


def _fit(made: Calibration, units: System) -> list[str]:
    worst = max(made.readings, key=lambda each: abs(each.off), default=None)
    if worst is None:
        return []
    if made.chance < ILL:
        return [
            f"THE READINGS DO NOT FIT TOGETHER with the errors given: a fit this bad happens {_chance(made)}. "
            f"Farthest off: {_reading(worst, units)}. Take it again, or give it a larger error."
        ]
    if abs(worst.off) > FAR:
        return [f"The readings fit together, but one stands out: {_reading(worst, units)}."]
    return ["The readings fit together within their errors."]


def _chance(made: Calibration) -> str:
    return "less than once in 1000" if made.chance < 0.001 else f"once in {round(1.0 / made.chance)}"


def _reading(each: Fitted, system: System) -> str:
    name, dimension = NAMES[each.what]
    more = "more" if each.off > 0.0 else "less"
    by = show(abs(each.given - each.after), dimension, system, figures=2)
    given = show(each.given, dimension, system, figures=3)
    return f"the {name} on rod {each.rod} ({each.place}), {given}, is {by} {more} than fits"


def _depths(made: Calibration, units: System) -> str:
    if not made.depths:
        return "No lure's depth could be computed."
    count = len(made.depths)
    before = sum(each.before.doubt for each in made.depths) / count
    was, now = (show(each, "length", units, doubt=each) for each in (before, made.doubt_now))
    return f"From drag alone the lures' depths were known to within {was} in the mean, and are to within {now} now."


def error_said(error: float, dimension: str, system: System) -> str:
    """The error of a reading as it was given; in one figure where it was given in other units: "1 ft" for 0.3 m."""
    said = show_given(error, dimension, system)
    number, unit = said.split(" ", 1)
    few = len(number.replace(".", "").strip("0")) <= 2
    return said if few else f"{float(f'{float(number):.1g}'):g} {unit}"


def _next(each: Next, system: System) -> str:
    name, dimension = NAMES[each.what]
    error = error_said(each.error, dimension, system)
    mark, speed = show(each.mark, "length", system, figures=3), show(each.speed, "speed", system, figures=2)
    return (
        f"To read next: the {name} on rod {each.rod} at its {mark} mark and {speed}, to within {error}: it would take "
        f"{100 * each.gain:.0f} % of the variance that is left in the lures' depths."
    )
