"""The pages: every one is there, says the plan's own numbers, in the units asked for, and shows names as text."""

from __future__ import annotations

import pytest
from tests.plan.trips import plan_of
from tests.web.conftest import token_of

from spreadwright.sheets.wording import closest_in_words
from spreadwright.web.page_making import way_back


@pytest.fixture
def planned(app, name, plan):
    parts = app.state.parts
    parts.kept.put_plan(parts.kept.get(name), plan)
    return name


def test_pages_without_a_plan_say_how_to_get_one(client, name):
    for path in ("plan", "lists", "rigs"):
        page = client.get(f"/trips/{name}/{path}").text
        assert "data-begin" in page
    assert "the first spread that passes the checks" in client.get(f"/trips/{name}/spread").text
    assert client.get(f"/trips/{name}/cards/rods.pdf").status_code == 404


def test_the_plans_page_says_what_the_plan_says(client, planned, plan):
    page = client.get(f"/trips/{planned}/plan").text.replace("\u00a0", " ")
    assert closest_in_words(plan, "us") in page
    for rod in plan.rods:
        assert rod.weight in page
    for caution in plan.cautions:
        assert caution.text.split("'")[0] in page


def test_units_are_switched_everywhere(client, planned, plan):
    us = client.get(f"/trips/{planned}/plan").text
    form = {"units": "metric", "token": token_of(us), "back": f"/trips/{planned}/plan"}
    back = client.post("/units", data=form)
    assert back.headers["location"] == f"/trips/{planned}/plan"
    metric = client.get(f"/trips/{planned}/plan").text.replace("\u00a0", " ")
    assert closest_in_words(plan, "metric") in metric
    assert client.get(f"/api/trips/{planned}").json()["units"] == "metric"


@pytest.mark.parametrize(
    "wished", ["//evil.example", "https://evil.example", "/\\evil", "javascript:1", "/a\r\nx: y", ""]
)
def test_the_way_back_leads_nowhere_else(wished):
    assert way_back(wished) == "/"


def test_lists_and_cards(client, planned, plan):
    page = client.get(f"/trips/{planned}/lists").text
    assert "Set out" in page
    card = client.get(f"/trips/{planned}/cards/shopping.pdf")
    assert card.content.startswith(b"%PDF")
    assert client.get(f"/trips/{planned}/cards/other.pdf").status_code == 422


def test_an_upload_that_is_wrong_shows_every_fault(client, text):
    token = token_of(client.get("/").text)
    wrong = text.replace("15 kn", "15").replace("45 m", "45")
    answer = client.post("/trips", data={"token": token}, files={"file": ("../../x.toml", wrong)})
    assert answer.status_code == 400
    assert answer.text.count("<dt>Rule</dt>") >= 2
    binary = client.post("/trips", data={"token": token}, files={"file": ("x.toml", b"\xff\xfe\x00")})
    assert "a trip file is text in UTF-8" in binary.text


def test_an_upload_is_kept_under_a_name_of_our_own(client, app, text):
    token = token_of(client.get("/").text)
    other = text.replace("A small trip", "<script>alert(1)</script>")
    answer = client.post("/trips", data={"token": token}, files={"file": ("../../x.toml", other)})
    assert answer.status_code == 303
    page = client.get(answer.headers["location"]).text
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page
    assert all(path.name.endswith(".trip.toml") for path in app.state.parts.kept.folder.iterdir())
    name = answer.headers["location"].split("/")[2]
    assert client.post(f"/trips/{name}/remove", data={"token": token}).status_code == 303
    assert client.get(f"/trips/{name}/spread").status_code == 404


def test_a_changed_text_is_a_trip_of_its_own(client, app, name, text, trip_file):
    token = token_of(client.get("/").text)
    assert client.get(f"/trips/{name}").status_code == 200
    form = {"token": token, "text": text.replace("A small trip", "Changed").replace("\n", "\r\n")}
    assert client.post(f"/trips/{name}/text", data=form).status_code == 303
    assert {kept.trip.title for kept in app.state.parts.kept.all()} == {"A small trip", "Changed"}
    assert trip_file.read_text(encoding="utf-8") == text
    assert client.post(f"/trips/{name}/again", data={"token": token}).status_code == 303


def test_what_is_not_there_is_said_on_a_page(client):
    answer = client.get("/trips/00000000000000000000/spread")
    assert answer.status_code == 404
    assert "There is no trip of that name here" in answer.text


def test_names_with_markup_stay_text(client, app, text):
    odd = text.replace('name = "red"', 'name = "<b>red</b>"')
    kept = app.state.parts.kept.add(odd)
    app.state.parts.kept.put_plan(kept, plan_of(odd))
    for page in ("spread", "plan", "lists"):
        shown = client.get(f"/trips/{kept.name}/{page}").text
        assert "<b>red" not in shown
