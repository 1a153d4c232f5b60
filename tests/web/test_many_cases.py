"""The JSON interface under requests of every kind: whatever is sent, it is answered, and never with a fault of ours.

A few cases an operation in every run, always the same; SPREADWRIGHT_CASES=700 asks for ten thousand in all.
"""

from __future__ import annotations

import os
from collections import Counter
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import content_type_conformance, response_schema_conformance
from starlette.testclient import TestClient
from tests.plan.trips import BLUE, RED, trip_text
from tests.web.conftest import HERE, PORT, token_of

from spreadwright.faults import Fault, Faults
from spreadwright.plan.rig_answer import RigAnswers
from spreadwright.web import shared, study_pages
from spreadwright.web.app import make_app
from spreadwright.web.settings import Settings, own_hosts
from spreadwright.web.tables import Table

CASES = int(os.environ.get("SPREADWRIGHT_CASES", "12"))
SHOWN = study_pages.StudyShown(sentences=("One case.",), picture="<svg/>", table=Table("none", (), ()))
STUDY = study_pages.StudyKept(us=SHOWN, metric=SHOWN, counted=(), csv="case\n")
RIGS = RigAnswers(title="none", units="us", speed=7.0, rigs=(), notice="")


def nothing_found(*asked):
    """Readings whose lines find no shape."""
    raise Faults([Fault("the readings", "no steady shape", "every line finds one", "check them")])


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """A server whose long work takes no time: it is the interface that is asked here, not the physics."""
    folder = tmp_path_factory.mktemp("served")
    trip = folder / "trip.toml"
    trip.write_text(trip_text(rods=(RED, BLUE)), encoding="utf-8")
    app = make_app(Settings(hosts=own_hosts(PORT) | {"testserver"}, folder=folder / "kept", trips=(trip,)))
    patch = pytest.MonkeyPatch()
    patch.setattr(shared, "start_plan", lambda parts, kept: parts.jobs.start(f"plan {kept.name}", lambda tell: None))
    patch.setattr(shared, "rig_answers", lambda *asked: RIGS)
    patch.setattr("spreadwright.web.api.start_plan", shared.start_plan)
    patch.setattr(study_pages, "_made", lambda *asked: None)
    patch.setattr(study_pages, "_shown_both", lambda made: STUDY)
    patch.setattr("spreadwright.web.measure_pages.calibrate", nothing_found)
    with TestClient(app, base_url=HERE) as client:
        token = token_of(client.get("/").text)
        yield app, client.cookies["spreadwright"], token
    patch.undo()


FEW = settings(
    max_examples=CASES, derandomize=True, deadline=None, database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)  # fmt: skip
CHECKS = [not_a_server_error, content_type_conformance, response_schema_conformance]


def test_every_request_is_answered(server):
    app, cookie, token = server
    described = schemathesis.openapi.from_asgi("/api/openapi.json", app)
    name = app.state.parts.kept.all()[0].name
    asked: Counter[int] = Counter()

    def ask(case: Any) -> None:
        # The trip that there is, three times in four; a name made up stays for the rest.
        if "trip" in (case.path_parameters or {}) and sum(asked.values()) % 4:
            case.path_parameters["trip"] = name
        case.headers["x-spreadwright-token"] = token
        response = case.call(headers={"cookie": f"spreadwright={cookie}"})
        asked[response.status_code] += 1
        case.validate_response(response, checks=CHECKS)

    operations: Any = described.get_all_operations()
    for operation in operations:
        FEW(given(case=operation.ok().as_strategy())(ask))()
    print(f"{sum(asked.values())} cases: {dict(asked)}")  # noqa: T201 (seen with -s)
    assert max(asked) < 500
    assert asked[200] > 0
    assert asked[404] > 0
