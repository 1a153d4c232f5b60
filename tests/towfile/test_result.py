"""The result as JSON: its form and version are told, and what is no result is refused in plain words."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spreadwright.faults import Faults
from spreadwright.towfile.result import (
    Boat,
    MovingEnd,
    MovingLine,
    NotComputed,
    Run,
    SteadyEnd,
    SteadyLine,
    Surroundings,
    TowResult,
    result_from_json,
)

NUMBER = st.floats(allow_nan=False, allow_infinity=False)
SERIES = st.lists(NUMBER, max_size=3).map(tuple)
NAMES = st.text(min_size=1, max_size=5)
POINT = st.tuples(NUMBER, NUMBER, NUMBER)
ENDS = st.builds(
    SteadyEnd, section=NAMES, body=st.none() | NAMES, node=st.integers(0, 9), line_out_m=NUMBER, depth_m=NUMBER,
    astern_m=NUMBER, to_port_m=NUMBER, speed_m_s=NUMBER, circle_radius_m=st.none() | NUMBER, tension_n=NUMBER,
)  # fmt: skip
STEADY = st.builds(
    SteadyLine, name=NAMES, tip_m=POINT, tip_tension_n=NUMBER, tip_angle_rad=NUMBER, tip_side_rad=NUMBER,
    line_in_air_m=st.none() | NUMBER, line_out_m=SERIES, positions_m=st.lists(POINT, max_size=2).map(tuple),
    tension_n=SERIES, ends=st.lists(ENDS, max_size=2).map(tuple),
)  # fmt: skip
MOVING_ENDS = st.builds(
    MovingEnd, section=NAMES, body=st.none() | NAMES, node=st.integers(0, 9), line_out_m=NUMBER, depth_m=SERIES,
    astern_m=SERIES, to_port_m=SERIES, speed_m_s=SERIES, tension_n=SERIES,
)  # fmt: skip
MOVING = st.builds(
    MovingLine, name=NAMES, tip_m=POINT, tip_tension_n=SERIES, tip_angle_rad=SERIES, tip_side_rad=SERIES,
    line_out_m=SERIES, positions_m=st.lists(st.lists(POINT, max_size=2).map(tuple), max_size=2).map(tuple),
    tension_nodes=st.lists(st.integers(0, 9), max_size=2).map(tuple),
    tension_n=st.lists(SERIES, max_size=2).map(tuple), ends=st.lists(MOVING_ENDS, max_size=2).map(tuple),
)  # fmt: skip
RESULTS = st.builds(
    TowResult,
    program=NAMES,
    title=NAMES,
    units=st.sampled_from(["us", "metric"]),
    water=st.builds(
        Surroundings, density_kg_m3=NUMBER, gravity_m_s2=NUMBER, surface=st.booleans(), moves=st.booleans()
    ),
    motion=st.builds(
        Run,
        kind=st.sampled_from(["straight", "circle", "s-turn", "track"]),
        speed_m_s=st.none() | NUMBER,
        radius_m=st.none() | NUMBER,
        duration_s=st.none() | NUMBER,
    ),
    boat=st.none() | st.builds(Boat, times_s=SERIES, x_m=SERIES, y_m=SERIES, heading_rad=SERIES, speed_m_s=SERIES),
    lines=st.lists(STEADY | MOVING, max_size=2).map(tuple),
    failures=st.lists(st.builds(NotComputed, line=NAMES, reason=NAMES, next_step=NAMES), max_size=2).map(tuple),
)
PLAIN = TowResult(
    program="0",
    title="a",
    units="us",
    water=Surroundings(density_kg_m3=1025.0, gravity_m_s2=9.8, surface=True, moves=False),
    motion=Run(kind="straight", speed_m_s=7.0, radius_m=None, duration_s=None),
    boat=None,
    lines=(),
    failures=(),
)


@settings(max_examples=100, deadline=None)
@given(RESULTS)
def test_any_result_is_written_and_read_back_unchanged(result: TowResult) -> None:
    assert result_from_json(result.to_json()) == result


def test_the_json_names_its_form_and_version_first() -> None:
    told = json.loads(PLAIN.to_json())
    assert list(told)[:2] == ["format", "version"]
    assert (told["format"], told["version"]) == ("spreadwright tow", 1)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("", "the result"),
        ("[]", "the result"),
        ("{}", "program"),
        (PLAIN.to_json().replace('"version":1', '"version":2'), "version"),
        (PLAIN.to_json().replace("spreadwright tow", "something else"), "format"),
        (PLAIN.to_json().replace('"lines":[]', '"lines":[{"kind":"steady"}]'), "lines.0"),
        (PLAIN.to_json()[:-1] + ',"colour":1}', "colour"),
    ],
)
def test_what_is_no_result_is_refused_in_plain_words(text: str, place: str) -> None:
    with pytest.raises(Faults) as caught:
        result_from_json(text)
    assert any(fault.place.startswith(place) for fault in caught.value)
    assert all("version 1" in fault.rule and fault.next_step for fault in caught.value)


def test_nothing_in_a_result_can_be_changed() -> None:
    with pytest.raises(ValueError, match="frozen"):
        PLAIN.title = "b"  # type: ignore[misc]
