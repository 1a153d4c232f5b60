"""Rates of whole logs: hours and strikes counted, sentences with their doubt, days evened out, causes mixed up."""

from __future__ import annotations

import re

import numpy as np
import pytest
from tests.logbook.logs import LONG, SHORT, entry, folded, season

from spreadwright.logbook.bite import Bite, Ran, depth_class, speed_class
from spreadwright.logbook.evenness import even
from spreadwright.logbook.factors import NAMES, Knowledge, cells, usual_place
from spreadwright.logbook.light import LIGHTS, lights_of
from spreadwright.logbook.losses import loss_rates
from spreadwright.logbook.pooling import pooled
from spreadwright.logbook.preferences import preferences
from spreadwright.logbook.rate_words import percent, two_figures
from spreadwright.logbook.rates import rate_report
from spreadwright.logbook.suggest import Suggestion, fishing_now, suggest

RIGS = {"red": SHORT, "blue": LONG}
COLOURS = {SHORT["lure"]: ("black", "purple"), LONG["lure"]: ("blue", "white")}
PLACE = (26.5, -70.25)


@pytest.fixture(scope="module")
def book():
    return folded(*season({"red": 0.5, "blue": 0.2}, days=20, rigs=RIGS))


def test_hours_and_strikes_are_counted_once(book):
    for name in ("distance", "station", "mark", "weight", "lure", "wash"):
        table = cells(name, book, Knowledge())
        assert table.hours.sum() == pytest.approx(240.0)
        assert table.strikes.sum() == len(book.strikes)
        assert table.left_out_hours == pytest.approx(0.0, abs=1e-9)
        assert table.left_out_strikes == 0
        assert len(table.days) == 20
    assert cells("distance", book, Knowledge()).levels == ("long", "short")
    assert cells("mark", book, Knowledge()).levels == ("100 ft", "400 ft")
    assert cells("mark", book, Knowledge(system="metric")).levels == ("121.9 m", "30.5 m")
    assert cells("colour", book, Knowledge()).levels == ()
    assert cells("colour", book, Knowledge(colours=COLOURS)).levels == ("black-purple", "blue-white")


def test_the_sentence_has_both_rates_their_doubt_the_chance_and_the_hours(book):
    rates = rate_report(folded(*season({"red": 0.4, "blue": 0.3}, days=4, rigs=RIGS))).of("distance")
    sentence = rates.comparisons[0].sentence
    pattern = (
        r"(short|long) lines \d\.\d+ an hour \(0\.\d+ to \d\.\d+\), (short|long) lines \d\.\d+ an hour \(\d\.\d+ to "
        r"\d\.\d+\); \d\d % likely that (short|long) is truly better; about \d+ more hours, half on each, would settle"
    )
    assert re.match(pattern, sentence), sentence
    sure = rate_report(book).of("distance")
    assert sure.levels[0].level == "short"
    assert sure.comparisons[0].settled
    assert "settled as far as this log goes" in sure.sentences[0]
    for level in sure.levels:
        assert level.low < level.rate < level.high
        assert level.alone_low < level.strikes / level.hours < level.alone_high
        assert level.low < level.strikes / level.hours < level.high


def test_equal_levels_are_called_equal():
    even_book = folded(*season({"red": 0.3, "blue": 0.3}, days=60, rigs=RIGS, seed=4))
    (told,) = rate_report(even_book, factors=("distance",)).factors[0].comparisons
    assert not told.settled
    assert 0.05 < told.chance < 0.95


def test_always_together_is_told_with_the_swap_that_would_tell(book):
    mixed = {each.other: each for each in rate_report(book).of("distance").confounded}
    assert set(mixed) == {"weight", "lure", "station"}
    weight = mixed["weight"]
    assert (weight.with_first, weight.with_second, weight.overlap) == ("64 oz torpedo", "16 oz torpedo", 0.0)
    assert "put the 64 oz torpedo on long lines and the 16 oz torpedo on short lines" in weight.swap
    assert "100 % of the hours and long lines in 0 %" in weight.sentence
    assert "plan it first" in weight.sentence


def test_every_level_is_looked_at_not_only_the_first_two():
    """Four lures; the two best were fished on either weight, the third and fourth always with the heavy one."""

    def rig(lure, weight):
        return {**SHORT, "lure": lure, "weight": weight}

    rigs = {"a": rig("one", "16 oz"), "b": rig("one", "16 oz"), "c": rig("two", "16 oz"), "d": rig("three", "64 oz"),
            "e": rig("four", "64 oz")}  # fmt: skip
    rates = {"a": 1.5, "b": 1.5, "c": 1.0, "d": 0.3, "e": 0.1}
    told = rate_report(folded(*season(rates, days=20, rigs=rigs)), factors=("lure",)).of("lure")
    assert [level.level for level in told.levels] == ["one", "two", "three", "four"]
    mixed = [(each.first, each.second) for each in told.confounded if each.other == "weight"]
    assert mixed == [("one", "three"), ("one", "four")]
    (sentence,) = [each for each in told.sentences if "lure or weight" in each]
    assert "put the 16 oz on the three and the 64 oz on the one" in sentence
    assert sentence.endswith("The same goes for the one against the four.")


def test_what_was_swapped_is_not_called_mixed_up():
    swapped = {"red": {**SHORT, "weight": LONG["weight"]}, "blue": {**LONG, "weight": SHORT["weight"]}}
    entries = season({"red": 0.5, "blue": 0.2}, days=10, rigs=RIGS)
    later = season({"red": 0.5, "blue": 0.2}, days=22, rigs=swapped, seed=2)
    both = entries + [e for e in later if e.at.day >= 19 or e.at.month > 3]
    rates = rate_report(folded(*both)).of("distance")
    assert "weight" not in {each.other for each in rates.confounded}


def test_good_days_do_not_make_a_lure_good():
    """One lure fished on the good days only, another on all days: equal in truth."""
    random = np.random.default_rng(9)
    right = plain = 0
    for _ in range(60):
        day = np.where(np.arange(30) < 10, 3.0, 0.5)
        hours = np.vstack([np.where(day > 1, 6.0, 0.5), np.full(30, 6.0), np.full(30, 6.0)])
        strikes = random.poisson(0.2 * day * hours).astype(float)
        evened = even(hours, strikes)
        right += 0.05 < pooled(evened.strikes, evened.hours).better(0, 1) < 0.95
        plain += 0.05 < pooled(strikes.sum(1), hours.sum(1)).better(0, 1) < 0.95
    assert right >= 50
    assert plain <= 20


def test_nine_of_ten_intervals_hold_with_days_that_differ():
    random = np.random.default_rng(20310309)
    held = groups = 0
    for _ in range(150):
        count, days = int(random.integers(2, 7)), int(random.integers(5, 40))
        truth = 0.3 * np.exp(0.5 * random.standard_normal(count))
        day = random.gamma(4.0, 0.25, days)
        hours = random.uniform(2.0, 8.0, (count, days)) * (random.random((count, days)) < 0.5)
        hours[hours.sum(axis=1) == 0.0, 0] = 3.0
        evened = even(hours, random.poisson(truth[:, None] * day * hours).astype(float))
        low, high = pooled(evened.strikes, evened.hours).interval(0.9)
        usual = truth * (hours.sum(axis=0) / hours.sum() @ day)
        held += int(((low <= usual) & (usual <= high)).sum())
        groups += count
    assert 0.85 <= held / groups <= 0.95


def test_bunches_are_seen_and_widen():
    random = np.random.default_rng(3)
    hours = np.full((4, 60), 5.0)
    single = random.poisson(0.4 * hours).astype(float)
    bunched = 3.0 * random.poisson(0.4 / 3.0 * hours).astype(np.float64)
    assert even(hours, single).bunches == pytest.approx(1.0, abs=0.3)
    assert even(hours, bunched).bunches == pytest.approx(3.0, rel=0.3)
    wide = even(hours, bunched)
    low, high = pooled(wide.strikes, wide.hours).interval()
    thin_low, thin_high = pooled(bunched.sum(1), hours.sum(1)).interval()
    assert (high - low > 1.3 * (thin_high - thin_low)).all()


def test_light_by_the_suns_height():
    """Sunrise at 26.5 N, 70.25 W on 8 March 2031 is near 11:15 UTC, sunset near 23:10 UTC (spreadwright.day.light)."""
    wanted = {4: "dark", 11.5: "low sun, morning", 16.7: "high sun", 22.8: "low sun, evening"}
    for hour, light in wanted.items():
        at = entry("note", 60 * (hour - 11), "").at
        assert lights_of([at], PLACE) == [light]
    book = folded(entry("line_out", 0), entry("strike", 20), entry("strike", 300), entry("line_in", 600))
    table = cells("light", book, Knowledge(place=PLACE))
    assert set(table.levels) <= set(LIGHTS)
    assert table.hours.sum() == pytest.approx(10.0)
    hours = dict(zip(table.levels, table.hours[:, 0], strict=True))
    assert 0.4 < hours["low sun, morning"] < 1.3
    assert dict(zip(table.levels, table.strikes[:, 0], strict=True))["low sun, morning"] == 1
    assert cells("light", book, Knowledge()).levels == ()


def test_turn_depth_and_speed_come_from_the_track(book):
    out = entry("line_out", 0)
    strike, second = entry("strike", 20), entry("strike", 40)
    small = folded(out, strike, second, entry("line_in", 120))
    bite = Bite(entry=strike.id, turn="port", side="inside", boat_speed=7.0, rate=0.1, lure_depth=1.4, lure_speed=6.0)
    ran = Ran(
        exposure=out.id, side={"straight": 1.0, "inside": 0.5, "outside": 0.4, "unknown": 0.1},
        depth={depth_class(1.4): 2.0}, speed={speed_class(6.0): 0.7, speed_class(8.0): 1.3},
    )  # fmt: skip
    known = Knowledge(bites={strike.id: bite}, ran={out.id: ran})
    turn = cells("turn", small, known)
    assert turn.levels == ("inside of turns", "on the straight", "outside of turns")
    assert turn.strikes[:, 0].tolist() == [1.0, 0.0, 0.0]
    assert turn.left_out_strikes == 1
    assert turn.left_out_hours == pytest.approx(0.1)
    assert cells("depth", small, known).strikes.sum() == 1
    assert cells("speed", small, known).levels == ("11 to 13 kn", "15 to 17 kn")
    report = rate_report(book)
    assert any("turn" in remark and "track" in remark for remark in report.remarks)


def test_losses_are_named_as_the_spares_name_them():
    from spreadwright.stock.losses import CAUSE_NAMES

    book = folded(
        entry("line_out", 0), entry("strike", 30, outcome="cut off", took="lure"),
        entry("line_out", 60), entry("strike", 90, outcome="cut off", took="both"),
        entry("line_out", 120), entry("strike", 150, outcome="broke off"),
        entry("line_out", 180), entry("strike", 200, outcome="landed"), entry("strike", 300, "blue", outcome="cut off"),
    )  # fmt: skip
    rates = {rate.cause: rate for rate in loss_rates(book)}
    assert set(rates) <= set(CAUSE_NAMES)
    assert [rates[c].losses for c in ("lure bitten off", "weight bitten off", "broken off")] == [2, 1, 1]
    assert rates["broken off"].line_hours == pytest.approx(book.hours)
    assert rates["broken off"].low < rates["broken off"].rate < rates["broken off"].high
    assert loss_rates(folded(entry("note", 0, ""))) == ()


def test_preferences_are_chances_and_say_what_they_rest_on(book):
    shelf = (SHORT["lure"], LONG["lure"], "never fished")
    told = preferences(book, shelf)
    assert set(told.lures) == set(shelf)
    assert told.lures[SHORT["lure"]] > told.lures["never fished"] > told.lures[LONG["lure"]]
    assert np.mean(list(told.lures.values())) == pytest.approx(0.5, abs=1e-9)
    assert "likely better than another lure" in told.sentences[1]
    thin = preferences(folded(entry("line_out", 0), entry("line_in", 60)), shelf)
    assert thin.lures == {}
    assert "too little" in thin.sentences[0]


def test_a_suggestion_is_drawn_and_repeats_with_its_seed(book):
    known = Knowledge(colours=COLOURS)
    told = [suggest(book, seed, more=("new lure",), known=known) for seed in range(60)]
    assert all(isinstance(each, Suggestion) for each in told)
    assert told[7] == suggest(book, 7, more=("new lure",), known=known)
    first = told[0]
    assert isinstance(first, Suggestion)
    assert sum(choice.best for choice in first.choices) == pytest.approx(1.0)
    taken = [each.take for each in told if isinstance(each, Suggestion)]
    best = {choice.level: choice.best for choice in first.choices}
    for level, chance in best.items():
        assert taken.count(level) / 60 == pytest.approx(chance, abs=0.2)
    changed = next(each for each in told if isinstance(each, Suggestion) and each.change)
    assert changed.rod in changed.sentence
    assert changed.take in changed.sentence


def test_what_cannot_be_suggested_is_told(book):
    assert "not something to change" in str(suggest(book, 1, "light"))
    assert "log the lines" in str(suggest(folded(entry("note", 0, "")), 1))
    one = folded(*season({"red": 0.3}, days=2))
    assert "nothing to change" in str(suggest(one, 1))
    assert fishing_now(book)["red"].lure == SHORT["lure"]


def test_words_of_numbers():
    assert [two_figures(x) for x in (0.4217, 0.0, 12.34, 0.0099, 1234.0)] == ["0.42", "0", "12", "0.0099", "1200"]
    assert percent(0.9999) == "over 99 %"


def test_an_empty_log_has_no_rates_and_no_faults():
    report = rate_report(folded())
    assert report.factors == ()
    assert (report.hours, report.strikes) == (0.0, 0)


def test_every_factor_of_the_issue_is_there():
    assert set(NAMES) >= {"station", "mark", "weight", "depth", "speed", "colour", "light", "wash", "turn"}
    with pytest.raises(KeyError, match="known: distance"):
        cells("luck", folded(), Knowledge())


def test_the_usual_place_is_the_middle_also_across_the_date_line():
    book = folded(
        entry("line_out", 0), entry("strike", 1, position=(-17.0, 179.9)), entry("strike", 2, position=(-17.2, -179.9)),
    )  # fmt: skip
    place = usual_place(book.strikes)
    assert place is not None
    assert abs(abs(place[1]) - 180.0) < 0.01
    assert usual_place(()) is None
