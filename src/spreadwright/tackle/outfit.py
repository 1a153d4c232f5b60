"""An outfit: a rod with its reel, the line on it, the marks tied on that line, and the drag it is set to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Self

from pydantic import BeforeValidator, Field, ValidationInfo, model_validator

from spreadwright.quantity import show_given
from spreadwright.tackle.fields import (
    FROM_FILE,
    Force,
    LeaderLength,
    LineLength,
    Name,
    Tackle,
    Words,
    reader,
    refusal,
)
from spreadwright.tackle.joints import OutfitJoints
from spreadwright.tackle.leader import BiteGuard, WindOn
from spreadwright.tackle.line import MainLine

Mark = Annotated[float, BeforeValidator(reader("length", 1.0, 1000.0))]
SpoolSize = Annotated[float, BeforeValidator(reader("size", 0.005, 0.5))]

MARK_TOLERANCE = 0.05  # [m]: "100 ft" and "30.5 m" are the same mark


class Reel(Tackle):
    """A reel: how much line its spool holds and how hard it can brake."""

    name: Name = Field(description="what it is called", examples=["two-speed 50 wide"])
    holds: LineLength = Field(
        description="how much of this outfit's line the spool holds when full", examples=["650 yd"]
    )
    max_drag: Force = Field(description="greatest drag it can be set to", examples=["45 lb"])
    spool_width: SpoolSize | None = Field(
        default=None, description="width between the spool's flanges", examples=["65 mm"]
    )
    spool_full_diameter: SpoolSize | None = Field(
        default=None, description="across the line when the spool is full", examples=["95 mm"]
    )
    spool_core_diameter: SpoolSize | None = Field(default=None, description="across the bare spool", examples=["45 mm"])


class Outfit(Tackle):
    """A rod ready to fish. The marks are lengths on the slack line, as they were tied."""

    name: Name = Field(description="the rod's name in the plan", examples=["green 80"])
    rod: Words = Field(default="", description="the rod in plain words", examples=["6 ft stand-up, 80 lb class"])
    reel: Reel = Field(description="the reel", examples=["[outfits.reel]"])
    line: MainLine = Field(description="the line on the reel", examples=["[outfits.line]"])
    backing: MainLine | None = Field(
        default=None,
        description="line under the main line, if there is any",
        examples=["[outfits.backing]"],
    )
    marks: tuple[Mark, ...] = Field(
        min_length=1,
        max_length=40,
        description="where marks are tied: slack length from the snap at the weight, double line and wind-on included",
        examples=['["100 ft", "200 ft"]'],
    )
    strike_drag: Force = Field(description="drag set for the strike, measured with a full spool", examples=["22 lb"])
    double_line: LeaderLength | None = Field(
        default=None, description="length of the double line, if tied", examples=["12 ft"]
    )
    wind_on: WindOn | None = Field(
        default=None, description="wind-on leader, if there is one", examples=["[outfits.wind_on]"]
    )
    bite_guard: BiteGuard | None = Field(
        default=None,
        description="wire or cable between snap swivel and weight, if there is any",
        examples=["[outfits.bite_guard]"],
    )
    joints: OutfitJoints | None = Field(
        default=None,
        description="which knot, plait, splice or crimp is tied where; otherwise the usual one for the material",
        examples=["[outfits.joints]"],
    )
    station: Name | None = Field(
        default=None,
        description="the station this rod always stands at; otherwise the plan chooses",
        examples=["port corner"],
    )

    @model_validator(mode="after")
    def _marks_are_on_the_line(self, info: ValidationInfo) -> Self:
        """Hold for every outfit; in a trip file each such mark is reported in its own place."""
        beyond = marks_beyond(self.line.length, self.marks)
        if beyond and info.context != FROM_FILE:
            mark, length = self.marks[beyond[0]], self.line.length
            words = mark_beyond_words(show_given(mark, "length"), show_given(length, "length"))
            raise refusal(*words)
        return self

    def tied_mark(self, mark: float) -> float | None:
        """The tied mark [m] that a wanted mark [m] means, or None: they may differ by 5 cm."""
        nearest = min(self.marks, key=lambda tied: abs(tied - mark))
        return nearest if abs(nearest - mark) <= MARK_TOLERANCE else None


def marks_beyond(length: float, marks: Sequence[float]) -> list[int]:
    """Indices of the marks [m] that a line of that length [m] does not reach."""
    return [index for index, mark in enumerate(marks) if mark > length + 1e-6]


def mark_beyond_words(mark: str, length: str) -> tuple[str, str, str]:
    """What was given, the rule and the next step for a mark beyond a line's length."""
    return (
        mark,
        f"a mark must be on the line, and {length} is on the spool",
        "tie the mark nearer, or correct the line's length",
    )
