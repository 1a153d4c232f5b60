"""The usual cautions of the work, each with the place where it belongs.

Written in our own plain words from common practice; no source unless one is named. They do not
replace training, local rules or licensed practice, and a caution left out is no permission. The
plan, the cards and the pages take theirs from here, so that they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

NOTICE = (
    "Usual cautions, not a safety course. Local rules and licensed practice come first. Numbers from this "
    "program are estimates with stated doubt, not a guarantee."
)


class Work(StrEnum):
    """The parts of the work, in the order of the day."""

    STOCKTAKING = "stocktaking"
    RIGGING = "rigging"
    LEAVING = "leaving"
    CROSSING = "crossing"
    SETTING_OUT = "setting out"
    TURNING = "turning"
    STRIKE = "strike"
    FIGHTING = "fighting"
    LEADERING = "leadering"
    BOATING_A_FISH = "boating a fish"
    CLEARING = "clearing"
    READING_NUMBERS = "reading numbers"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: a lasting id, the work it belongs to, and the words.

    grave  it can kill or maim; short lists keep these first
    """

    id: str
    where: tuple[Work, ...]
    text: str
    grave: bool = False


ALL = (
    Caution(
        "no-wrap",
        (Work.LEADERING, Work.RIGGING),
        "Never wrap leader or wire around a hand, a wrist or a finger: hold it so that it can run free at once.",
        grave=True,
    ),
    Caution(
        "overboard",
        (Work.LEAVING, Work.TURNING, Work.LEADERING),
        "Practise the person-overboard drill with this crew: who points, who steers, who throws, how the person "
        "is brought aboard.",
        grave=True,
    ),
    Caution(
        "kill-switch",
        (Work.LEAVING, Work.CROSSING, Work.TURNING),
        "Kill-switch lanyard on whoever steers, before the boat moves.",
        grave=True,
    ),
    Caution(
        "life-jackets",
        (Work.LEAVING, Work.CROSSING),
        "Life jackets worn on the crossing, in the dark and whenever one person is alone on deck.",
        grave=True,
    ),
    Caution(
        "beyond-the-boat",
        (Work.LEAVING, Work.CROSSING),
        "No crossing on a forecast beyond the boat or the crew. Turning back is always open.",
        grave=True,
    ),
    Caution(
        "hook-path",
        (Work.STRIKE, Work.LEADERING, Work.BOATING_A_FISH, Work.CLEARING),
        "Keep everyone out of the line's path: a hook under load comes back faster than anyone can duck.",
        grave=True,
    ),
    Caution(
        "green-fish",
        (Work.BOATING_A_FISH,),
        "A lively fish in the boat bites and throws hooks. Have it still before it comes over the side, head "
        "away from legs.",
        grave=True,
    ),
    Caution(
        "shore-contact",
        (Work.LEAVING,),
        "Leave the plan and the time of return with someone ashore, and what they do when it passes.",
    ),
    Caution(
        "radio-and-signals",
        (Work.LEAVING,),
        "Radio, position beacon and signals tested and where a hand finds them in the dark.",
    ),
    Caution(
        "in-the-dark",
        (Work.CROSSING,),
        "In the dark or in poor sight: lights on, a lookout besides the helm, and a speed that can stop short "
        "of what floats.",
    ),
    Caution(
        "sharp-edges",
        (Work.STOCKTAKING, Work.RIGGING),
        "Old hooks, cut wire and crimp ends cut: eye protection, and gloves where they do not get in the way.",
    ),
    Caution(
        "hooks-covered",
        (Work.STOCKTAKING, Work.RIGGING, Work.LEAVING),
        "Hooks covered or stowed until they go in the water.",
    ),
    Caution(
        "doubtful-gear",
        (Work.STOCKTAKING, Work.RIGGING),
        "A nick, a kink, rust or a sharp crimp: retire the piece. What parts under load recoils.",
    ),
    Caution(
        "crimp-tool",
        (Work.RIGGING,),
        "Crimp with the sleeve and the tool made for that line, as their makers say, and pull-test each one "
        "with your face out of line.",
    ),
    Caution(
        "drag-by-scale",
        (Work.RIGGING, Work.SETTING_OUT),
        "Set the strike drag with a scale, the rod in the holder it will fish from, nobody in line with the pull.",
    ),
    Caution(
        "safety-lanyards",
        (Work.SETTING_OUT, Work.TURNING),
        "Every rod and reel on a safety lanyard before its line goes out.",
    ),
    Caution(
        "swinging-weight",
        (Work.SETTING_OUT, Work.CLEARING),
        "A heavy weight at the rod tip swings: lower it by hand, slow the boat, heads clear.",
    ),
    Caution(
        "running-line",
        (Work.SETTING_OUT, Work.STRIKE),
        "Line that runs burns and cuts: thumb on the spool with a glove, never a hand around the line.",
    ),
    Caution(
        "boat-speed-setting",
        (Work.SETTING_OUT, Work.CLEARING),
        "Slow and on a straight course while lines go out or come in; one person calls the speed.",
    ),
    Caution(
        "lookout",
        (Work.TURNING, Work.CROSSING, Work.FIGHTING),
        "One person does nothing but look out while the boat turns hard or fights a fish: other boats cross astern.",
    ),
    Caution(
        "hold-on",
        (Work.TURNING,),
        "Say each turn before it comes: everyone with a hand for the boat, nobody on the gunwale.",
    ),
    Caution(
        "propellers",
        (Work.TURNING, Work.FIGHTING, Work.CLEARING),
        "Know where every line is before going astern; engines stopped before anyone reaches below the transom.",
    ),
    Caution(
        "parted-line",
        (Work.STRIKE, Work.FIGHTING),
        "A parted line, knot or crimp recoils with whatever is on it: eye protection, and stand out of line.",
    ),
    Caution(
        "drag-creep",
        (Work.FIGHTING,),
        "Drag rises as the spool empties, and the line in the water pulls too: ease off on a long run.",
    ),
    Caution(
        "gloves",
        (Work.LEADERING, Work.SETTING_OUT, Work.CLEARING),
        "Gloves on whoever takes the leader. Take the monofilament, not the wire.",
    ),
    Caution(
        "leader-on-deck",
        (Work.LEADERING,),
        "Leader taken in goes overboard astern or into a bucket, never around feet on deck.",
    ),
    Caution(
        "weight-at-the-tip",
        (Work.LEADERING, Work.FIGHTING),
        "Stop reeling before the weight reaches the rod tip; call it out, and unclip it with the fish held.",
    ),
    Caution(
        "dehooker",
        (Work.BOATING_A_FISH,),
        "Take hooks out with a dehooker or pliers, the other hook of the pair secured first.",
    ),
    Caution(
        "gaff",
        (Work.BOATING_A_FISH,),
        "One person gaffs, behind the leader, the point away from people and covered when done.",
    ),
    Caution(
        "estimates",
        (Work.READING_NUMBERS,),
        "Depths, gaps and loads are computed estimates. Measure what you can, and leave more room than the number.",
    ),
    Caution(
        "own-limits",
        (Work.READING_NUMBERS, Work.LEAVING),
        "A go on the list means that nothing entered stands against it. It does not know the sea. You do.",
    ),
)


def cautions_for(works: Iterable[Work]) -> tuple[Caution, ...]:
    """Every caution that belongs to any of these parts of the work, once each, the grave ones first.

    >>> [caution.id for caution in cautions_for([Work.BOATING_A_FISH])][:2]
    ['hook-path', 'green-fish']
    """
    wanted = set(works)
    chosen = [caution for caution in ALL if wanted.intersection(caution.where)]
    return tuple(sorted(chosen, key=lambda caution: not caution.grave))


def caution(identity: str) -> Caution:
    """The caution with this id. Raises KeyError naming the id where there is none."""
    for one in ALL:
        if one.id == identity:
            return one
    raise KeyError(f"no caution {identity!r}")
