"""What to make up at the bench: leaders that are short, cut from coils, their parts and the order of work."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from spreadwright.day.cautions import Work, cautions_for
from spreadwright.quantity import System, show, show_turned
from spreadwright.stock.gear import Coil
from spreadwright.stock.lists.ends import Leader, crimp_name, cut_length, end_of, order_of_work, tape, tape_all
from spreadwright.stock.lists.needed import Need, PlannedRod, what_is
from spreadwright.stock.lists.value import Item, RoomList, Taken, item_id
from spreadwright.stock.room import Room
from spreadwright.tackle.terminal import Crimp
from spreadwright.tackle.trip import Trip

MOST_OVER = 1.5  # a coil stronger than this times the leader is another leader
NEAR = 0.98  # labels in pounds and in kilograms differ by a little


def leaders_from(there: int, full_coil: int, cut: int) -> int:
    """How many pieces of length `cut` come from a lot of coils, none of them joined; all in millimetres.

    A lot of 250 m of 100 m coils is two full ones and one of 50 m.

    >>> leaders_from(250_000, 100_000, 30_000)
    7
    """
    if cut <= 0 or full_coil <= 0:
        raise ValueError(f"lengths to cut are more than nothing, given {cut} from {full_coil} mm")
    whole, rest = divmod(there, full_coil)
    return whole * (full_coil // cut) + rest // cut


@dataclass(frozen=True, slots=True)
class Job:
    """Leaders of one sort to make up: how many, length to cut [mm], the coil and sleeve they take (empty: none there).

    from_coil   how many the coil gives, others' share taken off
    """

    leader: Leader
    kind: str
    count: int
    cut: int
    coil: str
    from_coil: int
    crimp: str
    crimps: int

    @property
    def lacking(self) -> int:
        """How many of them the coil does not give."""
        return max(0, self.count - self.from_coil)

    def laid_off(self, pieces: int, system: System) -> str:
        """What so many of them take of the coil, each cut as the tape has it."""
        return tape_all(pieces, self.cut / 1000.0, system)


@dataclass
class _Coils:
    """The coils of the room, and what is left of each while jobs are planned."""

    room: Room
    left: dict[str, int] = field(default_factory=dict)

    def take(self, leader: Leader, count: int, cut: int) -> tuple[str, int]:
        """The coil for a leader and how many it gives; its length is spoken for."""
        fitting = [
            (piece, piece.what)
            for piece in self.room.pieces
            if isinstance(piece.what, Coil)
            and piece.what.material == leader.material
            and NEAR * leader.strength <= piece.what.strength <= MOST_OVER * leader.strength
        ]
        if not fitting:
            return "", 0

        # The nearest in strength of those with enough for one; where none has, the nearest.
        def judged(piece: str, coil: Coil) -> tuple[bool, float]:
            there = self.left.setdefault(piece, self.room.fit("coil", piece))
            return leaders_from(there, round(1000.0 * coil.length), cut) == 0, abs(coil.strength - leader.strength)

        piece, coil = min(fitting, key=lambda each: judged(each[0].name, each[1]))
        gives = leaders_from(self.left[piece.name], round(1000.0 * coil.length), cut)
        self.left[piece.name] -= min(count, gives) * cut
        return piece.name, gives


def jobs_for(needs: Sequence[Need], trip: Trip, room: Room) -> tuple[Job, ...]:
    """The leaders to make up: shock leaders first, each in the order of what is short."""
    sleeves = [p.what for p in room.pieces if isinstance(p.what, Crimp)] or list(trip.shelf.crimps)
    coils = _Coils(room)
    jobs = []
    for need in needs:
        leader = what_is(need.kind, need.name, trip, room)
        if need.short == 0 or not isinstance(leader, Leader):
            continue
        cut = round(1000.0 * cut_length(leader))
        coil, gives = coils.take(leader, need.short, cut)
        crimps = 2 * need.short * end_of(leader, "metric").crimps
        jobs.append(Job(leader, need.kind, need.short, cut, coil, gives, crimp_name(leader, sleeves), crimps))
    return tuple(jobs)


def crimps_taken(jobs: Sequence[Job]) -> Counter[str]:
    """Crimps the bench takes, by the sleeve's name; where none in the room fits, by the strand it must take."""
    taken: Counter[str] = Counter()
    for job in jobs:
        if job.crimps:
            taken[job.crimp or sleeve_words(job.leader)] += job.crimps
    return taken


def sleeve_words(leader: Leader) -> str:
    """A sleeve that is not known by name, by the strand it must take."""
    return f"sleeve for {show(leader.diameter, 'diameter', 'metric', figures=2)} {leader.material}"


def bench_list(jobs: Sequence[Job], needs: Sequence[Need], rods: Sequence[PlannedRod], system: System) -> RoomList:
    """The bench list: one item a sort of leader, with parts, yield of the coil and the order of work."""
    whys = {(need.kind, need.name): need.why for need in needs}
    items = tuple(_item(job, whys[job.kind, str(job.leader.name)], rods, system) for job in jobs)
    notes = tuple(caution.text for caution in cautions_for((Work.RIGGING,)))
    return RoomList(name="bench", items=items, notes=notes if items else ())


def _item(job: Job, why: str, rods: Sequence[PlannedRod], system: System) -> Item:
    name, cut = str(job.leader.name), job.cut / 1000.0
    drags = [rod.strike_drag for rod in rods if name in (rod.shock_leader, rod.bite_leader)]
    drags = [rod.strike_drag for rod in rods] if job.kind == "bite guard" else drags
    pull = show_turned(max(drags, default=job.leader.strength / 3.0), "force", system)
    parts = _parts(job, system)
    steps = order_of_work(job.leader, cut, job.crimp, system, f"{pull}, the strike drag" if drags else pull)
    takes = [Taken(kind="coil", name=job.coil, amount=job.count * job.cut)] if job.coil else []
    takes += [Taken(kind="crimp", name=job.crimp, amount=job.crimps)] if job.crimp and job.crimps else []
    return Item(
        id=item_id("bench", job.kind, name), group=job.kind, said=f"{job.count} x {name}",
        details=(why, *parts, *(f"{number}. {step}" for number, step in enumerate(steps, start=1))),
        kind=job.kind, name=name, amount=job.count, takes=tuple(takes),
    )  # fmt: skip


def _parts(job: Job, system: System) -> list[str]:
    each, whole = tape(job.cut / 1000.0, system), job.laid_off(job.count, system)
    if not job.coil:
        coil = f"{whole} of {show_turned(job.leader.strength, 'force', system)} {job.leader.material}: none in the room"
    else:
        coil = f"{whole} of {job.coil} ({each} each; what lies there gives {job.from_coil})"
        if job.lacking:
            coil += f"; {job.laid_off(job.lacking, system)} more has to be bought"
    sleeves = [f"{job.crimps} x {job.crimp or sleeve_words(job.leader)}"] if job.crimps else []
    return [f"takes {part}" for part in (coil, *sleeves)]


def coils_short(jobs: Sequence[Job]) -> Mapping[str, list[Job]]:
    """Jobs that lack coil, by the coil's name (empty: no fitting coil in the room)."""
    short: dict[str, list[Job]] = {}
    for job in jobs:
        if job.lacking:
            short.setdefault(job.coil, []).append(job)
    return short
