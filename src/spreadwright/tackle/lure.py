"""Lures: skirted, with a metal head, one or two hooks."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from spreadwright.tackle.fields import (
    CONFIDENCE,
    Area,
    Confidence,
    Count,
    Diameter,
    GearLength,
    Mass,
    Name,
    Share,
    Tackle,
    reader,
    refusal,
)

Head = Literal["bullet", "jet", "cone", "flat"]
PastSkirt = Annotated[float, BeforeValidator(reader("size", 0.0, 0.5))]


class Lure(Tackle):
    """A skirted lure, as it is fished: head, skirt and hooks together."""

    name: Name = Field(description="what it is called", examples=["black-purple jet 9 in"])
    head: Head = Field(description="shape of the head: bullet, jet (drilled), cone or flat", examples=["jet"])
    mass: Mass = Field(description="mass of the whole lure, hooks included", examples=["8 oz"])
    length: GearLength = Field(description="length from nose to skirt end", examples=["9 in"])
    head_diameter: Diameter = Field(description="thickness of the head", examples=["1.25 in"])
    colours: tuple[Name, ...] = Field(
        min_length=1, max_length=20, description="its colours, darkest first", examples=['["black", "purple"]']
    )
    hooks: int = Field(strict=True, ge=1, le=2, description="hooks on it, 1 or 2", examples=["2"])
    hook: Name | None = Field(
        default=None,
        description="which of the shelf's hooks it is rigged with, by name",
        examples=["9/0 stainless"],
    )
    hooks_apart: GearLength | None = Field(
        default=None, description="between the eyes of its two hooks, for the record rules", examples=["5 in"]
    )
    hook_length: GearLength | None = Field(
        default=None, description="overall length of its larger hook, for the record rules", examples=["4 in"]
    )
    hook_past_skirt: PastSkirt | None = Field(
        default=None,
        description="how far the last hook stands out behind the skirt, for the record rules",
        examples=["0 in"],
    )
    count: Count = Field(description="how many are fit to use", examples=["3"])
    confidence: Confidence = CONFIDENCE
    drag_area: Area | None = Field(
        default=None,
        description="drag coefficient times area, if measured; otherwise from the head and skirt",
        examples=["9 cm2"],
    )
    drag_area_doubt: Share | None = Field(
        default=None,
        description="how far off the drag area may be, as a share of it",
        examples=["25 %"],
    )

    @model_validator(mode="after")
    def _doubt_needs_an_area(self) -> Self:
        if self.drag_area_doubt is not None and self.drag_area is None:
            raise refusal(
                "drag_area_doubt without drag_area",
                "a doubt belongs to a drag area that is given",
                "give drag_area too, or leave drag_area_doubt out",
            )
        return self
