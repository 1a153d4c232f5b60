"""What water does to gear: drag and size of lines, weights and lures, each with its doubt and source.

Drag areas are coefficient times area [m2]. Where nothing is published (skirted lures, cable eyes) the range is wide and
says so; a captain's own measurement replaces it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from spreadwright.tackle.line import MaterialName
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.span import Span
from spreadwright.tackle.weight import TrollingWeight


@dataclass(frozen=True, slots=True)
class Drag:
    """Cross-flow coefficient on diameter and skin coefficient on the surface [-], and where they come from."""

    across: Span
    along: Span
    source: str


SMOOTH = Drag(
    Span(1.1, 1.2, 1.3),
    Span(0.010, 0.015, 0.020),
    "smooth cylinder, Re 1e3 to 2e5: Hoerner, Fluid-Dynamic Drag, 1965, ch. 3; skin from memory, 0.01 to 0.02",
)
WOVEN = Drag(
    Span(1.1, 1.25, 1.5),
    Span(0.012, 0.020, 0.030),
    "smooth cylinder to laid cable (1.5: WHOI-97-15); skin of a woven line assumed twice as doubtful",
)
LINE_DRAG: dict[MaterialName, Drag] = {
    "nylon": SMOOTH,
    "fluorocarbon": SMOOTH,
    "single strand": SMOOTH,
    "braid": WOVEN,
    "cable": WOVEN,
}

# A double line is two strands side by side or plaited: between one thick strand and two free ones.
DOUBLE_ACROSS = 2.0 / math.sqrt(2.0)  # drag of two strands over that of one of the same cross-section in all

LURE_DENSITY = 3000.0  # [kg/m3] metal head, rubber and steel together: assumed
HEAD_DRAG = {"bullet": 0.30, "jet": 0.50, "cone": 0.55, "flat": 0.90}  # on the head's frontal area; assumed
SKIRT_DRAG = 0.02  # on the skirt's surface, fluttering: assumed
HOOK_AREA = 1.5e-4  # [m2] drag area of one hook across the flow: assumed
LURE_DOUBT = 0.5  # share; no published measurement of a skirted lure was found


@dataclass(frozen=True, slots=True)
class Dragged:
    """A body's drag areas along and across the line [m2], with doubt; round: the same from all sides."""

    axial: Span
    side: Span
    round: bool
    source: str


def weight_drag(weight: TrollingWeight) -> Dragged:
    """Drag of a trolling weight.

    Torpedo: 0.25 on the frontal area (a streamlined body has 0.04, a body with eyes, snaps and cable ends far more;
    Hoerner 1965: half-body 0.09, rounded cylinder 0.2), 1.0 on length times diameter across (cylinder 1.2, less for a
    short one). Egg 0.25 and 0.6. Ball 0.47 from all sides (sphere, Hoerner 1965).
    Worked example: 32 oz lead torpedo, 25.7 by 206 mm: 1.3 cm2 along, 40 cm2 across.
    """
    front = 0.25 * math.pi * weight.diameter**2
    flank = weight.length * weight.diameter
    if weight.shape == "ball":
        area = Span.about(0.47 * front, 0.15)
        return Dragged(area, area, True, "sphere 0.47, +-15 %: Hoerner, Fluid-Dynamic Drag, 1965")
    along = Span(0.12 * front, 0.25 * front, 0.50 * front)
    across = 1.0 if weight.shape == "torpedo" else 0.6
    return Dragged(along, Span.about(across * flank, 0.25), False, "rounded bodies, Hoerner 1965; cable ends assumed")


def lure_drag(lure: Lure) -> Dragged:
    """Drag of a skirted lure towed head first: the captain's measured area, or head + skirt + hooks (assumed).

    Worked example: 9 in jet, head 1.25 in, two hooks: 4.0 + 4.6 + 3.0 cm2 = 11.5 cm2, or 35 N at 15 kn.
    """
    front = 0.25 * math.pi * lure.head_diameter**2
    skirt = math.pi * lure.head_diameter * lure.length
    area = HEAD_DRAG[lure.head] * front + SKIRT_DRAG * skirt + HOOK_AREA * lure.hooks
    doubt, source = LURE_DOUBT, "from head, skirt and hooks; nothing published, so half as much again either way"
    if lure.drag_area is not None:
        area, source = lure.drag_area, "measured by the captain"
        doubt = lure.drag_area_doubt if lure.drag_area_doubt is not None else 0.2
    side = 0.7 * lure.length * lure.head_diameter
    return Dragged(Span.about(area, min(doubt, 0.95)), Span.about(side, 0.5), False, source)
