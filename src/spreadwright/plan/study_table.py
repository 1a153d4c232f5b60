"""A study as a table: one row a rod and case, in SI units, as CSV (standard library) or Parquet (pyarrow, optional)."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from spreadwright.faults import Fault, Faults
from spreadwright.plan.study import Study

COLUMNS: tuple[tuple[str, type], ...] = (
    ("case", int), ("boat", str), ("speed [m/s]", float), ("radius [m]", float), ("wave height [m]", float),
    ("wave period [s]", float), ("waves from [rad]", float), ("seed", int), ("boat motion", bool),
    ("smallest gap [m]", float), ("first of the nearest pair", str), ("second of the nearest pair", str),
    ("wraps", int), ("tangle", bool), ("problem", str),
    ("rod", str), ("station", str), ("mark [m]", float), ("weight", str), ("lure", str),
    ("lure depth, straight and calm [m]", float), ("least lure depth [m]", float), ("greatest lure depth [m]", float),
    ("pull, straight and calm [N]", float), ("least pull [N]", float), ("greatest pull [N]", float),
    ("least lure speed [m/s]", float), ("greatest lure speed [m/s]", float), ("nearest rod", str),
    ("gap to nearest rod [m]", float),
)  # fmt: skip
ENDINGS = (".csv", ".parquet")


def rows(study: Study) -> Iterator[tuple[Any, ...]]:
    """Every row; a number that could not be computed is NaN. Cases count from 1."""
    for at, (case, out) in enumerate(zip(study.cases, study.outcomes, strict=True), start=1):
        calm = case.sea.calm
        head = (
            at, case.spread.boat, case.speed, case.radius, case.sea.height, math.nan if calm else case.sea.period,
            math.nan if calm else case.waves_from, case.seed, case.spread.hull is not None and not calm,
            out.gap, out.first, out.second, out.wraps, out.tangle, out.problem,
        )  # fmt: skip
        for fished, rod in zip(case.spread.fished, out.rods, strict=True):
            yield (
                *head, fished.rod, fished.station, fished.mark, fished.weight, fished.lure, rod.depth, rod.depth_least,
                rod.depth_greatest, rod.pull, rod.pull_least, rod.pull_greatest, rod.lure_speed_least,
                rod.lure_speed_greatest, rod.nearest, rod.gap,
            )  # fmt: skip


def as_csv(study: Study) -> str:
    """The table as CSV (RFC 4180): numbers with all their digits, an empty cell where there is none."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(name for name, _ in COLUMNS)
    for row in rows(study):
        writer.writerow([_cell(value) for value in row])
    return text.getvalue()


def _cell(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return "" if math.isnan(value) else repr(value)
    return str(value)


def check_table_place(path: Path) -> None:
    """Raises Faults where a table cannot be written under that name, before hours are spent on it."""
    if path.suffix.lower() not in ENDINGS:
        rule, step = "a table ends in .csv or .parquet", f"name it {path.stem or 'study'}.csv"
        raise Faults([Fault("-o", str(path), rule, step)])
    if path.suffix.lower() == ".parquet":
        try:
            import pyarrow  # noqa: F401
        except ImportError:
            rule = "Parquet needs the optional extra 'cluster' (pyarrow)"
            step = f"install spreadwright[cluster], or name it {path.stem}.csv"
            raise Faults([Fault("-o", str(path), rule, step)]) from None
    if not path.absolute().parent.is_dir():
        raise Faults([Fault("-o", str(path), "its folder must be there", "make the folder, or name another")])


def write_table(study: Study, path: Path) -> None:
    """Write the table as the name's ending says. Raises OSError where that cannot be done."""
    if path.suffix.lower() == ".csv":
        path.write_text(as_csv(study), encoding="utf-8", newline="")
        return
    import pyarrow as pa
    from pyarrow import parquet

    kinds = {int: pa.int64(), float: pa.float64(), str: pa.string(), bool: pa.bool_()}
    every = list(rows(study))
    columns = []
    for i, (_, kind) in enumerate(COLUMNS):
        values = [None if kind is float and math.isnan(row[i]) else row[i] for row in every]
        columns.append(pa.array(values, type=kinds[kind]))
    table = pa.table(columns, names=[name for name, _ in COLUMNS])
    parquet.write_table(table, path)
