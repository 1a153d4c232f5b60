"""What the captain wants: how much gap is enough, colours, what is fixed, what is banned, spares."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import BeforeValidator, Field, model_validator

from spreadwright.quantity import read
from spreadwright.tackle.fields import Count, Diameter, LineDiameter, Name, Tackle, Words, reader, refusal
from spreadwright.tackle.outfit import Mark

Gap = Annotated[float, BeforeValidator(reader("length", 0.0, 50.0, above=True))]
Reach = Annotated[float, BeforeValidator(reader("length", 0.0, 5.0))]
RigLength = Annotated[float, BeforeValidator(reader("length", 0.0, 200.0, above=True))]


class Wishes(Tackle):
    """What makes a spread good in the captain's eyes. Gaps and reach in metres."""

    enough_gap: Gap = Field(
        default=2.0,
        description="a gap between gear and another line that is wide enough: wider gains nothing",
        examples=["2 m"],
    )
    tangle_reach: Reach = Field(
        default=0.3,
        description="gear nearer than this to another line counts as a tangle",
        examples=["0.3 m"],
    )
    rig_length: RigLength = Field(
        default=read("100 ft", "length"),
        description="longest that a rig may be from the double line's knot to the last hook",
        examples=["100 ft"],
    )
    hand_hold_diameter: LineDiameter = Field(
        default=read("1.3 mm", "diameter"),
        description="thinnest monofilament that a hand may take",
        examples=["1.3 mm"],
    )
    one_line_a_mark: bool = Field(
        default=False, strict=True, description="at most one line at any distance", examples=["true"]
    )
    preferred_colours: tuple[Name, ...] = Field(
        default=(), max_length=20, description="colours to prefer, the best first", examples=['["black", "purple"]']
    )
    preferred_heads: tuple[Diameter, ...] = Field(
        default=(), max_length=20, description="thickness of lure heads to prefer, the best first",
        examples=['["1.25 in", "1.5 in"]'],
    )  # fmt: skip


class Choice(Tackle):
    """A part of a rod's plan, by the names the trip file gives; None leaves that part open."""

    mark: Mark | None = Field(default=None, description="one of the rod's marks", examples=["200 ft"])
    weight: Name | None = Field(default=None, description="a trolling weight, by name", examples=["48 oz torpedo"])
    leader: Name | None = Field(default=None, description="a shock leader, by name", examples=["30 ft of 300 lb"])
    bite_leader: Name | None = Field(
        default=None, description="a bite leader, by name", examples=["3 ft of 270 lb wire"]
    )
    lure: Name | None = Field(default=None, description="a lure, by name", examples=["black-purple jet 9 in"])
    station: Name | None = Field(default=None, description="a station, by name", examples=["port corner"])

    @property
    def chosen(self) -> dict[str, str | float]:
        """The parts that are named: key of the trip file -> what is chosen."""
        every = {key: getattr(self, key) for key in Choice.model_fields}
        return {key: value for key, value in every.items() if value is not None}


WHOLE_RIG = ("weight", "leader", "bite_leader", "lure")


class Lock(Choice):
    """What the captain has fixed for one rod."""

    rod: Name = Field(description="which rod, by its outfit's name", examples=["green 80"])
    anyway: bool = Field(
        default=False,
        strict=True,
        description="fish this rig even if it fails a check; weight, leader, bite_leader and lure must be fixed too",
        examples=["true"],
    )

    @model_validator(mode="after")
    def _anyway_names_the_whole_rig(self) -> Self:
        missing = [part for part in WHOLE_RIG if getattr(self, part) is None]
        if self.anyway and missing:
            raise refusal(
                f"anyway = true without {', '.join(missing)}",
                "a rig that fails a check is fished only if the captain has fixed all of it",
                f"fix {', '.join(missing)} too, or leave anyway out",
            )
        return self

    @model_validator(mode="after")
    def _something_is_fixed(self) -> Self:
        if not self.chosen:
            raise refusal(
                f'rod = "{self.rod}" and nothing else',
                "a fixed rod says what is fixed",
                f"add at least one of: {', '.join(Choice.model_fields)}",
            )
        return self


class Ban(Choice):
    """Parts that may not be fished together: on one rod, or on any rod where none is named."""

    rod: Name | None = Field(default=None, description="which rod; any rod where left out", examples=["green 80"])
    reason: Words = Field(default="", description="why, shown in the plan", examples=["tangled"])

    @model_validator(mode="after")
    def _something_is_banned(self) -> Self:
        if not self.chosen:
            raise refusal(
                "no weight, lure or other part",
                "a ban says what is banned",
                f"add at least one of: {', '.join(Choice.model_fields)}",
            )
        return self


class Spares(Tackle):
    """How many of each kind to carry beyond what is fished."""

    weights: Count = Field(default=0, description="spare trolling weights", examples=["2"])
    shock_leaders: Count = Field(default=0, description="spare shock leaders", examples=["4"])
    bite_leaders: Count = Field(default=0, description="spare bite leaders", examples=["6"])
    lures: Count = Field(default=0, description="spare lures", examples=["4"])
    snap_swivels: Count = Field(default=0, description="spare snap swivels", examples=["6"])
    crimps: Count = Field(default=0, description="spare crimps", examples=["20"])
    hooks: Count = Field(default=0, description="spare hooks", examples=["6"])
