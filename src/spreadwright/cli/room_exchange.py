"""`spreadwright room spares, boat, photo, export, import`: spares to carry, boats, photos, all of it in and out."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Any

import typer

from spreadwright.cli.room_shared import AsJson, OfBoat, OfKind, StoreAt, opened, put, room_of
from spreadwright.cli.room_words import curve_words
from spreadwright.cli.running import AT_FAULT, put_file


def spares(
    lines: Annotated[int, typer.Option(help="Lines trolled at once.", min=1, max=20)] = 6,
    hours: Annotated[float, typer.Option(help="Hours trolled on the whole trip.", min=0.1, max=1000.0)] = 8.0,
    chance: Annotated[float, typer.Option(help="Chance of not running out.", min=0.01, max=0.9999)] = 0.95,
    by: Annotated[
        str, typer.Option("--by", metavar="price|weight", help="Also the curve over all kinds.", show_default=False)
    ] = "",
    boat: OfBoat = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """How many spares of each kind to carry: the fewest that last with the chance asked for, and what more would buy.

    Loss rates come from the log of this store, with a stated guess where there is no log yet.
    """
    with opened(where, as_json) as store:
        from spreadwright.logbook.rate_words import percent
        from spreadwright.stock.spares import spare_needs
        from spreadwright.stock.tradeoff import kind_curve
        from spreadwright.store.room_losses import learnt_rates, seen_losses

        needs = spare_needs(lines * hours, learnt_rates(store, boat or None), chance)
        logged = max((seen.line_hours for seen in seen_losses(store, boat or None)), default=0.0)
        rows: list[dict[str, Any]] = []
        told = [
            f"{lines * hours:.0f} line-hours; the log has {logged:.0f}. Fewest spares for a {100 * chance:g} % chance:"
        ]
        for need in needs:
            curve = kind_curve(need)
            rows.append(
                {"kind": need.kind, "spares": need.spares, "lasts": need.lasts, "expected": need.expected,
                 "low": need.low, "high": need.high, "causes": dict(need.causes), "curve": [list(p) for p in curve]}
            )  # fmt: skip
            steps = ", ".join(f"{number}: {percent(lasts)}" for number, lasts in _until_nearly_sure(curve)[:12])
            losses = f"{need.expected:.1f} losses expected ({need.low:.1f} to {need.high:.1f})"
            told.append(f"{need.spares:>4}  {need.kind}: {losses}\n      chance by spares: {steps}")
        value = {"line_hours": lines * hours, "logged": logged, "chance": chance, "spares": rows}
        if by:
            from spreadwright.stock.costs import unit_costs
            from spreadwright.stock.tradeoff import curve as joint_curve

            points = joint_curve(needs, unit_costs(room_of(store, boat), [need.kind for need in needs], by))
            value["by"] = by
            value["curve"] = [{"cost": p.cost, "chance": p.chance, "spares": dict(p.spares)} for p in points]
            told.append(f"All kinds together, by {by} (chance at least, kinds are lost together):")
            told += [curve_words(point, by) for point in points[:: max(1, len(points) // 12)]]
        put(as_json, value, "\n".join(told))


def _until_nearly_sure(curve: Sequence[tuple[int, float]]) -> Sequence[tuple[int, float]]:
    """The curve up to its first chance of over 99 %: what follows reads the same."""
    return [point for i, point in enumerate(curve) if i == 0 or curve[i - 1][1] <= 0.99]


def boat(
    name: Annotated[str, typer.Argument(help="The boat; without it all boats are listed.")] = "",
    crew: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="Somebody who fishes from it; may be given again.")
    ] = None,
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Add a boat, or somebody to its crew; without a name, list all boats with their crews."""
    with opened(where, as_json, begin=bool(name)) as store:
        from spreadwright.store.room_boats import add_boat, every_boat, sign_on

        if name:
            known = [each for each in every_boat(store) if each.name.casefold() == name.strip().casefold()]
            mine = known[0] if known else add_boat(store, name)
            for person in crew or ():
                sign_on(store, mine, person)
        every = every_boat(store)
        rows = [{"id": b.id, "name": b.name, "crew": [{"name": c.name, "duty": c.duty} for c in b.crew]} for b in every]
        words = [f"{b.name}: {', '.join(c.name for c in b.crew) or 'no crew yet'}" for b in every]
        put(as_json, {"boats": rows}, "\n".join(words) or "No boats yet.")


def photo(
    name: Annotated[str, typer.Argument(help="The piece, by name or id.")],
    file: Annotated[Path, typer.Argument(metavar="PICTURE", help="A JPEG, PNG or WebP picture of up to 8 MB.")],
    kind: OfKind = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Keep a photo of a piece."""
    with opened(where, as_json) as store:
        from spreadwright.store.room import read_room
        from spreadwright.store.room_photos import add_photo, photos_of

        piece = read_room(store).find(name, kind)
        kept = add_photo(store, piece.id, _bytes(file))
        number = len(photos_of(store, piece.id))
        put(as_json, {"id": kept.id, "type": kept.type}, f"Kept; {number} photos of {piece.name}.")


def export(
    to: Annotated[Path, typer.Argument(metavar="TO", help="FILE.json, a new folder for CSV, or --sheet's FILE.csv.")],
    sheet: Annotated[bool, typer.Option("--sheet", help="Only the stocktake, as one spreadsheet.")] = False,
    boat: OfBoat = "",
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Write everything in the store into one JSON file or a folder of CSV files; or the stocktake as a spreadsheet."""
    with opened(where, as_json) as store:
        if sheet:
            from spreadwright.stock.sheet import sheet_text

            put_bytes(to, sheet_text(room_of(store, boat)).encode("utf-8-sig"))
            put(as_json, {"written": str(to)}, f"The stocktake is in {to}.")
            return
        from spreadwright.store.archive import take_out

        archive = take_out(store)
        if to.suffix.lower() == ".json":
            from spreadwright.store.archive_json import to_json

            put_file(to, to_json(archive))
        else:
            from spreadwright.store.archive_csv import write_folder

            write_folder(archive, to)
        rows = sum(len(rows) for rows in archive.tables.values())
        put(as_json, {"written": str(to), "rows": rows}, f"{rows} rows are in {to}.")


def import_(
    source: Annotated[Path, typer.Argument(metavar="FROM", help="FILE.json, or a folder of CSV files.")],
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Put an export into an empty store. A file with mistakes changes nothing, and all of them are named."""
    with opened(where, as_json, begin=True) as store:
        from spreadwright.store.archive import put_into

        if source.is_dir():
            from spreadwright.store.archive_csv import read_folder

            rows = put_into(store, *read_folder(source))
        else:
            from spreadwright.store.archive_json import from_json

            try:
                text = _bytes(source).decode("utf-8")
            except UnicodeDecodeError:
                text = ""
            rows = put_into(store, from_json(text, str(source)))
        put(as_json, {"rows": rows}, f"{rows} rows taken in.")


def put_bytes(path: Path, content: bytes) -> None:
    """Write a file that was asked for, or say why it could not be and leave."""
    try:
        path.write_bytes(content)
    except OSError as error:
        typer.echo(
            f"{path}: could not be written ({error.strerror}). Name a file in a folder you may write to.", err=True
        )
        raise typer.Exit(AT_FAULT) from None


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        typer.echo(f"{file}: could not be read ({error.strerror}). Name a file that is there.", err=True)
        raise typer.Exit(AT_FAULT) from None


COMMANDS = (spares, boat, photo, export, import_)
