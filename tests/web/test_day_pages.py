"""The page of the day, from the file beside the trip file."""

from __future__ import annotations

from pathlib import Path

from tests.web.conftest import token_of


def test_the_day_comes_from_the_file_beside_the_trip(client, name, trip_file):
    assert "no day file" in client.get(f"/trips/{name}/day").text
    demo = Path(__file__).parents[2] / "examples" / "demo"
    trip_file.write_text((demo / "trip.toml").read_text(encoding="utf-8"), encoding="utf-8")
    trip_file.with_name("day.toml").write_text((demo / "day.toml").read_text(encoding="utf-8"), encoding="utf-8")
    token = token_of(client.get("/").text)
    fresh = client.post(f"/trips/{name}/again", data={"token": token}).headers["location"]
    assert 'class="report"' in client.get(f"{fresh}/day").text
