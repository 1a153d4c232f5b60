"""The plan in the units asked for, on every face, and back again; the length that a run goes to is named."""

from __future__ import annotations

import json
import re
from functools import lru_cache

import pytest
from tests.plan.trips import FOOT, POUND, plan_of, trip_text

from spreadwright.plan.build import make_plan
from spreadwright.plan.rig_make import rig_answers
from spreadwright.plan.value import Plan
from spreadwright.plan.worded import in_units
from spreadwright.rig.drag import at_line_out, drag_along_run, run_in_words
from spreadwright.rig.loads import SPOOL_RUN_DOWN
from spreadwright.rig.reel import Layer, Spool, wind
from spreadwright.sheets.card_words import card_words
from spreadwright.sheets.terminal import report
from spreadwright.sheets.wording import notes_in_words
from spreadwright.tackle import trip_from_text
from spreadwright.tackle.span import Span

US_UNITS = re.compile(r"\d (?:ft|lb|yd)\b")
METRIC = re.compile(r"\d (?:m|kg)\b(?!/)")


def piece_names(plan: Plan) -> list[str]:
    """Names from the trip file, which are nobody's to turn: "30 ft of 300 lb"."""
    rods = plan.rods
    names = {each for rod in rods for each in (rod.weight, rod.shock_leader, rod.bite_leader, rod.lure, rod.swivel)}
    return sorted(names, key=len, reverse=True)


def without_names(plan: Plan, said: str) -> str:
    said = " ".join(said.split())
    for name in piece_names(plan):
        said = said.replace(name, "it")
    return said


@lru_cache(maxsize=1)
def made() -> Plan:
    """With other spreads and gains, so that every kind of sentence is there."""
    return make_plan(trip_from_text(trip_text(wishes={"enough_gap": "40 ft"})), samples=16, others=True)


def sentences(plan: Plan) -> list[str]:
    own = [*plan.why.sentences, plan.why.limited_by, plan.why.proof, *(each.words for each in plan.others)]
    own += [each.words for each in plan.gains] + [each.piece for each in plan.gains]
    for rod in plan.rods:
        own += [*notes_in_words(rod), rod.weakest.case]
    return own


def test_all_sentences_are_in_the_units_asked_for() -> None:
    plan = made()
    turned = in_units(plan, "metric")
    assert (plan.units, turned.units) == ("us", "metric")
    us, metric = ([without_names(plan, each) for each in sentences(each)] for each in (plan, turned))
    assert any(US_UNITS.search(each) for each in us)
    assert not [each for each in metric if US_UNITS.search(each)]
    assert not [each for each in us if METRIC.search(each)]
    assert len(us) == len(metric)
    assert [bool(US_UNITS.search(each)) for each in us] == [bool(METRIC.search(each)) for each in metric]


def test_numbers_stay_and_the_way_back_gives_the_same_plan() -> None:
    plan = made()
    turned = in_units(plan, "metric")
    assert [rod.links[0].load for rod in turned.rods] == [rod.links[0].load for rod in plan.rods]
    assert in_units(Plan.from_json(turned.to_json()), "us") == plan
    assert in_units(plan, None) is plan
    assert in_units(plan, "us") is plan


def test_a_plan_without_both_says_its_own_units() -> None:
    """As plans were before sentences were kept in both."""
    values = made().model_dump()
    for part in (values["why"], *values["rods"], *values["others"], *values["gains"]):
        part["other_units"] = ()
    old = Plan.model_validate(values)
    assert in_units(old, "metric").units == "us"


def test_terminal_and_cards_speak_the_units_asked_for() -> None:
    plan = made()
    said = without_names(plan, report(plan, system="metric", width=200))
    assert not US_UNITS.search(said.split("WHAT IS IN DOUBT")[0])
    assert not METRIC.search(without_names(plan, report(plan, width=200)).split("WHAT IS IN DOUBT")[0])
    cards = without_names(plan, json.dumps(card_words(in_units(plan, "metric"), "metric")["rods"], ensure_ascii=False))
    assert METRIC.search(cards)
    assert not US_UNITS.search(cards)


def test_half_the_line_is_named_with_its_length() -> None:
    plan = plan_of(trip_text())
    for rod in plan.rods:
        half = rod.drag[len(rod.drag) // 2]
        assert half.line_out == pytest.approx(900 * FOOT)  # of 600 yd
        cases = {each.case for each in rod.links if each.case.startswith(SPOOL_RUN_DOWN)}
        assert cases == {"drag with half the line out (900 ft)"}
        told = [each for each in rod.findings if each.startswith("drag along a run: ")]
        assert len(told) == any(each.state in ("danger", "parts") for each in rod.drag)
    assert "half the line out (900 ft)" in " ".join(report(plan).split())
    loads = rig_answers(trip_from_text(trip_text()), "red").rigs[0].loads
    assert "drag with half the line out (900 ft)" in {each.case for each in loads}


def test_the_water_s_pull_is_told_at_the_length_that_is_told() -> None:
    """Both lie straight between the rows beside them: 45 lb at 1310 ft and 54 at 1580 cannot give 54 at 1420."""
    spool = Spool(0.06, 0.05, 0.02)
    wound = wind(spool, [Layer(500.0, 0.0008)])
    strength = Span.exactly(80 * POUND)
    rows = drag_along_run(wound, 26 * POUND, strength, [0, 250, 500], 0.0, lambda out: 0.4 * out)  # type: ignore[arg-type]
    said = run_in_words(rows)
    length, water = (float(re.search(rf"([\d.]+) {unit}", said)[1]) for unit in ("ft", "lb"))  # type: ignore[index]
    assert water * POUND == pytest.approx(0.4 * length * FOOT, rel=0.02)  # two figures
    assert at_line_out(rows, 150.0, lambda row: row.water_pull) == pytest.approx(60.0)
    assert at_line_out(rows, 900.0, lambda row: row.line_out) == 500.0
