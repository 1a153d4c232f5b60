"""`spreadwright room restore`: the copies of the store there are, and how it is brought back to one of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from spreadwright.cli.room_shared import AsJson, StoreAt, put
from spreadwright.cli.running import at_fault

if TYPE_CHECKING:
    from spreadwright.store.restore import Copy, Restored


def restore(
    copy: Annotated[str, typer.Argument(metavar="[COPY]", help="Which copy; without it all are listed.")] = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Bring the store back to one of the copies kept beside it; without a copy's name, list them.

    What is there now is kept among the copies, so this can be taken back the same way. A damaged copy is refused.
    """
    from spreadwright.faults import Faults
    from spreadwright.store.open import look_for
    from spreadwright.store.place import place_of
    from spreadwright.store.restore import copies
    from spreadwright.store.restore import restore as bring_back

    try:
        place = place_of(where)
        if not copy:
            found = copies(place)
            if not found:
                look_for(place)
            put(as_json, {"store": place.shown, "copies": [_value(each) for each in found]}, _listed(found))
            return
        done = bring_back(place, copy)
    except Faults as faults:
        raise at_fault(faults, as_json) from None
    put(as_json, {"restored": _value(done.copy), "before": done.before or None}, _said(done))


def _value(copy: Copy) -> dict[str, Any]:
    return {
        "name": copy.name, "made": copy.made.isoformat(timespec="seconds"), "bytes": copy.size, "sound": not copy.wrong,
        "wrong": copy.wrong, "pieces": copy.pieces, "events": copy.events, "log_entries": copy.entries,
    }  # fmt: skip


def _listed(found: tuple[Copy, ...]) -> str:
    if not found:
        return "No copies yet: the first is made on the day after which the store holds something."
    lines = [f"{each.name}\n      {each.made:%Y-%m-%d %H:%M} UTC, {_size(each.size)}: {_holds(each)}" for each in found]
    return "\n".join([*lines, "Bring one back with `spreadwright room restore COPY`; what is there now is kept."])


def _holds(copy: Copy) -> str:
    if copy.wrong:
        return f"cannot be brought back, {copy.wrong}"
    return f"sound; {copy.pieces} pieces or lots, {copy.events} events, {copy.entries} entries of the log"


def _size(number: int) -> str:
    return f"{number / 1024**2:.1f} MB" if number >= 1024**2 else f"{max(1, round(number / 1024))} kB"


def _said(done: Restored) -> str:
    said = f"The store stands as in {done.copy.name}: {_holds(done.copy).removeprefix('sound; ')}."
    if not done.before:
        return said
    if done.before.startswith("damaged"):
        return f"{said}\nThe damaged file is kept as {done.before} among the copies."
    return f"{said}\nWhat was there before is kept: `spreadwright room restore {done.before}` takes this back."


COMMANDS = (restore,)
