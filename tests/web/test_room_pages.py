"""The tackle room's pages: filling, the counting walk with its steps and its end, faults, mending, looks."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor

import pytest
from tests.store.rooms import COIL, HOOK, JET, put
from tests.web.conftest import token_of

from spreadwright.store.open import open_store
from spreadwright.store.room import read_room
from spreadwright.store.room_walk import open_walk


@pytest.fixture
def where(app):
    return app.state.parts.settings.store


@pytest.fixture
def gear(where):
    """Two jets, six hooks and 100 m of coil, by name."""
    with open_store(where) as store:
        put(store, "lure", JET, 2, place="lure roll")
        put(store, "hook", HOOK, 6)
        put(store, "coil", COIL, 100_000)
        return {piece.kind: piece.id for piece in read_room(store).pieces}


def send(client, path, **form):
    return client.post(path, data={"token": token_of(client.get("/room").text), **form})


def fit(where, piece):
    with open_store(where) as store:
        return read_room(store).state(piece).fit


def walk_of(where):
    with open_store(where) as store:
        return open_walk(store)


def counted(where, piece):
    return next(stop.counted for stop in walk_of(where).stops if stop.piece.id == piece)


def test_an_empty_room_is_filled_from_a_trip_once(client, name, where):
    assert "The room is empty" in client.get("/room").text
    page = send(client, "/room/fill", trip=name).text
    assert "trolling weights" in page.lower()
    with open_store(where) as store:
        before = len(read_room(store).pieces)
    assert "0 sorts of gear" in send(client, "/room/fill", trip=name).text
    with open_store(where) as store:
        assert len(read_room(store).pieces) == before > 0


def test_a_walk_is_counted_by_steps_stopped_and_finished(client, gear, where):
    assert send(client, "/room/count", who="Odile").headers["location"] == "/room/count"
    page = client.get("/room/count").text
    assert "Expected 2." in page
    assert "lure roll" in page
    assert "Not counted yet" in page
    walk, lure = walk_of(where).id, gear["lure"]
    for step, number in (("less", 1), ("less", 0), ("less", 0), ("more", 1), ("expected", 2), ("more", 3)):
        page = send(client, "/room/count/one", walk=walk, piece=lure, step=step, number="77").text
        assert counted(where, lure) == number
    assert "Counted 3: 1 more than expected" in page
    assert fit(where, lure) == 2  # nothing changes before the end
    assert "A walk is open: 1 of 3 counted, 1 differ" in client.get("/room").text
    assert send(client, "/room/count").headers["location"] == "/room/count"
    assert walk_of(where).id == walk
    send(client, "/room/count/one", walk=walk, piece=gear["coil"], number="90 m")
    done = send(client, "/room/count/end", walk=walk, ending="finish").text
    assert "2 of 3 counted, 2 of them differed" in done
    assert [fit(where, gear[kind]) for kind in ("lure", "hook", "coil")] == [3, 6, 90_000]


def test_a_walk_goes_on_at_the_kind_that_is_not_counted(client, gear, where):
    send(client, "/room/count")
    send(client, "/room/count/one", walk=walk_of(where).id, piece=gear["lure"], step="expected")
    assert ">Hooks</h2>" in client.get("/room/count").text
    assert ">Lures</h2>" in client.get("/room/count?kind=lure").text
    assert ">Hooks</h2>" in client.get("/room/count?kind=nothing").text


def test_a_walk_that_is_dropped_changes_nothing_and_takes_no_more(client, gear, where):
    send(client, "/room/count")
    walk = walk_of(where).id
    send(client, "/room/count/one", walk=walk, piece=gear["lure"], number="9")
    assert "nothing changed" in send(client, "/room/count/end", walk=walk, ending="drop").text
    assert fit(where, gear["lure"]) == 2
    late = send(client, "/room/count/one", walk=walk, piece=gear["lure"], number="9")
    assert late.status_code == 400
    assert "a walk that is over" in late.text
    assert "No walk is open" in client.get("/room/count").text


@pytest.mark.parametrize("number", ["", "two", "-1", "1.5", "9" * 30, "\u0663"])
def test_a_count_that_is_none_is_refused_in_words(client, gear, where, number):
    send(client, "/room/count")
    answer = send(client, "/room/count/one", walk=walk_of(where).id, piece=gear["lure"], number=number)
    assert answer.status_code == 400
    assert "<dt>Rule</dt>" in answer.text
    assert counted(where, gear["lure"]) is None


def test_a_fault_goes_on_the_work_list_and_is_settled_in_part(client, gear, where):
    hook = gear["hook"]
    page = send(client, "/room/faulty", piece=hook, what="rusted", number="3").text
    assert "3 × 9/0" in page.replace("\u00a0", " ")
    assert fit(where, hook) == 3
    fault = re.search(r'name="fault" value="(\w+)"', page)
    assert fault is not None
    send(client, "/room/settled", fault=fault[1], number="1", settle="repaired")
    assert fit(where, hook) == 4
    page = send(client, "/room/settled", fault=fault[1], settle="retire").text
    assert "Nothing needs work" in page
    assert fit(where, hook) == 4
    assert send(client, "/room/settled", fault=fault[1]).status_code == 400
    assert send(client, "/room/faulty", piece=hook, what=" ", number="1").status_code == 400


def test_a_look_is_written_down(client, gear, where):
    send(client, "/room/looked", piece=gear["lure"])
    with open_store(where) as store:
        assert read_room(store).state(gear["lure"]).last_inspected is not None


@pytest.mark.parametrize("path", ["fill", "count", "count/one", "count/end", "faulty", "settled", "looked"])
def test_nothing_changes_without_the_pages_token_or_with_an_empty_form(client, gear, path):
    assert client.post(f"/room/{path}", data={"piece": gear["lure"]}).status_code == 403
    if path != "count":
        assert send(client, f"/room/{path}").status_code == 400
    assert client.post(f"/room/{path}", data={"token": "x"}, files={"piece": ("a", b"b")}).status_code in (403, 422)


def test_steps_from_several_phones_at_once_add_up(client, gear, where):
    send(client, "/room/count")
    form = {
        "token": token_of(client.get("/room").text),
        "walk": walk_of(where).id,
        "piece": gear["hook"],
        "step": "more",
    }
    with ThreadPoolExecutor(4) as phones:
        answers = [phones.submit(client.post, "/room/count/one", data=form) for _ in range(6)]
        assert {answer.result().status_code for answer in answers} == {200}
    assert counted(where, gear["hook"]) == 12
