"""Takes a file into the log, whatever it is: a deck sheet's export (JSON) or a table (CSV)."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import tzinfo
from pathlib import Path

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.csv_log import csv_entries
from spreadwright.logbook.deck_log import DeckLog, deck_log_from_text, deck_log_text, read_deck_log
from spreadwright.logbook.entry import Entry, Sheet
from spreadwright.logbook.fold import hand_sheet
from spreadwright.store.log_keep import Added, KeptLog, add_entries
from spreadwright.store.open import Store

WHOLE_LOG = "spreadwright log"  # the format of a log written out with all its sheets


@dataclass(frozen=True, slots=True)
class Imported:
    """What a file brought: its sheet, the count, entries left out with their faults, and remarks."""

    source: str
    sheet: Sheet
    added: Added
    left_out: tuple[Fault, ...]
    remarks: tuple[str, ...]


def import_file(
    store: Store, path: Path, zone: tzinfo | None = None, trip: str = "", boat: str = "", leave_out_faulty: bool = False
) -> Imported:
    """Take a file in, all of it or nothing. Raises Faults with every fault of the file.

    zone, trip, boat   for a CSV table, which does not say them
    leave_out_faulty   take in the sound entries of a deck sheet's export even if others are faulty
    """
    try:
        with open(path, "rb") as file:
            head = file.read(64).removeprefix(b"\xef\xbb\xbf").lstrip()
    except OSError as error:
        raise Faults([Fault(str(path), f"could not be read ({error.strerror})", "the file must be readable",
                            "check its name and folder")], str(path)) from None  # fmt: skip
    if head.startswith((b"{", b"[")):
        logs = _sheets(path)
        faults = tuple(fault for log in logs for fault in log.faults)
        if faults and not leave_out_faulty:
            raise Faults(faults, str(path))
        counts = [add_entries(store, log.sheet, log.entries) for log in logs]
        added = Added(sum(c.new for c in counts), sum(c.known for c in counts), sum(c.fuller for c in counts))
        return Imported(path.name, logs[0].sheet, added, faults, tuple(said for log in logs for said in log.remarks))
    sheet = hand_sheet(trip or path.stem, boat)
    return Imported(path.name, sheet, add_entries(store, sheet, _table(path, zone)), (), ())


def _sheets(path: Path) -> list[DeckLog]:
    """One deck sheet's log, or all those of a whole log that was written out (`log list --json`)."""
    try:
        whole = json.loads(path.read_bytes().decode("utf-8-sig"))
    except (ValueError, RecursionError):
        return [read_deck_log(path)]  # which says what is wrong with it
    if not (isinstance(whole, dict) and whole.get("format") == WHOLE_LOG and whole.get("sheets")):
        return [read_deck_log(path)]
    return [deck_log_from_text(json.dumps(sheet), f"{path}, sheet {i}") for i, sheet in enumerate(whole["sheets"], 1)]


def whole_log_text(kept: KeptLog) -> str:
    """A whole log with all its sheets as JSON, as it can be taken in again elsewhere."""
    by_sheet = {name: [e for e in kept.entries.values() if kept.sheet_of[e.id] == name] for name in kept.sheets}
    logs = [json.loads(deck_log_text(kept.sheets[name], its)) for name, its in by_sheet.items()]
    return json.dumps({"format": WHOLE_LOG, "version": 1, "sheets": logs}, ensure_ascii=False, indent=1)


def _table(path: Path, zone: tzinfo | None) -> tuple[Entry, ...]:
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Faults([Fault(str(path), "bytes that are no text", "a table is text in UTF-8", "save it again as UTF-8")],
                     str(path)) from None  # fmt: skip
    from spreadwright.tackle.file_kinds import check_no_toml  # late: only tables need it

    check_no_toml(text, "log", str(path))
    return csv_entries(text, zone, str(path))
