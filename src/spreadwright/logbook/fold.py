"""From entries to what happened: which rig was in the water on which rod from when to when, and every strike.

Rules (ours, chosen so that no hour is counted that nobody vouches for):
- A line fishes from its "line out" to the next "line in" or "line out" of that rod.
- A strike that ends "landed", "cut off" or "broke off" takes the line out of the water; "missed" and "lost" do not.
- A line that nobody took in stops at the last entry of its sheet, 16 hours after it went out at the latest.
- A strike counts in a rate only if its rod had a line out; the others are kept and told.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from spreadwright.logbook.entry import Entry, FishedRig, Moment, Record, Sheet, identity_of, standing

LONGEST_OUT = timedelta(hours=16)
ENDS_IT = ("landed", "cut off", "broke off")


class Exposure(Record):
    """One rig fishing on one rod: start to end; id: of the entry by which it went out."""

    id: str
    sheet: str
    rod: str
    rig: FishedRig
    start: Moment
    end: Moment

    @property
    def hours(self) -> float:
        """How long it fished [h]."""
        return (self.end - self.start).total_seconds() / 3600.0


@dataclass(frozen=True, slots=True)
class Strike:
    """A strike and the line it came on; `exposure` is None where its rod had no line out by the log."""

    entry: Entry
    sheet: str
    exposure: Exposure | None

    @property
    def rig(self) -> FishedRig:
        """What was bitten: the rig of the line that was out, or what the strike itself says."""
        if self.exposure is not None:
            return self.exposure.rig
        return self.entry.rig or FishedRig()


@dataclass(frozen=True, slots=True)
class Logbook:
    """Everything that happened: sheets, lines in the water, strikes, and what is odd about the log, in words."""

    sheets: tuple[Sheet, ...]
    exposures: tuple[Exposure, ...]
    strikes: tuple[Strike, ...]
    notes: tuple[Entry, ...]
    remarks: tuple[str, ...]

    @property
    def hours(self) -> float:
        """Rig-hours in all [h]."""
        return sum(exposure.hours for exposure in self.exposures)

    @property
    def counted(self) -> tuple[Strike, ...]:
        """The strikes that count in rates."""
        return tuple(strike for strike in self.strikes if strike.exposure is not None)


def fold(entries: Mapping[str, Entry], sheet_of: Mapping[str, str], sheets: Mapping[str, Sheet]) -> Logbook:
    """What happened, by the entries that stand.

    entries: by id (see entry.merged); sheet_of: the sheet's id of each entry; sheets: by id.
    """
    by_sheet: dict[str, list[Entry]] = {}
    for entry in standing(entries):
        by_sheet.setdefault(sheet_of.get(entry.id, ""), []).append(entry)
    exposures: list[Exposure] = []
    strikes: list[Strike] = []
    remarks = _lost_undos(entries)
    for sheet, its in sorted(by_sheet.items(), key=lambda pair: (pair[1][0].at, pair[0])):
        last = its[-1]
        for rod in sorted({e.rod for e in its if e.rod}):
            out, bites = _one_rod(sheet, rod, [e for e in its if e.rod == rod], last, remarks)
            exposures += out
            strikes += bites
    notes = tuple(e for its in by_sheet.values() for e in its if e.kind == "note")
    return Logbook(
        tuple(sheets[s] for s in by_sheet if s in sheets),
        tuple(sorted(exposures, key=lambda e: (e.start, e.id))),
        tuple(sorted(strikes, key=lambda s: (s.entry.at, s.entry.id))),
        notes,
        tuple(remarks),
    )


def _lost_undos(entries: Mapping[str, Entry]) -> list[str]:
    lost = sum(1 for e in entries.values() if e.kind == "undo" and e.of not in entries)
    return [f"{lost} undo entries take back something that is not in the log (yet): nothing was done"] if lost else []


class _Rod:
    """One rod of one sheet, walked through in time."""

    def __init__(self, sheet: str, rod: str, remarks: list[str]) -> None:
        self.sheet, self.rod, self.remarks = sheet, rod, remarks
        self.out: Entry | None = None
        self.exposures: list[Exposure] = []
        self.strikes: list[tuple[Entry, str | None]] = []

    def close(self, at: Entry) -> None:
        """The line that is out stops fishing at this entry."""
        if self.out is None or self.out.rig is None:
            return
        end = min(at.at, self.out.at + LONGEST_OUT)
        if end < at.at:
            self.remarks.append(f"{self.rod}: out since {_when(self.out)} with no end for 16 h; counted 16 h")
        self.exposures.append(
            Exposure(id=self.out.id, sheet=self.sheet, rod=self.rod, rig=self.out.rig, start=self.out.at, end=end)
        )
        self.out = None

    def strike(self, entry: Entry) -> None:
        """Note the strike with the line it came on, if there is one."""
        fishing = self.out if self.out is not None and entry.at <= self.out.at + LONGEST_OUT else None
        self.strikes.append((entry, fishing.id if fishing else None))
        if fishing is None:
            self.remarks.append(f"{self.rod}: strike at {_when(entry)} while no line was out; in no rate")
        elif entry.rig is not None and _differs(entry.rig, fishing.rig):
            self.remarks.append(f"{self.rod}: the strike at {_when(entry)} names another rig than went out; "
                                "counted on the rig that went out")  # fmt: skip
        if entry.outcome in ENDS_IT:
            self.close(entry)


def _one_rod(
    sheet: str, rod: str, entries: Sequence[Entry], last: Entry, remarks: list[str]
) -> tuple[list[Exposure], list[Strike]]:
    walk = _Rod(sheet, rod, remarks)
    for entry in entries:
        if entry.kind == "line_out":
            walk.close(entry)
            walk.out = entry
        elif entry.kind == "line_in":
            walk.close(entry)
        elif entry.kind == "strike":
            walk.strike(entry)
    if walk.out is not None:
        remarks.append(f"{rod}: out since {_when(walk.out)} and never taken in; counted to the sheet's last entry")
        walk.close(last)
    by_id = {e.id: e for e in walk.exposures}
    return walk.exposures, [Strike(e, sheet, by_id.get(of) if of else None) for e, of in walk.strikes]


def _differs(told: FishedRig, out: FishedRig | None) -> bool:
    if out is None:
        return True
    pairs = [(getattr(told, key), getattr(out, key)) for key in ("weight", "lure", "station")]
    if any(a and b and a != b for a, b in pairs):
        return True
    return told.mark is not None and out.mark is not None and abs(told.mark - out.mark) > 0.05


def _when(entry: Entry) -> str:
    return entry.at.strftime("%Y-%m-%d %H:%M UTC")


def hand_sheet(trip: str, boat: str = "") -> Sheet:
    """The sheet of entries written by hand, on the command line or in a CSV file: one a trip's title and boat."""
    return Sheet(id=identity_of("kept by hand", trip, boat), trip=trip, boat=boat)
