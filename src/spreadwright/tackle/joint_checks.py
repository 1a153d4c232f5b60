"""Checks of the joints a captain states: each must suit the material, and join something that is there."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from spreadwright.faults import Fault
from spreadwright.quantity import quote
from spreadwright.tackle.connections import read_connection
from spreadwright.tackle.draft import Draft
from spreadwright.tackle.line import Strand
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.toml_lines import Path

# joint -> what it joins, None where the outfit has none of it; and how that is called
_JOINED: dict[str, tuple[Callable[[Outfit], Strand | None], str]] = {
    "double_line": (lambda outfit: outfit.line if outfit.double_line is not None else None, "a double_line"),
    "line_end": (lambda outfit: outfit.line if outfit.double_line is None else None, "no double_line"),
    "to_swivel": (lambda outfit: outfit.line if outfit.double_line is not None else None, "a double_line"),
    "wind_on_upper": (lambda outfit: outfit.wind_on, "a wind_on"),
    "wind_on_lower": (lambda outfit: outfit.wind_on, "a wind_on"),
    "backing": (lambda outfit: outfit.backing, "backing"),
    "spool": (lambda outfit: outfit.backing, "backing"),
}


def joints_suit(draft: Draft) -> Iterator[Fault]:
    """A stated joint that does not suit its line, or joins what the outfit does not have."""
    for entry in draft.outfits:
        outfit = entry.thing
        if outfit is None:
            continue
        if outfit.joints is not None:
            for key, (joined, needs) in _JOINED.items():
                yield from _outfit_joint(draft, (*entry.path, "joints", key), outfit, joined(outfit), needs)
        if outfit.bite_guard is not None:
            yield from _suits(draft, (*entry.path, "bite_guard", "joint"), outfit.bite_guard.joint, outfit.bite_guard)
    for kind in ("shock_leaders", "bite_leaders"):
        for leader in draft.gear[("shelf", kind)]:
            if leader.thing is not None:
                yield from _suits(draft, (*leader.path, "joint"), leader.thing.joint, leader.thing)


def _outfit_joint(draft: Draft, path: Path, outfit: Outfit, strand: Strand | None, needs: str) -> Iterator[Fault]:
    stated: str | None = getattr(outfit.joints, str(path[-1]))
    if stated is None:
        return
    if strand is None:
        yield draft.source.fault(
            path, quote(stated), f"this joint is for an outfit with {needs}", "leave it out, or correct the outfit"
        )
        return
    yield from _suits(draft, path, stated, strand)


def _suits(draft: Draft, path: Path, stated: str | None, strand: Strand) -> Iterator[Fault]:
    found = read_connection(stated, strand.material) if stated is not None else None
    if isinstance(found, Fault):
        yield draft.source.fault(path, quote(stated or ""), found.rule, found.next_step)
