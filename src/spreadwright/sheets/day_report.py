"""The day on the terminal: the answer first, every reason, then light, sea, fuel, hours, papers and cautions."""

from __future__ import annotations

import io
import math
from datetime import datetime

from spreadwright.plan.day_answer import DayAnswer, FuelAnswer, SeaAnswer, Spread
from spreadwright.quantity import System, show
from spreadwright.sheets.figures import plain
from spreadwright.sheets.wrapping import WIDTH, wrapped


def day_text(day: DayAnswer, system: System, width: int = WIDTH) -> str:
    """The whole day in at most so many columns."""
    out = io.StringIO()
    out.write(f"{plain(day.title)}, {day.date}: {day.answer.upper()}\n")
    out.write(wrapped([day.summary], width) + "\n\nWHY\n")
    for line in day.findings:
        out.write(wrapped([f"{line.reason} Next: {line.next_step}."], width, mark=f"{line.answer.upper():6} ") + "\n")
    out.write("\nLIGHT (the boat's clock)\n")
    out.writelines(f"  {name:18} {_clock(at)}\n" for name, at in day.sky.happens)
    out.write(f"  moon               {day.sky.moon}, {100 * day.sky.lit:.0f} % lit\n")
    out.write("\nSEA\n" + _sea(day.sea, system, width))
    out.write("\nFUEL\n" + _fuel(day.fuel, day.fuel_trouble, width))
    if day.steps:
        out.write("\nHOURS\n")
        out.writelines(f"  {_clock(at)}  {what:17} {why}\n" for at, what, why in day.steps)
    if day.problems:
        out.write(wrapped(day.problems, width, mark="- ") + "\n")
    if day.papers:
        out.write("\nPAPERS AND CATCH LIMITS, as you entered them\n")
        told = [f"{line.topic}: {line.reason}; {line.next_step}." for line in day.papers]
        out.write(wrapped(told, width, mark="- ") + "\n")
    out.write("\nCAUTIONS\n" + wrapped(day.cautions, width, mark="- ") + "\n\n" + wrapped(day.notices, width) + "\n")
    return out.getvalue()


def _clock(at: str) -> str:
    try:
        return f"{datetime.fromisoformat(at):%H:%M}"
    except ValueError:
        return at


def _between(spread: Spread, dimension: str, system: System) -> str:
    low, usual, high = (show(v, dimension, system, figures=2) for v in (spread.low, spread.usual, spread.high))
    return f"{usual} ({low} to {high})"


def _sea(sea: SeaAnswer | None, system: System, width: int) -> str:
    if sea is None:
        return (
            wrapped(["Nothing is known of the sea: enter the wind with its fetch, or a forecast height."], width) + "\n"
        )
    said = [
        f"{sea.wind.capitalize()}. "
        * bool(sea.wind)
        + f"Significant height {_between(sea.height, 'length', system)}, period {sea.period:.1f} s, height over length "
        f"{sea.steepness:.3f}; {sea.limited_by}."
    ]
    if sea.on_current is not None:
        height, steep = sea.on_current
        breaks = " and breaks" if sea.breaking else ""
        said.append(f"On the current it stands {show(height, 'length', system, figures=2)} high{breaks}, height over "
                    f"length {steep:.3f}.")  # fmt: skip
    if sea.heave is not None and sea.roll is not None and sea.pitch is not None:
        roll, pitch = (f"{math.degrees(e.usual):.0f} deg ({math.degrees(e.low):.0f} to {math.degrees(e.high):.0f})"
                       for e in (sea.roll, sea.pitch))  # fmt: skip
        said.append(f"On the pattern she heaves {_between(sea.heave, 'length', system)}, rolls {roll} and pitches "
                    f"{pitch} either way: a rough estimate for a fast boat.")  # fmt: skip
    return wrapped(said, width) + "\n"


def _fuel(fuel: FuelAnswer | None, trouble: str, width: int) -> str:
    if fuel is None:
        return wrapped([trouble or "Not worked out: enter the fuel with its burn curve, and the course."], width) + "\n"
    legs = "".join(f"  {name:18} {burnt:>9}\n" for name, burnt in fuel.legs_said)
    left = f"On this fuel at most {fuel.pattern_left / 3600.0:.1f} h on the pattern, at the worst of the doubt."
    return legs + wrapped([fuel.sentence, left], width) + "\n"
