"""Main line and what lines are made of: density, stretch and strength, each with its doubt and source."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from spreadwright.quantity import show, show_given
from spreadwright.tackle.fields import Force, LineDiameter, LineLength, Tackle, reader, refusal
from spreadwright.tackle.line_sizes import JAFS_SOURCE, PE_SOURCE, nylon_diameter_of, pe_outer_diameter

MaterialName = Literal["nylon", "braid", "fluorocarbon", "single strand", "cable"]

SizeNumber = Annotated[float, BeforeValidator(reader("number", 0.1, 400.0))]


@dataclass(frozen=True)
class Known:
    """A property as far as it is known: the usual value, the range it may lie in, and the source."""

    value: float
    low: float
    high: float
    source: str


@dataclass(frozen=True)
class Material:
    """What a line or leader is made of. Stresses are over the full circle of the outer diameter.

    density             [kg/m3] over that circle, soaked
    modulus             [Pa] at small stretch, wet
    strength            [Pa] rated (dry) strength over that circle
    break_strain        [-] stretch at the wet breaking load
    wet_strength_loss   [-] share of the rated strength that is lost when soaked
    """

    name: MaterialName
    words: str
    density: Known
    modulus: Known
    strength: Known
    break_strain: Known
    wet_strength_loss: Known

    @property
    def stiffening(self) -> float:
        """Stiffening s [-] of T = E A e (1 + s e^2), so that the curve meets the breaking point.

        At break: strength (1 - wet loss) = E e (1 + s e^2). Never below 0.
        Worked example, nylon: 560 MPa x 0.875 = 490 MPa at e = 0.25 with E = 1.5 GPa gives
        s = (490 / 375 - 1) / 0.0625 = 4.9.
        """
        strain = self.break_strain.value
        wet = self.strength.value * (1.0 - self.wet_strength_loss.value)
        return max(0.0, (wet / (self.modulus.value * strain) - 1.0) / strain**2)

    def diameter_for(self, strength: float) -> Known:
        """Outer diameter [m] of a line of this material sold as `strength` [N], with its doubt.

        d = 2 sqrt(F / (pi sigma)): nothing more than the rated strength over the strength per
        area. Worked example, nylon 80 lb: 355.9 N / 560 MPa gives 0.90 mm (0.74 to 1.04 mm).
        """

        def diameter(stress: float) -> float:
            return 2.0 * math.sqrt(strength / (math.pi * stress))

        return Known(
            value=diameter(self.strength.value),
            low=diameter(self.strength.high),
            high=diameter(self.strength.low),
            source=f"from its strength and the strength per area of {self.words}",
        )


_FIBRE_TABLE = "fibre yarn table, Tension Technology International, deep mooring paper, Table 1"
_NONE = Known(0.0, 0.0, 0.0, "from memory: takes up no water")

NYLON = Material(
    name="nylon",
    words="nylon monofilament",
    density=Known(1140.0, 1130.0, 1150.0, f"SG 1.14: {_FIBRE_TABLE}; range from memory"),
    modulus=Known(
        1.5e9,
        1.0e9,
        3.0e9,
        "1.5 GPa: nylon 66 at equilibrium moisture, a resin maker's technical page; wet drawn "
        "monofilament has no published value that we found, so the range is wide and from memory",
    ),
    strength=Known(
        560e6,
        420e6,
        832e6,
        "high: size 1 (0.165 mm) sold as 4 lb, rule of thumb of Japanese trade writers; "
        "usual and low: thicker offshore line, common practice, no source (a fishing-gear handbook "
        "of the FAO of 1990 has 1.0 mm near 42 kgf, 524 MPa: from memory)",
    ),
    break_strain=Known(0.25, 0.18, 0.35, "from memory"),
    wet_strength_loss=Known(
        0.125, 0.10, 0.15, f"10-15 %: {_FIBRE_TABLE}; about 15 %: Commercial Fisheries Review, Dec 1957, p. 27"
    ),
)
BRAID = Material(
    name="braid",
    words="HMPE braid",
    density=Known(980.0, 940.0, 1000.0, f"fibre SG 0.94-0.97: {_FIBRE_TABLE}; the pores fill with sea water"),
    modulus=Known(
        46e9,
        25e9,
        90e9,
        "from memory: strength over break strain; below the fibre's 120-170 GPa "
        f"({_FIBRE_TABLE}) because a braid's strands lie at an angle and its pores carry nothing",
    ),
    strength=Known(
        2.3e9,
        1.5e9,
        3.0e9,
        f"high: solid fibre, 3.10 N/tex x 970 kg/m3: {_FIBRE_TABLE}; usual and low: common practice, no source",
    ),
    break_strain=Known(0.05, 0.035, 0.07, "from memory"),
    wet_strength_loss=_NONE,
)
FLUOROCARBON = Material(
    name="fluorocarbon",
    words="fluorocarbon monofilament",
    density=Known(1780.0, 1760.0, 1790.0, "PVDF, handbook value from memory"),
    modulus=Known(2.0e9, 1.2e9, 3.5e9, "from memory"),
    strength=Known(520e6, 400e6, 750e6, "from memory"),
    break_strain=Known(0.25, 0.18, 0.35, "from memory"),
    wet_strength_loss=_NONE,
)
SINGLE_STRAND = Material(
    name="single strand",
    words="stainless single-strand wire",
    density=Known(7900.0, 7850.0, 8000.0, "stainless steel, handbook value from memory"),
    modulus=Known(190e9, 180e9, 200e9, "stainless steel, handbook value from memory"),
    strength=Known(
        1.95e9,
        1.70e9,
        2.24e9,
        "ASTM A313 type 302 class 1: 246 to 325 ksi least tensile strength, thick to thin",
    ),
    break_strain=Known(0.02, 0.012, 0.03, "from memory"),
    wet_strength_loss=_NONE,
)
CABLE = Material(
    name="cable",
    words="stainless cable, 7 strands of 7 wires",
    density=Known(
        5190.0,
        4900.0,
        5500.0,
        "derived: 49 wires of d fill 49/81 of a circle of 9 d with steel at 7900, sea water fills the rest",
    ),
    modulus=Known(60e9, 40e9, 90e9, "from memory: below 0.6 x 190 GPa because the wires are laid"),
    strength=Known(1.0e9, 0.75e9, 1.25e9, "derived: 0.6 fill x 1.95 GPa x 0.85 lay loss, from memory"),
    break_strain=Known(0.03, 0.02, 0.045, "from memory"),
    wet_strength_loss=_NONE,
)
MATERIALS: dict[str, Material] = {
    material.name: material for material in (NYLON, BRAID, FLUOROCARBON, SINGLE_STRAND, CABLE)
}


class Strand(Tackle):
    """Something cut from a coil or spool: its material, rated strength, length and thickness."""

    material: MaterialName = Field(description="what it is made of", examples=["nylon"])
    strength: Force = Field(description="rated (label) strength", examples=["80 lb"])
    length: LineLength = Field(description="length", examples=["30 ft"])
    diameter_given: LineDiameter | None = Field(
        default=None,
        validation_alias="diameter",
        description="thickness, if measured or printed on the label; otherwise estimated from material and strength",
        examples=["1.1 mm"],
    )

    @model_validator(mode="after")
    def _thickness_fits_strength(self) -> Self:
        """A slip of ten in a thickness (0.1 mm for 1 mm) shows as a line no material can make."""
        thickness = self._thickness
        if thickness is None:
            return self
        stress = self.strength / (math.pi * thickness.value**2 / 4.0)
        known = self.stuff.strength
        if not known.low / 3.0 <= stress <= 2.0 * known.high:
            usual = self.stuff.diameter_for(self.strength)
            low, high = (show(edge, "diameter", "metric", figures=2) for edge in (usual.low, usual.high))
            raise refusal(
                f"{show_given(self.strength, 'force')} at {show_given(thickness.value, 'diameter', 'metric')}",
                f"{self.stuff.words} of that strength is usually {low} to {high} thick",
                "check the strength and the diameter, or leave the diameter out to have it estimated",
            )
        return self

    @property
    def stuff(self) -> Material:
        """The material's properties, each with its doubt."""
        return MATERIALS[self.material]

    @property
    def _thickness(self) -> Known | None:
        """Diameter [m] as far as the label gives it: 3 % doubt if measured by hand; None where it does not."""
        given = self.diameter_given
        if given is None:
            return None
        return Known(given, 0.97 * given, 1.03 * given, "given; 3 % doubt, common practice")

    @property
    def diameter_estimated(self) -> bool:
        """True where neither diameter nor size is given, so that the thickness follows from the strength."""
        return self._thickness is None

    @property
    def diameter_known(self) -> Known:
        """Diameter [m] with its doubt: as given, by its size number, or else from the strength."""
        return self._thickness or self.stuff.diameter_for(self.strength)

    @property
    def diameter(self) -> float:
        """Diameter [m], given or estimated."""
        return self.diameter_known.value

    @property
    def density(self) -> float:
        """Density [kg/m3], soaked."""
        return self.stuff.density.value

    @property
    def stiffness(self) -> float:
        """E A [N] at small stretch, wet."""
        return self.stuff.modulus.value * math.pi * self.diameter**2 / 4.0

    @property
    def stiffening(self) -> float:
        """Stiffening s [-] of T = EA e (1 + s e^2)."""
        return self.stuff.stiffening

    @property
    def wet_strength(self) -> float:
        """Strength [N] when soaked, without knots."""
        return self.strength * (1.0 - self.stuff.wet_strength_loss.value)

    @property
    def mass_per_length(self) -> float:
        """Mass [kg/m], soaked."""
        return self.density * math.pi * self.diameter**2 / 4.0


class SizedStrand(Strand):
    """Line or leader whose label may give a size number of the Japanese standard (JAFS) in place of a diameter."""

    size: SizeNumber | None = Field(
        default=None,
        description="size number by the Japanese standard (JAFS), if the label gives that and no diameter",
        examples=["8"],
    )

    @model_validator(mode="after")
    def _one_thickness(self) -> Self:
        if self.size is not None and self.diameter_given is not None:
            raise refusal(
                f"size {self.size:g} and {show_given(self.diameter_given, 'diameter', 'metric')}",
                "thickness is given once: as diameter, or as size number",
                "keep the diameter if it was measured, and leave the size out",
            )
        return self

    @property
    def _thickness(self) -> Known | None:
        if self.size is None:
            return super()._thickness
        sized = pe_outer_diameter(self.size) if self.material == "braid" else nylon_diameter_of(self.size)
        source = PE_SOURCE if self.material == "braid" else JAFS_SOURCE
        return Known(sized.usual, sized.low, sized.high, source)


class MainLine(SizedStrand):
    """The line on the reel."""

    material: Literal["nylon", "braid", "fluorocarbon"] = Field(
        description="what the line is made of", examples=["nylon"]
    )
    length: LineLength = Field(description="length on the spool", examples=["600 yd"])
