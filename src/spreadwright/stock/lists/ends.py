"""How the ends of a leader are made: what each takes of the strand beyond the finished length, and the order of work.

The allowances are common practice, no source. They are on the safe side: a leader that is cut too long is trimmed, one
that is cut too short is lost. Where the captain names another joint for a leader, that one is taken.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from spreadwright.quantity import System, show, show_turned
from spreadwright.stock.gear import Guard
from spreadwright.tackle.connections import Connection, read_connection
from spreadwright.tackle.leader import BiteLeader, ShockLeader
from spreadwright.tackle.terminal import Crimp

Leader = ShockLeader | BiteLeader | Guard  # what is made up at the bench


@dataclass(frozen=True, slots=True)
class End:
    """One end of a leader: the joint, what it takes of the strand beyond the finished length [m], crimps it takes."""

    joint: str
    kind: str
    allowance: float
    crimps: int
    steps: tuple[str, ...]


# Kind of joint: strand it takes [m] for thin strand, and more per strand diameter [-]; common practice, no source.
# A crimped loop: about 40 mm of loop goes back, 20 mm of sleeve, a tag, and something to hold on to.
_TAKES: dict[str, tuple[float, float]] = {
    "crimp": (0.08, 15.0),
    "twist": (0.15, 30.0),
    "knot": (0.12, 60.0),
    "plait": (0.60, 0.0),
    "splice": (0.60, 0.0),
    "own": (0.20, 60.0),
    "none": (0.0, 0.0),
}
_LOCKED_LOOP = "locked-loop crimp"  # goes around twice


def joint_of(leader: Leader) -> Connection:
    """The joint at both ends of a leader: the one it names, else the usual one for its material."""
    usual = {"single strand": "haywire twist", "cable": "cable crimp"}.get(leader.material, "crimp")
    stated = getattr(leader, "joint", None)
    found = read_connection(stated or usual, leader.material)
    if not isinstance(found, Connection):  # a joint that the trip file's checks would have refused
        found = read_connection(usual, leader.material)
    assert isinstance(found, Connection)
    return found


def end_of(leader: Leader, system: System, crimp: str = "") -> End:
    """How each end of a leader is made, with its steps in words; crimp: the sleeve's name, where one is known."""
    joint = joint_of(leader)
    base, per_diameter = _TAKES[joint.kind]
    takes = (2.0 if joint.name == _LOCKED_LOOP else 1.0) * (base + per_diameter * leader.diameter)
    crimps = 1 if joint.kind == "crimp" else 0
    return End(joint.name, joint.kind, takes, crimps, _steps(joint, crimp, system))


def cut_length(leader: Leader, system: System = "metric") -> float:
    """Length to cut [m] for the finished length and both its ends, rounded up to a full centimetre."""
    whole = leader.length + 2.0 * end_of(leader, system).allowance
    return math.ceil(100.0 * whole - 1e-7) / 100.0


def tape(length: float, system: System) -> str:
    """A length [m] to lay off with a tape, rounded up to a full inch or centimetre so that it is never too short.

    >>> tape(9.36, "us"), tape(9.36, "metric")
    ('30 ft 9 in', '9.36 m')
    """
    if system == "metric":
        return f"{taped(length, system):.2f} m"
    feet, inches = divmod(round(taped(length, system) / 0.0254), 12)
    return f"{feet} ft {inches} in" if feet and inches else f"{feet} ft" if feet else f"{inches} in"


def taped(length: float, system: System) -> float:
    """A length [m] as it is laid off: rounded up to a full inch or centimetre."""
    step = 0.01 if system == "metric" else 0.0254
    return math.ceil(length / step - 1e-6) * step


def tape_all(pieces: int, length: float, system: System) -> str:
    """So many pieces, each laid off with a tape: the sum of what is cut, which is more than their true lengths.

    >>> tape_all(3, 9.36, "us")
    '92 ft 3 in'
    """
    return tape(pieces * taped(length, system), system)


def crimp_name(leader: Leader, crimps: list[Crimp]) -> str:
    """The sleeve for a leader: the narrowest bore it goes through; empty where none fits or none is taken."""
    if joint_of(leader).kind != "crimp":
        return ""
    fitting = [crimp for crimp in crimps if crimp.bore >= leader.diameter]
    return min(fitting, key=lambda crimp: crimp.bore).name if fitting else ""


def _steps(joint: Connection, crimp: str, system: System) -> tuple[str, ...]:
    if joint.kind == "crimp":
        sleeve = crimp or "a sleeve of the right bore"
        loop = "twice around" if joint.name == _LOCKED_LOOP else "through"
        return (
            f"slide {sleeve} on, lead the end {loop} the eye (or a thimble) and back through the sleeve",
            f"leave a tag of {show(0.006, 'size', system, figures=1)}, press from the middle outwards, ends left open",
        )
    if joint.kind == "twist":
        return (
            "bend the loop, then three and a half crossed twists at a wide angle",
            "finish with eight close barrel wraps; break the tag off by cranking it: a cut end is a knife",
        )
    if joint.kind == "none":
        return ()
    return (f"make the {joint.name}" + (f": {joint.note}" if joint.note else "") + "; wet it and draw it down slowly",)


def order_of_work(leader: Leader, cut: float, crimp: str, system: System, pull: str) -> list[str]:
    """The order of work for one leader, in words; cut [m], pull: the test pull in words."""
    end = end_of(leader, system, crimp)
    finished = show_turned(leader.length, "length", system)
    return [
        f"cut {tape(cut, system)} (finished {finished}, and {end.joint} at both ends)",
        *end.steps,
        f"measure {finished} from the bend of that loop to the bend of the next, and make the other end the same way",
        f"pull-test at {pull}: gloves, eye protection, face out of line",
        "coil it, tie the coil, and label it with strength, length and date",
    ]
