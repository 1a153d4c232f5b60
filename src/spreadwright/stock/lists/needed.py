"""What a plan fishes and how many spares go with it, against what is fit in the room: what is short, and why."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from spreadwright.logbook.rate_words import percent
from spreadwright.stock.fill import guard_of
from spreadwright.stock.kinds import kind_of
from spreadwright.stock.room import Room
from spreadwright.stock.spares import SpareNeed
from spreadwright.tackle.fields import Tackle
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.trip import Trip


class Figure(Protocol):
    """A number with its range, as a plan has it."""

    @property
    def usual(self) -> float: ...  # noqa: D102
    @property
    def low(self) -> float: ...  # noqa: D102
    @property
    def high(self) -> float: ...  # noqa: D102


class PlannedRod(Protocol):
    """What the lists need of a rod in a plan. `plan.value.RodPlan` has it all; lengths [m], force [N]."""

    @property
    def rod(self) -> str: ...  # noqa: D102
    @property
    def weight(self) -> str: ...  # noqa: D102
    @property
    def shock_leader(self) -> str: ...  # noqa: D102
    @property
    def bite_leader(self) -> str: ...  # noqa: D102
    @property
    def lure(self) -> str: ...  # noqa: D102
    @property
    def swivel(self) -> str: ...  # noqa: D102
    @property
    def mark(self) -> float: ...  # noqa: D102
    @property
    def runs_at(self) -> Figure: ...  # noqa: D102
    @property
    def slack_to_measure(self) -> Figure: ...  # noqa: D102
    @property
    def strike_drag(self) -> float: ...  # noqa: D102


NO_SWIVEL = "none"  # as a plan says of a line that has no snap swivel
# kind -> the field of a planned rod that names it, the list of the trip's shelf, the key of the trip's spares; a bite
# guard is part of its rod in the trip file
FISHED = {
    "trolling weight": ("weight", "weights"),
    "shock leader": ("shock_leader", "shock_leaders"),
    "bite leader": ("bite_leader", "bite_leaders"),
    "bite guard": ("", ""),
    "lure": ("lure", "lures"),
    "snap swivel": ("swivel", "snap_swivels"),
    "hook": ("", "hooks"),
    "crimp": ("", "crimps"),
}


@dataclass(frozen=True, slots=True)
class Need:
    """One piece the trip needs.

    fished   how many the plan fishes
    spare    how many of them go along as spares (of any piece of the kind that is left over, or of the one to get)
    short    how many have to be bought or made up
    why      the reason, in words
    """

    kind: str
    name: str
    fished: int
    spare: int
    short: int
    why: str


def spares_wanted(kind: str, trip: Trip, computed: Mapping[str, SpareNeed]) -> tuple[int, str]:
    """How many spares of a kind to carry, and why: the captain's wish or what the loss rates ask for, the larger."""
    wish: int = getattr(trip.spares, FISHED[kind][1])
    need = computed.get(kind)
    every = f"for all {kind_of(kind).plural}"
    if need is None or need.spares <= wish:
        return wish, f"{wish} spare wished {every}" if wish else ""
    return need.spares, f"{need.spares} spare {every} last with {percent(need.lasts)} chance"


def needs(rods: Sequence[PlannedRod], trip: Trip, room: Room, computed: Mapping[str, SpareNeed]) -> tuple[Need, ...]:
    """Everything the plan fishes and its spares, kind by kind, with what is short of it in the room.

    Fished pieces are met by name. Spares are met by any fit piece of the kind that is left over; those that lack are
    spread over what is fished as it is fished. Crimps are for the bench, which counts them (see buy.py).
    """
    found: list[Need] = []
    for kind, (part, shelf) in FISHED.items():
        if kind == "crimp":
            continue
        fished = _fished_guards(rods, trip) if kind == "bite guard" else _fished(rods, part)
        names = _names(kind, shelf, trip, room)
        pattern = _hooks_of(fished_lures(rods), trip, room) if kind == "hook" else fished
        found += _of_kind(kind, fished, pattern, names, room, _spares(kind, fished, rods, trip, computed))
    return tuple(found)


def _fished(rods: Sequence[PlannedRod], part: str) -> Counter[str]:
    return Counter(name for rod in rods if part and (name := str(getattr(rod, part))) and name != NO_SWIVEL)


def _fished_guards(rods: Sequence[PlannedRod], trip: Trip) -> Counter[str]:
    """How many of each bite guard the plan fishes: that of every rod that has one."""
    fishing = {rod.rod for rod in rods}
    guards = [guard_of(outfit, trip.units) for outfit in trip.outfits if outfit.name in fishing]
    return Counter(guard.name for guard in guards if guard is not None)


def _spares(
    kind: str, fished: Counter[str], rods: Sequence[PlannedRod], trip: Trip, computed: Mapping[str, SpareNeed]
) -> tuple[int, str]:
    """Spares of a kind; of bite guards as many as go with the weights that may be lost, by the rods that have one."""
    if kind != "bite guard":
        return spares_wanted(kind, trip, computed)
    lost = computed.get("trolling weight")
    if lost is None or not fished:
        return 0, ""
    spare = math.ceil(lost.spares * sum(fished.values()) / len(rods))
    return spare, f"{spare} spare: one goes with every weight that is lost" if spare else ""


def fished_lures(rods: Sequence[PlannedRod]) -> Counter[str]:
    """How many of each lure the plan fishes."""
    return Counter(rod.lure for rod in rods if rod.lure)


def _hooks_of(lures: Counter[str], trip: Trip, room: Room) -> Counter[str]:
    """Which hooks the fished lures carry, and how many: the spares follow them."""
    carried: Counter[str] = Counter()
    for name, number in lures.items():
        lure = what_is("lure", name, trip, room)
        if isinstance(lure, Lure) and lure.hook:
            carried[lure.hook] += number * lure.hooks
    return carried


def _names(kind: str, shelf: str, trip: Trip, room: Room) -> list[str]:
    there = [piece.name for piece in room.pieces if piece.kind == kind]
    return list(dict.fromkeys([*there, *(thing.name for thing in getattr(trip.shelf, shelf, ()))]))


def _of_kind(
    kind: str, fished: Counter[str], pattern: Counter[str], names: Sequence[str], room: Room, wanted: tuple[int, str]
) -> list[Need]:
    spares, why_spare = wanted
    every = list(dict.fromkeys([*fished, *pattern, *names]))
    left = {name: max(0, room.fit(kind, name) - fished[name]) for name in every}
    target = spread_over(spares, pattern or Counter(every[:1]))
    carried = _carried(left, target, spares)
    more = _lacking(spares - sum(carried.values()), target, carried)
    found = []
    for name in every:
        there, used, spare = room.fit(kind, name), fished[name], carried[name] + more[name]
        if used + spare:
            why = f"{used} fished and {spare} spare, {there} fit in the room"
            why += f"; {why_spare}" if more[name] and why_spare else ""
            found.append(Need(kind, name, used, spare, max(0, used - there) + more[name], why))
    return found


def spread_over(total: int, pattern: Counter[str]) -> Counter[str]:
    """A number spread over names in proportion to their counts, by largest remainders; the sum is kept exactly.

    >>> spread_over(5, Counter({"a": 2, "b": 1}))
    Counter({'a': 3, 'b': 2})
    """
    whole = sum(pattern.values())
    if not whole:
        return Counter()
    shares = {name: divmod(total * count, whole) for name, count in pattern.items()}
    spread = Counter({name: share for name, (share, _) in shares.items()})
    by_rest = sorted(shares, key=lambda name: (-shares[name][1], -pattern[name], name))
    for name in by_rest[: total - sum(spread.values())]:
        spread[name] += 1
    return spread


def _carried(left: Mapping[str, int], target: Counter[str], spares: int) -> dict[str, int]:
    """Which of the left-over pieces go along as spares: first those like what is fished, then the others."""
    carried = {name: min(left[name], target[name]) for name in left}
    for name in sorted(left, key=lambda name: (-target[name], name)):
        carried[name] += min(left[name] - carried[name], spares - sum(carried.values()))
    return carried


def _lacking(number: int, target: Counter[str], carried: Mapping[str, int]) -> Counter[str]:
    """The spares that lack, put where they lack most."""
    more: Counter[str] = Counter()
    for _ in range(number if target else 0):
        more[max(target, key=lambda name: (target[name] - carried[name] - more[name], target[name], name))] += 1
    return more


def what_is(kind: str, name: str, trip: Trip, room: Room) -> Tackle | None:
    """What a piece is, as the room knows it, else as the trip file says; None where neither knows it."""
    for piece in room.pieces:
        if (piece.kind, piece.name) == (kind, name):
            return piece.what
    if kind == "bite guard":
        guards = (guard_of(outfit, trip.units) for outfit in trip.outfits)
        return next((guard for guard in guards if guard is not None and guard.name == name), None)
    things: Sequence[Tackle] = getattr(trip.shelf, FISHED[kind][1]) if kind in FISHED else ()
    return next((thing for thing in things if getattr(thing, "name", "") == name), None)
