"""A command whose refusals are in plain words: a number below zero is no option that is missing."""

from __future__ import annotations

import re
from typing import Any

import typer
from typer.core import TyperCommand

_BELOW_ZERO = re.compile(r"-\.?\d")


class PlainWords(TyperCommand):
    """A command that takes amounts, none of which is below zero."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """As ever, but an amount such as -3 is told with what to write instead."""
        for before, given in zip(["", *args], args, strict=False):
            if _BELOW_ZERO.match(given) and not before.startswith("--"):
                name = ctx.info_name
                raise typer.BadParameter(
                    f"{given}: an amount has no minus sign. Write `spreadwright room {name} NAME {given.lstrip('-')}`; "
                    "pieces that are gone are told with `spreadwright room use`, and a wrong count is put right with "
                    "`spreadwright room count`.",
                    ctx,
                )
        return super().parse_args(ctx, args)
