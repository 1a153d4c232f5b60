"""The plan of a trip: one frozen value that every face shows and none changes. SI numbers inside."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict


class Part(BaseModel):
    """A part of the plan: frozen, and strict about what it is read back from."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Estimate(Part):
    """A number and the range that its doubts leave it: low, usual, high (any unit)."""

    usual: float
    low: float
    high: float

    @property
    def doubt(self) -> float:
        """The larger of the two distances to the edge."""
        return max(self.usual - self.low, self.high - self.usual)


class Swing(Part):
    """Least and greatest of something through the turns, the doubts of both included in low and high."""

    least: float
    greatest: float
    low: float
    high: float


class LinkLoad(Part):
    """The hardest case of one link: pull and strength [N], share is pull over strength [-]."""

    link: str
    case: str
    load: Estimate
    strength: Estimate | None
    share: Estimate | None
    verdict: str
    weak_spot: str


class DragPoint(Part):
    """Reel drag with some line out: line_out [m], pull at the reel, the water's and their sum at the fish [N], share of
    the strength [-]."""

    line_out: float
    reel_drag: float
    at_fish: float
    share: float
    state: str
    water_pull: float = 0.0


class StrikeLink(Part):
    """One link in the strike: greatest pull [N] over the range of fish, share of its strength [-], how long the usual
    fish's pull stays over half of its greatest [s]; disputed, stuck: at the disputed highest speed of a fish, and with
    the reel stuck [N]."""

    link: str
    peak: Estimate
    share: Estimate | None
    lasts: float
    disputed: float
    stuck: float


class StrikePlan(Part):
    """A fish strikes this rig: pulls on the links reel to hook, line run out [m] in the seconds computed [s]."""

    links: tuple[StrikeLink, ...]
    paid_out: Estimate
    seconds: float
    sentence: str


class Slip(Part):
    """Line may run off a reel while trolling: high end of the greatest pull at the rod [N], and the share of the ways
    that it may be in which that pull passes the strike drag [-]; set_to [N] holds the high end, None where the line or
    the reel does not allow that much."""

    high: float
    share: float
    set_to: float | None


class RodPlan(Part):
    """What one rod fishes, and how it runs.

    tip (forward, port, up) [m]; mark [m] as tied on the slack line; runs_at [m] where the gear runs behind the rod tip
    when that mark stands at the tip; slack_to_measure [m] of slack line that would bring the gear to run at the mark's
    own distance; weight_depth, lure_depth [m] on a straight course; *_swing through the turns: depths [m], lure speed
    through the water [m/s], pull at the rod [N]; pull [N]; angle of the line below level at the rod tip [rad];
    in_air [m] of line before it meets the water; astern [m] of the lure behind the transom; override: why this rig
    would not have been chosen, where the captain wants it anyway; slip: where line may run off the reel while trolling;
    other_units: each sentence that reads otherwise in the other unit system, and how it reads there.
    """

    rod: str
    station: str
    tip: tuple[float, float, float]
    mark: float
    runs_at: Estimate
    slack_to_measure: Estimate
    weight: str
    weight_mass: float
    shock_leader: str
    bite_leader: str
    lure: str
    swivel: str
    set_out: int
    clear: int
    astern: float
    weight_depth: Estimate
    lure_depth: Estimate
    weight_depth_swing: Swing
    lure_depth_swing: Swing
    lure_speed_swing: Swing
    pull: Estimate
    pull_swing: Swing
    angle: Estimate
    in_air: float
    links: tuple[LinkLoad, ...]
    weakest: LinkLoad
    parts_first: str
    findings: tuple[str, ...]
    strike_drag: float
    drag: tuple[DragPoint, ...]
    strike: StrikePlan | None = None
    override: str = ""
    slip: Slip | None = None
    other_units: tuple[tuple[str, str], ...] = ()


class PairPlan(Part):
    """Two lines through the manoeuvre.

    gear_gap [m], from either's gear to the other's line, and when [s]; line_gap [m] between any parts; winding [turns]
    left at the end; hidden [m], how much nearer they could come between two stored times; tangle: gear within reach or
    a wrap; chance of a tangle in one run of the turns [-], if it was sampled.
    """

    first: str
    second: str
    gear_gap: Estimate
    gear_time: float
    line_gap: float
    line_time: float
    winding: float
    hidden: float
    tangle: bool
    chance: Estimate | None = None


class Shopping(Part):
    """Something to buy or make up: how many, and why."""

    kind: str
    name: str
    quantity: int
    reason: str


class PlanCaution(Part):
    """A caution and the work it belongs to."""

    work: str
    text: str
    grave: bool


class Skipped(Part):
    """Rigs that were left out of the search, how many and why."""

    what: str
    count: int
    reason: str


MESH_SHARE = 0.01  # how far the gap of the finer mesh that is shown may be off that of the search


class Driver(Part):
    """An input and how much of the doubt about the smallest gap it drives alone: share of the variance [-]."""

    name: str
    share: Estimate


class DepthQuestion(Part):
    """Does a short heavy line run its lure deeper than a long light one? The rods, and the chance that it does [-]."""

    short: str
    long: str
    deeper: Estimate


class InDoubt(Part):
    """How the doubt was found and what it says of the whole spread.

    samples that counted, lost: those that did not converge; seed; tangle: chance that at least one pair tangles in one
    run of the turns [-]; smallest_gap [m]: where 90 % of the samples' smallest gaps lie; drivers: strongest first.
    """

    samples: int
    lost: int
    seed: int
    tangle: Estimate
    smallest_gap: Estimate
    drivers: tuple[Driver, ...]
    depth_question: DepthQuestion | None = None


class Why(Part):
    """Why this spread: against the trade's rule, what limits it, and how the search went.

    gaps are smallest gear-to-line gaps [m]; the trade's rule: short lines heaviest, long lines lightest.
    """

    gap: float
    rule_gap: float | None
    reverse_gap: float | None
    enough: float
    limited_by: str
    proof: str
    candidates: int
    classes: int
    pairs_computed: int
    sentences: tuple[str, ...]
    skipped: tuple[Skipped, ...]
    other_units: tuple[tuple[str, str], ...] = ()

    def keeps_enough(self, gap: float) -> bool:
        """Is a gap [m] what the captain calls enough, as far as the mesh can tell?"""
        return gap >= (1.0 - MESH_SHARE) * self.enough


class OtherRig(Part):
    """What a rod fishes in another spread; mark [m]."""

    rod: str
    station: str
    mark: float
    weight: str
    shock_leader: str
    bite_leader: str
    lure: str


class Other(Part):
    """Another good spread: its rigs, smallest gap [m] counted up to enough, share of pairs in different water."""

    rigs: tuple[OtherRig, ...]
    gap: float
    coverage: float
    proven: bool
    words: str
    other_units: tuple[tuple[str, str], ...] = ()


class Gain(Part):
    """What one more of a piece would gain: the gap wider by so much [m], so much more of the pairs in other water."""

    piece: str
    wider: float
    more_apart: float
    words: str
    other_units: tuple[tuple[str, str], ...] = ()


class Outline(Part):
    """The spread drawn: for each rod the places of its line straight astern (x, y, z) [m], boat's frame, and through
    the worst moment of the S-turn; joints: vertices of weight, end of shock leader, lure."""  # fmt: skip

    rod: str
    straight: tuple[tuple[float, float, float], ...]
    worst: tuple[tuple[float, float, float], ...]
    joints: tuple[int, ...]


OWN_SHELF = "the trip file's shelf, with the spares it wishes"

Band = tuple[float, float, float]


class RodDepths(Part):
    """One rod's depths through the turns at the moments of TurnDepths: (low, usual, high) of weight and lure [m]."""

    rod: str
    weight: tuple[Band, ...]
    lure: tuple[Band, ...]


class TurnDepths(Part):
    """How deep every rod's gear runs as the turns go on: times [s] into the usual run, and what 90 % of the samples
    stay in when they have come as far through the turns."""

    times: tuple[float, ...]
    rods: tuple[RodDepths, ...]


class Plan(Part):
    """The whole answer for one trip.

    speed [m/s], turn_radius [m], turns [rad], density [kg/m3], worst_time [s] of the smallest gap; counted: what the
    shopping was counted against, as it reads after "counted against". units: those of its sentences.
    """

    format: Literal["spreadwright plan"] = "spreadwright plan"
    version: Literal[1] = 1
    title: str
    place: str
    dates: tuple[str, ...]
    crew: tuple[str, ...]
    boat: str
    units: Literal["us", "metric"]
    speed: float
    turn_radius: float
    turns: tuple[float, ...]
    density: float
    tangle_reach: float
    rods: tuple[RodPlan, ...]
    pairs: tuple[PairPlan, ...]
    worst_pair: tuple[str, str] | None
    shopping: tuple[Shopping, ...]
    cautions: tuple[PlanCaution, ...]
    notice: str
    why: Why
    drawing: tuple[Outline, ...]
    doubts: tuple[str, ...]
    in_doubt: InDoubt | None = None
    others: tuple[Other, ...] = ()
    gains: tuple[Gain, ...] = ()
    turn_depths: TurnDepths | None = None
    counted: str = OWN_SHELF

    def rod(self, name: str) -> RodPlan:
        """The rod of that name; KeyError if there is none."""
        for rod in self.rods:
            if rod.rod == name:
                return rod
        raise KeyError(name)

    def to_json(self) -> str:
        """The plan as text; `Plan.from_json` gives the same plan back."""
        return self.model_dump_json(indent=1)

    @classmethod
    def from_json(cls, text: str) -> Plan:
        """Read a plan back. Raises pydantic.ValidationError if it is none."""
        return cls.model_validate_json(text)

    def write(self, path: Path) -> None:
        """Write the plan to a file."""
        path.write_text(self.to_json(), encoding="utf-8")

    @classmethod
    def read(cls, path: Path) -> Plan:
        """Read a plan from a file."""
        return cls.from_json(path.read_text(encoding="utf-8"))
