"""Rigs that cannot be computed are left out with their reason, and the plan is made of the others."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from tests.plan.trips import BLUE, OUNCE, RED, small_plan, small_trip

from spreadwright.faults import Faults
from spreadwright.plan.build import make_plan
from spreadwright.sheets.terminal import report
from spreadwright.spread import motions
from spreadwright.tow import march
from spreadwright.tow.line import Failure, Line

REASON = "no steady shape was found at 7.7 m/s"
BOTH: dict[str, object] = {"rods": (RED, BLUE)}


def fail_where(monkeypatch: pytest.MonkeyPatch, at_fault: Any) -> list[Line]:
    """Lets the march of the candidates fail for lines of which `at_fault` is true; returns those it met."""
    met: list[Line] = []

    def failing(lines: Sequence[Line], *more: Any, **named: Any) -> list[Any]:
        found = list(march.march(lines, *more, **named))
        for i, line in enumerate(lines):
            if at_fault(line):
                met.append(line)
                found[i] = Failure(line.name, REASON)
        return found

    monkeypatch.setattr(motions, "march", failing)
    return met


def carries(ounces: float) -> Any:
    """True of lines with a body of about that many ounces (the snaps add a little)."""
    return lambda line: any(
        body is not None and abs(body.mass - ounces * OUNCE - 0.02) < 1e-3 for body in line.bodies
    )  # fmt: skip


def test_what_does_not_converge_is_not_fished_and_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    free = small_plan(**BOTH)
    ounces = int(free.rod("red").weight.split()[0])
    met = fail_where(monkeypatch, carries(ounces))
    plan = make_plan(small_trip(**BOTH), samples=16)
    assert met
    assert f"{ounces} oz" not in {rod.weight for rod in plan.rods}
    told = [each for each in plan.why.skipped if REASON in each.reason]
    assert len(told) == 1
    assert told[0].count == len({(*line.tip, line.length) for line in met})
    assert REASON in " ".join(report(plan, width=200).lower().split())


def test_where_nothing_converges_there_is_a_message_and_no_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    fail_where(monkeypatch, lambda line: True)
    with pytest.raises(Faults) as told:
        make_plan(small_trip(**BOTH), samples=16)
    assert "none of the rigs could be towed" in str(told.value)


def test_where_nothing_converges_the_reason_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    fail_where(monkeypatch, lambda line: True)
    with pytest.raises(Faults) as told:
        make_plan(small_trip(**BOTH), samples=16)
    assert REASON in str(told.value)


def test_where_all_rigs_of_one_rod_fail_the_rod_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """The lone rig of a rod that stands on its own station and mark."""
    rods = ({**RED, "station": "port corner"}, {**BLUE, "station": "centre high"})
    fail_where(monkeypatch, lambda line: line.tip[2] > 3.0)
    with pytest.raises(Faults, match="no rig is left for rod blue"):
        make_plan(small_trip(rods=rods))
