"""A study in sentences: how many cases, where lines come nearest, where they tangle, and what is counted."""

from __future__ import annotations

from collections import Counter

from spreadwright.plan.study import Case, Outcome, SeaAsked, Study
from spreadwright.quantity import System, show, show_given


def sentences(study: Study, system: System | None = None) -> tuple[str, ...]:
    """The short answer, in the trip's units or others."""
    units: System = system or ("metric" if study.units == "metric" else "us")
    known = [(case, out) for case, out in zip(study.cases, study.outcomes, strict=True) if not out.problem]
    said = [f"{_counted_cases(study)}{_lost(study)}"]
    paired = [(case, out) for case, out in known if out.first]
    if paired:
        nearest, widest = (pick(paired, key=lambda each: each[1].gap) for pick in (min, max))
        said.append(f"Nearest of all: {_gap(*nearest, study, units)}.")
        if len(paired) > 1:
            said.append(f"Widest: {_gap(*widest, study, units)}.")
        tangles = sum(out.tangle for _, out in paired)
        within = show_given(study.spreads[0].reach, "length", units)
        rule = f"gear within {within} of another line, or a wrap"
        said.append(
            f"{f'Tangles in {tangles} of {len(paired)} cases' if tangles else 'No tangle in any case'} ({rule})."
        )
        limits = Counter((case.spread.boat, out.first, out.second) for case, out in paired).most_common(1)[0]
        (boat, first, second), count = limits
        on = f" on {boat}" if len(study.spreads) > 1 else ""
        said.append(f"Most often nearest: {first} and {second}{on}, in {count} of {len(paired)} cases.")
    return tuple(said)


def counted(study: Study) -> tuple[str, ...]:
    """What is counted in, and what is not."""
    said = [f"the spread of {each.boat}: {each.chosen}" for each in study.spreads]
    if all(case.sea.calm for case in study.cases):
        said.append("flat water: no waves, no boat motion")
    else:
        said.append(
            f"waves: one sea of a JONSWAP spectrum a height and period, drawn with seed {study.cases[0].seed}, all "
            "directions within a right angle of the main one; the water's own motion at every depth"
        )
        still = [each.boat for each in study.spreads if each.hull is None]
        moved = [each.boat for each in study.spreads if each.hull is not None]
        if still:
            said.append(f"boat motion is NOT counted for {', '.join(still)}: give --hull to count it")
        if moved:
            said.append(
                f"boat motion of {', '.join(moved)}: heave, roll and pitch of a box of the hull's size at every rod "
                "tip, a factor of 0.5 to 1.6 in doubt, phases those of a short boat"
            )
    said.append("drag, weights, lures and marks as usual: how sure that is, the plan says and not the study")
    said.append("not counted: current, the wash, lines that touch")
    return tuple(said)


def sea_in_words(sea: SeaAsked, system: System) -> str:
    """A sea as it is asked for: "calm", or "2 ft at 4 s"."""
    if sea.calm:
        return "calm"
    return f"{show(sea.height, 'length', system, figures=2)} at {show(sea.period, 'time', system, figures=2)}"


def case_in_words(case: Case, study: Study, system: System) -> str:
    """Where a case stands among the others, such as "15 kn, 150 ft radius, calm"."""
    parts = [show_given(case.speed, "speed", system), f"{show(case.radius, 'length', system, figures=3)} radius"]
    parts.append(sea_in_words(case.sea, system))
    if len(study.spreads) > 1:
        parts.insert(0, case.spread.boat)
    return ", ".join(parts)


def _counted_cases(study: Study) -> str:
    parts = (
        (len(study.spreads), "boat"), (len({case.speed for case in study.cases}), "speed"),
        (len({case.radius for case in study.cases}), "radius"), (len({case.sea for case in study.cases}), "sea"),
    )  # fmt: skip
    plural = {"radius": "radii"}
    said = ", ".join(f"{n} {what if n == 1 else plural.get(what, what + 's')}" for n, what in parts)
    return f"{len(study.cases)} case{'s' * (len(study.cases) != 1)}: {said}."


def _lost(study: Study) -> str:
    lost = [out for out in study.outcomes if out.problem]
    if not lost:
        return ""
    return f" {len(lost)} could not be computed; the first: {lost[0].problem}."


def _gap(case: Case, out: Outcome, study: Study, system: System) -> str:
    gap = show(out.gap, "length", system, figures=2)
    return f"{gap} between {out.first} and {out.second} ({case_in_words(case, study, system)})"
