"""The tackle room in words and as plain values, for the terminal and for --json; nothing is computed here."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from spreadwright.stock.inspection import Due, Work
    from spreadwright.stock.piece import Piece
    from spreadwright.stock.replay import Line, State
    from spreadwright.stock.room import Room
    from spreadwright.stock.tradeoff import CurvePoint
    from spreadwright.stock.walk import Stop, Walk


def room_value(room: Room) -> dict[str, Any]:
    """The room as plain values."""
    pieces = [piece_value(piece, room.state(piece)) for piece in room.pieces]
    return {"format": "spreadwright room", "version": 1, "pieces": pieces}


def piece_value(piece: Piece, state: State) -> dict[str, Any]:
    """One piece as plain values; amounts of coils in millimetres, all else in SI."""
    from spreadwright.stock.kinds import written

    return {
        "id": piece.id, "kind": piece.kind, "name": piece.name, "boat": piece.boat, "what": written(piece.what),
        "fit": state.fit, "needs_work": state.needs_work, "used": state.used, "retired": state.retired,
        "place": state.place, "bag": piece.travels_in, "price": None if piece.price is None else str(piece.price),
        "last_counted": _iso(state.last_counted), "last_inspected": _iso(state.last_inspected),
        "hours": state.hours, "work": [{"id": w.id, "what": w.what, "quantity": w.quantity} for w in state.work],
    }  # fmt: skip


def _iso(moment: Any) -> str | None:
    return None if moment is None else moment.isoformat()


def room_words(room: Room, store: str, kind: str = "") -> str:
    """The room of a store (its one kind, if asked) kind by kind: how many are fit, need work, where they lie."""
    asked = kind.strip().lower()
    lines, group = [], ""
    for piece in room.pieces:
        if piece.kind != group:
            group = piece.kind
            lines.append(piece.sort.plural.upper())
        lines.append(piece_words(piece, room.state(piece)))
    if lines:
        return "\n".join(lines)
    empty = f"The room holds nothing of the kind {asked!r}" if asked else "The room is empty"
    return f"{empty} (store read: {store}). Fill it with `spreadwright room fill TRIP.toml` or a spreadsheet."


def piece_words(piece: Piece, state: State) -> str:
    """One line for one piece."""
    from spreadwright.stock.amounts import show_amount

    told = [f"{show_amount(piece.sort, state.fit):>8}  {piece.name}"]
    if state.work:
        told.append("needs work: " + ", ".join(f"{show_amount(piece.sort, w.quantity)} {w.what}" for w in state.work))
    told += [f"in {state.place}"] if state.place else []
    return "; ".join(told)


def now_words(piece: Piece, state: State) -> str:
    """How a piece stands after something happened to it: what the number counts is said."""
    number, _, rest = piece_words(piece, state).strip().partition("  ")
    name, mark, more = rest.partition("; ")
    return f"{name}: now {number} fit{mark}{more}"


def history_words(piece: Piece, lines: Iterable[Line]) -> str:
    """A piece's history, oldest first."""
    from spreadwright.stock.amounts import show_amount

    told = [f"{piece.kind} {piece.name}"]
    for line in lines:
        event = line.event
        number = show_amount(piece.sort, event.quantity) if event.quantity or event.kind == "count" else ""
        hours = f"{event.hours:g} h" if event.hours else ""
        change = f"{show_amount(piece.sort, line.before)} -> {show_amount(piece.sort, line.after)} fit"
        parts = [event.at.strftime("%Y-%m-%d %H:%M UTC"), event.kind, number, hours, event.why, event.who, change]
        told.append("  ".join(part for part in parts if part))
    return "\n".join(told)


def line_value(line: Line) -> dict[str, Any]:
    """One line of a history as plain values."""
    event = line.event
    return {
        "id": event.id, "at": event.at.isoformat(), "kind": event.kind, "quantity": event.quantity, "why": event.why,
        "of": event.of, "hours": event.hours, "price": None if event.price is None else str(event.price),
        "who": event.who, "note": event.note, "before": line.before, "after": line.after,
    }  # fmt: skip


def work_words(entries: Iterable[Work]) -> str:
    """The work list."""
    from spreadwright.stock.amounts import show_amount

    told = [
        f"{show_amount(w.piece.sort, w.fault.quantity):>6}  {w.piece.name}: {w.fault.what}; {w.remedy} "
        f"(since {w.fault.since.date()}, fault {w.fault.id[:8]})"
        for w in entries
    ]
    return "\n".join(told) or "Nothing needs work."


def due_words(entries: Iterable[Due]) -> str:
    """What is due for a look, overdue first."""
    told = []
    for each in entries:
        when = "overdue" if each.overdue else f"by {each.day}" if each.day else "by hours"
        left = "" if each.hours_left is None or each.overdue else f", {each.hours_left:.0f} h of trolling left"
        told.append(f"{when:>13}  {each.piece.kind} {each.piece.name}{left} ({each.reason})")
    return "\n".join(told) or "Nothing is there to inspect."


def walk_value(walk: Walk) -> dict[str, Any]:
    """A counting walk as plain values."""
    return {
        "format": "spreadwright counting walk", "version": 1, "id": walk.id, "started": walk.started.isoformat(),
        "ended": _iso(walk.ended), "counted": walk.done, "of": len(walk.stops),
        "stops": [
            {"piece": s.piece.id, "kind": s.piece.kind, "name": s.piece.name, "place": s.place,
             "expected": s.expected, "counted": s.counted}
            for s in walk.stops
        ],
    }  # fmt: skip


def stop_words(stop: Stop) -> str:
    """One stop of a walk, before it is counted."""
    from spreadwright.stock.amounts import show_amount

    place = f", in {stop.place}" if stop.place else ""
    return f"{stop.piece.kind}: {stop.piece.name}{place}; expected {show_amount(stop.piece.sort, stop.expected)}"


def walk_words(walk: Walk) -> str:
    """How far a walk is, and where counted and expected differ."""
    from spreadwright.stock.amounts import show_amount

    told = [f"{walk.done} of {len(walk.stops)} counted, {len(walk.differences)} differ"]
    for stop in walk.differences:
        expected, counted = (show_amount(stop.piece.sort, n or 0) for n in (stop.expected, stop.counted))
        told.append(f"  {stop.piece.name}: {expected} expected, {counted} counted")
    return "\n".join(told)


def curve_words(point: CurvePoint, by: str) -> str:
    """One point of the trade-off over all kinds."""
    from spreadwright.quantity import show

    cost = show(point.cost, "mass") if by == "weight" else f"{point.cost:.2f}"
    spares = ", ".join(f"{number} {kind}" for kind, number in point.spares.items() if number)
    chance = "over 99.9" if point.chance > 0.999 else f"{100.0 * point.chance:.1f}"
    return f"{chance:>9} %  {cost:>8}  {spares or 'no spares'}"
