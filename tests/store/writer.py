"""A program of its own that writes: one use after the other, each told on its output once the store has kept it.

Run as `python writer.py WHERE PIECE HOW_MANY`; prints the id of every event after `record` returned.
"""

from __future__ import annotations

import sys

from spreadwright.stock.event import happened
from spreadwright.store.open import open_store
from spreadwright.store.room import record


def main(where: str, piece: str, number: int) -> None:
    with open_store(where) as store:
        for _ in range(number):
            event = happened(piece, "buy", 1)
            record(store, event)
            sys.stdout.write(f"{event.id}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))
