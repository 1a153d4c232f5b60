"""Read a plan back from a file, with what is wrong said in the way of all faults."""

from __future__ import annotations

from pathlib import Path

from pydantic import ValidationError

from spreadwright.faults import Fault, Faults
from spreadwright.plan.json_words import json_words
from spreadwright.plan.value import Plan


def stored_plan(path: Path | None) -> Plan | None:
    """The plan in a file, None where no file is named. Raises Faults for a file that holds none."""
    if path is None:
        return None
    rule, step = "a plan is a file that `spreadwright plan TRIP.toml --write PLAN.json` wrote", "write it anew"
    try:
        return Plan.read(path)
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is no text"
        raise Faults([Fault(str(path), f"could not be read ({reason})", rule, step)]) from None
    except ValidationError as error:
        raise Faults([Fault(str(path), json_words(error), rule, step)]) from None
