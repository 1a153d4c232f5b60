"""A plan for the demo trip, put together by hand, to show on sheets: invented place, boat, crew and unbranded gear."""

from __future__ import annotations

import math

from tests.sheets.example_shapes import SHAPES

from spreadwright.plan.value import (
    DragPoint,
    Estimate,
    LinkLoad,
    Outline,
    PairPlan,
    Plan,
    PlanCaution,
    RodPlan,
    Shopping,
    Skipped,
    Swing,
    Why,
)

FT, OZ, LBF, KN = 0.3048, 0.028349523125, 4.4482216152605, 1852.0 / 3600.0

LEADERS = {
    "20/400": ("20 ft of 400 lb", "2 ft of 480 lb cable", "480 lb ball bearing"),
    "30/300": ("30 ft of 300 lb", "3 ft of 270 lb wire", "300 lb ball bearing"),
}

# rod, station, tip (ft), mark (ft), weight (oz), leaders, lure, out, in, and what the towed line gave:
# weight depth, lure depth (usual, low, high), weight swing, lure swing (least, greatest), least lure speed,
# pull (usual, low, high), least pull in the turns, angle (rad), astern, weight astern of the transom
RODS = (
    ("red 130", "port corner", (-3, 5, 4), 100, 96, "20/400", "purple-black cone 11 in", 5, 2,
     (2.01, 1.57, 2.30), (2.52, 2.09, 2.77), (1.92, 2.21), (2.44, 2.80), 5.84,
     (116.3, 66.2, 173.4), 68.3, 0.079, 39.76, 33.00),
    ("blue 130", "starboard corner", (-3, -5, 4), 200, 48, "20/400", "black-red jet 9 in", 4, 3,
     (2.55, 1.88, 3.05), (3.02, 2.34, 3.49), (1.94, 2.60), (2.45, 3.22), 4.74,
     (131.5, 73.2, 198.3), 46.2, 0.045, 72.38, 65.64),
    ("green 80", "port gunwale", (2, 11, 6), 300, 24, "30/300", "black-orange bullet 7 in", 3, 4,
     (2.73, 2.05, 3.29), (3.26, 2.54, 3.83), (1.93, 2.85), (2.49, 3.50), 4.28,
     (110.3, 61.7, 168.0), 30.0, 0.037, 109.41, 99.30),
    ("white 80", "starboard gunwale", (2, -11, 6), 100, 64, "30/300", "blue-white bullet 7 in", 6, 1,
     (1.56, 1.25, 1.79), (2.10, 1.74, 2.33), (1.54, 1.98), (2.07, 2.54), 5.43,
     (68.8, 41.4, 101.5), 36.9, 0.089, 41.74, 31.63),
    ("long braid", "centre high", (-1, 0, 13), 400, 16, "30/300", "black-purple jet 9 in", 1, 6,
     (2.00, 1.53, 2.24), (2.64, 2.14, 2.85), (1.76, 2.61), (2.45, 3.49), 3.68,
     (111.9, 61.0, 169.1), 24.8, 0.046, 133.41, 123.56),
    ("yellow 80", "starboard high", (8, -9, 14), 350, 24, "30/300", "black-orange bullet 7 in", 2, 5,
     (1.88, 1.43, 2.29), (2.42, 1.91, 2.83), (1.80, 2.66), (2.37, 3.35), 3.62,
     (83.7, 46.8, 128.8), 19.3, 0.052, 122.69, 112.57),
)  # fmt: skip

# line out (m), drag at the reel (lb), state
DRAG = (
    (0.0, 22.0, "fine"), (70.0, 24.0, "watch"), (140.0, 26.0, "watch"), (210.0, 30.0, "danger"),
    (340.0, 36.0, "danger"), (410.0, 41.0, "parts"), (550.0, 56.0, "parts"),
)  # fmt: skip

# the pair, gear gap, when, line gap, when, winding (turns)
PAIRS = (
    ("red 130", "blue 130", 1.99, 23.3, 0.25, 58.3, -0.04),
    ("red 130", "green 80", 2.71, 75.7, 0.53, 36.2, -0.24),
    ("red 130", "white 80", 4.25, 57.3, 3.50, 56.0, 0.00),
    ("red 130", "long braid", 4.52, 75.2, 2.69, 59.0, -0.12),
    ("red 130", "yellow 80", 4.52, 8.4, 2.73, 58.8, -0.07),
    ("blue 130", "green 80", 2.19, 52.2, 0.47, 36.4, -0.12),
    ("blue 130", "white 80", 1.61, 48.7, 0.00, 32.4, -0.25),
    ("blue 130", "long braid", 3.28, 81.4, 2.38, 30.5, -0.19),
    ("blue 130", "yellow 80", 3.19, 78.5, 2.24, 54.5, -0.12),
    ("green 80", "white 80", 2.40, 48.5, 0.39, 36.3, -0.15),
    ("green 80", "long braid", 1.98, 80.4, 1.17, 59.0, -0.02),
    ("green 80", "yellow 80", 1.05, 66.2, 0.71, 61.2, -0.01),
    ("white 80", "long braid", 4.12, 78.9, 2.24, 37.0, -0.22),
    ("white 80", "yellow 80", 4.07, 0.0, 2.33, 27.2, -0.18),
    ("long braid", "yellow 80", 1.06, 56.3, 0.00, 60.0, 0.00),
)


def estimate(usual: float, low: float, high: float) -> Estimate:
    return Estimate(usual=usual, low=low, high=high)


def within(usual: float, share: float) -> Estimate:
    return estimate(usual, usual * (1.0 - share), usual * (1.0 + share))


def swing(turns: tuple[float, float], straight: tuple[float, float, float]) -> Swing:
    (least, greatest), (usual, low, high) = turns, straight
    return Swing(least=least, greatest=greatest, low=least - (usual - low), high=greatest + (high - usual))


def link(name: str, weak_spot: str, case: str, load: float, strength: float | None) -> LinkLoad:
    if strength is None:
        return LinkLoad(
            link=name, case=case, load=within(load, 0.3), strength=None, share=None, verdict="not known",
            weak_spot=weak_spot,
        )  # fmt: skip
    share = estimate(load / strength, 0.7 * load / (1.15 * strength), 1.3 * load / (0.8 * strength))
    verdict = "parts" if share.usual >= 1.0 else "may part" if share.high >= 1.0 else "holds"
    return LinkLoad(
        link=name, case=case, load=within(load, 0.3), strength=estimate(strength, 0.8 * strength, 1.15 * strength),
        share=share, verdict=verdict, weak_spot=weak_spot,
    )  # fmt: skip


def links(rod: str, strike: float) -> tuple[LinkLoad, ...]:
    rated = (80.0 if "80" in rod else 130.0) * LBF
    return (
        link("main line", "main line at its bimini twist", "the strike", strike, 0.85 * rated),
        link("snap swivel", "snap swivel", "the strike", strike, 300.0 * LBF),
        link("shock leader", "shock leader at its crimp", "the strike", 1.05 * strike, 270.0 * LBF),
        link("bite leader", "bite leader at its haywire twist", "the strike", 1.05 * strike, 250.0 * LBF),
        link("hooks", "hooks", "the strike", strike, None),
    )


def rod_plan(row: tuple) -> RodPlan:  # type: ignore[type-arg]
    (rod, station, tip, mark, ounces, leaders, lure, out, back, weight_depth, lure_depth, weight_swing, lure_swing,
     slow, pull, slack_pull, angle, astern, weight_astern) = row  # fmt: skip
    shock, bite, swivel = LEADERS[leaders]
    runs_at = weight_astern + tip[0] * FT
    strike = {"red 130": 300.0, "blue 130": 270.0, "long braid": 410.0}.get(rod, 215.0)
    loads = links(rod, strike)
    return RodPlan(
        rod=rod,
        station=station,
        tip=(tip[0] * FT, tip[1] * FT, tip[2] * FT),
        mark=mark * FT,
        runs_at=within(runs_at, 0.025),
        slack_to_measure=within(mark * FT * mark * FT / runs_at, 0.02),
        weight=f"{ounces} oz torpedo",
        weight_mass=ounces * OZ,
        shock_leader=shock,
        bite_leader=bite,
        lure=lure,
        swivel=swivel,
        set_out=out,
        clear=back,
        astern=astern,
        weight_depth=estimate(*weight_depth),
        lure_depth=estimate(*lure_depth),
        weight_depth_swing=swing(weight_swing, weight_depth),
        lure_depth_swing=swing(lure_swing, lure_depth),
        lure_speed_swing=Swing(least=slow, greatest=15.0 * KN, low=0.95 * slow, high=15.2 * KN),
        pull=estimate(*pull),
        pull_swing=swing((slack_pull, pull[0]), pull),
        angle=within(angle, 0.06),
        in_air=mark * FT * 0.2,
        links=loads,
        weakest=max(loads, key=lambda each: each.share.usual if each.share else -1.0),
        parts_first="main line at its bimini twist, then double line at its offshore swivel knot",
        findings=(
            "double line: nylon in front of the weight; fish bite the weight too; what is cut ahead of it is lost with "
            "all below; put a short piece of wire or cable between swivel and weight, or accept the loss",
        ),
        strike_drag=(36.0 if rod.endswith("130") else 30.0 if rod == "long braid" else 22.0) * LBF,
        drag=tuple(
            DragPoint(line_out=out_, reel_drag=drag * LBF, at_fish=(drag + 8) * LBF, share=(drag + 8) / 80, state=state)
            for out_, drag, state in DRAG
        ),
    )


def pair_plan(row: tuple) -> PairPlan:  # type: ignore[type-arg]
    first, second, gap, when, line, line_when, winding = row
    return PairPlan(
        first=first,
        second=second,
        gear_gap=estimate(gap, 0.7 * gap, 1.4 * gap),
        gear_time=when,
        line_gap=line,
        line_time=line_when,
        winding=winding,
        hidden=0.003,
        tangle=gap < 0.3048,
    )


CAUTIONS = (
    ("rigging", "Wear gloves made for leadering whenever leader or wire is taken in hand.", False),
    ("setting out", "A heavy weight at the rod tip swings and can break bones or teeth. Lead it in by hand on the "
     "leader, keep heads low, and put it down before anything else.", True),
    ("setting out", "Rods and reels on safety lanyards before lines go out; check the holder's pin.", False),
    ("turning", "Kill-switch lanyard on and a lookout kept while turning hard; agree who calls the strike.", True),
    ("strike", "A parted line, crimp or swivel flies back along the line's path with the weight behind it. Nobody "
     "stands in that path, at the drag scale or at the fish.", False),
    ("leadering", "Never wrap leader, line or wire around a hand, a finger or a cleat. Hold it so that it can run "
     "out of the hand at once.", True),
    ("clearing", "Hooks leave a fish at speed. Use a long dehooker, keep hands out of the line's path.", False),
)  # fmt: skip

SHOPPING = (
    ("shock leader", "30 ft of 300 lb", 3, "4 fished and 2 spare, 3 on the shelf"),
    ("crimp", "2.2 mm double sleeve", 14, "8 to make up leaders and 12 spare, 6 on the shelf"),
    ("bite leader", "2 ft of 480 lb cable", 1, "2 fished and 3 spare, 4 on the shelf"),
    ("hook", "8/0 stainless", 1, "4 spare, 3 on the shelf"),
)


def example_plan() -> Plan:
    """Six rods on the demo boat; green 80 and yellow 80 come closest."""
    return Plan(
        title="Two days on Tallow Bank",
        place="Tallow Bank, south edge, off Harrow Isle (invented)",
        dates=("2031-03-08", "2031-03-09"),
        crew=("Odile", "Bram", "Wick"),
        boat="Second Kettle",
        units="us",
        speed=15.0 * KN,
        turn_radius=150.0 * FT,
        turns=tuple(math.radians(turn) for turn in (60.0, -120.0, 120.0, -60.0)),
        density=1024.0,
        tangle_reach=0.3048,
        rods=tuple(rod_plan(row) for row in RODS),
        pairs=tuple(pair_plan(row) for row in PAIRS),
        worst_pair=("green 80", "yellow 80"),
        shopping=tuple(Shopping(kind=k, name=n, quantity=q, reason=r) for k, n, q, r in SHOPPING),
        cautions=tuple(PlanCaution(work=w, text=t, grave=g) for w, t, g in CAUTIONS),
        notice="Numbers here are estimates with stated doubt, not a guarantee. Local rules, the makers' instructions "
        "and licensed practice come first.",
        why=Why(
            gap=1.05,
            rule_gap=0.92,
            reverse_gap=0.41,
            enough=6 * FT,
            limited_by="green 80 and yellow 80 run at 300 ft and 350 ft at nearly one depth",
            proof="no better spread exists among those searched",
            candidates=412,
            classes=96,
            pairs_computed=1840,
            sentences=(
                "It follows the trade's rule on five of six rods: yellow 80 carries more than the rule would give it.",
            ),
            skipped=(Skipped(what="rigs on long braid with 96 oz torpedo", count=12, reason="banned: it swings"),),
        ),
        drawing=tuple(
            Outline(rod=rod, straight=straight, worst=worst, joints=(13, 18, 19))
            for rod, (straight, worst) in SHAPES.items()
        ),
        doubts=(
            "Drag of skirted lures is poorly published: half as much again either way.",
            "Marks are taken as good to 2 %.",
            "Sea state moves the rod tips; this plan is for calm water.",
        ),
    )
