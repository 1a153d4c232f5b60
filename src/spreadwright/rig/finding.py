"""A finding: one thing about a rig that does not fit, with the rule and the fix. A value, never raised.

"fails": the rig should not be fished so; "caution": it can be, knowing why not everybody would.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Severity = Literal["fails", "caution"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that does not fit: a short code, where, what was given, the rule, and the fix."""

    code: str
    severity: Severity
    place: str
    given: str
    rule: str
    fix: str

    @property
    def fails(self) -> bool:
        """True if the rig should not be fished so."""
        return self.severity == "fails"

    def __str__(self) -> str:
        return f"{self.place}: {self.given}. Rule: {self.rule}. Fix: {self.fix}."
