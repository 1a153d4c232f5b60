"""The Lists page: the room's own lists, ticks that are kept and carried on, what was bought taken in, plain text."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from tests.store.rooms import put
from tests.web.conftest import token_of

from spreadwright.stock.event import happened
from spreadwright.stock.fill import from_trip
from spreadwright.stock.gear import Coil
from spreadwright.store.open import open_store
from spreadwright.store.room import read_room, record
from spreadwright.store.room_lists import kept_lists
from spreadwright.store.room_work import put_in


@pytest.fixture
def lists(app, name, plan):
    parts = app.state.parts
    parts.kept.put_plan(parts.kept.get(name), plan)
    return f"/trips/{name}/lists"


@pytest.fixture
def filled(app, name):
    """The tackle room, filled with the trip's shelf."""
    with open_store(app.state.parts.settings.store) as store:
        put_in(store, from_trip(app.state.parts.kept.get(name).trip))


def items(page: str, ticked: bool = False) -> list[str]:
    return re.findall(r'name="done" value="(\w+)" ' + ("checked" if ticked else ""), page)


def send(client, lists, **form):
    answer = client.post(lists, data={"token": token_of(client.get("/").text), **form})
    return client.get(lists).text if answer.status_code == 303 else answer


def test_the_five_lists_stand_against_the_trips_own_shelf_or_the_room(client, lists, app, name):
    page = client.get(lists).text
    for title in ("To buy", "To make up at the bench", "Reels to re-mark", "To pack", "To check the night before"):
        assert f">{title}</h2>" in page
    assert "own shelf" in page
    assert "take_in" not in page
    with open_store(app.state.parts.settings.store) as store:
        put_in(store, from_trip(app.state.parts.kept.get(name).trip))
    filled = client.get(lists).text
    assert "own shelf" not in filled
    assert items(filled) == items(page)


def test_a_tick_is_kept_and_another_phone_does_not_undo_it(client, lists):
    first, second, third, *_ = items(client.get(lists).text)
    assert items(send(client, lists, done=[first, second]), ticked=True) == [first, second]
    # A phone whose page is older: it had seen nothing ticked, and ticks the third.
    assert items(send(client, lists, done=[third]), ticked=True) == [first, second, third]
    assert items(send(client, lists, was=[first]), ticked=True) == [second, third]
    assert client.get(f"{lists}.txt").text.count("[x]") == 2


def test_lists_made_anew_take_the_ticks_over(client, lists, app, name, monkeypatch):
    first, second, *_ = items(client.get(lists).text)
    send(client, lists, done=[first])
    kept = app.state.parts.kept.get(name)
    old = kept.lists
    with open_store(app.state.parts.settings.store) as store:
        fewer = kept_lists(store, old)
    # The store's list lacks an item that the trip has by now, as after a change of plan.
    whole = fewer.lists.model_copy(update={"lists": tuple(
        each.model_copy(update={"items": tuple(item for item in each.items if item.id != second)})
        for each in fewer.lists.lists
    )})  # fmt: skip
    monkeypatch.setattr(
        "spreadwright.web.lists_pages.kept_lists",
        lambda store, wanted: type(fewer)(fewer.id, fewer.made, whole, fewer.ticked) if wanted == old
        else kept_lists(store, wanted),
    )  # fmt: skip
    assert items(send(client, lists, done=[second]), ticked=True) == [first, second]
    assert kept.lists != old


def test_what_was_bought_goes_into_the_room_once(client, lists, app, filled):
    found = re.search(r'name="take_in" value="(\w+)"', client.get(lists).text)
    assert found is not None
    where = app.state.parts.settings.store
    with open_store(where) as store:
        before = sum(state.fit for state in read_room(store).states.values())
    send(client, lists, take_in=found[1])
    with open_store(where) as store:
        after = sum(state.fit for state in read_room(store).states.values())
    assert after > before


def test_a_tick_of_nothing_and_a_form_without_its_token_are_refused(client, lists):
    assert "no such item" in send(client, lists, done=["x"]).text
    assert client.post(lists, data={"done": "x"}).status_code == 403
    answer = client.get(f"{lists}.txt?only=everything")
    assert answer.status_code == 422
    assert "load the page again" in answer.text


def test_one_list_as_plain_text(client, lists):
    answer = client.get(f"{lists}.txt?only=pack")
    assert answer.headers["content-type"].startswith("text/plain")
    assert answer.text.startswith("TO PACK\n")
    assert "TO BUY" in client.get(f"{lists}.txt").text


def test_first_ticks_at_the_same_moment_are_all_kept(client, lists):
    token = token_of(client.get("/").text)
    four = items(client.get(lists).text)[:4]
    with ThreadPoolExecutor(4) as phones:
        answers = [phones.submit(client.post, lists, data={"token": token, "done": [item]}) for item in four]
        assert {answer.result().status_code for answer in answers} == {303}
    assert items(client.get(lists).text, ticked=True) == four


def test_what_the_bench_list_asks_for_is_made_up_once_with_its_parts(client, lists, app, name, filled):
    """The leaders are gone, coil and sleeves are there: one press makes them, a second of the old page nothing."""
    shelf = app.state.parts.kept.get(name).trip.shelf
    leader = shelf.shock_leaders[0]
    coil = Coil.model_validate({"name": "the coil", "material": leader.material, "strength": f"{leader.strength} N",
                                "diameter": f"{leader.diameter} m", "length": "100 m"})  # fmt: skip
    where = app.state.parts.settings.store
    with open_store(where) as store:
        room = read_room(store)
        gone = room.find(leader.name, "shock leader")
        record(store, happened(gone.id, "count", 0))
        assert "takes" in client.get(lists).text
        assert 'name="made"' not in client.get(lists).text  # no coil yet
        put(store, "coil", coil, 200_000)
        page = client.get(lists).text
        (made,) = re.findall(r'name="made" value="(\w+ \d+)"', page)
        assert send(client, lists, made=made.split()[0] + " 99").status_code == 400
        page = send(client, lists, made=made)
        after = read_room(store)
        assert after.state(gone).fit == int(made.split()[1]) > 0
        used = 200_000 - after.fit("coil", "the coil")
        assert used >= after.state(gone).fit * 1000 * leader.length
        assert 'name="made"' not in page
        assert send(client, lists, made=made).status_code == 400
        assert read_room(store).fit("coil", "the coil") == 200_000 - used
        # Too little coil for them all: nothing is made.
        record(store, happened(gone.id, "count", 0), happened(after.find("the coil").id, "count", 100))
        (made,) = re.findall(r'name="made" value="(\w+ \d+)"', client.get(lists).text)
        assert send(client, lists, made=made).status_code == 400
        assert read_room(store).state(gone).fit == 0


def test_printed_lists_are_those_of_the_page(client, lists, app, name, filled, monkeypatch):
    asked: list[dict[str, Any]] = []

    def printing(*given, **more):
        asked.append(more)
        return b"%PDF"

    monkeypatch.setattr("spreadwright.web.pages.cards_pdf", printing)
    assert client.get(lists.replace("/lists", "/cards/shopping.pdf")).content == b"%PDF"
    shown = items(client.get(lists).text)
    printed = [item.id for each in asked[0]["lists"].lists for item in each.items]
    assert printed == shown
    assert asked[0]["trip"] is app.state.parts.kept.get(name).trip
