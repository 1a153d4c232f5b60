"""What a captain owns: lines, weights, leaders, lures, terminal gear, outfits, the boat and the trip file."""

from spreadwright.tackle.boat import Boat, Station
from spreadwright.tackle.joints import OutfitJoints
from spreadwright.tackle.leader import BiteGuard, BiteLeader, ShockLeader, WindOn
from spreadwright.tackle.line import MATERIALS, Known, MainLine, Material
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.outfit import MARK_TOLERANCE, Outfit, Reel
from spreadwright.tackle.pattern import Pattern, Water
from spreadwright.tackle.terminal import Crimp, Hook, SnapSwivel
from spreadwright.tackle.trip import Shelf, Trip
from spreadwright.tackle.trip_checks import check_trip
from spreadwright.tackle.trip_file import read_trip, trip_from_text
from spreadwright.tackle.weight import METALS, TrollingWeight
from spreadwright.tackle.wishes import Ban, Choice, Lock, Spares, Wishes

__all__ = [
    "MARK_TOLERANCE",
    "MATERIALS",
    "METALS",
    "Ban",
    "BiteGuard",
    "BiteLeader",
    "Boat",
    "Choice",
    "Crimp",
    "Hook",
    "Known",
    "Lock",
    "Lure",
    "MainLine",
    "Material",
    "Outfit",
    "OutfitJoints",
    "Pattern",
    "Reel",
    "Shelf",
    "ShockLeader",
    "SnapSwivel",
    "Spares",
    "Station",
    "Trip",
    "TrollingWeight",
    "Water",
    "WindOn",
    "Wishes",
    "check_trip",
    "read_trip",
    "trip_from_text",
]
