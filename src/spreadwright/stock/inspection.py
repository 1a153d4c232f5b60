"""What to look and feel for on each kind of gear, when it is due again, and the work list that comes of it.

All of it is common practice, no source: a start that the captain changes (the intervals are kept in the store).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from spreadwright.stock.kinds import ORDER
from spreadwright.stock.piece import Piece
from spreadwright.stock.replay import OpenFault, State


@dataclass(frozen=True, slots=True)
class Look:
    """One thing to look or feel for: how, what is wrong if it is so, and what is then done."""

    how: str
    fault: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Interval:
    """How long a kind stays unlooked at: in days, in hours trolled; None: no limit of that sort."""

    days: int | None
    hours: float | None


LOOKS: Mapping[str, tuple[Look, ...]] = {
    "trolling weight": (
        Look("bend the cable where it leaves the weight", "frayed or rusted cable", "replace cable"),
        Look("pull on both ends with a scale, at strike drag", "a crimp on the cable slips", "re-crimp"),
        Look("turn the swivels under a light pull", "worn or stiff swivel or clip", "replace swivel"),
        Look("look for deep tooth marks at the ends", "tooth marks down to the cable", "retire"),
    ),
    "shock leader": (
        Look("run all of it through dry fingertips", "nicked or rough", "cut out and re-crimp, or retire"),
        Look("let it hang", "curled or flattened", "stretch, else retire"),
        Look("look into both crimps and loops", "corroded, sharp or slipping crimp", "re-crimp"),
        Look("look at its colour against a new piece", "chalky or yellow from the sun", "retire"),
    ),
    "bite leader": (
        Look("sight along it", "kinked wire", "retire: a kink breaks"),
        Look("run a cloth along it (not the hand)", "a broken strand of the cable", "retire"),
        Look("look at twists and crimps", "loose twist, corroded or sharp crimp", "re-make the end"),
    ),
    "bite guard": (
        Look("sight along it", "kinked wire", "retire: a kink breaks"),
        Look("run a cloth along it (not the hand)", "a broken strand of the cable", "retire"),
        Look("look at twists and crimps", "loose twist, corroded or sharp crimp", "re-make the end"),
    ),
    "lure": (
        Look("try each point on a thumbnail", "dull hook", "sharpen"),
        Look("look at barb, bend and eye", "rusted or bent hook", "replace hook"),
        Look("spread the skirt", "chewed or stuck skirt", "re-skirt"),
        Look("turn the head on its tube", "loose head, sharp or worn tube", "replace tube"),
        Look("check that the last hook sits level with the skirt's end", "hook set too far forward", "re-rig"),
    ),
    "snap swivel": (
        Look("turn it under a light pull", "stiff or gritty", "rinse and oil, else retire"),
        Look("open and close the snap", "snap does not lock or is bent open", "retire"),
    ),
    "crimp": (Look("look at colour and edges", "corroded or sharp", "retire"),),
    "hook": (
        Look("try the point on a thumbnail", "dull point", "sharpen"),
        Look("look at it", "rust", "retire"),
    ),
    "coil": (
        Look("run the outer turns through fingertips", "nicked or rough", "cut off that part"),
        Look("look at its colour and date", "chalky, or old", "retire"),
    ),
    "rod and reel": (
        Look("pull off line with a scale", "sticky or drifting drag", "service the drag"),
        Look("look at each mark", "frayed or slipped mark", "re-mark"),
        Look("run cotton wool through the guides", "cracked or stuck guide or roller", "replace guide"),
        Look("feel the first 30 ft of line", "nicked or chafed line", "cut back and re-tie"),
        Look("shake seat, reel clamp and lanyard eye", "loose seat, clamp or eye", "tighten or repair"),
    ),
    "other": (Look("look at it and try it", "does not do its work", "repair or replace"),),
}
INTERVALS: Mapping[str, Interval] = {
    "trolling weight": Interval(180, 60.0),
    "shock leader": Interval(90, 20.0),
    "bite leader": Interval(60, 10.0),
    "bite guard": Interval(60, 10.0),
    "lure": Interval(60, 10.0),
    "snap swivel": Interval(90, 30.0),
    "crimp": Interval(365, None),
    "hook": Interval(180, None),
    "coil": Interval(365, None),
    "rod and reel": Interval(90, 40.0),
    "other": Interval(365, None),
}


@dataclass(frozen=True, slots=True)
class Due:
    """When a piece is to be looked at: the day (None: not by age), the hours left (None: not by hours), and why."""

    piece: Piece
    day: date | None
    hours_left: float | None
    overdue: bool
    reason: str


@dataclass(frozen=True, slots=True)
class Work:
    """One entry of the work list: which piece, what is wrong, how many, what is usually done about it."""

    piece: Piece
    fault: OpenFault
    remedy: str


def due(piece: Piece, state: State, today: date, intervals: Mapping[str, Interval] = INTERVALS) -> Due | None:
    """When a piece is due for a look; None where there is none of it.

    Age runs from the last inspection, or from the day the first of it came; hours are those trolled since then.
    """
    if state.there == 0:
        return None
    interval = intervals.get(piece.kind, INTERVALS[piece.kind])
    start = state.last_inspected or state.since
    day = None
    if interval.days is not None and start is not None:
        day = start.date() + timedelta(days=interval.days)
    left = None if interval.hours is None else interval.hours - state.hours_since
    by_age, by_hours = day is not None and day <= today, left is not None and left <= 0.0
    return Due(piece, day, left, by_age or by_hours, _reason(state, interval, by_age, by_hours))


def _reason(state: State, interval: Interval, by_age: bool, by_hours: bool) -> str:
    last = state.last_inspected
    seen = f"last inspected {last.date().isoformat()}" if last else "never inspected"
    told = [seen]
    if by_age:
        told.append(f"every {interval.days} days")
    if by_hours:
        told.append(f"{state.hours_since:.0f} h trolled since, every {interval.hours:.0f} h")
    return "; ".join(told)


def due_list(
    pieces: Iterable[Piece], states: Mapping[str, State], today: date, intervals: Mapping[str, Interval] = INTERVALS
) -> list[Due]:
    """Everything that is there with its due date: what is overdue first, then by day."""
    found = [due(piece, states.get(piece.id, State()), today, intervals) for piece in pieces]
    far = date(9999, 12, 31)
    return sorted((d for d in found if d is not None), key=lambda d: (not d.overdue, d.day or far, ORDER[d.piece.kind]))


def work_list(pieces: Iterable[Piece], states: Mapping[str, State]) -> list[Work]:
    """Every open fault: kind by kind, oldest first in each."""
    found = [
        Work(piece, fault, remedy_for(piece.kind, fault.what))
        for piece in pieces
        for fault in states.get(piece.id, State()).work
    ]
    return sorted(found, key=lambda work: (ORDER[work.piece.kind], work.fault.since, work.piece.name))


def remedy_for(kind: str, fault: str) -> str:
    """What is usually done about a fault of the kind's inspection list; for other words, to judge it."""
    return next((look.remedy for look in LOOKS[kind] if look.fault == fault), "judge: repair or retire")


def today_utc() -> date:
    """Today, UTC."""
    return datetime.now(UTC).date()
