"""Causes that cannot be told apart: short lines that always had the heavy weights. And the swap that would tell.

Two levels of a factor are compared fairly with respect to another factor if both fished its levels in like shares. The
overlap of two sets of shares is the sum of the smaller of each: 1 for equal shares, 0 where they have none in common.
"""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.logbook.entry import Record
from spreadwright.logbook.factors import Factor, Knowledge, level_of
from spreadwright.logbook.fold import Logbook

TOO_LITTLE = 0.35  # overlap under which two causes cannot be told apart; assumed
FEWEST_HOURS = 2.0  # [h] on a level before anything is said about it

# What else may be the cause, for each factor a captain chooses. Not listed: what is the same thing in other words
# (distance, mark and wash; lure and colour).
_OTHERS = {
    "distance": ("weight", "lure", "station"),
    "wash": ("weight", "lure", "station"),
    "mark": ("weight", "lure", "station"),
    "station": ("distance", "weight", "lure"),
    "weight": ("distance", "lure", "station"),
    "lure": ("distance", "weight", "station"),
    "colour": ("distance", "weight", "station"),
}


class Confounded(Record):
    """Two levels of a factor that went together with levels of another, so that either may be the cause.

    first, second: the levels compared; with_first, with_second: what each mostly went with, and in what share of its
    hours [-]; swap: what to fish for a while to tell them apart.
    """

    factor: str
    first: str
    second: str
    other: str
    with_first: str
    with_second: str
    share_first: float
    share_second: float
    overlap: float
    swap: str
    sentence: str


def confounded(factor: Factor, levels: Sequence[str], book: Logbook, known: Knowledge) -> tuple[Confounded, ...]:
    """What else may be the cause of a difference between the first of these levels and each of the others."""
    if factor.name not in _OTHERS or len(levels) < 2:
        return ()
    own = [level_of(factor.name, exposure.rig, known) for exposure in book.exposures]
    found = []
    for other in _OTHERS[factor.name]:
        hours: dict[str, dict[str, float]] = {level: {} for level in levels}
        for level, exposure in zip(own, book.exposures, strict=True):
            if level in hours:
                its = level_of(other, exposure.rig, known) or "not known"
                hours[level][its] = hours[level].get(its, 0.0) + exposure.hours
        enough = {level: each for level, each in hours.items() if sum(each.values()) >= FEWEST_HOURS}
        for second in levels[1:]:
            if levels[0] in enough and second in enough:
                pair = {levels[0]: enough[levels[0]], second: enough[second]}
                mixed = _look(factor.name, levels[0], second, other, pair)
                found += [mixed] if mixed is not None else []
    return tuple(found)


def mixed_words(mixed: Sequence[Confounded]) -> tuple[str, ...]:
    """A sentence for each other cause: the first pair of levels it mixes up in full, the others by name."""
    by_cause: dict[str, list[Confounded]] = {}
    for each in mixed:
        by_cause.setdefault(each.other, []).append(each)
    said = []
    for every in by_cause.values():
        head, *more = every
        names = [_called(each.factor, each.second) for each in more]
        also = f" The same goes for {_called(head.factor, head.first)} against {', '.join(names)}." if names else ""
        said.append(head.sentence + also)
    return tuple(said)


def _look(factor: str, first: str, second: str, other: str, hours: dict[str, dict[str, float]]) -> Confounded | None:
    shares = {level: {its: h / sum(each.values()) for its, h in each.items()} for level, each in hours.items()}
    every = sorted({its for each in shares.values() for its in each})
    p, q = ({its: shares[level].get(its, 0.0) for its in every} for level in (first, second))
    overlap = sum(min(p[its], q[its]) for its in every)
    if overlap >= TOO_LITTLE or len(every) < 2:
        return None
    mine, theirs = max(every, key=lambda its: p[its] - q[its]), max(every, key=lambda its: q[its] - p[its])
    ours, those = _called(factor, first), _called(factor, second)
    swap = (
        f"put {_called(other, mine)} on {those} and {_called(other, theirs)} on {ours} for a while; plan it first, "
        "because a swap changes depths and the gaps between lines"
    )
    went = f"{ours[0].upper()}{ours[1:]} went with {_called(other, mine)}"
    sentence = (
        f"{went} in {100 * p[mine]:.0f} % of the hours and {those} in {100 * q[mine]:.0f} %: whether {factor} or "
        f"{other} makes the difference cannot be told. To tell: {swap}."
    )
    return Confounded(
        factor=factor, first=first, second=second, other=other, with_first=mine, with_second=theirs,
        share_first=p[mine], share_second=q[theirs], overlap=overlap, swap=swap, sentence=sentence,
    )  # fmt: skip


def _called(factor: str, level: str) -> str:
    if factor == "distance":
        return f"{level} lines"
    if factor == "station":
        return f"the {level}"
    return level if factor == "wash" else f"the {level}"
