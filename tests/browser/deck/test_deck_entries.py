"""The sheet's arithmetic of entries against the laptop's: the same log stands, whatever was taken back and sent."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page

from spreadwright.logbook.entry import Entry, merged, standing

SCRIPTS = Path(__file__).parents[3] / "src" / "spreadwright" / "sheets" / "deck"


@pytest.fixture
def arithmetic(page: Page) -> Page:
    """A blank page with the entries' script alone."""
    page.set_content("<title>entries</title>")
    page.add_script_tag(content=(SCRIPTS / "entries.js").read_text(encoding="utf-8"))
    return page


def some_log(luck: Random, count: int) -> list[dict[str, Any]]:
    """Entries, undos of entries, undos of undos, and undos of what is not there."""
    made: list[dict[str, Any]] = []
    for i in range(count):
        entry: dict[str, Any] = {"id": f"{luck.getrandbits(128):032x}", "at": f"2031-03-08T06:{i % 60:02}:00.000Z"}
        if made and luck.random() < 0.6:
            target = luck.choice(made)["id"] if luck.random() < 0.95 else "f" * 32
            made.append({**entry, "kind": "undo", "of": target})
        else:
            made.append({**entry, "kind": "strike", "rod": f"rod {i}"})
    return made


def ids(entries: list[dict[str, Any]]) -> list[str]:
    return [entry.id for entry in standing(merged(Entry.model_validate(each) for each in entries))]


def test_the_same_entries_stand(arithmetic):
    luck = Random(1)
    logs = [some_log(luck, luck.randint(1, 25)) for _ in range(200)]
    found = arithmetic.evaluate("logs => logs.map(log => standing(log).map(entry => entry.id))", logs)
    assert found == [ids(log) for log in logs]
    assert any(
        len(stood) < sum(each["kind"] == "strike" for each in log) for stood, log in zip(found, logs, strict=True)
    )


def test_what_leaves_makes_the_same_log_ashore_as_everything(arithmetic):
    """An early export, more entries, then what `leaving` keeps: with both, the laptop has what stands here."""
    luck = Random(2)
    cases: list[list[dict[str, Any]]] = []
    for _ in range(200):
        log = some_log(luck, luck.randint(1, 25))
        early = luck.randint(0, len(log))
        cases.append([{"entry": entry, "noted": i, "sent": i < early} for i, entry in enumerate(log)])
    found = arithmetic.evaluate("cases => cases.map(records => leaving(records))", cases)
    saved = 0
    for records, left in zip(cases, found, strict=True):
        everything = [record["entry"] for record in records]
        before = [record["entry"] for record in records if record["sent"]]
        assert ids([*before, *left]) == ids(everything)
        saved += len(everything) - len(left)
    assert saved > 300


def test_taking_back_and_putting_back_are_opposites(arithmetic):
    """Said anew, taken back and put back, in chains: the log that stands is the one expected each time."""
    steps = arithmetic.evaluate(
        """() => {
          const log = [newEntry("strike", {rod: "a"})], said = [];
          const look = () => said.push(standing(log).map(each => each.outcome ?? "open"));
          const first = log[0];
          log.push(...sayingAnew(first, {outcome: "lost"})); look();
          const second = standing(log)[0];
          log.push(...sayingAnew(second, {outcome: "landed"})); look();
          const third = standing(log)[0];
          const undos = takingBack(log, third.id); log.push(...undos); look();
          log.push(...puttingBack(undos)); look();
          log.push(...takingBack(log, third.id)); log.push(...takingBack(log, second.id)); look();
          log.push(...takingBack(log, first.id)); look();
          return [said, log.length, new Set(log.map(each => each.id)).size, first.at === third.at];
        }"""
    )
    assert steps[0] == [["lost"], ["landed"], ["lost"], ["landed"], ["open"], []]
    assert steps[1] == steps[2]
    assert steps[3] is True


def test_parts_hold_each_entry_once_and_no_part_is_too_large(arithmetic):
    luck = Random(3)
    log = some_log(luck, 60)
    sheet = {"id": "0" * 32, "trip": "t", "boat": "b"}
    parts = arithmetic.evaluate("([sheet, log]) => deckLogParts(sheet, log, 700)", [sheet, log])
    assert len(parts) > 5
    assert max(len(part.encode()) for part in parts) <= 700
    found = [
        entry["id"]
        for part in arithmetic.evaluate("parts => parts.map(JSON.parse)", parts)
        for entry in part["entries"]
    ]
    assert sorted(found) == sorted(entry["id"] for entry in log)
