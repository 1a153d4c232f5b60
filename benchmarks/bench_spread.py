"""The demo's spread: solved with proof, solved again after a change of counts, its doubt; beside the plain approach.

`pytest benchmarks/bench_spread.py -p no:xdist -s`. The plain approach uses the same core, mesh and step, but one
thread, one line at a time, every pair's gap in full and nothing kept. It is timed on a part of the lines and pairs,
and what the whole would take is worked out from that. Nothing is asserted but that the answers are proven.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from spreadwright.plan import build, doubt
from spreadwright.plan.refuse import refused_rigs, without_slipping
from spreadwright.rig.tow_model import as_stated
from spreadwright.spread.candidates import find_candidates
from spreadwright.spread.kept import Kept
from spreadwright.spread.motions import SEARCH, Passage, passages, track_of
from spreadwright.tackle import Trip, read_trip
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.line import Sea

DEMO = Path(__file__).parents[1] / "examples" / "demo" / "trip.toml"
LINES, PAIRS = 24, 200  # of the plain approach


def timed(work: Callable[[], Any]) -> tuple[float, float, Any]:
    """Seconds by the clock and of the processor, and what came of it."""
    start, used = time.perf_counter(), time.process_time()
    found = work()
    return time.perf_counter() - start, time.process_time() - used, found


def _go_on(_what: str, _done: int, _of: int) -> bool:
    return True


def solve(trip: Trip, kept: Kept) -> tuple[Any, Any, Any]:
    """The choice alone, as a plan makes it."""
    candidates = find_candidates(trip, kept.refusals(trip, refused_rigs))
    results = kept.passages(candidates.lines, trip.pattern, Sea(density=trip.water.density), None)
    candidates = without_slipping(trip, candidates, results)
    wish = build.Wish(None, as_stated, None, kept)
    decision, _ = build._decide(trip, candidates, results, _go_on, wish)
    return candidates, results, decision


def one_more(trip: Trip) -> Trip:
    """The trip with one more 48 oz weight on the shelf."""
    weights = tuple(
        w.model_copy(update={"count": w.count + 1}) if w.name.startswith("48") else w for w in trip.shelf.weights
    )
    return trip.model_copy(update={"shelf": trip.shelf.model_copy(update={"weights": weights})})


@pytest.fixture(scope="module")
def trip() -> Trip:
    return read_trip(DEMO)


def test_the_choice_and_its_doubt(trip, capsys):
    solve(trip, Kept())  # compiled code is loaded
    kept = Kept()
    first, first_used, (candidates, results, decision) = timed(lambda: solve(trip, kept))
    again, again_used, (_, _, changed) = timed(lambda: solve(one_more(trip), kept))
    rigs = [candidates.rigs[i] for i in decision.rigs]
    sea = Sea(density=trip.water.density)
    doubted, doubted_used, spreads = timed(lambda: doubt.spreads_in_doubt(trip, rigs, sea, count=512))
    assert decision.proven
    assert changed.proven
    assert len(spreads.varied) == 512
    random = np.random.default_rng(1)
    lines = [candidates.lines[i] for i in random.choice(len(candidates.lines), LINES, replace=False)]
    alone = replace(SEARCH, workers=1)
    towing, _, _ = timed(lambda: [passages([line], track_of(trip.pattern), sea, alone) for line in lines])
    towed = [each for each in results if isinstance(each, Passage)]
    some = [random.choice(len(towed), 2, replace=False) for _ in range(PAIRS)]
    pairing, _, _ = timed(lambda: [gear_gap(towed[a].outline, towed[b].outline) for a, b in some])
    every = len(towed) * (len(towed) - 1) // 2
    plain = towing / LINES * len(candidates.lines) + pairing / PAIRS * every
    with capsys.disabled():
        print(f"\n{len(candidates.lines)} lines towed, {len(candidates.rigs)} rigs, {decision.nodes:,} branches")
        print(f"solved, with proof           {first:7.2f} s by the clock, {first_used:7.2f} s of the processor")
        print(
            f"again, one weight more       {again:7.2f} s                {again_used:7.2f} s   proven {changed.proven}"
        )
        print(f"doubt, 512 samples           {doubted:7.2f} s                {doubted_used:7.2f} s")
        print(f"plain: towing and all pairs  {plain:7.0f} s, worked out: {plain / first:.0f} times as long")
