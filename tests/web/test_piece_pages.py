"""The page of one piece: photos by their content, what happens to it, and making it up in one go."""

from __future__ import annotations

import re

import pytest
from tests.web.houses import fit, furnished, png, send

from spreadwright.store.open import open_store
from spreadwright.store.room import history_of, read_room
from spreadwright.store.room_photos import LARGEST, photos_of
from spreadwright.web.piece_pages import MOST_PHOTOS

NOBODY = "0" * 32


@pytest.fixture
def where(app):
    return app.state.parts.settings.store


@pytest.fixture
def gear(where):
    return furnished(where)


def photos(where, piece):
    with open_store(where) as store:
        return photos_of(store, piece)


def test_the_room_leads_to_every_piece(client, gear):
    page = client.get("/room").text
    for piece in gear.values():
        assert f'href="/room/piece/{piece}"' in page
        assert client.get(f"/room/piece/{piece}").status_code == 200
    assert client.get(f"/room/piece/{NOBODY}").status_code == 404
    assert client.get("/room/piece/nothing").status_code == 422


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (png(), "image/png"),
        (b"\xff\xd8\xff\xe0" + b"x" * 90, "image/jpeg"),
        (b"RIFF\0\0\0\0WEBPVP8 " + b"x" * 90, "image/webp"),
    ],
)
def test_a_photo_is_kept_shown_and_removed_by_what_it_is(client, gear, where, content, kind):
    lure = gear["lure"]
    sent = {"file": ("../../evil.html", content, "text/html")}
    answer = send(client, "/room/photo", sent, piece=lure, note="the new skirt")
    assert answer.headers["location"] == f"/room/piece/{lure}#photos"
    page = client.get(f"/room/piece/{lure}").text
    (kept,) = photos(where, lure)
    assert f'<img src="/room/photo/{kept.id}"' in page
    assert "the new skirt" in page
    shown = client.get(f"/room/photo/{kept.id}")
    assert shown.content == content
    assert shown.headers["content-type"] == kind
    assert shown.headers["x-content-type-options"] == "nosniff"
    page = send(client, f"/room/piece/{lure}/photo/{kept.id}/remove").text
    assert "No photo yet" in page
    assert client.get(f"/room/photo/{kept.id}").status_code == 404
    assert send(client, f"/room/piece/{lure}/photo/{kept.id}/remove").status_code == 400


@pytest.mark.parametrize(
    "content", [b"", b"GIF89a" + b"x" * 90, b"<svg xmlns='http://www.w3.org/2000/svg'/>" * 9, b"\xff\xd8\xff"]
)
def test_what_is_no_photo_is_refused_in_words(client, gear, where, content):
    answer = send(client, "/room/photo", {"file": ("a.jpg", content, "image/jpeg")}, piece=gear["lure"])
    assert answer.status_code == 400
    assert "<dt>Rule</dt>" in answer.text
    assert photos(where, gear["lure"]) == ()


def test_a_photo_has_a_largest_size_and_a_piece_a_largest_number(client, gear, where, monkeypatch):
    picture = b"\xff\xd8\xff\xe0" + b"x" * (LARGEST - 4)
    assert send(client, "/room/photo", {"file": ("a", picture)}, piece=gear["lure"]).status_code == 303
    over = send(client, "/room/photo", {"file": ("a", picture + b"x")}, piece=gear["lure"])
    assert over.status_code == 400
    assert "8 MB" in over.text
    assert send(client, "/room/photo", {"file": ("a", picture + b"x" * 2_000_000)}, piece="x").status_code == 413
    monkeypatch.setattr("spreadwright.web.piece_pages.MOST_PHOTOS", 1)
    assert send(client, "/room/photo", {"file": ("a", png())}, piece=gear["lure"]).status_code == 400
    assert len(photos(where, gear["lure"])) == 1 < MOST_PHOTOS


def test_a_photo_of_another_piece_is_not_removed_through_this_one(client, gear, where):
    send(client, "/room/photo", {"file": ("a", png())}, piece=gear["lure"])
    (kept,) = photos(where, gear["lure"])
    assert send(client, f"/room/piece/{gear['hook']}/photo/{kept.id}/remove").status_code == 400
    assert len(photos(where, gear["lure"])) == 1


def test_what_happens_is_written_into_the_history(client, gear, where):
    address = f"/room/piece/{gear['hook']}"
    send(client, address, what="use", number="2", why="bitten off", who="Odile")
    send(client, address, what="buy", number="10", price="1.25")
    send(client, address, what="fault", number="3", why="dull")
    send(client, address, what="retire", number="1", why="bent")
    send(client, address, what="trolled", hours="6.5")
    send(client, address, what="look")
    page = send(client, address, what="move", why="blue box").text
    assert fit(where, gear["hook"]) == 6 - 2 + 10 - 3 - 1
    with open_store(where) as store:
        kinds = [line.event.kind for line in history_of(store, gear["hook"])]
        assert read_room(store).state(gear["hook"]).place == "blue box"
    assert kinds[-7:] == ["use", "buy", "fault", "retire", "trolled", "inspect", "moved"]
    for words in ("bitten off", "Odile", "1.25 each", "6.5 h", "Lies in blue box", "3 dull"):
        assert words in page
    assert len(re.findall("<tr", page)) == len(kinds) + 1


@pytest.mark.parametrize(
    "form",
    [
        {"what": "count", "number": "9"},
        {"what": "use", "number": "7"},
        {"what": "use", "number": "two"},
        {"what": "buy", "number": "1", "price": "NaN"},
        {"what": "buy", "number": "1", "price": "dear"},
        {"what": "trolled", "hours": "inf"},
        {"what": "trolled", "hours": "long"},
        {"what": "move", "why": "\u200b"},
    ],
)
def test_what_cannot_have_happened_changes_nothing(client, gear, where, form):
    with open_store(where) as store:
        before = history_of(store, gear["hook"])
    answer = send(client, f"/room/piece/{gear['hook']}", **form)
    assert answer.status_code == 400
    assert "<dt>Next</dt>" in answer.text
    with open_store(where) as store:
        assert history_of(store, gear["hook"]) == before


def test_making_up_takes_its_parts_in_one_go_or_not_at_all(client, gear, where):
    address = f"/room/piece/{gear['shock leader']}/make"
    parts = [gear["coil"], gear["crimp"], "", ""]
    page = send(client, address, number="3", takes=parts, amounts=["30 m", "6", "", ""]).text
    assert "3 made up; 2 sorts of parts taken" in page
    assert [fit(where, gear[kind]) for kind in ("shock leader", "coil", "crimp")] == [5, 70_000, 14]
    short = send(client, address, number="3", takes=parts, amounts=["20 m", "15", "", ""])
    assert short.status_code == 400
    assert [fit(where, gear[kind]) for kind in ("shock leader", "coil", "crimp")] == [5, 70_000, 14]
    assert send(client, address, number="1", takes=[gear["coil"]], amounts=["20"]).status_code == 400
    assert send(client, address, number="1", takes=["nothing"], amounts=["20"]).status_code == 400
    assert send(client, address, number="1", takes=[gear["coil"]]).status_code == 400
    assert [fit(where, gear[kind]) for kind in ("shock leader", "coil", "crimp")] == [5, 70_000, 14]


@pytest.mark.parametrize("path", ["photo", "piece/{hook}", "piece/{hook}/make", "piece/{hook}/photo/{hook}/remove"])
def test_nothing_happens_without_the_pages_token(client, gear, path):
    assert client.post(f"/room/{path.format(**gear)}", data={"what": "look"}).status_code == 403
