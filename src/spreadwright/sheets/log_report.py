"""The log on the terminal: rates as tables with their sentences, tracks, losses, trips and strikes."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import tzinfo
from typing import TYPE_CHECKING

from spreadwright.logbook.rate_words import counted, percent, two_figures
from spreadwright.quantity import System, show, show_turned
from spreadwright.sheets.figures import counted as number_of
from spreadwright.sheets.figures import plain
from spreadwright.sheets.wrapping import WIDTH, wrapped

if TYPE_CHECKING:  # rates and lots load a library of statistics, which a list of strikes does not need
    from spreadwright.logbook.bite import Bite
    from spreadwright.logbook.fold import Logbook, Strike
    from spreadwright.logbook.rates import FactorRates, RateReport
    from spreadwright.logbook.suggest import Suggestion

_NAME = 34


def rates_text(report: RateReport, width: int = WIDTH) -> str:
    """Rates by every factor: the sentences first, then the numbers they come from."""
    out = io.StringIO()
    out.write(f"{counted(report.strikes)} in {report.hours:.0f} rod-hours on {number_of(report.days, 'day')}.\n")
    for each in report.factors:
        out.write(f"\nBY {each.factor.upper()}\n")
        told = [*_shown(each)]
        if told:
            out.write(wrapped(told, width, "- ") + "\n")
        out.write(_table(each))
    if report.remarks:
        out.write("\nABOUT THE LOG\n" + wrapped(_few(report.remarks), width, "- ") + "\n")
    out.write("\n" + wrapped([report.notice], width) + "\n")
    return out.getvalue()


def _shown(rates: FactorRates, most: int = 3) -> Sequence[str]:
    """The comparisons with the next best, and all that is said beside comparisons."""
    compared = len(rates.comparisons)
    return (*rates.sentences[: min(compared, most)], *rates.sentences[compared:])


def _table(rates: FactorRates) -> str:
    rows = [f"  {'':{_NAME}} {'strikes':>7} {'hours':>7} {'an hour':>8}  nine times in ten"]
    for level in rates.levels:
        name = plain(level.level)
        name = name if len(name) <= _NAME else name[: _NAME - 1] + "."
        rows.append(
            f"  {name:{_NAME}} {level.strikes:7d} {level.hours:7.1f} {two_figures(level.rate):>8}  "
            f"{two_figures(level.low)} to {two_figures(level.high)}"
        )
    return "\n".join(rows) + "\n"


def _few(remarks: Sequence[str], most: int = 12) -> Sequence[str]:
    return remarks if len(remarks) <= most else (*remarks[:most], f"and {len(remarks) - most} remarks more (--json)")


def book_text(
    book: Logbook, bites: dict[str, Bite], zone: tzinfo, system: System, last: int = 30, width: int = WIDTH
) -> str:
    """Trips, hours, and the last strikes."""
    out = io.StringIO()
    landed = sum(strike.entry.outcome == "landed" for strike in book.strikes)
    out.write(
        f"{number_of(len(book.sheets), 'sheet')}, {number_of(len(book.exposures), 'line')} out for "
        f"{book.hours:.1f} rod-hours, "
        f"{counted(len(book.strikes))}, {landed} landed.\n"
    )
    for sheet in book.sheets:
        its = [e for e in book.exposures if e.sheet == sheet.id]
        when = f"{min(e.start for e in its).astimezone(zone):%Y-%m-%d}" if its else "no line out"
        strikes = sum(strike.sheet == sheet.id for strike in book.strikes)
        title = plain(sheet.trip) or "(no title)"
        out.write(f"  {when}  {title}: {sum(e.hours for e in its):.1f} rod-hours, {counted(strikes)}\n")
    shown = book.strikes[-last:]
    if shown:
        out.write(f"\nStrikes, the last {len(shown)}:\n")
        out.writelines(_strike(strike, bites.get(strike.entry.id), zone, system) for strike in shown)
    if book.remarks:
        out.write("\nAbout the log:\n" + wrapped(_few(book.remarks), width, "- ") + "\n")
    return out.getvalue()


def _strike(strike: Strike, bite: Bite | None, zone: tzinfo, system: System) -> str:
    entry, rig = strike.entry, strike.rig
    said = [f"{entry.at.astimezone(zone):%Y-%m-%d %H:%M}", plain(entry.rod)]
    if rig.mark is not None:
        said.append(show_turned(round(rig.mark, 2), "length", system))
    said += [plain(each) for each in (rig.weight, rig.lure) if each]
    said.append(entry.outcome if entry.took == "unknown" else f"{entry.outcome}, took the {entry.took}")
    said += [plain(entry.species)] if entry.species else []
    said += [show(entry.mass, "mass", system)] if entry.mass is not None else []
    text = f"  {entry.id[:8]}  " + "; ".join(said) + "\n"
    return text + (f"            {bite_words(bite, system)}\n" if bite else "")


def bite_words(bite: Bite, system: System) -> str:
    """What the track says of a strike, in one sentence."""
    where = {"straight": "on the straight", "inside": "inside of the turn", "outside": "outside of the turn",
             "middle": "in the middle of a turn"}.get(bite.side, "turn not known")  # fmt: skip
    said = f"{where}, boat at {show(bite.boat_speed, 'speed', system)}"
    if bite.lure_depth is None or bite.lure_speed is None:
        return f"{said}; {plain(bite.doubt)}."
    depth, speed = (show(value, kind, system, figures=2)
                    for value, kind in ((bite.lure_depth, "length"), (bite.lure_speed, "speed")))  # fmt: skip
    said += f"; lure {depth}{_between(bite.lure_depth_range, 'length', system)} deep"
    said += f" at {speed}{_between(bite.lure_speed_range, 'speed', system)}"
    changes = [
        word
        for value, least, up, down in (
            (bite.speed_change, 0.25, "speeding up", "slowing"), (bite.depth_change, 0.1, "sinking", "rising")
        )
        if value is not None and abs(value) >= least
        for word in (up if value > 0 else down,)
    ]  # fmt: skip
    return f"{said}{', ' + ' and '.join(changes) if changes else ''}."


def _between(ends: tuple[float, float] | None, kind: str, system: System) -> str:
    if ends is None:
        return ""
    low, high = (show(end, kind, system, figures=2) for end in ends)
    return f" ({low} to {high})"


def suggestion_text(suggestion: Suggestion, width: int = WIDTH) -> str:
    """The suggestion with the chances it was drawn from."""
    rows = [wrapped([suggestion.sentence], width), ""]
    rows += [
        f"  {plain(choice.level)[:_NAME]:{_NAME}} {choice.strikes:5.0f} strikes {choice.hours:7.1f} h   best of all: "
        f"{percent(choice.best)}"
        for choice in sorted(suggestion.choices, key=lambda choice: -choice.best)
    ]
    lot = (
        f"A lot drawn by what the log knows, not advice (the same lot again: --seed {suggestion.seed}). Before a swap, "
        "look at what it does to the gaps between lines."
    )
    rows += ["", wrapped([lot], width)]
    return "\n".join(rows) + "\n"
