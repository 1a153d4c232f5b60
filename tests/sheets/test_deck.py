"""The deck sheet as a file: small, complete, alone, and not to be steered by what somebody wrote into a trip file."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from tests.sheets.example_plan import example_plan
from tests.sheets.plans import make_plan
from tests.tackle.trips import small
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.plan.value import Plan
from spreadwright.sheets.deck import LARGEST, SCRIPTS, deck_sheet, sheet_id
from spreadwright.tackle import read_trip

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "trip.toml"
TRIP = read_trip(DEMO)
ODD = "</script><script>alert(1)</script><img src=x onerror=alert(2)> {{ 7 * 7 }} & \"q\" 'p'"
VOID = {"meta", "link", "input", "br", "hr", "img"}


class Reader(HTMLParser):
    """The elements of a page, the text of each script, style and policy, and whether every element is closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.raw: dict[str, list[str]] = {"script": [], "style": []}
        self.open: list[str] = []
        self.said: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] in self.raw:
            self.raw[self.open[-1]].append(data)
        else:
            self.said.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.said).replace("’", "'").split())

    def named(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for each, attributes in self.elements if each == tag]


@pytest.fixture(scope="module")
def made() -> str:
    return deck_sheet(example_plan(), trip=TRIP)


@pytest.fixture(scope="module")
def page(made: str) -> Reader:
    return Reader(made)


def test_it_is_one_file_well_under_what_a_message_takes(made):
    assert len(made.encode()) < LARGEST == 300_000


@pytest.mark.parametrize("count", [1, 9, 14])
def test_it_stays_so_with_many_rods(count):
    plan = make_plan([f"rod number {i} with a long name" for i in range(count)], "W" * 80, 3)
    text = deck_sheet(plan)
    assert len(text.encode()) < LARGEST
    assert ('class="wide"' in text) == (count < 14)  # the wide drawing goes first


def test_every_element_is_closed_and_no_name_is_given_twice(page):
    assert page.open == []
    ids = [attributes["id"] for _, attributes in page.elements if attributes.get("id")]
    assert len(ids) == len(set(ids))


def test_it_fetches_nothing(made, page):
    """No address of any kind but the names of the SVG language."""
    addresses = set(re.findall(r"\b(?:https?|wss?|ftp):[^\s\"'<>)]*", made))
    assert addresses == {"http://www.w3.org/2000/svg"}
    for tag, attributes in page.elements:
        for name in ("src", "href", "action", "srcset", "data", "poster", "style"):
            given = attributes.get(name)
            assert given is None or given.startswith("#") or given == "data:,", (tag, name, given)
        assert not [name for name in attributes if name.startswith("on")]
    assert "@import" not in made
    assert "url(" not in made


def test_the_policy_lets_only_its_own_script_and_style_run(page):
    """W3C, Content Security Policy Level 3: a hash names an inline element by the SHA-256 of its text."""
    told = next(m["content"] for m in page.named("meta") if m.get("http-equiv") == "Content-Security-Policy")
    assert told is not None
    rules = dict(rule.split(" ", 1) for rule in told.split("; "))
    assert rules["default-src"] == "'none'"
    assert "unsafe" not in told
    scripts = [text for text, how in zip(page.raw["script"], page.named("script"), strict=True) if "type" not in how]
    for name, texts in (("script-src", scripts), ("style-src", page.raw["style"])):
        assert len(texts) == 1
        assert rules[name] == f"'sha256-{base64.b64encode(hashlib.sha256(texts[0].encode()).digest()).decode()}'"
    metas = [name for name, _ in page.elements]
    assert metas.index("meta") < metas.index("script")


def test_the_same_plan_gives_the_same_file_and_another_plan_another_log(made):
    plan = example_plan()
    assert deck_sheet(plan, trip=TRIP) == made
    assert re.fullmatch("[0-9a-f]{32}", sheet_id(plan))
    assert sheet_id(plan) != sheet_id(plan.model_copy(update={"title": "another"}))


def test_each_rod_is_there_in_both_units_with_its_rig_its_numbers_and_its_cautions(page):
    wanted = [
        "two-speed 50 wide",
        "main line to its 300 ft mark, the last 12 ft doubled",
        "main line to its 91.4 m mark",
        "328 ft ± 8",
        "99.9 m ± 2.5",
        "shock leader: the only place for a hand",
        "out 3",
        "in 4",
    ]
    for said in wanted:
        assert said in page.text.replace("\u00a0", " "), said
    for rod in example_plan().rods:
        assert page.text.count(rod.rod) > 5
    for caution in example_plan().cautions:
        assert caution.text in page.text
    assert example_plan().notice in page.text


def test_rows_stand_in_setting_out_order_with_both_places(page):
    rows = [attributes for tag, attributes in page.elements if tag == "li" and "data-rod" in attributes]
    order = sorted(example_plan().rods, key=lambda rod: rod.set_out)
    assert [(row["data-rod"], row["data-out"], row["data-in"]) for row in rows] == [
        (rod.rod, str(rod.set_out), str(rod.clear)) for rod in order
    ]


def test_what_the_log_will_carry_is_the_plans(page):
    told = json.loads(next(t for t, how in zip(page.raw["script"], page.named("script"), strict=True) if "type" in how))
    plan = example_plan()
    assert (told["id"], told["trip"], told["boat"]) == (sheet_id(plan), plan.title, plan.boat)
    for each in told["rods"]:
        rod = plan.rod(each["name"])
        assert each["rig"]["mark"] == pytest.approx(rod.mark, abs=1e-4)
        assert [each["rig"][key] for key in ("station", "weight", "shock_leader", "bite_leader", "lure")] == [
            rod.station, rod.weight, rod.shock_leader, rod.bite_leader, rod.lure
        ]  # fmt: skip


def test_nothing_a_captain_wrote_becomes_an_element_or_a_template():
    plan = example_plan()
    rods = (plan.rods[0].model_copy(update={"rod": ODD, "lure": ODD, "weight": ODD}), *plan.rods[1:])
    outlines = tuple(o.model_copy(update={"rod": ODD}) if o.rod == plan.rods[0].rod else o for o in plan.drawing)
    changed = plan.model_copy(update={"title": ODD, "boat": ODD, "rods": rods, "drawing": outlines})
    page = Reader(deck_sheet(changed))
    whole = Reader(deck_sheet(plan))
    assert len(page.named("script")) == len(whole.named("script")) == 2
    assert page.named("img") == []
    assert "{{ 7 * 7 }}" in page.text
    told = json.loads(page.raw["script"][0])
    assert told["trip"] == ODD
    assert next(row["data-rod"] for row in page.named("li") if row.get("data-out") == str(rods[0].set_out)) == ODD


def test_it_opens_in_the_units_asked_for():
    assert '<html lang="en" data-units="us">' in deck_sheet(example_plan())
    assert '<html lang="en" data-units="metric">' in deck_sheet(example_plan(), system="metric")


def test_every_script_of_the_folder_is_in_the_sheet_and_in_house_form(made):
    folder = Path(__file__).parents[2] / "src" / "spreadwright" / "sheets" / "deck"
    assert {path.stem for path in folder.glob("*.js")} == set(SCRIPTS)
    for path in folder.glob("*.js"):
        text = path.read_text(encoding="utf-8")
        assert text in made
        assert text.startswith("// ")
        assert "</script" not in text.lower()
        assert not re.search(
            r"\b(eval|innerHTML|outerHTML|insertAdjacentHTML|document\.write|fetch|XMLHttpRequest)\b", text
        )


# ---- the command ----
def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, ["deck", *map(str, arguments)])


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    path = tmp_path / "plan.json"
    example_plan().write(path)
    return path


def test_the_command_writes_the_sheet_and_says_how_large_it_is(plan_file, tmp_path, made):
    path = tmp_path / "deck.html"
    told = run(DEMO, "--plan", plan_file, "-o", path)
    assert told.exit_code == 0, told.output
    assert path.read_text(encoding="utf-8") == made
    assert f"{len(made.encode()) / 1000:.0f} kB" in told.output
    assert run(DEMO, "--plan", plan_file, "-o", path, "--units", "metric").exit_code == 0
    assert 'data-units="metric"' in path.read_text(encoding="utf-8")[:200]


def test_a_plan_of_another_trip_and_a_folder_that_is_not_there_are_refused(plan_file, tmp_path):
    trip = tmp_path / "trip.toml"
    trip.write_text(small(), encoding="utf-8")
    told = run(trip, "--plan", plan_file, "-o", tmp_path / "deck.html")
    assert (told.exit_code, "the trip file's rods are red, blue" in told.output) == (2, True)
    told = run(DEMO, "--plan", plan_file, "-o", tmp_path / "none" / "deck.html")
    assert (told.exit_code, "a folder that is there" in told.output) == (2, True)


def test_a_plan_written_and_read_back_makes_the_same_sheet(plan_file):
    assert sheet_id(Plan.read(plan_file)) == sheet_id(example_plan())
