"""The boat and its rod stations: where each rod's tip is, in the boat's own frame."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field

from spreadwright.tackle.fields import LONGEST_LIST, Name, Tackle, reader, side_reader

_FARTHEST = 60.0  # [m]: no rod tip is farther from the transom than that
Forward = Annotated[float, BeforeValidator(side_reader("forward", "aft", _FARTHEST))]
Port = Annotated[float, BeforeValidator(side_reader("port", "starboard", _FARTHEST))]
Height = Annotated[float, BeforeValidator(reader("length", 0.0, 30.0, above=True))]


class Station(Tackle):
    """A place for a rod, given by where the rod's tip is while trolling.

    forward   [m] of the transom; aft is negative
    port      [m] of the centreline; starboard is negative
    up        [m] above still water
    """

    name: Name = Field(description="the station's name", examples=["port corner"])
    forward: Forward = Field(
        validation_alias="tip_from_transom",
        description="rod tip forward or aft of the transom",
        examples=["4 ft aft"],
    )
    port: Port = Field(
        validation_alias="tip_from_centreline",
        description="rod tip to port or to starboard of the centreline",
        examples=["7 ft to port"],
    )
    up: Height = Field(
        validation_alias="tip_above_water",
        description="rod tip above still water",
        examples=["8 ft"],
    )

    @property
    def tip(self) -> tuple[float, float, float]:
        """The rod tip (forward, port, up) [m]."""
        return (self.forward, self.port, self.up)


class Boat(Tackle):
    """The boat: its name and its rod stations."""

    name: Name = Field(description="the boat's name", examples=["Second Kettle"])
    stations: tuple[Station, ...] = Field(
        min_length=1,
        max_length=LONGEST_LIST,
        description="rod stations, one table each",
        examples=["[[boat.stations]]"],
    )

    def station(self, name: str) -> Station:
        """The station of that name; KeyError if there is none."""
        for station in self.stations:
            if station.name == name:
                return station
        raise KeyError(name)
