"""`spreadwright room use, buy, make, retire, fault, repaired, inspect, trolled, move`: what happened to a piece."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING, Annotated, Any

import typer

from spreadwright.cli.room_shared import AsJson, Note, OfKind, StoreAt, Who, amount_of, opened, put
from spreadwright.cli.room_words import now_words, piece_value

if TYPE_CHECKING:
    from spreadwright.stock.event import EventKind
    from spreadwright.stock.piece import Piece
    from spreadwright.stock.room import Room
    from spreadwright.store.open import Store

Name = Annotated[str, typer.Argument(metavar="NAME", help="The piece, by name or id.")]
Amount = Annotated[str, typer.Argument(metavar="[HOW_MANY]", help="How many; a length such as '20 ft' for coils.")]
FaultId = Annotated[str, typer.Option("--fault", metavar="ID", help="Which fault of the work list (its first digits).")]


def _happened(store: Store, as_json: bool, name: str, kind: str, what: EventKind, amount: str, **more: Any) -> None:
    from spreadwright.stock.event import happened
    from spreadwright.store.room import read_room, record

    room = read_room(store)
    piece = room.find(name, kind)
    if "of" in more:
        more["of"] = _fault(room, piece, more["of"], must=what == "repaired")
    number = amount_of(piece, amount) if amount else 0
    record(store, happened(piece.id, what, number, **more))
    state = read_room(store).state(piece)
    put(as_json, piece_value(piece, state), now_words(piece, state))


def _fault(room: Room, piece: Piece, given: str, must: bool) -> str:
    """The fault that is meant by its first digits; the only one there is, where none is named and one must be."""
    from spreadwright.faults import Fault, Faults

    open_ones = room.state(piece).work
    if not given and (not must or not open_ones):
        return ""
    found = [fault.id for fault in open_ones if fault.id.startswith(given)]
    if len(found) == 1:
        return found[0]
    listed = ", ".join(f"{fault.id[:8]} {fault.what}" for fault in open_ones) or "none"
    rule = f"faults of this piece on the work list: {listed}"
    raise Faults([Fault("--fault", given or "none named", rule, "name one of them by its first digits")])


def use(
    name: Name, amount: Amount = "1",
    why: Annotated[str, typer.Option(help="bitten off, broken off, lost, damaged, worn out, ...")] = "lost",
    kind: OfKind = "", who: Who = "", note: Note = "", where: StoreAt = None, as_json: AsJson = False,
) -> None:  # fmt: skip
    """Pieces are gone: bitten off, lost, worn out, given away."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "use", amount, why=why, who=who, note=note)


def buy(
    name: Name, amount: Amount = "1",
    price: Annotated[str, typer.Option(help="Of one, in your own money.", show_default=False)] = "",
    kind: OfKind = "", who: Who = "", note: Note = "", where: StoreAt = None, as_json: AsJson = False,
) -> None:  # fmt: skip
    """Pieces were bought."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "buy", amount, price=_money(price), who=who, note=note)


def _money(text: str) -> Decimal | None:
    from spreadwright.faults import Fault, Faults

    try:
        return Decimal(text) if text else None
    except InvalidOperation:
        raise Faults([Fault("--price", text, "a price is a number with a point", "write it as 12.50")]) from None


def make(
    name: Name, amount: Amount = "1",
    takes: Annotated[
        list[str] | None,
        typer.Option("--takes", metavar="'NAME=4'", help="A part all of them take, such as '300 lb coil=95 ft'."),
    ] = None,
    kind: OfKind = "", who: Who = "", where: StoreAt = None, as_json: AsJson = False,
) -> None:  # fmt: skip
    """Pieces were made up at the bench; the parts they take leave the shelf in the same moment."""
    with opened(where, as_json) as store:
        from spreadwright.stock.lists.value import Taken
        from spreadwright.store.room import read_room
        from spreadwright.store.room_work import make_up

        room = read_room(store)
        piece, parts = room.find(name, kind), []
        for each in takes or ():
            called, _, number = each.rpartition("=")
            part = room.find(called or each)
            parts.append(Taken(kind=part.kind, name=part.name, amount=amount_of(part, number)))
        make_up(store, piece.kind, piece.name, amount_of(piece, amount), parts, boat=piece.boat or None, who=who)
        state = read_room(store).state(piece)
        said = now_words(piece, state)
        if not parts:
            said += (
                "\nNo parts were taken off the shelf. Where they came from there, name them when you make some up, "
                f"such as `spreadwright room make '{piece.name}' 1 --takes 'COIL=30 ft' --takes 'SLEEVE=2'`; what is "
                "used already goes with `spreadwright room use`."
            )
        put(as_json, piece_value(piece, state), said)


def retire(
    name: Name, amount: Amount = "1", of: FaultId = "", why: Annotated[str, typer.Option(help="Why.")] = "",
    kind: OfKind = "", who: Who = "", note: Note = "", where: StoreAt = None, as_json: AsJson = False,
) -> None:  # fmt: skip
    """Pieces are retired: fit ones, or with --fault those on the work list."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "retire", amount, of=of, why=why, who=who, note=note)


def fault(
    name: Name,
    what: Annotated[str, typer.Argument(help="What is wrong, such as 'dull hook' (see room looks KIND).")],
    amount: Amount = "1", kind: OfKind = "", who: Who = "", note: Note = "", where: StoreAt = None,
    as_json: AsJson = False,
) -> None:  # fmt: skip
    """Pieces need work: they leave the fit ones and go on the work list."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "fault", amount, why=what, who=who, note=note)


def repaired(
    name: Name, amount: Amount = "1", of: FaultId = "", kind: OfKind = "", who: Who = "", note: Note = "",
    where: StoreAt = None, as_json: AsJson = False,
) -> None:  # fmt: skip
    """Pieces on the work list are fit again."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "repaired", amount, of=of, who=who, note=note)


def inspect(
    name: Name, note: Note = "", kind: OfKind = "", who: Who = "", where: StoreAt = None, as_json: AsJson = False
) -> None:
    """A piece or lot was looked at; what was wrong goes on the work list with `room fault`."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "inspect", "", who=who, note=note)


def trolled(
    name: Name,
    hours: Annotated[float, typer.Argument(help="Hours in the water.")],
    kind: OfKind = "", who: Who = "", where: StoreAt = None, as_json: AsJson = False,
) -> None:  # fmt: skip
    """A piece or lot was trolled for some hours: its next look comes nearer."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "trolled", "", hours=hours, who=who)


def move(
    name: Name,
    place: Annotated[str, typer.Argument(help="Where it lies now.")],
    kind: OfKind = "", who: Who = "", where: StoreAt = None, as_json: AsJson = False,
) -> None:  # fmt: skip
    """A piece or lot lies somewhere else now."""
    with opened(where, as_json) as store:
        _happened(store, as_json, name, kind, "moved", "", why=place, who=who)


COMMANDS = (use, buy, make, retire, fault, repaired, inspect, trolled, move)
