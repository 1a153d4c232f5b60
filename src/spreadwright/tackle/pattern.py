"""The pattern the boat runs: speed, and the turns with the straight runs between them."""

from __future__ import annotations

import math
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo

from spreadwright import quantity
from spreadwright.tackle.fields import Tackle, check_range, reader, refusal

SIDES = {"to port": 1.0, "port": 1.0, "to starboard": -1.0, "starboard": -1.0}
_KNOT = 1852.0 / 3600.0


def _read_turn(given: Any, info: ValidationInfo) -> float:
    """Heading change [rad], positive to port, from "90 deg to port" (or SI where that is allowed)."""
    highest = 2.0 * math.pi
    if not isinstance(given, str):
        return reader("angle", -highest, highest)(given, info)
    text, sign = given, 0.0
    for side, its_sign in SIDES.items():
        if text.rstrip().lower().endswith(side):
            text, sign = text.rstrip()[: -len(side)], its_sign
            break
    if sign == 0.0:
        raise refusal(
            quantity.quote(given),
            "a turn says its side: to port or to starboard",
            "write it as '90 deg to port' or '90 deg to starboard'",
        )
    value = reader("angle")(text, info)
    check_range(value, given, "angle", 0.0, highest, above=True)
    return sign * value


Turn = Annotated[float, BeforeValidator(_read_turn)]
Speed = Annotated[float, BeforeValidator(reader("speed", 1.0 * _KNOT, 40.0 * _KNOT))]
Radius = Annotated[float, BeforeValidator(reader("length", 5.0, 5000.0))]
Run = Annotated[float, BeforeValidator(reader("length", 0.0, 5000.0))]
TurnTime = Annotated[float, BeforeValidator(reader("time", 0.0, 120.0))]
SpeedLoss = Annotated[float, BeforeValidator(reader("number", 0.0, 0.8))]


class Pattern(Tackle):
    """The S-turn: at `speed`, each turn of `turns` at `turn_radius`, with `straight_run` between.

    speed              [m/s] through the water
    turn_radius        [m]
    turns              [rad] heading changes one after another, positive to port
    straight_run       [m] between turns, and before the first
    turn_time          [s] that the rate of turn takes to build up (and to die away) to 63 %
    speed_loss         [-] share of the speed that is lost in a turn at full rate
    """

    speed: Speed = Field(description="trolling speed through the water", examples=["15 kn"])
    turn_radius: Radius = Field(description="radius of the turns", examples=["45 m"])
    turns: tuple[Turn, ...] = Field(
        min_length=1,
        max_length=40,
        description="heading changes, one after another, each with its side",
        examples=['["90 deg to port", "90 deg to starboard"]'],
    )
    straight_run: Run = Field(default=100.0, description="straight run between turns", examples=["100 m"])
    turn_time: TurnTime = Field(
        default=2.0,
        description="time for a turn to develop: until 63 % of the full rate of turn",
        examples=["2 s"],
    )
    speed_loss: SpeedLoss = Field(default=0.0, description="share of the speed lost in the turns", examples=["10 %"])


class Water(Tackle):
    """The sea the lines are in."""

    density: Annotated[float, BeforeValidator(reader("density", 950.0, 1100.0))] = Field(
        default=1025.0, description="density of the water", examples=["1025 kg/m3"]
    )
