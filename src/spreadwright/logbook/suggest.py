"""What to change for the next hour, by Thompson sampling: try what may be best, as often as it may be best.

One rate is drawn from what is known of each level, and the level with the highest draw is fished (Thompson 1933,
Biometrika 25). Little-known levels are tried now and then, poor ones less and less. A suggestion is a lot drawn, not
advice: the same seed draws the same lot.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from spreadwright.logbook.entry import FishedRig, Record
from spreadwright.logbook.evenness import even
from spreadwright.logbook.factors import Knowledge, cells, factor, level_of
from spreadwright.logbook.fold import Logbook
from spreadwright.logbook.pooling import pooled
from spreadwright.logbook.rate_words import counted, percent, two_figures

_DRAWS = 4000


class Choice(Record):
    """A level to choose: hours [h] and strikes so far, expected rate [1/h], chance [-] of being the best of all,
    and the rate drawn [1/h]."""

    level: str
    hours: float
    strikes: float
    rate: float
    best: float
    drawn: float
    fished_on: tuple[str, ...]


class Suggestion(Record):
    """The next hour's change: which rod goes from what to what; change is False where the draw says to stay."""

    factor: str
    change: bool
    rod: str
    leave: str
    take: str
    seed: int
    choices: tuple[Choice, ...]
    sentence: str


def fishing_now(book: Logbook) -> dict[str, FishedRig]:
    """The last rig of every rod on the latest sheet."""
    if not book.exposures:
        return {}
    last = max(book.exposures, key=lambda e: (e.end, e.start))
    return {e.rod: e.rig for e in book.exposures if e.sheet == last.sheet}


def suggest(
    book: Logbook,
    seed: int,
    name: str = "lure",
    more: Iterable[str] = (),
    now: Mapping[str, FishedRig] | None = None,
    known: Knowledge | None = None,
) -> Suggestion | str:
    """A change of one level on one rod, or the reason in words why none can be drawn.

    more   levels that could be fished beside those of the log (lures on the shelf)
    now    what each rod fishes; the last of the log where left out
    """
    known = known or Knowledge()
    if name in ("light", "turn", "depth", "speed"):
        return f"{name} is not something to change on a rod: ask for lure, weight, colour, mark or station"
    now = fishing_now(book) if now is None else now
    table = cells(name, book, known)
    levels = (*table.levels, *(each for each in dict.fromkeys(more) if each not in table.levels))
    fished = {rod: level for rod, rig in sorted(now.items()) if (level := level_of(name, rig, known))}
    if not fished:
        return f"the log does not say what {name} any rod fishes now: log the lines that are out first"
    if len(levels) < 2:
        return f"there is one {name} to choose from: nothing to change"
    evened = even(table.hours, table.strikes, table.bunched)
    none = np.zeros(len(levels) - len(table.levels))
    posterior = pooled(np.append(evened.strikes, none), np.append(evened.hours, none))
    drawn = posterior.draw(1, seed)[0]
    best = np.bincount(posterior.draw(_DRAWS, seed + 1).argmax(axis=1), minlength=len(levels)) / _DRAWS
    seen_hours, seen_strikes = np.append(table.hours.sum(axis=1), none), np.append(table.strikes.sum(axis=1), none)
    choices = tuple(
        Choice(
            level=level, hours=float(seen_hours[i]), strikes=float(seen_strikes[i]), rate=float(posterior.means[i]),
            best=float(best[i]), drawn=float(drawn[i]), fished_on=tuple(r for r, its in fished.items() if its == level),
        )
        for i, level in enumerate(levels)
    )  # fmt: skip
    take = max(choices, key=lambda choice: choice.drawn)
    rod = min(fished, key=lambda each: drawn[levels.index(fished[each])] if fished[each] in levels else np.inf)
    leave = fished[rod]
    change = leave != take.level
    return Suggestion(
        factor=name, change=change, rod=rod, leave=leave, take=take.level, seed=seed, choices=choices,
        sentence=_words(name, change, rod, leave, take),
    )  # fmt: skip


def _words(name: str, change: bool, rod: str, leave: str, take: Choice) -> str:
    factor(name)
    known = f"{counted(take.strikes)} in {two_figures(take.hours)} h" if take.hours else "not fished yet"
    why = f"{take.level} ({known}) is the best of all with a chance of {percent(take.best)}"
    if change:
        return f"Next hour: on {rod}, {leave} comes off and {take.level} goes on. {why[0].upper()}{why[1:]}."
    return f"Next hour: leave all as it is. {why[0].upper()}{why[1:]}."
