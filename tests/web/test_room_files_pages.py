"""The room in and out: spreadsheet and whole store, all or nothing with every mistake told; copies, boats, spares."""

from __future__ import annotations

import json

import pytest
from tests.store.rooms import full_room
from tests.web.houses import fit, furnished, png, send

from spreadwright.store.archive import take_out
from spreadwright.store.open import open_store
from spreadwright.store.place import place_of
from spreadwright.store.restore import copies
from spreadwright.store.room import read_room
from spreadwright.store.room_boats import every_boat


@pytest.fixture
def where(app):
    return app.state.parts.settings.store


def sheet_of(client):
    return client.get("/room/stocktake.csv").content.decode("utf-8-sig")


def sent(text, name="../x.csv"):
    return {"file": (name, text if isinstance(text, bytes) else text.encode(), "text/csv")}


def test_a_stocktake_goes_out_and_comes_back_with_its_changes(client, where):
    gear = furnished(where)
    answer = client.get("/room/stocktake.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    assert "attachment" in answer.headers["content-disposition"]
    text = sheet_of(client)
    assert "0 counts that differed" in send(client, "/room/stocktake", sent(text)).text
    rows = text.splitlines()
    at = next(i for i, row in enumerate(rows) if row.startswith("hook,"))
    rows[at] = rows[at].replace("hook,9/0,6,", "hook,9/0,11,")
    more = "snap swivel,new swivel,4" + "," * (rows[0].count(",") - 2)
    refused = send(client, "/room/stocktake", sent("\r\n".join([*rows, more])), who="Odile")
    assert refused.status_code == 400
    assert f"row {len(rows) + 1}, strength" in refused.text  # a swivel says how strong it is
    assert fit(where, gear["hook"]) == 6
    page = send(client, "/room/stocktake", sent("\r\n".join(rows)), who="Odile").text
    assert "1 counts that differed" in page
    assert fit(where, gear["hook"]) == 11


def test_every_mistake_of_a_stocktake_is_told_with_its_place_and_nothing_changes(client, where):
    gear = furnished(where)
    text = "kind,name,count\nhook,9/0,many\nlure,jet,-3\nanchor,big,1\n"
    answer = send(client, "/room/stocktake", sent(text))
    assert answer.status_code == 400
    assert "things are wrong" in answer.text
    for place in ("row 2", "row 3", "row 4"):
        assert place in answer.text
    assert fit(where, gear["hook"]) == 6
    assert send(client, "/room/stocktake", sent(b"\xff\xfe\0k")).status_code == 400
    assert send(client, "/room/stocktake").status_code == 400


def test_the_whole_store_goes_out_and_into_an_empty_one(client, app, where, tmp_path):
    with open_store(where) as store:
        full_room(store)
        piece = read_room(store).pieces[0].id
    send(client, "/room/photo", {"file": ("a", png())}, piece=piece)
    whole = client.get("/room/archive.json")
    assert json.loads(whole.content)["format"] == "spreadwright archive"
    full = send(client, "/room/archive", sent(whole.content))
    assert full.status_code == 400
    assert "empty store" in full.text
    with open_store(where) as store:
        before = take_out(store)
    object.__setattr__(app.state.parts.settings, "store", str(tmp_path / "other.sqlite"))
    broken = json.loads(whole.content)
    broken["tables"]["pieces"][0]["kind"] = 7
    broken["tables"]["events"][1]["quantity"] = "many"
    answer = send(client, "/room/archive", sent(json.dumps(broken)))
    assert answer.status_code == 400
    assert "2 things are wrong" in answer.text
    assert "pieces[1], kind" in answer.text
    assert "events[2], quantity" in answer.text
    with open_store(str(tmp_path / "other.sqlite")) as store:
        assert read_room(store).pieces == ()
    assert "rows taken in" in send(client, "/room/archive", sent(whole.content)).text
    with open_store(str(tmp_path / "other.sqlite")) as store:
        assert take_out(store) == before
    assert send(client, "/room/archive", sent(b"\xff{")).status_code == 400


def test_a_copy_is_brought_back_on_the_captains_word_only(client, where):
    from spreadwright.store.backup import back_up

    gear = furnished(where)
    file = place_of(where).file
    assert file is not None
    back_up(file, "before-the-storm")
    send(client, f"/room/piece/{gear['hook']}", what="use", number="4")
    assert "before-the-storm" in client.get("/room/files").text
    assert send(client, "/room/restore", chosen="before-the-storm").status_code == 400
    assert send(client, "/room/restore", chosen="../../etc/passwd", sure="yes").status_code == 400
    assert fit(where, gear["hook"]) == 2
    page = send(client, "/room/restore", chosen="before-the-storm", sure="yes").text
    assert "stands as in before-the-storm" in page
    assert fit(where, gear["hook"]) == 6
    assert any(each.name.startswith("replaced-") for each in copies(place_of(where)))


def test_boats_get_crews_and_their_own_stocktake(client, where):
    furnished(where)
    assert send(client, "/room/boats", name="Marten").status_code == 303
    assert send(client, "/room/boats", name="marten").status_code == 400
    with open_store(where) as store:
        (boat,) = every_boat(store)
    assert send(client, "/room/boats/crew", boat=boat.id, name="Odile", duty="mate").status_code == 303
    assert "Odile, mate" in client.get("/room/boats").text
    sheet = sheet_of(client).replace("hook,9/0,6,", "hook,9/0,2,")
    page = send(client, "/room/stocktake", sent(sheet), boat=boat.id).text
    assert "5 new pieces or lots" in page
    with open_store(where) as store:
        assert sum(piece.boat == boat.id for piece in read_room(store).pieces) == 5
    assert client.get(f"/room/stocktake.csv?boat={boat.id}").text.count("hook,9/0") == 2
    assert client.get("/room/stocktake.csv?boat=nobody").status_code == 400


def test_spares_are_counted_for_hours_lines_and_chance(client, where):
    furnished(where)
    page = client.get("/room/spares?lines=6&hours=8&chance=95").text
    assert "48 line-hours" in page
    assert "All kinds together, by weight" not in page  # no trolling weight is in this room
    with open_store(where) as store:
        assert {piece.kind for piece in read_room(store).pieces} >= {"lure", "shock leader"}
    few, many = (client.get(f"/room/spares?hours=8&chance={chance}").text for chance in (50, 99))
    assert few != many
    for wrong in ("lines=0", "hours=nan", "chance=100", "hours=1e9"):
        assert client.get(f"/room/spares?{wrong}").status_code == 422


def test_the_room_as_it_stood_on_a_day_before(client, where):
    furnished(where)
    assert "<td>6</td>" not in client.get("/room?day=2001-02-03").text
    for day in ("9999-12-31", "2100-01-01"):
        assert "<td>6</td>" in client.get(f"/room?day={day}").text
        page = client.get(f"/room?day={day}").text
        assert "As it stood at the end of" in page
        assert "Begin a counting walk" not in page
    assert client.get("/room?day=yesterday").status_code == 422


@pytest.mark.parametrize("path", ["stocktake", "archive", "restore", "boats", "boats/crew"])
def test_nothing_changes_without_the_pages_token(client, path):
    assert client.post(f"/room/{path}", data={"name": "x"}).status_code == 403
