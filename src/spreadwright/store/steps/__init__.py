"""Schema steps: one module each, taken in the order of their names, never changed once others have taken them.

A step is a module `sNNNN_what_it_adds` with one function `upgrade(op)`, which gets alembic's operations. It writes its
tables out by hand, because the tables of the program move on while a step must stay what it was.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from alembic.operations import Operations


@dataclass(frozen=True)
class Step:
    """One named change of the schema."""

    name: str
    upgrade: Callable[[Operations], None]


def every_step() -> tuple[Step, ...]:
    """All steps this program knows, in the order they are taken; their modules are loaded only when they are taken."""
    names = sorted(found.name for found in pkgutil.iter_modules(__path__) if found.name.startswith("s"))
    return tuple(Step(name, _upgrade_of(name)) for name in names)


def _upgrade_of(name: str) -> Callable[[Operations], None]:
    def upgrade(op: Operations) -> None:
        importlib.import_module(f"{__name__}.{name}").upgrade(op)

    return upgrade
