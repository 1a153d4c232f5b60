"""How much of a line's strength a knot, crimp, twist, plait or splice keeps.

No published standard rates fishing knots, crimps and twists: each figure is a range with its
own source, most of them "common practice, no source". A connection whose name is not known is
a fault with the nearest known names, never a silent guess.

Sources used:
- TRADE: common practice, no source (knots keep 60 to 100 %, a good crimp 90 to 100 %, a haywire
  twist nearly all).
- TESTS: tensile tests of readers' knots printed in a fishing magazine, 2007 to 2013, read second
  hand: in nylon 75 to 100 % over all knots; in braid tied single 31 to 87 % to a swivel and at
  most 58 % to a leader; 74 % and up where the braid was doubled first.
- CABLE: US Army TM 5-3810-305-10, Table 4, terminal efficiencies of wire rope (approximate):
  mechanical spliced sleeve 95 %, hand-tucked splice in stainless rope 76 %.
- SPLICE: rope makers' guidance printed in sailing magazines: a good splice keeps about 90 %.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass

from spreadwright.faults import Fault
from spreadwright.quantity import QuantityError, read
from spreadwright.tackle.span import Span

TRADE = "common practice, no source"
TESTS = "magazine tensile tests of readers' knots, 2007-2013 (second hand), widened by practice"
CABLE = "US Army TM 5-3810-305-10 Table 4 (mechanical sleeve 95 %); range by common practice"
SPLICE = "rope makers' guidance (a good splice keeps about 90 %); range by common practice"

PULL_TEST = "the captain's own pull test, give or take 5 % of the line"
OWN_DOUBT = 0.05  # share of the line's strength: a few pulls with a scale, common practice, no source

MATERIALS = ("nylon", "fluorocarbon", "braid", "single strand", "cable")
_MONO = ("nylon", "fluorocarbon")
_SOFT = ("nylon", "fluorocarbon", "braid")


@dataclass(frozen=True, slots=True)
class Connection:
    """One way to join or end a line.

    kind: "knot", "crimp", "twist", "plait", "splice" or "none"; materials it suits;
    efficiency [1]: share of the line's straight strength it keeps; on_braid: the same in braid
    where that differs; source of the figures; note: what makes it good or bad.
    """

    name: str
    kind: str
    materials: tuple[str, ...]
    efficiency: Span
    source: str
    on_braid: Span | None = None
    other_names: tuple[str, ...] = ()
    note: str = ""

    def efficiency_on(self, material: str) -> Span:
        """Efficiency [1] in line of `material`."""
        return self.on_braid if material == "braid" and self.on_braid else self.efficiency


def _knot(
    name: str,
    efficiency: tuple[float, float, float],
    on_braid: tuple[float, float, float] | None = None,
    source: str = TRADE,
    other_names: tuple[str, ...] = (),
    note: str = "",
) -> Connection:
    braid = Span(*on_braid) if on_braid else None
    return Connection(name, "knot", _SOFT, Span(*efficiency), source, braid, other_names, note)


# Each row's range is a judgement inside the bounds of its source, to be replaced by the captain's
# own pull tests.
KNOWN: tuple[Connection, ...] = (
    Connection("none", "none", MATERIALS, Span.exactly(1.0), "no joint", other_names=("straight",)),
    # Double lines
    _knot("bimini twist", (0.90, 0.97, 1.00), (0.85, 0.95, 1.00), TESTS, ("bimini",),
          note="weak when the twists are uneven or burned by rolling too tight"),
    Connection("plait", "plait", _SOFT, Span(0.90, 0.97, 1.00), TRADE,
               other_names=("double-line plait", "braided double line"),
               note="weak when the first wrap is not drawn up tight"),
    _knot("spider hitch", (0.70, 0.85, 0.95), (0.40, 0.60, 0.80)),
    _knot("surgeon's loop", (0.70, 0.80, 0.90), (0.40, 0.55, 0.75)),
    # Line to swivel, ring or hook
    _knot("offshore swivel knot", (0.85, 0.93, 1.00), (0.75, 0.90, 1.00),
          other_names=("swivel knot",), note="tied with the double line's loop"),
    _knot("cat's paw", (0.85, 0.93, 1.00), (0.75, 0.90, 1.00), other_names=("cats paw",),
          note="tied with the double line's loop"),
    _knot("palomar", (0.75, 0.90, 1.00), (0.50, 0.70, 0.87), TESTS, ("palomar knot",)),
    _knot("uni knot", (0.75, 0.85, 0.95), (0.40, 0.60, 0.80), TESTS, ("uni", "grinner")),
    _knot("improved clinch", (0.70, 0.85, 0.95), (0.31, 0.50, 0.75), TESTS, ("clinch", "blood")),
    _knot("snell", (0.80, 0.90, 1.00), (0.50, 0.70, 0.85)),
    _knot("figure-eight loop", (0.65, 0.75, 0.85), (0.35, 0.50, 0.65)),
    _knot("overhand knot", (0.40, 0.50, 0.65), (0.25, 0.40, 0.50),
          other_names=("wind knot", "overhand"), note="a fault to be cut out, not a joint"),
    # Line to leader
    _knot("double uni", (0.65, 0.80, 0.90), (0.35, 0.50, 0.58), TESTS),
    _knot("albright", (0.65, 0.78, 0.90), (0.35, 0.50, 0.58), TESTS),
    _knot("bristol knot", (0.75, 0.87, 0.97), (0.74, 0.90, 1.00), TESTS,
          ("no-name knot",), note="in braid: tied with a double line"),
    _knot("gripping hitch", (0.80, 0.90, 1.00), (0.75, 0.90, 1.00),
          other_names=("fg knot", "braid-to-leader hitch"),
          note="braid wrapped on the leader; slips if not drawn down hard"),
    _knot("loop to loop", (0.85, 0.93, 1.00), (0.80, 0.93, 1.00),
          other_names=("handshake", "interlocked loops")),
    _knot("spool knot", (0.50, 0.65, 0.80), (0.30, 0.50, 0.70),
          other_names=("arbor knot",), note="holds the backing to the spool; a last resort"),
    # Crimps
    Connection("crimp", "crimp", (*_MONO, "cable"), Span(0.90, 0.95, 1.00), TRADE,
               other_names=("sleeve", "single crimp"),
               note="a wrong sleeve or tool can leave 40 % (magazine tests, second hand)"),
    Connection("cable crimp", "crimp", ("cable",), Span(0.90, 0.95, 1.00), CABLE,
               other_names=("double crimp",)),
    Connection("locked-loop crimp", "crimp", (*_MONO, "cable"), Span(0.92, 0.96, 1.00), TRADE,
               other_names=("flemish eye crimp", "flemish loop")),
    Connection("hand-tucked splice", "splice", ("cable",), Span(0.70, 0.76, 0.86), CABLE),
    # Wire
    Connection("haywire twist", "twist", ("single strand",), Span(0.92, 0.97, 1.00), TRADE,
               other_names=("haywire",),
               note="three and a half true twists, then a barrel finish broken off flush"),
    Connection("barrel twist", "twist", ("single strand",), Span(0.30, 0.50, 0.70), TRADE,
               other_names=("barrel wraps",), note="without a haywire twist before it, it slips"),
    # Splices and wind-ons
    Connection("hollow-braid splice", "splice", ("braid", *_MONO), Span(0.85, 0.93, 1.00), SPLICE,
               other_names=("splice", "eye splice", "spliced loop")),
    Connection("served splice", "splice", ("braid", *_MONO), Span(0.85, 0.93, 1.00), TRADE,
               other_names=("served", "served wind-on", "wind-on")),
)  # fmt: skip


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("_", " ").replace("’", "'").split())


_OWN = re.compile(r"\s*(?P<name>\S.*?)\s+keeps\s+(?P<share>.+)$", re.IGNORECASE | re.DOTALL)
_BY_NAME: dict[str, Connection] = {
    _plain(name): connection for connection in KNOWN for name in (connection.name, *connection.other_names)
}


def known_names() -> tuple[str, ...]:
    """The plain names of all known connections, in table order."""
    return tuple(connection.name for connection in KNOWN)


def find_connection(name: str, material: str = "", place: str = "connection") -> Connection | Fault:
    """The connection called `name` (case and spacing do not matter), fit for `material`.

    Returns a Fault when the name is unknown (with the nearest known names) or when the
    connection does not suit the material (with those that do). An empty material skips that check.

    >>> find_connection("Bimini Twist").efficiency.usual
    0.97
    >>> print(find_connection("haywyre twist").next_step)
    did you mean 'haywire twist' or 'barrel twist'? Otherwise write what it keeps, such as 'NAME keeps 90 %'
    """
    connection = _BY_NAME.get(_plain(name))
    if connection is None:
        return _unknown(name, place)
    if material and material not in connection.materials:
        suited = [each.name for each in KNOWN if material in each.materials]
        return Fault(
            place=place,
            given=f"{connection.name} in {material}",
            rule=f"a {connection.name} is for {', '.join(connection.materials)}",
            next_step=(
                f"for {material} use one of: {', '.join(suited)}"
                if suited
                else f"write the material as one of: {', '.join(MATERIALS)}"
            ),
        )
    return connection


def read_connection(text: str, material: str = "", place: str = "connection") -> Connection | Fault:
    """A connection as a captain writes it: a known name, or any name with what it keeps in a pull test.

    The captain's own figure goes before the table's, with a doubt of 5 % of the line's strength. Returns a Fault as
    `find_connection` does, and for a share that is not above 0 and up to 100 %.

    >>> read_connection("haywire twist keeps 90 %").efficiency
    Span(low=0.85, usual=0.9, high=0.95)
    """
    written = _OWN.match(text)
    if written is None:
        return find_connection(text, material, place)
    try:
        share = read(written["share"], "number")
    except QuantityError as error:
        return Fault(place, written["share"], error.rule, "write it as 'NAME keeps 90 %'")
    if not 0.0 < share <= 1.0:
        rule = "a joint keeps more than none and at most 100 % of the line's strength"
        return Fault(place, written["share"], rule, "write it as 'NAME keeps 90 %'")
    known = _BY_NAME.get(_plain(written["name"]))
    kept = Span(round(max(0.0, share - OWN_DOUBT), 9), share, min(1.0, round(share + OWN_DOUBT, 9)))
    name, kind = (known.name, known.kind) if known is not None else (" ".join(written["name"].split()), "own")
    return Connection(name, kind, MATERIALS, kept, PULL_TEST)


def _unknown(name: str, place: str) -> Fault:
    near = difflib.get_close_matches(_plain(name), list(_BY_NAME), n=2, cutoff=0.6)
    nearest = list(dict.fromkeys(_BY_NAME[each].name for each in near))
    hint = " or ".join(f"'{each}'" for each in nearest)
    return Fault(
        place=place,
        given=name,
        rule="known connections: " + ", ".join(known_names()),
        next_step=(
            f"did you mean {hint}? Otherwise write what it keeps, such as 'NAME keeps 90 %'"
            if hint
            else "use one of the known names, or write what it keeps, such as 'NAME keeps 90 %'"
        ),
    )
