"""Forms of the house filled with what nobody should send: always an answer in words, never a fault of the server."""

from __future__ import annotations

import pytest
from tests.store.rooms import HOOK, put
from tests.web.conftest import token_of

from spreadwright.store.open import open_store
from spreadwright.store.room_walk import begin_walk

STRANGE = ("\0", "x" * 5000, "9" * 400, "1e999 ft", "\u202e\ud7ff", "../../etc")
FORMS = {
    "/room/fill": ("trip",), "/room/count": ("who",), "/room/count/one": ("walk", "piece", "number", "step"),
    "/room/count/end": ("walk", "ending"), "/room/faulty": ("piece", "what", "number"),
    "/room/settled": ("fault", "number", "settle"), "/room/looked": ("piece",), "/log/undo": ("of",),
    "/room/piece/{piece}": ("what", "number", "why", "price", "hours", "who", "note"),
    "/room/piece/{piece}/make": ("number", "takes", "amounts", "who"), "/room/stocktake": ("boat", "who"),
    "/room/restore": ("chosen", "sure"), "/room/boats": ("name",), "/room/boats/crew": ("boat", "name", "duty"),
    "/log": ("trip", "zone"), "/log/tracks/tow": ("trip",), "/log/uses": ("trip",), "/tow": ("text",),
    "/trips/{name}/measure/add": ("rod", "mark", "lure", "speed", "pull"), "/trips/{name}/measure/text": ("text",),
    "/trips/{name}/study": ("speeds", "radii", "seas", "waves_from", "seed", "hulls", "boats"),
    "/trips/{name}/day": ("text",), "/trips/{name}/plan": ("samples", "seed", "lost", "out"),
    "/log/entry": ("kind", "rod", "at", "trip", "planned", "mark", "weight", "lure", "took", "outcome", "species",
                   "length", "mass", "note"),
}  # fmt: skip


@pytest.mark.parametrize("path", FORMS)
def test_whatever_is_sent_is_answered_in_words(client, app, name, path):
    with open_store(app.state.parts.settings.store) as store:
        piece = put(store, "hook", HOOK, 6)
        walk = begin_walk(store).id
    sound = {"token": token_of(client.get("/").text), "walk": walk, "piece": piece.id, "number": "2", "trip": name,
             "kind": "line_out", "rod": "red", "mark": "100 ft", "what": "dull", "ending": "finish",
             "speed": "12 kn"}  # fmt: skip
    address = path.format(piece=piece.id, name=name)
    for field in FORMS[path]:
        for value in STRANGE:
            answer = client.post(address, data={**sound, field: value})
            assert answer.status_code in (200, 303, 400, 404), (field, value, answer.status_code)
            assert answer.status_code == 303 or "<h1>" in answer.text


@pytest.mark.parametrize("field", ["done", "was", "take_in", "made"])
def test_strange_ticks_are_answered_in_words(client, app, name, plan, field):
    app.state.parts.kept.put_plan(app.state.parts.kept.get(name), plan)
    token = token_of(client.get("/").text)
    for value in STRANGE:
        answer = client.post(f"/trips/{name}/lists", data={"token": token, field: value})
        assert answer.status_code in (303, 400), (value, answer.status_code)
