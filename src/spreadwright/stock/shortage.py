"""What the plan uses up against what lies on the shelf: what has to be bought or made up, how many, and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.stock.fill import guards_of
from spreadwright.tackle.trip import Trip


@dataclass(frozen=True, slots=True)
class Used:
    """The pieces one rig uses, by name; crimps as often as they are pressed, hooks are part of the lure."""

    rod: str
    weight: str
    shock_leader: str
    bite_leader: str
    lure: str
    swivel: str
    crimps: tuple[str, ...]
    guard: str = ""


@dataclass(frozen=True, slots=True)
class Missing:
    """A piece that is short: its kind, which one, how many, and why."""

    kind: str
    name: str
    quantity: int
    reason: str


KINDS = ("trolling weight", "shock leader", "bite leader", "lure", "snap swivel", "crimp", "hook", "bite guard")


def shortage(trip: Trip, rigs: Sequence[Used]) -> tuple[Missing, ...]:
    """Everything that is short for these rigs and the spares that are wished for.

    First each piece by name against its count; then, kind by kind, what is left against the spares wanted: any piece of
    the kind will do as a spare, and more of the one most used is what to buy.
    """
    missing: list[Missing] = []
    for kind, counts, used, spares in _kinds(trip, rigs):
        short = _by_name(kind, counts, used)
        left = sum(max(0, count - used[name]) for name, count in counts.items())
        if left < spares:
            name = used.most_common(1)[0][0] if used else next(iter(counts), kind)
            short.append(Missing(kind, name, spares - left, f"{spares} spare wanted, {left} left over"))
        missing += _merged(short)
    return tuple(missing)


def _merged(short: Sequence[Missing]) -> list[Missing]:
    """One entry a piece: quantities added up, reasons one after the other."""
    merged: dict[str, Missing] = {}
    for each in short:
        before = merged.get(each.name)
        merged[each.name] = (
            each
            if before is None
            else Missing(each.kind, each.name, before.quantity + each.quantity, f"{before.reason}; {each.reason}")
        )
    return list(merged.values())


def _kinds(trip: Trip, rigs: Sequence[Used]) -> list[tuple[str, dict[str, int], Counter[str], int]]:
    """Kind, counts on the shelf, pieces used, spares wished."""
    shelf, spares = trip.shelf, trip.spares
    crimps = Counter(name for rig in rigs for name in rig.crimps)
    return [
        (KINDS[0], {p.name: p.count for p in shelf.weights}, Counter(r.weight for r in rigs), spares.weights),
        (KINDS[1], {p.name: p.count for p in shelf.shock_leaders}, Counter(r.shock_leader for r in rigs),
         spares.shock_leaders),
        (KINDS[2], {p.name: p.count for p in shelf.bite_leaders}, Counter(r.bite_leader for r in rigs),
         spares.bite_leaders),
        (KINDS[3], {p.name: p.count for p in shelf.lures}, Counter(r.lure for r in rigs), spares.lures),
        (KINDS[4], {p.name: p.count for p in shelf.snap_swivels}, Counter(r.swivel for r in rigs if r.swivel),
         spares.snap_swivels),
        (KINDS[5], {p.name: p.count for p in shelf.crimps}, crimps, spares.crimps),
        (KINDS[6], {p.name: p.count for p in shelf.hooks}, Counter(), spares.hooks),
        (KINDS[7], Counter({g.name: g.count for g in guards_of(trip)}), Counter(r.guard for r in rigs if r.guard), 0),
    ]  # fmt: skip


def _by_name(kind: str, counts: dict[str, int], used: Counter[str]) -> list[Missing]:
    short = []
    for name, needed in sorted(used.items()):
        there = counts.get(name, 0)
        if needed > there:
            reason = f"the spread uses {needed}, {there} on the shelf"
            short.append(Missing(kind, name, needed - there, reason))
    return short
