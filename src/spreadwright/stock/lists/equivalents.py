"""What would also do in place of a piece that is short: in words for the shop, and which pieces in the room would.

The bounds are common practice, no source; the plan was computed for the piece it names, so a substitute is near it in
all that moves the line: mass and shape of a weight, length and head of a lure, strength and length of a leader.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from spreadwright.quantity import System, show, show_turned
from spreadwright.stock.gear import Coil, Guard
from spreadwright.stock.room import Room
from spreadwright.tackle.fields import Tackle
from spreadwright.tackle.leader import BiteLeader, ShockLeader
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.terminal import Crimp, Hook, SnapSwivel
from spreadwright.tackle.weight import TrollingWeight


def _near(value: float, wanted: float, below: float, above: float) -> bool:
    return (1.0 - below) * wanted - 1e-9 <= value <= (1.0 + above) * wanted + 1e-9


def would_do(wanted: Tackle, other: Tackle) -> bool:
    """True where the other piece would also do for the wanted one."""
    if type(wanted) is not type(other) or wanted == other:
        return False
    return _RULES[type(wanted)](wanted, other) if type(wanted) in _RULES else False


def _weight(wanted: TrollingWeight, other: TrollingWeight) -> bool:
    alike = other.shape == wanted.shape and _near(other.mass, wanted.mass, 0.1, 0.1)
    return alike and other.cable_strength >= 0.95 * wanted.cable_strength


def _leader(wanted: ShockLeader, other: ShockLeader) -> bool:
    alike = other.material == wanted.material and _near(other.length, wanted.length, 0.2, 0.2)
    return alike and _near(other.strength, wanted.strength, 0.05, 0.35)


def _bite(wanted: BiteLeader | Guard, other: BiteLeader | Guard) -> bool:
    return _near(other.length, wanted.length, 0.35, 0.35) and _near(other.strength, wanted.strength, 0.05, 1.0)


def _lure(wanted: Lure, other: Lure) -> bool:
    alike = other.head == wanted.head and _near(other.length, wanted.length, 0.15, 0.15)
    return alike and _near(other.mass, wanted.mass, 0.25, 0.25)


def _swivel(wanted: SnapSwivel, other: SnapSwivel) -> bool:
    return _near(other.strength, wanted.strength, 0.0, 0.7)


def _crimp(wanted: Crimp, other: Crimp) -> bool:
    return _near(other.bore, wanted.bore, 0.0, 0.15)


def _hook(wanted: Hook, other: Hook) -> bool:
    """Only hooks whose strength is known can be compared; a hook's size is in its name alone."""
    return wanted.strength is not None and other.strength is not None and other.strength >= wanted.strength


def _coil(wanted: Coil, other: Coil) -> bool:
    return other.material == wanted.material and _near(other.strength, wanted.strength, 0.0, 0.35)


_RULES: Mapping[type[Tackle], Callable[..., bool]] = {
    TrollingWeight: _weight, ShockLeader: _leader, BiteLeader: _bite, Guard: _bite, Lure: _lure,
    SnapSwivel: _swivel, Crimp: _crimp, Hook: _hook, Coil: _coil,
}  # fmt: skip


def also_do(what: Tackle, system: System) -> str:
    """What would also do, in words for the shop; empty where nothing general can be said."""
    return _WORDS[type(what)](what, system) if type(what) in _WORDS else ""


def _range(value: float, below: float, above: float, dimension: str, system: System) -> str:
    low, high = (show(value * share, dimension, system, figures=2) for share in (1.0 - below, 1.0 + above))
    return f"{low} to {high}"


def _weight_words(what: TrollingWeight, system: System) -> str:
    masses = _range(what.mass, 0.1, 0.1, "mass", system)
    return f"any {what.shape} of {masses} on {show_turned(what.cable_strength, 'force', system)} cable or stronger"


def _shock_words(what: ShockLeader, system: System) -> str:
    strengths = _range(what.strength, 0.0, 0.35, "force", system)
    return f"{what.material} of {strengths}, {_range(what.length, 0.2, 0.2, 'length', system)} long"


def _bite_words(what: BiteLeader | Guard, system: System) -> str:
    least = show_turned(what.strength, "force", system)
    return f"wire or cable of {least} or stronger, {_range(what.length, 0.35, 0.35, 'length', system)} long"


def _lure_words(what: Lure, system: System) -> str:
    lengths = _range(what.length, 0.15, 0.15, "size", system)
    return (
        f"any {what.head} head of {lengths}, {_range(what.mass, 0.25, 0.25, 'mass', system)}, {what.colours[0]} first"
    )


def _swivel_words(what: SnapSwivel, system: System) -> str:
    return f"any snap swivel rated {_range(what.strength, 0.0, 0.7, 'force', system)}"


def _crimp_words(what: Crimp, _: System) -> str:
    low, high = (show(what.bore * share, "diameter", "metric", figures=2) for share in (1.0, 1.15))
    return f"any double sleeve with a bore of {low} to {high} that suits your crimping tool"


def _hook_words(what: Hook, system: System) -> str:
    if what.strength is None:
        return "the same size and wire of another make"
    return f"the same size, {show_turned(what.strength, 'force', system)} or stronger"


def _coil_words(what: Coil, system: System) -> str:
    thick = show(what.diameter, "diameter", "metric", figures=2)
    strengths = _range(what.strength, 0.0, 0.35, "force", system)
    return f"any {what.material} leader of {strengths}; near {thick} thick, so that the sleeves fit"


_WORDS: Mapping[type[Tackle], Callable[..., str]] = {
    TrollingWeight: _weight_words, ShockLeader: _shock_words, BiteLeader: _bite_words, Guard: _bite_words,
    Lure: _lure_words, SnapSwivel: _swivel_words, Crimp: _crimp_words, Hook: _hook_words, Coil: _coil_words,
}  # fmt: skip


def in_the_room(wanted: Tackle, kind: str, room: Room, spoken_for: Mapping[tuple[str, str], int]) -> list[str]:
    """Fit pieces in the room that would also do and that the trip does not use: "2 x 48 oz egg"."""
    found = []
    for piece in room.pieces:
        free = room.state(piece).fit - spoken_for.get((piece.kind, piece.name), 0)
        if piece.kind == kind and free > 0 and would_do(wanted, piece.what):
            found.append(f"{free} x {piece.name}")
    return found
