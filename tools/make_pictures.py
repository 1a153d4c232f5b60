"""Draw the pictures that the README shows, from the demo's real plan."""

from __future__ import annotations

from pathlib import Path

from spreadwright.plan.build import make_plan
from spreadwright.sheets.drawing import spread_drawing
from spreadwright.tackle import read_trip

ROOT = Path(__file__).resolve().parent.parent


def main() -> None:
    plan = make_plan(read_trip(ROOT / "examples" / "demo" / "trip.toml"))
    (ROOT / "docs" / "pictures").mkdir(exist_ok=True)
    (ROOT / "docs" / "pictures" / "demo-spread.svg").write_text(spread_drawing(plan), encoding="utf-8")


if __name__ == "__main__":
    main()
