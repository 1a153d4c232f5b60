"""A rod's rig from reel to hook as rows of words: what each piece is, and what it is called, for card and deck sheet.

With the trip at hand the rows name reel, main line, double line or wind-on and hooks; a plan alone knows the rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from spreadwright.plan.value import RodPlan
from spreadwright.quantity import System
from spreadwright.sheets.figures import counted, given, plain
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.trip import Trip

Sign = Literal["reel", "line", "swivel", "weight", "shock", "bite", "lure"]


@dataclass(frozen=True)
class RigRow:
    """One piece of a rig: the sign it is drawn with, its name, and what it is or what to know of it."""

    sign: Sign
    what: str
    more: str


def rig_rows(rod: RodPlan, trip: Trip | None, system: System) -> list[RigRow]:
    """The pieces from reel to lure; what the rod does not carry is left out."""
    outfit = trip.outfit(rod.rod) if trip is not None else None
    drag = f"strike drag {given(rod.strike_drag, 'force', system)}"
    rows = (
        RigRow("reel", plain(outfit.reel.name), f"reel, {drag}") if outfit else RigRow("reel", "reel", drag),
        _main_line(rod, outfit, system),
        RigRow("swivel", plain(rod.swivel), "snap swivel"),
        RigRow("weight", plain(rod.weight), "weight"),
        RigRow("shock", plain(rod.shock_leader), "shock leader: the only place for a hand"),
        RigRow("bite", plain(rod.bite_leader), "bite leader"),
        RigRow("lure", plain(rod.lure), _lure(rod, trip)),
    )
    return [row for row in rows if row.what]


def _main_line(rod: RodPlan, outfit: Outfit | None, system: System) -> RigRow:
    """Main line to its mark, and what stands between it and the swivel."""
    out = f"to its {given(rod.mark, 'length', system)} mark"
    if outfit is None:
        return RigRow("line", "main line", out)
    line, more = outfit.line, f"main line {out}"
    if outfit.double_line is not None:
        more += f", the last {given(outfit.double_line, 'length', system)} doubled"
    if outfit.wind_on is not None:
        wind_on = outfit.wind_on
        more += (
            f", with a {given(wind_on.length, 'length', system)} wind-on of {given(wind_on.strength, 'force', system)}"
        )
    return RigRow("line", f"{given(line.strength, 'force', system)} {plain(line.material)}", more)


def _lure(rod: RodPlan, trip: Trip | None) -> str:
    """A lure's hooks, where the shelf knows the lure."""
    lure = next((each for each in trip.shelf.lures if each.name == rod.lure), None) if trip is not None else None
    if lure is None:
        return "lure"
    hooks = counted(lure.hooks, "hook")
    return f"lure, {hooks}, {plain(lure.hook)}" if lure.hook else f"lure, {hooks}"
