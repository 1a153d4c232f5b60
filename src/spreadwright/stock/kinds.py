"""The kinds of gear in a tackle room, in the order a counting walk takes them, and what each kind is counted in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from spreadwright.stock.gear import Coil, Guard, Loose, RodAndReel
from spreadwright.tackle.fields import Tackle
from spreadwright.tackle.leader import BiteLeader, ShockLeader
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.terminal import Crimp, Hook, SnapSwivel
from spreadwright.tackle.weight import TrollingWeight

Counted = Literal["pieces", "length"]


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of gear.

    name      as the lists say it; plural too
    model     what says which one it is
    counted   in whole pieces, or by length in whole millimetres (coils)
    aisle     where a shop keeps it
    bag       where it travels, unless a piece says otherwise
    shelf     the list of a trip file's shelf that holds it, empty where a trip file has none
    """

    name: str
    plural: str
    model: type[Tackle]
    counted: Counted
    aisle: str
    bag: str
    shelf: str = ""


KINDS: tuple[Kind, ...] = (
    Kind("trolling weight", "trolling weights", TrollingWeight, "pieces", "weights", "weight crate", "weights"),
    Kind("shock leader", "shock leaders", ShockLeader, "pieces", "leader and wire", "leader wallet", "shock_leaders"),
    Kind("bite leader", "bite leaders", BiteLeader, "pieces", "leader and wire", "leader wallet", "bite_leaders"),
    Kind("bite guard", "bite guards", Guard, "pieces", "leader and wire", "leader wallet"),
    Kind("lure", "lures", Lure, "pieces", "lures", "lure roll", "lures"),
    Kind("snap swivel", "snap swivels", SnapSwivel, "pieces", "terminal tackle", "terminal box", "snap_swivels"),
    Kind("crimp", "crimps", Crimp, "pieces", "terminal tackle", "bench box", "crimps"),
    Kind("hook", "hooks", Hook, "pieces", "terminal tackle", "terminal box", "hooks"),
    Kind("coil", "coils", Coil, "length", "leader and wire", "bench box"),
    Kind("rod and reel", "rods and reels", RodAndReel, "pieces", "rods and reels", "rod rack"),
    Kind("other", "other gear", Loose, "pieces", "everything else", "tool bag"),
)
KIND_NAMES: tuple[str, ...] = tuple(kind.name for kind in KINDS)
_BY_NAME = {kind.name: kind for kind in KINDS}
ORDER = {kind.name: place for place, kind in enumerate(KINDS)}


def kind_of(name: str) -> Kind:
    """The kind of that name; KeyError if there is none."""
    return _BY_NAME[name]


def written(what: Tackle) -> dict[str, Any]:
    """What a piece is, as plain values to keep: all but its name and count, SI numbers, nothing that is usual."""
    return what.model_dump(mode="json", exclude={"name", "count"}, exclude_defaults=True)


def read_back(kind: str, name: str, values: dict[str, Any]) -> Tackle:
    """The gear that `written` wrote down. Raises pydantic.ValidationError where the values are none of that kind."""
    model = kind_of(kind).model
    counted = {"count": 0} if "count" in model.model_fields else {}
    return model.model_validate({**values, "name": name, **counted})
