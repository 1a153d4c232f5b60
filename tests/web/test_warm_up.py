"""A server that starts has read its templates and opened its store before the first page is asked for."""

from __future__ import annotations

from pathlib import Path

from spreadwright.store.open import open_store
from spreadwright.store.room import read_room
from spreadwright.web import page_making
from spreadwright.web.warm_up import warm_up


def test_templates_and_store_are_ready_and_nothing_is_changed(app, monkeypatch):
    fresh = page_making._pages.overlay()
    monkeypatch.setattr(page_making, "_pages", fresh)
    assert not Path(app.state.parts.settings.store).exists()
    warm_up(app.state.parts)
    assert fresh.cache is not None
    assert len(fresh.cache) == len(fresh.list_templates()) > 20
    assert Path(app.state.parts.settings.store).exists()
    with open_store(app.state.parts.settings.store) as store:
        assert read_room(store).pieces == ()
