"""What the first pages of a fresh server would else wait for, done while it starts: templates, the store, the lists.

A library's first use costs more than all later ones: the store's statements are put into words, models of pieces are
built, templates are read. Nothing is kept of it and nothing is changed; what goes wrong is told by the page itself.
"""

from __future__ import annotations

from contextlib import suppress

from spreadwright.faults import Faults
from spreadwright.store.open import open_store
from spreadwright.store.room import read_room
from spreadwright.web.lists_pages import lists_as_they_stand
from spreadwright.web.page_making import make_templates
from spreadwright.web.shared import Parts


def warm_up(parts: Parts) -> None:
    """Do once what every first page needs."""
    make_templates()
    with suppress(Faults), open_store(parts.settings.store) as store:
        read_room(store)
        for kept in parts.kept.all()[:1]:
            if kept.plan is not None:
                lists_as_they_stand(store, kept, kept.plan, kept.trip.units)
