"""The deck sheet: one HTML file that a telephone opens from its own files, with no server and no network.

`deck_sheet(plan)` gives its text: the spread drawn, a card a rod, orders, cautions, and a log of lines and strikes that
the telephone keeps. Style, scripts and data stand inside, and a content-security policy that names the one script and
the one style by their hashes lets nothing else run and nothing leave.
"""

from __future__ import annotations

import base64
import hashlib
import json
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from spreadwright.plan.value import Plan
from spreadwright.plan.worded import in_units
from spreadwright.quantity import System
from spreadwright.sheets.card_words import card_words
from spreadwright.sheets.drawing import NARROW, WIDE, spread_drawing
from spreadwright.sheets.figures import system_of
from spreadwright.sheets.wording import by_set_out
from spreadwright.tackle.trip import Trip

PARTS = Path(__file__).parent / "deck"
SCRIPTS = ("entries", "store", "qr", "page", "lines", "log", "send", "clock", "start")
LARGEST = 300_000  # [bytes] of the file, so that it goes into a message and opens at once
SYSTEMS: tuple[System, ...] = ("us", "metric")
LONGEST_NAME = 80  # signs of a name in the log (see logbook.entry)

# What a rod's card lists as figures: name in the card's words, and what it is.
NUMBERS = (
    ("weight_depth", "weight deep"),
    ("weight_turns", "in the turns"),
    ("lure_depth", "lure deep"),
    ("lure_turns", "in the turns"),
    ("lure_speed", "lure’s speed in the turns"),
    ("pull", "pull at the rod"),
    ("angle", "line below level"),
)


def deck_sheet(plan: Plan, *, system: System | None = None, trip: Trip | None = None) -> str:
    """The whole file. The same plan gives the same text, so that a sheet made again finds its log again.

    `system` is what it opens in; the captain may switch. With the trip, rigs are named from the reel on. The wide
    drawings are left out where the file would pass 300 kB.
    """
    units = system_of(plan, system)
    whole = _sheet(plan, units, trip, wide=True)
    return whole if len(whole.encode()) <= LARGEST else _sheet(plan, units, trip, wide=False)


def sheet_id(plan: Plan) -> str:
    """The sheet's own name in the log: 32 hexadecimal digits of what the plan says."""
    return hashlib.sha256(plan.to_json().encode()).hexdigest()[:32]


def policy() -> str:
    """What the file may do: its own style and script, and pictures that it carries or makes itself."""
    return (
        f"default-src 'none'; style-src '{_hash(_look())}'; script-src '{_hash(_script())}'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )


def _sheet(plan: Plan, units: System, trip: Trip | None, *, wide: bool) -> str:
    rods = by_set_out(plan)
    made: str = _template().render(
        units=units,
        policy=policy(),
        look=Markup(_look()),
        script=Markup(_script()),
        said={each: card_words(in_units(plan, each), each, trip) for each in SYSTEMS},
        names=[rod.rod for rod in rods],
        numbers=NUMBERS,
        drawings={each: _drawings(plan, each, wide) for each in SYSTEMS},
        sheet=Markup(_data(plan)),
    )
    return made


def _drawings(plan: Plan, system: System, wide: bool) -> list[tuple[str, Markup]]:
    """The spread for a telephone and for a wider screen, each with ids of its own."""
    sizes = [("wide", WIDE)] * wide + [("narrow", NARROW)]
    return [
        (size, Markup(spread_drawing(plan, width=width, system=system, name=f"spread-{system}-{size}", worst=True)))
        for size, width in sizes
    ]


def _data(plan: Plan) -> str:
    """What the scripts need to know, as JSON that cannot end its element."""
    rods: list[dict[str, Any]] = [
        {
            "name": rod.rod,
            "rig": {
                "station": rod.station,
                "mark": round(rod.mark, 4),
                "weight": rod.weight,
                "shock_leader": rod.shock_leader,
                "bite_leader": rod.bite_leader,
                "lure": rod.lure,
            },
        }
        for rod in by_set_out(plan)
    ]
    told = {"id": sheet_id(plan), "trip": plan.title, "boat": plan.boat, "rods": rods}
    return json.dumps(told, ensure_ascii=False).replace("<", "\\u003c")


@lru_cache(maxsize=1)
def _template() -> Any:
    parts = Environment(
        loader=FileSystemLoader(PARTS), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    return parts.get_template("sheet.html")


def _read(name: str) -> str:
    return (PARTS / name).read_text(encoding="utf-8")


def _look() -> str:
    return _read("look.css")


def _script() -> str:
    """All scripts as one, with a room of their own."""
    return "(() => {\n'use strict';\n" + "\n".join(_read(f"{name}.js") for name in SCRIPTS) + "\n})();\n"


def _hash(text: str) -> str:
    """A source expression for a policy (W3C, Content Security Policy Level 3, hash-source)."""
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"
