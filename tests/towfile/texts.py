"""Short tow files for the tests: a small sound one, and ways to spoil it."""

from __future__ import annotations

from pathlib import Path

from spreadwright.faults import Fault, Faults
from spreadwright.towfile import TowFile, tow_file_from_text

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples" / "tow"

WATER = '[water]\ngravity = "9.81 m/s2"\nsurface = false\n'
STRAIGHT = '[motion]\nkind = "straight"\nspeed = "15 kn"\n'
TURN = '[motion]\nkind = "s-turn"\nspeed = "7 m/s"\nradius = "40 m"\n'
BODY = '[lines.sections.body]\nname = "lead"\nmass = "1 kg"\ndensity = "11340 kg/m3"\ndrag_area = "2.9 cm2"\n'
SECTION = """[[lines.sections]]
name = "main"
length = "60 m"
diameter = "1 mm"
density = "1140 kg/m3"
stiffness = "1300 N"
"""
LINE = '[[lines]]\nname = "one"\ntip_above_water = "2 m"\n'
NUMERICS = "[numerics]\nmesh_scale = 1\n"


def small(
    *,
    water: str = "",
    motion: str = STRAIGHT,
    line: str = LINE,
    section: str = SECTION,
    body: str = BODY,
    more: str = "",
    numerics: str = NUMERICS,
    top: str = "",
) -> str:
    """A sound tow file, with the pieces that a test wants put in their place."""
    return "\n".join([top, water, motion, numerics, line, section, body, more])


def read(text: str, folder: Path | None = None) -> TowFile:
    """What a text holds."""
    return tow_file_from_text(text, folder=folder)


def faults_of(text: str, folder: Path | None = None) -> tuple[Fault, ...]:
    """All faults of a text; none where it is sound."""
    try:
        tow_file_from_text(text, folder=folder)
    except Faults as faults:
        return faults.faults
    return ()


def only_fault(text: str, folder: Path | None = None) -> Fault:
    """The one fault of a text."""
    faults = faults_of(text, folder)
    assert len(faults) == 1, [str(fault) for fault in faults]
    return faults[0]
