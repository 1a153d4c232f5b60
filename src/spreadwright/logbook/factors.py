"""By what strikes are compared: station, mark, weight, lure, colour, wash, light, turn, depth and speed of the lure.

A factor sorts every hour a line fished into a level ("48 oz torpedo"), and every strike into the same levels. Hours and
strikes whose level nobody knows are left out of that factor, and told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, tzinfo

import numpy as np
from numpy.typing import NDArray

from spreadwright.logbook.bite import Bite, Ran, depth_class, speed_class
from spreadwright.logbook.bunches import clock_hours, unevenness
from spreadwright.logbook.entry import FishedRig
from spreadwright.logbook.fold import Exposure, Logbook, Strike
from spreadwright.logbook.light import light_hours, lights_of
from spreadwright.quantity import System

Floats = NDArray[np.float64]

SHORT_LINE = 61.2  # [m], 200 ft with a hand's breadth: lines up to it are short; common practice, no source
WHITE_WATER = 30.8  # [m], 100 ft: in the white water; to 200 ft at its edge; common practice, no source


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor's name, how a sentence calls its levels, and whether it is a choice of the captain's (or only seen)."""

    name: str
    words: str
    chosen: bool


FACTORS = (
    Factor("distance", "lines", True),
    Factor("station", "at the station", True),
    Factor("mark", "on the mark", True),
    Factor("weight", "with the weight", True),
    Factor("lure", "on the lure", True),
    Factor("colour", "in the colours", True),
    Factor("wash", "", True),
    Factor("light", "in", False),
    Factor("turn", "", False),
    Factor("depth", "with the lure", False),
    Factor("speed", "with the lure at", False),
)
NAMES = tuple(factor.name for factor in FACTORS)


def factor(name: str) -> Factor:
    """The factor of that name; KeyError if there is none."""
    for each in FACTORS:
        if each.name == name:
            return each
    raise KeyError(f"no factor {name!r}; known: {', '.join(NAMES)}")


@dataclass(frozen=True, slots=True)
class Knowledge:
    """What is known beside the log itself.

    colours: colours of each lure by its name; bites, ran: what track and towed lines say, by id of the strike's and of
    the line's entry; place: (lat, lon) [deg] where entries have none; zone: of the days; system: units of mark names.
    """

    colours: Mapping[str, Sequence[str]] = field(default_factory=dict)
    bites: Mapping[str, Bite] = field(default_factory=dict)
    ran: Mapping[str, Ran] = field(default_factory=dict)
    place: tuple[float, float] | None = None
    zone: tzinfo = UTC
    system: System = "us"


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """Hours and strikes of one factor: (levels, days) each; hours [h].

    left_out_hours [h], left_out_strikes [-]: those whose level is not known. bunched: unevenness of the strikes' times
    [-], 1 is chance.
    """

    factor: Factor
    levels: tuple[str, ...]
    days: tuple[str, ...]
    hours: Floats
    strikes: Floats
    left_out_hours: float
    left_out_strikes: int
    bunched: float = 1.0


def _mark(rig: FishedRig, known: Knowledge) -> str:
    """Marks that differ by less than half a foot or 10 cm are one mark."""
    if rig.mark is None:
        return ""
    if known.system == "us":
        return f"{rig.mark / 0.3048:.0f} ft"
    return f"{round(rig.mark, 1):g} m"


def _colour(rig: FishedRig, known: Knowledge) -> str:
    return "-".join(known.colours.get(rig.lure, ()))


def _wash(rig: FishedRig, _: Knowledge) -> str:
    if rig.mark is None:
        return ""
    if rig.mark <= WHITE_WATER:
        return "in the white water"
    return "at the edge of the white water" if rig.mark <= SHORT_LINE else "in clear water"


_OF_RIG: dict[str, Callable[[FishedRig, Knowledge], str]] = {
    "distance": lambda rig, _: "" if rig.mark is None else ("short" if rig.mark <= SHORT_LINE else "long"),
    "station": lambda rig, _: rig.station,
    "mark": _mark,
    "weight": lambda rig, _: rig.weight,
    "lure": lambda rig, _: rig.lure,
    "colour": _colour,
    "wash": _wash,
}


def level_of(name: str, rig: FishedRig, known: Knowledge) -> str:
    """The level of a rig in a factor that the rig alone decides; empty where it is not known."""
    return _OF_RIG[name](rig, known)


def cells(name: str, book: Logbook, known: Knowledge) -> Cells:
    """Hours and strikes of a factor by level and day. KeyError for a factor that is not there."""
    asked = factor(name)
    spread_hours = _hours(name, book.exposures, known)
    struck = list(zip(book.counted, _levels_of_strikes(name, book.counted, known), strict=True))
    # Entries are in universal time already, and a log of years has many.
    starts = [e.start if known.zone is UTC else e.start.astimezone(known.zone) for e in book.exposures]
    days = [start.date().isoformat() for start in starts]
    day_of = {e.id: day for e, day in zip(book.exposures, days, strict=True)}
    levels = sorted({level for each in spread_hours for level in each})
    row, column = {level: i for i, level in enumerate(levels)}, {day: i for i, day in enumerate(sorted(set(days)))}
    hours, strikes = np.zeros((len(levels), len(column))), np.zeros((len(levels), len(column)))
    for each, day in zip(spread_hours, days, strict=True):
        for level, h in each.items():
            hours[row[level], column[day]] += h
    left_out = 0
    times: list[float] = []
    places: list[int] = []
    for strike, level in struck:
        place = row.get(level)
        if place is None or strike.exposure is None or hours[place, column[day_of[strike.exposure.id]]] <= 0.0:
            left_out += 1
        else:
            its = column[day_of[strike.exposure.id]]
            strikes[place, its] += 1.0
            times.append(strike.entry.at.timestamp() / 3600.0)
            places.append(place * len(column) + its)
    unknown = book.hours - float(hours.sum())
    clock = _clock(book.exposures, spread_hours, row, [column[day] for day in days], hours)
    bunched = unevenness(np.array(times), np.array(places, dtype=np.int64), clock)
    return Cells(asked, tuple(levels), tuple(sorted(set(days))), hours, strikes, max(unknown, 0.0), left_out, bunched)


def _clock(
    exposures: Sequence[Exposure], spread_hours: Sequence[Mapping[str, float]], row: Mapping[str, int],
    columns: Sequence[int], hours: Floats,
) -> Floats:  # fmt: skip
    """Hours (levels x days) [h] on the clock that each level was fished on each day.

    A line that was on several levels in turn (light, depth) lends each its share of the day's time on the clock.
    """
    starts, ends = (np.array([at.timestamp() / 3600.0 for at in each]) for each in
                    ([e.start for e in exposures], [e.end for e in exposures]))  # fmt: skip
    day = np.array(columns, dtype=np.int64)
    if all(len(each) <= 1 for each in spread_hours):
        own = np.array([row[next(iter(each))] if each else -1 for each in spread_hours], dtype=np.int64)
        there = own >= 0
        return clock_hours(starts[there], ends[there], own[there] * hours.shape[1] + day[there], hours.size)
    whole = clock_hours(starts, ends, day, hours.shape[1])
    lines = np.bincount(day, ends - starts, minlength=hours.shape[1])
    return (hours * whole / np.maximum(lines, 1e-9)).ravel()


def _hours(name: str, exposures: Sequence[Exposure], known: Knowledge) -> list[Mapping[str, float]]:
    if name in _OF_RIG:
        read = _OF_RIG[name]
        return [{level: e.hours} if (level := read(e.rig, known)) and e.hours > 0.0 else {} for e in exposures]
    if name == "light":
        return list(light_hours([(e.start, e.end) for e in exposures], [known.place] * len(exposures)))
    kept = {"turn": "side", "depth": "depth", "speed": "speed"}[name]
    ran = (known.ran.get(e.id) for e in exposures)
    return [_known_side(getattr(each, kept)) if each is not None else {} for each in ran]


def _known_side(hours: Mapping[str, float]) -> dict[str, float]:
    return {_SIDES.get(level, level): h for level, h in hours.items() if level != "unknown" and h > 0.0}


_SIDES = {
    "straight": "on the straight", "inside": "inside of turns", "outside": "outside of turns",
    "middle": "in the middle of turns",
}  # fmt: skip


def _levels_of_strikes(name: str, strikes: Sequence[Strike], known: Knowledge) -> list[str]:
    if name in _OF_RIG:
        return [_OF_RIG[name](strike.rig, known) for strike in strikes]
    if name == "light":
        at = [strike.entry.at for strike in strikes]
        return lights_of(at, known.place) if known.place is not None else [""] * len(strikes)
    return [_level_at_bite(name, strike, known) for strike in strikes]


def _level_at_bite(name: str, strike: Strike, known: Knowledge) -> str:
    bite = known.bites.get(strike.entry.id)
    if bite is None:
        return ""
    if name == "turn":
        return _SIDES.get(bite.side, "")
    if name == "depth":
        return depth_class(bite.lure_depth) if bite.lure_depth is not None else ""
    return speed_class(bite.lure_speed) if bite.lure_speed is not None else ""


def usual_place(strikes: Iterable[Strike]) -> tuple[float, float] | None:
    """The middle (lat, lon) [deg] of the places that strikes carry; None where none does."""
    places = [strike.entry.position for strike in strikes if strike.entry.position is not None]
    if not places:
        return None
    lat = float(np.median([place[0] for place in places]))
    east = np.exp(1j * np.radians([place[1] for place in places])).mean()
    return lat, float(np.degrees(np.angle(east)))
