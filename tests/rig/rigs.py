"""Invented tackle that the rig tests put chains together from."""

from __future__ import annotations

from typing import Any

from spreadwright.rig.assemble import Gear
from spreadwright.tackle.leader import BiteGuard, BiteLeader, ShockLeader, WindOn
from spreadwright.tackle.line import MainLine
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.outfit import Outfit, Reel
from spreadwright.tackle.terminal import Crimp, Hook, SnapSwivel
from spreadwright.tackle.weight import TrollingWeight


def outfit(**changes: Any) -> Outfit:
    given: dict[str, Any] = {
        "name": "green 80",
        "reel": Reel.model_validate({"name": "invented 50", "holds": "650 yd", "max_drag": "45 lb"}),
        "line": MainLine.model_validate(
            {"material": "nylon", "strength": "80 lb", "length": "600 yd", "diameter": "0.95 mm"}
        ),
        "marks": ("100 ft", "200 ft"),
        "strike_drag": "22 lb",
        "double_line": "12 ft",
    }
    return Outfit.model_validate(given | changes)


def wind_on(**changes: Any) -> WindOn:
    return WindOn.model_validate({"strength": "200 lb", "length": "25 ft", "diameter": "1.4 mm"} | changes)


def shock_leader(**changes: Any) -> ShockLeader:
    given = {"name": "30 ft of 300 lb", "strength": "300 lb", "length": "30 ft", "diameter": "1.8 mm", "count": 5}
    return ShockLeader.model_validate(given | changes)


def bite_leader(**changes: Any) -> BiteLeader:
    given = {"name": "3 ft wire", "material": "single strand", "strength": "250 lb", "length": "3 ft", "count": 6}
    return BiteLeader.model_validate(given | changes)


def bite_guard(**changes: Any) -> BiteGuard:
    return BiteGuard.model_validate({"material": "cable", "strength": "480 lb", "length": "1 ft"} | changes)


def weight(**changes: Any) -> TrollingWeight:
    given = {"name": "48 oz torpedo", "mass": "48 oz", "cable_strength": "480 lb", "count": 2}
    return TrollingWeight.model_validate(given | changes)


def lure(**changes: Any) -> Lure:
    given = {
        "name": "black-purple jet", "head": "jet", "mass": "8 oz", "length": "9 in", "head_diameter": "1.25 in",
        "colours": ("black", "purple"), "hooks": 2, "count": 3,
    }  # fmt: skip
    return Lure.model_validate(given | changes)


def swivel(strength: str = "300 lb") -> SnapSwivel:
    return SnapSwivel.model_validate({"name": strength, "strength": strength, "count": 12})


def hook(strength: str | None = "350 lb") -> Hook:
    return Hook.model_validate({"name": "9/0", "strength": strength, "count": 8})


def crimp(bore: str) -> Crimp:
    return Crimp.model_validate({"name": f"{bore} sleeve", "bore": bore, "count": 20})


def gear(**changes: Any) -> Gear:
    given: dict[str, Any] = {
        "weight": weight(), "shock_leader": shock_leader(), "bite_leader": bite_leader(), "lure": lure(),
        "swivel": swivel(), "hook": hook(), "crimps": (crimp("1.4 mm"), crimp("2.0 mm"), crimp("3.0 mm")),
    }  # fmt: skip
    return Gear(**(given | changes))
