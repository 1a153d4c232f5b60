"""Reads what a study is to sweep from the words of the command line; all faults at once."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from typing import TypeVar

from spreadwright import quantity
from spreadwright.day.boat_motion import Hull
from spreadwright.day.waves import SeaState
from spreadwright.faults import Fault, Faults
from spreadwright.plan.study import CALM, Asked, SeaAsked
from spreadwright.quantity import QuantityError, quote

MOST_CASES = 5000
YOUNG = 0.04  # significant height over length of a young wind sea, where no period is given
STEEPEST = 0.1  # beyond it a sea breaks all over
_KNOT = 1852.0 / 3600.0
_SEA = re.compile(r"(?P<height>.+?)(?:\s+(?:at\s+)?(?P<period>[\d.]+\s*(?:s|sec|seconds?)))?")

Read = TypeVar("Read")


def asked_from_words(
    speeds: Sequence[str],
    radii: Sequence[str],
    seas: Sequence[str],
    waves_from: str,
    seed: int,
    hulls: Sequence[str],
    boats: int,
) -> Asked:
    """What is to be swept over that many boats. Raises Faults with everything that is wrong."""
    faults: list[Fault] = []

    def each(place: str, given: Sequence[str], read: Callable[[str], Read]) -> tuple[Read, ...]:
        found = []
        for text in given:
            try:
                found.append(read(text))
            except QuantityError as error:
                faults.append(Fault(place, error.given, error.rule, error.next_step))
        return tuple(dict.fromkeys(found))

    asked = Asked(
        speeds=each("--speed", speeds, lambda text: _within(text, "speed", _KNOT, 40.0 * _KNOT)),
        radii=each("--radius", radii, lambda text: _within(text, "length", 5.0, 5000.0)),
        seas=each("--sea", seas, sea_from_words) or (CALM,),
        waves_from=next(iter(each("--waves-from", [waves_from], lambda text: quantity.read(text, "angle"))), 0.0),
        seed=seed,
        hulls=tuple(_hulls(hulls, faults)),
    )
    if len(hulls) not in (0, 1, boats):
        rule = f"one hull for all boats, or one for each of the {boats}, in the order of their files"
        faults.append(Fault("--hull", f"{len(hulls)} hulls", rule, "give one for each, or one alone"))
    cases = boats * max(len(asked.speeds), 1) * max(len(asked.radii), 1) * len(asked.seas)
    if cases > MOST_CASES:
        faults.append(Fault("the study", f"{cases} cases", f"at most {MOST_CASES} in one study", "sweep fewer of each"))
    if faults:
        raise Faults(faults)
    return asked


def sea_from_words(text: str) -> SeaAsked:
    """A sea from "calm", "2 ft" or "2 ft at 4 s". Raises QuantityError.

    Without a period it is that of a young sea, whose significant height is 0.04 of its length.
    """
    if text.strip().lower() in {"calm", "none", "0"}:
        return CALM
    match = _SEA.fullmatch(text.strip())
    if match is None:
        raise QuantityError(quote(text), "a sea is calm, or a height and a period", "write it as '2 ft at 4 s'")
    height = quantity.read(match["height"], "length")
    if height == 0.0:
        return CALM
    if not 0.02 <= height <= 6.0:
        raise QuantityError(quote(text), "the significant height is from 2 cm to 6 m", "check the number and its unit")
    if match["period"] is None:
        return SeaAsked(height, math.sqrt(2.0 * math.pi * height / (9.80665 * YOUNG)))
    period = quantity.read(match["period"], "time")
    if not 1.0 <= period <= 20.0:
        raise QuantityError(quote(text), "the peak period is from 1 s to 20 s", "check the number and its unit")
    if SeaState(height, period).steepness > STEEPEST:
        least = math.sqrt(2.0 * math.pi * height / (9.80665 * STEEPEST))
        raise QuantityError(
            quote(text), "a sea higher than a tenth of its length breaks all over", f"give a period over {least:.1f} s"
        )
    return SeaAsked(height, period)


def hull_from_words(text: str) -> Hull:
    """A hull from "28 ft x 10 ft x 2 ft": length, beam and draught at the waterline. Raises QuantityError."""
    parts = re.split(r"\s+(?:x|by)\s+|\s*[×,]\s*", text.strip())
    if len(parts) != 3:
        rule = "a hull is its length, beam and draught at the waterline"
        raise QuantityError(quote(text), rule, "write it as '28 ft x 10 ft x 2 ft'")
    length, beam, draught = (_within(part, "length", 0.1, 60.0) for part in parts)
    return Hull(length, beam, draught)


def _hulls(given: Sequence[str], faults: list[Fault]) -> list[Hull]:
    found = []
    for text in given:
        try:
            found.append(hull_from_words(text))
        except QuantityError as error:
            faults.append(Fault("--hull", error.given, error.rule, error.next_step))
    return found


def _within(text: str, dimension: str, low: float, high: float) -> float:
    value = quantity.read(text, dimension)
    if low <= value <= high:
        return value
    least, most = (quantity.show_given(edge, dimension, "metric") for edge in (low, high))
    words = quantity.DIMENSIONS[dimension].words
    raise QuantityError(quote(text), f"{words} here is from {least} to {most}", "check the number and its unit")
