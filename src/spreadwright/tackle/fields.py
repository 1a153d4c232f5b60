"""The kinds of field that tackle is made of: lengths, masses and forces as SI floats, names, counts.

A field takes a text with its unit ("30 ft") from anywhere. From Python and from saved JSON it
also takes a float, which is SI; from a trip file a bare number is refused, because a captain who
writes 400 may mean feet or metres (the reader of trip files says so by `FROM_FILE`).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo
from pydantic_core import PydanticCustomError

from spreadwright import quantity

FROM_FILE = {"bare_numbers": "refused"}  # the validation context of a trip file
LONGEST_NAME = 80
WORDS_OF_CONFIDENCE = {"low": 0.0, "fair": 0.5, "high": 1.0}
LONGEST_LIST = 200  # entries: no boat has more, and every check of a file stays quick


class Tackle(BaseModel):
    """Base of everything here: frozen, and a key that is not known is a fault."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=True,
        allow_inf_nan=False,
        str_strip_whitespace=True,
    )


def refusal(given: str, rule: str, next_step: str, example: str = "") -> PydanticCustomError:
    """The error a validator raises; the reader of trip files turns it into a located Fault.

    example   a general one that stands in next_step, for which the field's own may be put
    """
    return PydanticCustomError(
        "fault",
        "{rule}: given {given}; {next_step}",
        {"given": given, "rule": rule, "next_step": next_step, "example": example},
    )


def _bound(value: float, dimension: str) -> str:
    """A bound in metric and, where that differs, in US units."""
    if value == 0.0:
        return "zero"
    metric = quantity.show_given(value, dimension, "metric")
    us = quantity.show(value, dimension, "us")
    return metric if metric.split()[-1] == us.split()[-1] else f"{metric} ({us})"


def check_range(value: float, given: object, dimension: str, lowest: float, highest: float, above: bool) -> float:
    """The value itself if it lies from `lowest` to `highest` [SI of the dimension], else a refusal.

    above   True where `lowest` itself is not allowed either.
    """
    words = quantity.DIMENSIONS[dimension].words
    if value < lowest or (above and value == lowest):
        least = f"{'more than' if above else 'at least'} {_bound(lowest, dimension)}"
        raise refusal(quantity.quote(given), f"{words} here must be {least}", "check the number and its unit")
    if value > highest:
        raise refusal(
            quantity.quote(given),
            f"{words} here must be at most {_bound(highest, dimension)}",
            "check the number and its unit",
        )
    return value


def reader(
    dimension: str, lowest: float = -math.inf, highest: float = math.inf, *, above: bool = False
) -> Callable[[Any, ValidationInfo], float]:
    """A validator that turns a text with its unit into an SI float within the bounds [SI]."""

    def read(given: Any, info: ValidationInfo) -> float:
        is_number = isinstance(given, int | float) and not isinstance(given, bool)
        bare_is_si = info.context is None or info.context.get("bare_numbers") != "refused"
        if is_number and bare_is_si and math.isfinite(given):
            value = float(given)
        else:
            try:
                value = quantity.read(given, dimension)
            except quantity.QuantityError as error:
                example = quantity.DIMENSIONS[dimension].example
                raise refusal(error.given, error.rule, error.next_step, example) from error
        return check_range(value, given, dimension, lowest, highest, above)

    return read


def side_reader(plus: str, minus: str, highest: float) -> Callable[[Any, ValidationInfo], float]:
    """A validator for a length with its side in words: "4 ft to port", "5 ft aft", or "0 ft"."""
    read_length = reader("length", -highest, highest)

    def read(given: Any, info: ValidationInfo) -> float:
        if not isinstance(given, str):
            return read_length(given, info)
        words = given.split()
        side = words[-1].lower() if words else ""
        if side not in {plus, minus}:
            if _is_zero_length(given):
                return 0.0
            raise refusal(
                quantity.quote(given),
                f"this is a length with its side: {plus} or {minus}",
                f"write it as '4 ft {_to(plus)}' or '4 ft {_to(minus)}'",
            )
        text = " ".join(words[:-1]).removesuffix(" to")
        value = read_length(text, info)
        if value < 0.0:
            raise refusal(
                quantity.quote(given),
                "a length with a side in words has no minus sign",
                f"write it without the minus, and choose {plus} or {minus}",
            )
        return value if side == plus else 0.0 - value

    return read


def _is_zero_length(text: str) -> bool:
    try:
        return quantity.read(text, "length") == 0.0
    except quantity.QuantityError:
        return False


def _to(side: str) -> str:
    return f"to {side}" if side in {"port", "starboard"} else side


def _no_control_characters(name: str) -> str:
    if any(not character.isprintable() for character in name):
        raise refusal(
            quantity.quote(name),
            "a name has printable characters only, all on one line",
            "write the name again without line breaks or tabs",
        )
    return name


Name = Annotated[str, Field(min_length=1, max_length=LONGEST_NAME), AfterValidator(_no_control_characters)]
Words = Annotated[str, Field(max_length=400)]
Count = Annotated[int, Field(strict=True, ge=0, le=10_000)]
Number = Annotated[float, BeforeValidator(reader("number"))]
Share = Annotated[float, BeforeValidator(reader("number", 0.0, 1.0))]
LineLength = Annotated[float, BeforeValidator(reader("length", 0.0, 5000.0, above=True))]
LeaderLength = Annotated[float, BeforeValidator(reader("length", 0.0, 100.0, above=True))]
GearLength = Annotated[float, BeforeValidator(reader("size", 0.0, 2.0, above=True))]
Diameter = Annotated[float, BeforeValidator(reader("diameter", 0.0, 0.2, above=True))]
LineDiameter = Annotated[float, BeforeValidator(reader("diameter", 0.0, 0.02, above=True))]
Mass = Annotated[float, BeforeValidator(reader("mass", 0.0, 50.0, above=True))]
Force = Annotated[float, BeforeValidator(reader("force", 0.0, 1e5, above=True))]
Area = Annotated[float, BeforeValidator(reader("area", 0.0, 1.0, above=True))]


def _confidence(value: object) -> float | None:
    """Low, fair or high, or a number from 0 to 1, as a number."""
    if value is None or (isinstance(value, str) and value in WORDS_OF_CONFIDENCE):
        return None if value is None else WORDS_OF_CONFIDENCE[str(value)]
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0.0 <= value <= 1.0:
        raise refusal(
            repr(value), "confidence is low, fair or high, or a number from 0 to 1", 'write it like "high"', '"high"'
        )
    return float(value)


Confidence = Annotated[float | None, BeforeValidator(_confidence)]
CONFIDENCE: Any = Field(
    default=None, description="your own word on it: low, fair or high, or a number from 0 to 1", examples=["high"]
)
