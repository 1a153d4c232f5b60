"""Reads the towed lines of a tow file: sections, the bodies at their ends, and where the rod tips are."""

from __future__ import annotations

import math
from typing import Any

from spreadwright.quantity import quote
from spreadwright.tackle.keys import nearest
from spreadwright.tackle.toml_lines import Path
from spreadwright.tow.line import Body, Line, Sea, Section
from spreadwright.towfile.keys import BODY, LINE, MOST_LINES, MOST_SECTIONS, SECTION
from spreadwright.towfile.reading import Found, Reading
from spreadwright.towfile.values import TowedLine

Hung = tuple[str | None, Body | None, bool]  # a body's name, the body, and whether all of it was sound
Piece = tuple[str, Section | None, Hung]


class Draft:
    """A line as far as it is understood: its name, its tip (forward, port, up) and its sections, None where unknown."""

    def __init__(self, name: str | None) -> None:
        self.name = name
        self.tip: tuple[float | None, float | None, float | None] = (None, None, None)
        self.pieces: list[Piece] | None = None
        self.sound = True


def read_lines(reading: Reading, top: Found, sea: Sea | None) -> tuple[TowedLine, ...]:
    """All lines that are sound; the faults of the others are kept."""
    drafts: list[Draft] = []
    for path, raw in reading.tables(top, "lines", "[[lines]]", MOST_LINES):
        drafts.append(_read_line(reading, path, raw, sea, drafts))
    return tuple(line for draft in drafts if (line := _towed(draft)) is not None)


def _towed(draft: Draft) -> TowedLine | None:
    if draft.name is None or not draft.sound or not draft.pieces or None in draft.tip:
        return None
    sections = tuple(section for _, section, _ in draft.pieces if section is not None)
    forward, port, up = (value for value in draft.tip if value is not None)
    bodies = tuple(body for _, _, (_, body, _) in draft.pieces)
    return TowedLine(
        Line(draft.name, (forward, port, up), sections, bodies),
        tuple(name for name, _, _ in draft.pieces),
        tuple(name for _, _, (name, _, _) in draft.pieces),
    )


def _read_line(reading: Reading, path: Path, raw: Any, sea: Sea | None, earlier: list[Draft]) -> Draft:
    copied = isinstance(raw, dict) and "like" in raw
    found = reading.read(path, raw, LINE, inherits=copied)
    draft = Draft(found["name"])
    draft.sound = found.sound
    if copied and "name" not in found:
        draft.sound = False
        reading.fault((*path, "name"), "nothing", "'name' is needed: the line's name", f"add {LINE[0].line}")
    source = _like(reading, found, earlier) if copied else None
    if draft.name is not None and draft.name in [each.name for each in earlier]:
        draft.sound = False
        reading.fault((*path, "name"), quote(draft.name), "no two lines have the same name", "give it another name")
    own = (found["tip_from_transom"], found["tip_from_centreline"], found["tip_above_water"])
    draft.tip = (
        own
        if source is None
        else tuple(  # type: ignore[assignment]
            mine if mine is not None else its for mine, its in zip(own, source.tip, strict=True)
        )
    )
    _check_tip(reading, found, draft, sea)
    if "sections" in found:
        draft.pieces = _read_sections(reading, found, sea)
    elif source is not None:
        draft.pieces = source.pieces
    draft.sound &= draft.pieces is not None and all(
        section is not None and hung[2] for _, section, hung in draft.pieces or []
    )
    return draft


def _like(reading: Reading, found: Found, earlier: list[Draft]) -> Draft | None:
    """The earlier line that this one is like."""
    wished = found["like"]
    for draft in earlier:
        if wished is not None and draft.name == wished:
            return draft
    if wished is not None:
        names = [draft.name for draft in earlier if draft.name]
        near = nearest(wished, names)
        rule = f"'like' names a line further up: {', '.join(map(quote, names)) or 'there is none'}"
        step = f"did you mean '{near}'?" if near else "correct the name, or write the line out"
        reading.fault((*found.path, "like"), quote(wished), rule, step)
        found.faulty.add("like")
    return None


def _check_tip(reading: Reading, found: Found, draft: Draft, sea: Sea | None) -> None:
    up = draft.tip[2]
    if up is not None and sea is not None and sea.surface and up < 0.0:
        draft.sound = False
        reading.fault(
            (*found.path, "tip_above_water"),
            quote(found.raw.get("tip_above_water", f"{up:g} m")),
            "a rod tip under water needs water without a surface",
            "correct the height, or set surface = false in [water]",
        )


def _read_sections(reading: Reading, line: Found, sea: Sea | None) -> list[Piece]:
    pieces = []
    for at, (path, raw) in enumerate(reading.tables(line, "sections", "[[lines.sections]]", MOST_SECTIONS)):
        found = reading.read(path, raw, SECTION)
        hung: Hung = (None, None, True)
        if "body" in found:
            hung = _read_body(reading, (*path, "body"), found.raw["body"])
        pieces.append((found["name"] or f"section {at + 1}", _section(reading, found, sea), hung))
    return pieces


def _section(reading: Reading, found: Found, sea: Sea | None) -> Section | None:
    density = _section_density(reading, found, sea)
    if not found.sound or density is None:
        return None
    return Section(
        length=found["length"],
        diameter=found["diameter"],
        density=density,
        stiffness=found["stiffness"],
        stiffening=found["stiffening"],
        damping_time=found["damping_time"],
        normal_drag=found["normal_drag"],
        tangential_drag=found["tangential_drag"],
        added_mass=found["added_mass"],
        tangential_force=found["tangential_force"],
    )


def _section_density(reading: Reading, found: Found, sea: Sea | None) -> float | None:
    """The density of a section [kg/m3], from itself or from its weight in water; None where it is not known."""
    if not _one_of_two(reading, found, "density", "weight_in_water"):
        return None
    weight, diameter = found["weight_in_water"], found["diameter"]
    if weight is None or diameter is None or sea is None:
        return found["density"]  # type: ignore[no-any-return]
    if sea.gravity == 0.0:
        given = quote(found.raw["weight_in_water"])
        reading.fault((*found.path, "weight_in_water"), given, "nothing weighs where gravity is zero", "give density")
        return None
    density: float = sea.density + weight / (sea.gravity * 0.25 * math.pi * diameter**2)
    if not 0.0 < density < 1e6:
        reading.fault(
            (*found.path, "weight_in_water"),
            quote(found.raw["weight_in_water"]),
            f"at this diameter it makes a line of {density:.4g} kg/m3; a density must be above 0 and below 1000000",
            "check the weight, the diameter and their units",
        )
        return None
    return density


def _one_of_two(reading: Reading, found: Found, first: str, second: str) -> bool:
    """True where just one of two keys is given; else a fault."""
    if (first in found) != (second in found):
        return True
    both = first in found
    if not both and found.path and {first, second} & found.faulty:
        return False
    reading.fault(
        (*found.path, first) if both else found.path,
        f"both {first} and {second}" if both else "nothing",
        f"give one of the two: {first} or {second}",
        f"remove {second}" if both else f"add {first} or {second}",
    )
    return False


def _read_body(reading: Reading, path: Path, raw: Any) -> Hung:
    found = reading.read(path, raw, BODY)
    name = found["name"] or "body"
    if not found.raw:
        return name, None, False
    before = len(reading.faults)
    one = _one_of_two(reading, found, "volume", "density")
    _check_law(reading, found)
    if not found.sound or not one or len(reading.faults) > before:
        return name, None, False
    volume = found["volume"] if found["density"] is None else found["mass"] / found["density"]
    body = Body(
        mass=found["mass"],
        volume=volume,
        law=found["drag_law"],
        drag_area=found["drag_area"] or 0.0,
        axial_area=found["axial_area"] or 0.0,
        normal_area=found["normal_area"] or 0.0,
        added_mass=found["added_mass"],
        force=found["force"] or (0.0, 0.0, 0.0),
    )
    return name, body, True


def _check_law(reading: Reading, found: Found) -> None:
    """A drag law has its own areas, all of them and no others."""
    law = found["drag_law"]
    if law is None:
        return
    of_law = {"isotropic": ("drag_area",), "slender": ("axial_area", "normal_area")}
    keys = {key.name: key for key in BODY}
    for name in of_law[law]:
        if name not in found:
            rule = f"a body with drag_law \"{law}\" needs '{name}': {keys[name].words}"
            reading.fault((*found.path, name), "nothing", rule, f"add {keys[name].line}")
    for other in of_law["slender" if law == "isotropic" else "isotropic"]:
        if other in found:
            rule = f'a body with drag_law "{law}" has no {other}'
            step = f'remove it, or write drag_law = "{"slender" if law == "isotropic" else "isotropic"}"'
            reading.fault((*found.path, other), quote(found.raw[other]), rule, step)
