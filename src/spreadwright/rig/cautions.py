"""Cautions in plain words for hands, wire, weights, hooks and drags, with where each belongs.

These are the usual cautions of the trade (common practice, no source). They do not replace local
rules, a maker's instructions or licensed practice. Faces show those that fit the work at hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

Work = Literal["making leaders", "setting out", "trolling", "strike", "leadering", "landing", "drag setting"]
WORKS: tuple[Work, ...] = get_args(Work)

DEFER = (
    "Numbers here are estimates with stated doubt, not a guarantee. Local rules, the makers' "
    "instructions and licensed practice come first."
)


@dataclass(frozen=True, slots=True)
class RigCaution:
    """One caution: a short key, the text in plain words, and the works it belongs to.

    only_if: empty, or what must be on the rig for it to apply: "wire", "weight", "hooks", "braid".
    """

    key: str
    text: str
    works: tuple[Work, ...]
    only_if: str = ""


ALL: tuple[RigCaution, ...] = (
    RigCaution(
        "no wraps",
        "Never wrap leader, line or wire around a hand, a finger or a cleat. Hold it so that it "
        "can run out of the hand at once.",
        ("leadering", "landing", "setting out"),
    ),
    RigCaution(
        "gloves",
        "Wear gloves made for leadering whenever leader or wire is taken in hand.",
        ("leadering", "landing", "making leaders"),
    ),
    RigCaution(
        "hold the thick section",
        "Take hold only of the thick monofilament. Wire and braid cut to the bone under load; "
        "let the rod bring the rest.",
        ("leadering", "landing"),
    ),
    RigCaution(
        "wire ends",
        "Break off single-strand wire flush, do not cut it; crimp cable ends under cover. Wear eye "
        "protection when cutting wire.",
        ("making leaders",),
        "wire",
    ),
    RigCaution(
        "recoil",
        "A parted line, crimp or swivel flies back along the line's path with the weight behind "
        "it. Nobody stands in that path, at the drag scale or at the fish.",
        ("strike", "leadering", "landing", "drag setting"),
    ),
    RigCaution(
        "weight at the tip",
        "A heavy weight at the rod tip swings and can break bones or teeth. Lead it in by hand on "
        "the leader, keep heads low, and put it down before anything else.",
        ("setting out", "landing"),
        "weight",
    ),
    RigCaution(
        "let the weight down",
        "Let a weight out under thumb and drag at slow speed; do not throw it. Keep feet and loops of leader apart.",
        ("setting out",),
        "weight",
    ),
    RigCaution(
        "hooks under load",
        "Hooks leave a fish at speed. Use a long dehooker, keep hands out of the line's path, and "
        "do not lift a fish by leader over anybody.",
        ("landing", "leadering"),
        "hooks",
    ),
    RigCaution(
        "second hook",
        "The free hook of a pair swings with the fish. Know where it is before reaching.",
        ("landing",),
        "hooks",
    ),
    RigCaution(
        "lanyards",
        "Rods and reels on safety lanyards before lines go out; check the holder's pin.",
        ("setting out", "trolling", "strike"),
    ),
    RigCaution(
        "lookout",
        "Kill-switch lanyard on and a lookout kept while turning hard; agree who calls the strike.",
        ("trolling", "strike"),
    ),
    RigCaution(
        "drag scale",
        "Set the drag with a scale on a line held low and clear of faces, rod braced, with slow "
        "increase. Wear eye protection.",
        ("drag setting",),
    ),
    RigCaution(
        "thumb on the spool",
        "Do not stop a running spool with a bare hand, and keep fingers off running braid.",
        ("strike", "setting out"),
    ),
)


def cautions_for(work: Work, present: frozenset[str] | None = None) -> tuple[RigCaution, ...]:
    """Cautions that belong to `work`; `present` names what the rigs carry, None: everything.

    >>> [each.key for each in cautions_for("making leaders", frozenset())]
    ['gloves']
    """
    return tuple(
        caution
        for caution in ALL
        if work in caution.works and (not caution.only_if or present is None or caution.only_if in present)
    )
