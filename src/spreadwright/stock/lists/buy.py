"""What to buy, by shop aisle: what is short of the plan and its spares, and what the bench lacks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

from spreadwright.quantity import System, show, show_turned
from spreadwright.stock.gear import Coil
from spreadwright.stock.kinds import KINDS, kind_of
from spreadwright.stock.lists.bench import Job, coils_short, crimps_taken, sleeve_words
from spreadwright.stock.lists.ends import tape, taped
from spreadwright.stock.lists.equivalents import also_do, in_the_room
from spreadwright.stock.lists.needed import Need, spares_wanted, what_is
from spreadwright.stock.lists.value import Item, RoomList, item_id
from spreadwright.stock.piece import Piece
from spreadwright.stock.room import Room
from spreadwright.tackle.trip import Trip

_MADE_UP = ("shock leader", "bite leader", "bite guard")  # these are made at the bench
_AISLES = list(dict.fromkeys(kind.aisle for kind in KINDS))


def buy_list(needs: Sequence[Need], jobs: Sequence[Job], trip: Trip, room: Room, system: System) -> RoomList:
    """The shopping list, aisle by aisle."""
    spoken_for = {(need.kind, need.name): need.fished + need.spare for need in needs}
    items = [_piece(need, trip, room, spoken_for, system) for need in needs if need.short and need.kind not in _MADE_UP]
    items += _coils(jobs, room, system)
    items += _crimps(jobs, trip, room, system)
    items.sort(key=lambda item: _AISLES.index(item.group))
    known = [Decimal(item.price) for item in items if item.price]
    notes = []
    if known:
        without = len(items) - len(known)
        rest = f"; {without} without a known price" if without else ""
        notes.append(f"known prices add up to {sum(known)}{rest}")
    return RoomList(name="buy", items=tuple(items), notes=tuple(notes))


def _in_room(kind: str, name: str, room: Room) -> Piece | None:
    return next((piece for piece in room.pieces if (piece.kind, piece.name) == (kind, name)), None)


def _price(piece: Piece | None, quantity: int) -> str:
    return str(piece.price * quantity) if piece is not None and piece.price is not None else ""


def _piece(need: Need, trip: Trip, room: Room, spoken_for: dict[tuple[str, str], int], system: System) -> Item:
    what = what_is(need.kind, need.name, trip, room)
    details = [need.why]
    if what is not None:
        words, there = also_do(what, system), in_the_room(what, need.kind, room, spoken_for)
        details += [f"also does: {words}"] if words else []
        details += [f"in the room would do: {', '.join(there)}"] if there else []
    details += _to_mend(need.kind, need.name, room)
    return Item(
        id=item_id("buy", need.kind, need.name), group=kind_of(need.kind).aisle, said=f"{need.short} x {need.name}",
        details=tuple(details), kind=need.kind, name=need.name, amount=need.short,
        price=_price(_in_room(need.kind, need.name, room), need.short),
    )  # fmt: skip


def _to_mend(kind: str, name: str, room: Room) -> Iterator[str]:
    """What of it lies on the work list: mending may be quicker than buying."""
    piece = _in_room(kind, name, room)
    for fault in room.state(piece).work if piece is not None else ():
        yield f"{fault.quantity} on the work list: {fault.what}"


def _coils(jobs: Sequence[Job], room: Room, system: System) -> Iterator[Item]:
    for name, short in coils_short(jobs).items():
        if not name:
            yield from (_unknown_coil(job, system) for job in short)
            continue
        piece = _in_room("coil", name, room)
        assert piece is not None
        assert isinstance(piece.what, Coil)
        laid_off = sum(job.lacking * taped(job.cut / 1000.0, system) for job in short)
        full = round(1000.0 * piece.what.length)
        coils = -(-sum(job.lacking * job.cut for job in short) // full)
        why = f"the bench lacks {tape(laid_off, system)}"
        yield Item(
            id=item_id("buy", "coil", name), group=kind_of("coil").aisle,
            said=f"{coils} x {name} ({show_turned(piece.what.length, 'length', system)})",
            details=(why, f"also does: {also_do(piece.what, system)}"),
            kind="coil", name=name, amount=coils * full, price=_price(piece, coils),
        )  # fmt: skip


def _unknown_coil(job: Job, system: System) -> Item:
    leader = job.leader
    strength = show_turned(leader.strength, "force", system)
    thick = show(leader.diameter, "diameter", "metric", figures=2)
    length = job.laid_off(job.lacking, system)
    return Item(
        id=item_id("buy", "coil", "", str(leader.name)), group=kind_of("coil").aisle,
        said=f"{length} of {strength} {leader.material}, near {thick} thick",
        details=(f"for {job.count} x {leader.name}; no fitting coil in the room", f"or buy {job.count} made up"),
    )  # fmt: skip


def crimps_short(jobs: Sequence[Job], trip: Trip, room: Room) -> Iterator[tuple[str, int, str]]:
    """Crimps that are short, as (name, number, why): what the bench takes and the spares wished, less those there."""
    taken = crimps_taken(jobs)
    wish, _ = spares_wanted("crimp", trip, {})
    names = [piece.name for piece in room.pieces if piece.kind == "crimp"]
    left = {name: max(0, room.fit("crimp", name) - taken[name]) for name in names}
    short = Counter({name: max(0, needed - room.fit("crimp", name)) for name, needed in taken.items()})
    lacking, most = max(0, wish - sum(left.values())), ""
    if lacking and (taken or names):
        most = max(taken, key=lambda name: taken[name]) if taken else names[0]
        short[most] += lacking
    for name, number in sorted(short.items()):
        if number > 0:
            spare = f"; {lacking} of them so that {wish} spare are left over all sizes" if name == most else ""
            yield name, number, f"{taken[name]} for the bench, {room.fit('crimp', name)} in the room{spare}"


def _crimps(jobs: Sequence[Job], trip: Trip, room: Room, system: System) -> Iterator[Item]:
    unknown = {sleeve_words(job.leader) for job in jobs}
    for name, number, why in crimps_short(jobs, trip, room):
        what = what_is("crimp", name, trip, room)
        also = [f"also does: {also_do(what, system)}"] if what is not None else []
        yield Item(
            id=item_id("buy", "crimp", name), group=kind_of("crimp").aisle, said=f"{number} x {name}",
            details=(why, *also), kind="" if name in unknown else "crimp", name="" if name in unknown else name,
            amount=0 if name in unknown else number, price=_price(_in_room("crimp", name, room), number),
        )  # fmt: skip
