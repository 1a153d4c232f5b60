"""How the ends of lines and leaders are joined, as a captain states it: a known knot, crimp, twist, plait or splice."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field

from spreadwright.faults import Fault
from spreadwright.tackle.connections import read_connection
from spreadwright.tackle.fields import LONGEST_NAME, Tackle, refusal


def _is_known(text: str) -> str:
    found = read_connection(text)
    if isinstance(found, Fault):
        raise refusal(found.given, found.rule, found.next_step)
    return text


JointName = Annotated[str, Field(min_length=1, max_length=LONGEST_NAME), AfterValidator(_is_known)]


class OutfitJoints(Tackle):
    """How each end of an outfit's own line is joined; what is left out is taken as usual for the material."""

    double_line: JointName | None = Field(
        default=None, description="the knot or plait that makes the double line", examples=["bimini twist"]
    )
    line_end: JointName | None = Field(
        default=None, description="how main line without a double line ends", examples=["uni knot"]
    )
    to_swivel: JointName | None = Field(
        default=None, description="how the double line ends, at swivel or wind-on", examples=["offshore swivel knot"]
    )
    wind_on_upper: JointName | None = Field(
        default=None, description="how the wind-on begins", examples=["loop to loop"]
    )
    wind_on_lower: JointName | None = Field(default=None, description="how the wind-on ends", examples=["crimp"])
    backing: JointName | None = Field(
        default=None, description="how backing and main line are joined", examples=["hollow-braid splice"]
    )
    spool: JointName | None = Field(
        default=None, description="how the backing is tied to the spool", examples=["spool knot"]
    )
