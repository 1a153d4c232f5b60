"""A program of its own that writes: one use after the other, each told on its output once the store has kept it.

Run as `python writer.py WHERE HOW_MANY PIECE...`: the pieces in turn; prints an event's id once `record` has returned.
"""

from __future__ import annotations

import sys

from spreadwright.stock.event import happened
from spreadwright.store.open import open_store
from spreadwright.store.room import record


def main(where: str, number: int, pieces: list[str]) -> None:
    with open_store(where) as store:
        for at in range(number):
            event = happened(pieces[at % len(pieces)], "buy", 1)
            record(store, event)
            sys.stdout.write(f"{event.id}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), sys.argv[3:])
