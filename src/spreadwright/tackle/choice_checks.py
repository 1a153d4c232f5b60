"""Checks of what the captain has fixed and banned: every name must be there, and all must be possible."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from spreadwright.faults import Fault
from spreadwright.quantity import quote
from spreadwright.tackle.draft import Draft, Entry
from spreadwright.tackle.outfit import MARK_TOLERANCE, Outfit
from spreadwright.tackle.wishes import Ban, Choice, Lock

# which list of the shelf (or of the boat) a part of a lock or ban names
PART_OF = {
    "weight": ("shelf", "weights"),
    "leader": ("shelf", "shock_leaders"),
    "bite_leader": ("shelf", "bite_leaders"),
    "lure": ("shelf", "lures"),
    "station": ("boat", "stations"),
}

_RODS = ("", "outfits")


def _every_choice(draft: Draft) -> list[Entry[Lock] | Entry[Ban]]:
    return [*draft.fixed, *draft.banned]


def _names_exist(draft: Draft) -> Iterator[Fault]:
    for entry in _every_choice(draft):
        for part, where in {"rod": _RODS, **PART_OF}.items():
            name = entry.raw.get(part)
            if isinstance(name, str) and name.strip():
                yield from draft.unknown((*entry.path, part), name, where)


def _outfit(draft: Draft, rod: str | None) -> Outfit | None:
    return next((entry.thing for entry in draft.outfits if entry.name == rod), None)


def _marks_are_tied(draft: Draft) -> Iterator[Fault]:
    for entry in _every_choice(draft):
        choice = entry.thing
        outfit = _outfit(draft, choice.rod) if choice is not None else None
        if choice is None or choice.mark is None or outfit is None:
            continue
        if outfit.tied_mark(choice.mark) is None:
            said = draft.source.said
            place = next(rod.path for rod in draft.outfits if rod.thing is outfit)
            tied = ", ".join(said((*place, "marks", at), mark, "length") for at, mark in enumerate(outfit.marks))
            yield draft.source.fault(
                (*entry.path, "mark"),
                said((*entry.path, "mark"), choice.mark, "length"),
                f"it must be one of the marks tied on '{outfit.name}': {tied}",
                "choose one of them, or tie that mark and list it",
            )


def _one_lock_a_rod(draft: Draft) -> Iterator[Fault]:
    seen: set[object] = set()
    for entry in draft.fixed:
        rod = entry.raw.get("rod")
        if isinstance(rod, str) and rod.strip() in seen:
            yield draft.source.fault(
                (*entry.path, "rod"),
                quote(rod),
                "what is fixed for a rod stands in one table",
                "put both in one [[fixed]] table",
            )
        seen.add(rod.strip() if isinstance(rod, str) else None)


def _station_agrees(draft: Draft) -> Iterator[Fault]:
    for entry in draft.fixed:
        lock = entry.thing
        outfit = _outfit(draft, lock.rod) if lock is not None else None
        if lock is None or outfit is None or not lock.station or not outfit.station:
            continue
        if lock.station != outfit.station:
            yield draft.source.fault(
                (*entry.path, "station"),
                quote(lock.station),
                f"'{outfit.name}' always stands at '{outfit.station}' by its own table",
                "give the station in one place only",
            )


def _forbids(ban: Ban, lock: Choice) -> bool:
    """True where all that a ban names is fixed by one lock."""
    return all(
        (isinstance(value, float) and lock.mark is not None and abs(lock.mark - value) <= MARK_TOLERANCE)
        or getattr(lock, part) == value
        for part, value in ban.chosen.items()
    )


def _fixed_is_allowed(draft: Draft) -> Iterator[Fault]:
    for entry in draft.fixed:
        for number, other in enumerate(draft.banned, start=1):
            lock, ban = entry.thing, other.thing
            if lock is None or ban is None or ban.rod not in {None, lock.rod}:
                continue
            if _forbids(ban, lock):
                yield draft.source.fault(
                    entry.path,
                    ", ".join(f"{part} {entry.raw.get(part)}" for part in ban.chosen),
                    f"banned[{number}] forbids this",
                    "remove one of the two",
                )


def _marks_suffice(draft: Draft) -> Iterator[Fault]:
    """With one line a mark, every rod must be able to have a mark of its own."""
    outfits = [entry.thing for entry in draft.outfits]
    if draft.wishes is None or not draft.wishes.one_line_a_mark or None in outfits:
        return
    locks = {entry.thing.rod: entry.thing for entry in draft.fixed if entry.thing is not None}
    choices: list[list[int]] = []
    for outfit in outfits:
        if outfit is not None:
            lock = locks.get(outfit.name)
            wanted = outfit.tied_mark(lock.mark) if lock is not None and lock.mark else None
            marks = outfit.marks if wanted is None else (wanted,)
            choices.append([round(mark / (2 * MARK_TOLERANCE)) for mark in marks])
    served = most_served(choices)
    if served < len(choices):
        yield draft.source.fault(
            ("wishes", "one_line_a_mark"),
            "true",
            f"every rod needs a mark of its own: {served} of {len(choices)} rods can have one",
            "tie more marks, free a fixed mark, or write one_line_a_mark = false",
        )


def most_served(choices: Sequence[Sequence[int]]) -> int:
    """How many askers can each get a different one of the things they would take.

    A greatest matching by augmenting paths (Kuhn). Worked example: [[1], [1, 2], [2]] gives 2.
    """
    holder: dict[int, int] = {}

    def serve(asker: int, tried: set[int]) -> bool:
        for thing in choices[asker]:
            if thing in tried:
                continue
            tried.add(thing)
            if thing not in holder or serve(holder[thing], tried):
                holder[thing] = asker
                return True
        return False

    return sum(serve(asker, set()) for asker in range(len(choices)))


CHOICE_RULES: tuple[Callable[[Draft], Iterator[Fault]], ...] = (
    _names_exist,
    _marks_are_tied,
    _one_lock_a_rod,
    _station_agrees,
    _fixed_is_allowed,
    _marks_suffice,
)
