"""The loads on every link of a chosen rig, against its strength: towing, turning, the drag at the strike and later."""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.faults import Fault
from spreadwright.plan.value import DragPoint, Estimate, LinkLoad
from spreadwright.rig.assemble import Gear, assemble
from spreadwright.rig.break_order import break_order
from spreadwright.rig.chain import Chain
from spreadwright.rig.drag import DragRow
from spreadwright.rig.fit import check_fit
from spreadwright.rig.loads import SPOOL_RUN_DOWN, STEADY_TOW, STRIKE_DRAG, TURN_PEAK, LoadCase, drag_case, tow_case
from spreadwright.rig.span import Span
from spreadwright.rig.spooled import check_drag, drag_table
from spreadwright.rig.strength import Margin, review_strength
from spreadwright.tackle.outfit import Outfit

DRAG_DOUBT = 0.1
RUN_SHARE = 0.5  # of the line out: how far a run is taken to go for the load case
WATER_PULL_DOUBT = 0.5  # the pull of line in the water behind a running fish is not computed here: it comes on top


def span_of(estimate: Estimate) -> Span:
    """An estimate of a load as a span, never below zero [N]."""
    low = max(0.0, min(estimate.low, estimate.usual))
    return Span(low, max(low, estimate.usual), max(estimate.high, estimate.usual))


def load_cases(
    outfit: Outfit, chain: Chain, steady: tuple[Estimate, Estimate], peak: tuple[Estimate, Estimate],
    drag: Sequence[DragRow],
) -> list[LoadCase]:  # fmt: skip
    """Cases of one rig; steady and peak: pull at the rod, and in the shock leader [N]."""
    cases = [
        tow_case(chain, STEADY_TOW, span_of(steady[0]), span_of(steady[1])),
        tow_case(chain, TURN_PEAK, span_of(peak[0]), span_of(peak[1])),
        drag_case(chain, STRIKE_DRAG, Span.about(outfit.strike_drag, DRAG_DOUBT)),
    ]
    if drag:
        far = drag[int(RUN_SHARE * (len(drag) - 1))]
        cases.append(drag_case(chain, SPOOL_RUN_DOWN, Span.about(far.reel_drag, DRAG_DOUBT)))
    return cases


def review(
    outfit: Outfit, gear: Gear, steady: tuple[Estimate, Estimate], peak: tuple[Estimate, Estimate], units: str
) -> tuple[tuple[LinkLoad, ...], LinkLoad, str, tuple[str, ...], tuple[DragPoint, ...]]:
    """Hardest case of every link, the weakest of them, what parts first, findings in words, the drag along a run."""
    chain = assemble(outfit, gear)
    rows = _drag_rows(outfit, chain)
    strength = review_strength(chain, load_cases(outfit, chain, steady, peak, rows))
    hardest = [_hardest(strength.of_link(link.name)) for link in chain.bearing if strength.of_link(link.name)]
    links = tuple(_link(margin) for margin in hardest)
    known = [link for link in links if link.share is not None]
    weakest = max(known, key=lambda link: link.share.usual if link.share else 0.0)
    system = "metric" if units == "metric" else "us"
    order = break_order(chain)
    first = f"{order[0].weak_spot}, then {order[1].weak_spot}" if len(order) > 1 else "not known"
    findings = (
        *check_fit(chain, gear, system=system),
        *check_drag(outfit, peak[0].usual, system=system),
    )
    words = tuple(f"{each.place}: {each.given}; {each.rule}; {each.fix}" for each in findings)
    points = tuple(
        DragPoint(
            line_out=row.line_out, reel_drag=row.reel_drag, at_fish=row.at_fish_end, share=row.share.usual,
            state=row.state,
        )
        for row in rows
    )  # fmt: skip
    return links, weakest, first, words, points


def _drag_rows(outfit: Outfit, chain: Chain) -> tuple[DragRow, ...]:
    main = chain.of_kind("main line")[0]
    rows = drag_table(outfit, main.strength or Span.exactly(outfit.line.strength))
    return () if isinstance(rows, Fault) else rows


def _hardest(margins: Sequence[Margin]) -> Margin:
    return max(margins, key=lambda m: (m.share.usual if m.share else -1.0, m.load.usual))


def _estimate(span: Span | None) -> Estimate | None:
    return None if span is None else Estimate(usual=span.usual, low=span.low, high=span.high)


def _link(margin: Margin) -> LinkLoad:
    load = _estimate(margin.load)
    assert load is not None
    return LinkLoad(
        link=margin.link, case=margin.case, load=load, strength=_estimate(margin.strength),
        share=_estimate(margin.share), verdict=margin.verdict, weak_spot=margin.weak_spot,
    )  # fmt: skip
