"""Plans of every kind for the tests of the sheets: any number of rods, odd names, doubts of none or of much.

Names come from hypothesis; numbers from a seeded generator, because a plan has some hundreds of them.
"""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st
from tests.sheets.example_plan import example_plan

from spreadwright.plan.value import Estimate, Outline, PairPlan, Plan, RodPlan, Swing

NAMES = st.one_of(
    st.text("abcdefg 0123456789", min_size=1, max_size=14),
    st.text(min_size=1, max_size=40),
    st.sampled_from(["[bold]x[/bold]", "<b>&amp;</b>", "W" * 80, "\x1b[31mred\x1b[0m", "釣り竿 80", "a\nb", "-", '"']),
).filter(lambda name: name.strip() != "")


def estimate(luck: Random, least: float, most: float) -> Estimate:
    usual = luck.choice([least, most, luck.uniform(least, most), luck.uniform(least, most)])
    below, above = luck.choice([0.0, luck.uniform(0.0, 1.5)]), luck.choice([0.0, luck.uniform(0.0, 1.5)])
    return Estimate(usual=usual, low=usual - below, high=usual + above)


def swing(luck: Random, least: float, most: float) -> Swing:
    low, high = sorted((luck.uniform(least, most), luck.uniform(least, most)))
    doubt = luck.choice([0.0, luck.uniform(0.0, 1.0)])
    return Swing(least=low, greatest=high, low=low - doubt, high=high + doubt)


def rod_and_line(luck: Random, name: str, order: int, count: int) -> tuple[RodPlan, Outline]:
    """A rod and its line: straight astern, and anywhere at the worst moment."""
    tip = (luck.uniform(-2.0, 4.0), luck.choice([0.0, luck.uniform(-6.0, 6.0)]), luck.uniform(0.5, 6.0))
    mark, deep = luck.choice([5.0, 30.0, luck.uniform(5.0, 180.0)]), luck.uniform(-0.2, 12.0)
    straight = [
        tip,
        (tip[0] - 0.5 * mark, tip[1], 0.0),
        (tip[0] - mark, tip[1], -deep),
        (tip[0] - mark - 5.0, tip[1], -deep - 0.3),
        (tip[0] - mark - 7.0, tip[1], -deep - 0.4),
    ]
    bend = luck.choice([0.0, luck.uniform(-1.0, 1.0)])
    worst = [(x, y + bend * (tip[0] - x) ** 1.5 / 8.0, z) for x, y, z in straight]
    rod = (
        example_plan()
        .rods[order % 6]
        .model_copy(
            update={
                "rod": name,
                "tip": tip,
                "mark": mark,
                "runs_at": estimate(luck, 5.0, 200.0),
                "set_out": order + 1,
                "clear": count - order,
                "weight_depth": estimate(luck, -0.2, 12.0),
                "lure_depth": estimate(luck, -0.2, 12.0),
                "weight_depth_swing": swing(luck, -0.2, 12.0),
                "lure_depth_swing": swing(luck, -0.2, 12.0),
                "pull": estimate(luck, 1.0, 900.0),
            }
        )
    )
    return rod, Outline(rod=name, straight=tuple(straight), worst=tuple(worst), joints=(2, 3, 4))


def pair(luck: Random, first: str, second: str) -> PairPlan:
    return PairPlan(
        first=first,
        second=second,
        gear_gap=estimate(luck, 0.0, 20.0),
        gear_time=luck.uniform(0.0, 100.0),
        line_gap=luck.uniform(0.0, 9.0),
        line_time=luck.uniform(0.0, 100.0),
        winding=luck.uniform(-2.0, 2.0),
        hidden=luck.uniform(0.0, 0.1),
        tangle=luck.random() < 0.2,
    )


def make_plan(names: list[str], title: str, seed: int) -> Plan:
    """A plan of these rods, every pair with a gap, the smallest named as worst."""
    luck = Random(seed)
    made = [rod_and_line(luck, name, order, len(names)) for order, name in enumerate(names)]
    pairs = [pair(luck, first, second) for i, first in enumerate(names) for second in names[i + 1 :]]
    worst = min(pairs, key=lambda each: each.gear_gap.usual, default=None)
    return example_plan().model_copy(
        update={
            "units": luck.choice(["us", "metric"]),
            "title": title,
            "rods": tuple(rod for rod, _ in made),
            "drawing": tuple(outline for _, outline in made),
            "pairs": tuple(pairs),
            "worst_pair": (worst.first, worst.second) if worst else None,
        }
    )


def plans(names: st.SearchStrategy[str] = NAMES) -> st.SearchStrategy[Plan]:
    """Plans of one rod to nine."""
    called = st.lists(names, min_size=1, max_size=9, unique=True)
    return st.builds(make_plan, called, NAMES, st.integers(0, 2**32))
