"""Boats with their crews, and how many spares to carry: what `spreadwright room boat` and `room spares` show."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Form, Query, Request
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Faults
from spreadwright.quantity import System, show
from spreadwright.stock.costs import unit_costs
from spreadwright.stock.spares import SpareNeed, spare_needs
from spreadwright.stock.tradeoff import CurvePoint, curve, kind_curve
from spreadwright.store.open import open_store
from spreadwright.store.room import read_room
from spreadwright.store.room_boats import add_boat, every_boat, find_boat, sign_on
from spreadwright.store.room_losses import learnt_rates, seen_losses
from spreadwright.web.page_making import page
from spreadwright.web.shared import Asker, ThisServer, by_form, units_for
from spreadwright.web.tables import Row, Table

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
SHOWN_POINTS = 12  # of the curve over all kinds


@router.get("/room/boats")
def boats(request: Request, parts: ThisServer) -> Response:
    """All boats of this store with their crews."""
    with open_store(parts.settings.store) as store:
        return page(request, "boats.html", here="/room", boats=every_boat(store))


@router.post("/room/boats", dependencies=FORM)
def new_boat(parts: ThisServer, name: Text = "") -> RedirectResponse:
    """Add a boat."""
    with open_store(parts.settings.store) as store:
        add_boat(store, name)
    return RedirectResponse("/room/boats", 303)


@router.post("/room/boats/crew", dependencies=FORM)
def new_hand(parts: ThisServer, boat: Text = "", name: Text = "", duty: Text = "") -> RedirectResponse:
    """Put somebody on a boat's crew."""
    with open_store(parts.settings.store) as store:
        sign_on(store, find_boat(store, boat), name, duty[:80])
    return RedirectResponse("/room/boats", 303)


@router.get("/room/spares")
def spares(
    request: Request, parts: ThisServer, asker: Asker,
    lines: Annotated[int, Query(ge=1, le=20)] = 6,
    hours: Annotated[float, Query(ge=0.1, le=1000.0, allow_inf_nan=False)] = 8.0,
    chance: Annotated[float, Query(ge=1.0, le=99.99, allow_inf_nan=False)] = 95.0,
    boat: Annotated[str, Query(max_length=80)] = "",
) -> Response:  # fmt: skip
    """The fewest spares of each kind that last with a chance, and what more would buy. chance in percent."""
    with open_store(parts.settings.store) as store:
        every = every_boat(store)
        own = next((each for each in every if each.id == boat), None)
        needs = spare_needs(lines * hours, learnt_rates(store, own.name if own else None), chance / 100.0)
        logged = max((each.line_hours for each in seen_losses(store, own.name if own else None)), default=0.0)
        room = read_room(store).of(own.id if own else None)
    kinds, curves, unknown = [need.kind for need in needs], [], []
    for by in ("weight", "price"):
        try:
            points = curve(needs, unit_costs(room, kinds, by))
        except Faults as faults:
            unknown.append((by, ", ".join(each.place for each in faults)))
        else:
            curves.append(_curve_table(points, by, units_for(asker)))
    return page(
        request, "spares.html", here="/room", table_of=_needs_table(needs, chance), curves=curves, unknown=unknown,
        logged=logged, asked={"lines": lines, "hours": hours, "chance": chance, "boat": boat}, boats=every,
    )  # fmt: skip


def _needs_table(needs: tuple[SpareNeed, ...] | list[SpareNeed], chance: float) -> Table:
    rows = tuple(
        Row(need.kind, (
            str(need.spares), f"{need.expected:.1f} ({need.low:.1f} to {need.high:.1f})",
            ", ".join(f"{number}: {100.0 * lasts:.0f} %" for number, lasts in _about(need)),
        )) for need in needs
    )  # fmt: skip
    heads = ("Kind", "Spares", "Losses to expect", "Chance that so many last")
    return Table(f"Fewest spares that last with a chance of {chance:g} %", heads, rows, wordy=True)


def _about(need: SpareNeed) -> list[tuple[int, float]]:
    """The chances of one spare fewer, of those advised, and of two more."""
    return [(number, lasts) for number, lasts in kind_curve(need) if -1 <= number - need.spares <= 2]


def _curve_table(points: tuple[CurvePoint, ...], by: str, system: System) -> Table:
    rows = []
    for point in points[:: max(1, len(points) // SHOWN_POINTS)]:
        cost = show(point.cost, "mass", system, figures=2) if by == "weight" else f"{point.cost:.2f}"
        carried = ", ".join(f"{number} {kind}" for kind, number in point.spares.items() if number)
        rows.append(Row(f"{100.0 * point.chance:.1f} %", (cost, carried or "no spares")))
    heads = ("Chance at least", "They weigh" if by == "weight" else "They cost", "Spares")
    return Table(f"All kinds together, by {by}", heads, tuple(rows), wordy=True)
