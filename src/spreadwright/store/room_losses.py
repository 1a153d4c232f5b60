"""Loss rates for the spares: the usual guess, then what the boat's own log and the bench have seen."""

from __future__ import annotations

from sqlalchemy import select

from spreadwright.logbook.losses import loss_rates
from spreadwright.stock.losses import Rate, Seen, rates
from spreadwright.store.log_keep import log_of
from spreadwright.store.open import Store
from spreadwright.store.room_tables import events, pieces

# What the bench calls damaged, by the kind of gear: the cause it belongs to. Lures and leaders in step with CAUSES.
_DAMAGED = {"shock leader": "leader damaged", "bite leader": "leader damaged", "lure": "lure damaged"}


def seen_losses(store: Store, boat: str | None = None) -> tuple[Seen, ...]:
    """What was lost by cause in the line-hours of the log; none where no line was ever logged.

    boat   the boat's name, for its own log only; damage is counted at the bench, over the whole room
    """
    logged = loss_rates(log_of(store, boat))
    if not logged:
        return ()
    seen = [Seen(each.cause, each.losses, each.line_hours) for each in logged]
    damaged = dict.fromkeys(_DAMAGED.values(), 0)
    asked = (
        select(pieces.c.kind, events.c.quantity)
        .join(events, events.c.piece_id == pieces.c.id)
        .where(events.c.kind == "use", events.c.why == "damaged")
    )
    with store.reading() as connection:
        for kind, quantity in connection.execute(asked):
            if kind in _DAMAGED:
                damaged[_DAMAGED[kind]] += quantity
    return (*seen, *(Seen(cause, number, logged[0].line_hours) for cause, number in damaged.items()))


def learnt_rates(store: Store, boat: str | None = None) -> dict[str, Rate]:
    """The rate of every cause, the guess and what was seen together; see `seen_losses`."""
    return rates(seen_losses(store, boat))
