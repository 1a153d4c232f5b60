"""The answer about one rod's rig: a frozen value that the terminal, JSON and the picture show. SI numbers inside."""

from __future__ import annotations

from typing import Literal

from spreadwright.plan.value import DragPoint, Estimate, LinkLoad, Part, StrikePlan

FORMAT = "spreadwright rigs"


class Swept(Part):
    """One thing changed on the rig, struck by the usual fish: kind, label, number (mark or length [m], mass [kg], drag
    [N]), the worst link and the share of its strength it sees [-], the greatest pull on any link [N]."""

    kind: str
    label: str
    value: float
    worst: str
    share: float
    greatest: float
    as_is: bool


class HeadingShare(Part):
    """The usual fish going one way: the way in words, heading off straight away from the boat [rad], the worst link and
    the share of its strength that it sees [-]."""

    way: str
    heading: float
    worst: str
    share: float


class Parting(Part):
    """One link in the order of parting: strength [N], chance to be first [-], what stays in the fish."""

    weak_spot: str
    strength: Estimate
    chance: float
    left: str


class JoinedEnd(Part):
    """How one end is joined: where, by which connection, the share of strength it keeps [-] if known, and whence."""

    place: str
    connection: str
    keeps: Estimate | None
    source: str


class MarkPoint(Part):
    """One floss mark [m]: where it is wanted, the slack length to measure for that, and where it stands under the tow
    if it is tied at that length on slack line."""

    mark: float
    slack_to_measure: Estimate
    stands_at: Estimate


class Rule(Part):
    """One number of the record rules: inside True or False, None where a measure is missing."""

    rule: str
    inside: bool | None
    given: str
    limit: str
    next_step: str


class RigFinding(Part):
    """One thing that does not fit, with the rule and the fix."""

    severity: str
    place: str
    given: str
    rule: str
    fix: str


class Trace(Part):
    """The usual fish's pull on one link over time [N], in steps of `every` [s]; strength [N] if known."""

    link: str
    every: float
    pulls: tuple[float, ...]
    strength: float | None


class BellyPoint(Part):
    """The water's pull [N] with so much line out [m], fish running away and across."""

    line_out: float
    away: float
    across: float


class RigAnswer(Part):
    """Everything about one rod's rig.

    chosen_by: where the rig comes from; loads: every link in every case; weakest: the hardest of them; mark, length and
    hand_hold [m]; usual_drag: usual scale setting at strike [N]; set_drag: the same, never below what the rig pulls
    while trolling; tow_peak: the greatest of that, at the rod in the turns [N]; weak_link: strength a made weak link
    needs [N], None where there is none; room: line the spool takes by its measures [m], None without measures;
    sentences: the answer in the captain's words, the most important first.
    """

    rod: str
    station: str
    mark: float
    weight: str
    shock_leader: str
    bite_leader: str
    lure: str
    swivel: str
    chosen_by: str
    override: str
    sound: bool
    sentences: tuple[str, ...]
    loads: tuple[LinkLoad, ...]
    weakest: LinkLoad | None
    strike: StrikePlan | None
    swept: tuple[Swept, ...]
    other_material: str
    other_strike: StrikePlan | None
    joints: tuple[JoinedEnd, ...]
    parting: tuple[Parting, ...]
    weak_link: tuple[float, float] | None
    length: float
    hand_hold: float
    strike_drag: float
    set_drag: Estimate
    usual_drag: Estimate
    tow_peak: Estimate
    room: Estimate | None
    drag: tuple[DragPoint, ...]
    belly: tuple[BellyPoint, ...]
    marks: tuple[MarkPoint, ...]
    rules: tuple[Rule, ...]
    rules_edition: str
    rules_note: str
    findings: tuple[RigFinding, ...]
    cautions: tuple[str, ...]
    traces: tuple[Trace, ...]
    headings: tuple[HeadingShare, ...] = ()


class RigAnswers(Part):
    """The rigs asked about, in the order of the trip file, and what the numbers are worth."""

    format: Literal["spreadwright rigs"] = "spreadwright rigs"
    version: Literal[1] = 1
    title: str
    units: Literal["us", "metric"]
    speed: float
    rigs: tuple[RigAnswer, ...]
    notice: str
