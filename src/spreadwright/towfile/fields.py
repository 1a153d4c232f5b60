"""How one value of a tow file is read: each reader turns what stands in the file into SI, or refuses it.

A refusal is a QuantityError: what was given, the rule, and the next step. `reading.py` gives it its place.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from spreadwright import quantity
from spreadwright.quantity import QuantityError, quote
from spreadwright.tackle.keys import nearest

Reader = Callable[[object], Any]
LONGEST_NAME = 80
LARGEST_SEED = 2**32 - 1
DOES_NOT_STRETCH = "inextensible"


def measure(dimension: str, lowest: float, highest: float, *, above: bool = False) -> Reader:
    """A quantity with its unit from `lowest` to `highest` [any, SI]; `above`: more than the lowest."""

    def read(given: object) -> float:
        return _within(quantity.read(given, dimension), given, dimension, lowest, highest, above)

    return read


def _within(value: float, given: object, dimension: str, lowest: float, highest: float, above: bool) -> float:
    words = quantity.DIMENSIONS[dimension].words
    check = "check the number and its unit"
    if value < lowest or (above and value == lowest):
        least = f"{'more than' if above else 'at least'} {_bound(lowest, dimension)}"
        raise QuantityError(quote(given), f"{words} here must be {least}", check)
    if value > highest:
        raise QuantityError(quote(given), f"{words} here must be at most {_bound(highest, dimension)}", check)
    return value


def _bound(value: float, dimension: str) -> str:
    if value == 0.0:
        return "zero"
    metric = quantity.show_given(value, dimension, "metric")
    us = quantity.show(value, dimension, "us")
    return metric if metric.split()[-1] == us.split()[-1] else f"{metric} ({us})"


def time_or_run(longest: float) -> Reader:
    """A time [s] or a length [m]: ("time", s) or ("length", m). A run of the boat may be given either way."""
    read_time, read_run = measure("time", 0.0, longest), measure("length", 0.0, 50.0 * longest)

    def read(given: object) -> tuple[str, float]:
        try:
            quantity.read(given, "length")
        except QuantityError:
            try:
                return "time", read_time(given)
            except QuantityError as error:
                rule = error.rule.replace("must be a time", "must be a time or a length")
                raise QuantityError(error.given, rule, "write it as '5 s' or as '40 m'") from None
        return "length", read_run(given)

    return read


def sided(plus: str, minus: str, farthest: float) -> Reader:
    """A length with its side in words, such as "4 ft to port": positive on the `plus` side [m]; "0 ft" needs none."""
    rule = f"this is a length with its side: {plus} or {minus}"
    step = f"write it as '4 ft {_to(plus)}' or '4 ft {_to(minus)}'"
    return lambda given: _with_side(given, "length", farthest, {plus: 1.0, minus: -1.0}, (0.0,), rule, step)


def _with_side(
    given: object,
    dimension: str,
    highest: float,
    sides: dict[str, float],
    free: tuple[float, ...],
    rule: str,
    step: str,
) -> float:
    """A quantity with its side as a signed one [any, SI]; those that are `free` need no side."""
    words = given.split() if isinstance(given, str) else []
    sign = sides.get(words[-1].lower(), 0.0) if words else 0.0
    text: object = " ".join(words[:-1]).removesuffix(" to") if sign else given
    try:
        value: float = measure(dimension, 0.0, highest)(text)
    except QuantityError as error:
        if sign:
            raise QuantityError(quote(given), error.rule, step) from None
        raise QuantityError(quote(given), rule, step) from None
    if sign == 0.0 and not any(math.isclose(value, each) for each in free):
        raise QuantityError(quote(given), rule, step)
    return (sign or 1.0) * value + 0.0


def _to(side: str) -> str:
    return f"to {side}" if side in {"port", "starboard"} else side


_PORT = {"port": 1.0, "starboard": -1.0}


def turn(given: object) -> float:
    """A heading change with its side, such as "90 deg to port" [rad, positive to port]."""
    rule = "a turn is an angle with its side: to port or to starboard"
    step = "write it as '90 deg to port' or '90 deg to starboard'"
    value = _with_side(given, "angle", 2.0 * math.pi, _PORT, (), rule, step)
    if value == 0.0:
        raise QuantityError(quote(given), "a turn of no angle is no turn", "leave it out")
    return value


def direction(given: object) -> float:
    """Where something runs to, counted from the boat's first heading [rad, positive to port]: "30 deg to port"."""
    rule = "a direction is an angle with its side: to port or to starboard of the boat's first heading"
    step = "write it as '30 deg to port'; only '0 deg' (with the boat) and '180 deg' (against it) need no side"
    return _with_side(given, "angle", math.pi * (1.0 + 1e-12), _PORT, (0.0, math.pi), rule, step)


def stiffness(given: object) -> float:
    """EA as a force [N], or infinity for "inextensible"."""
    if isinstance(given, str) and given.strip().lower() == DOES_NOT_STRETCH:
        return math.inf
    try:
        value: float = measure("force", 1.0, 1e10)(given)
    except QuantityError as error:
        step = f"write the force that would double its length, such as '1300 N', or '{DOES_NOT_STRETCH}'"
        raise QuantityError(error.given, error.rule, step) from None
    return value


def number(lowest: float, highest: float, *, above: bool = False) -> Reader:
    """A plain number [-], or a share in per cent."""
    return measure("number", lowest, highest, above=above)


def whole(lowest: int, highest: int) -> Reader:
    """A whole number, without quotes."""

    def read(given: object) -> int:
        if isinstance(given, bool) or not isinstance(given, int):
            raise QuantityError(quote(given), "this must be a whole number, without quotes", f"write {max(lowest, 1)}")
        if not lowest <= given <= highest:
            raise QuantityError(quote(given), f"this must be from {lowest} to {highest}", "choose a number in between")
        return given

    return read


def truth(given: object) -> bool:
    """True or false."""
    if not isinstance(given, bool):
        raise QuantityError(quote(given), "this must be true or false, without quotes", "write true or false")
    return given


def name(given: object) -> str:
    """A name: printable text on one line."""
    if not isinstance(given, str):
        raise QuantityError(quote(given), "a name is text, in quotes", 'write it in quotes, such as "main line"')
    tidy = given.strip()
    if not tidy or len(tidy) > LONGEST_NAME or not tidy.isprintable():
        rule = f"a name has 1 to {LONGEST_NAME} printable characters, all on one line"
        raise QuantityError(quote(given), rule, "write a shorter or plainer name")
    return tidy


def one_of(*known: str) -> Reader:
    """One of a few words."""

    def read(given: object) -> str:
        if isinstance(given, str) and given.strip().lower() in known:
            return given.strip().lower()
        near = nearest(given[:LONGEST_NAME], known) if isinstance(given, str) else None
        step = f"did you mean '{near}'?" if near else f"write one of them, such as '{known[0]}'"
        raise QuantityError(quote(given), f"this must be one of: {', '.join(known)}", step)

    return read


@dataclass(frozen=True)
class Several:
    """A list of `least` to `most` values, each read by `each`; every entry is told its own place."""

    each: Reader
    least: int
    most: int

    def __call__(self, given: object) -> list[object]:
        """The entries as they stand in the file."""
        if isinstance(given, list) and self.least <= len(given) <= self.most:
            return given
        found = f"{len(given)} entries" if isinstance(given, list) else quote(given)
        count = f"{self.least}" if self.least == self.most else f"{self.least} to {self.most}"
        raise QuantityError(found, f"this is a list of {count} entries", "write them in square brackets")
