"""What would change a surge: leads, place, device, a second SPD; how far the SPD reaches."""

from boardwright.surge.decisions.clear import Cleared, Tried, cleared
from boardwright.surge.decisions.reach import Reach, ReachPoint, reaches
from boardwright.surge.decisions.runs import PlaceBand, SpdLoad, bands_of
from boardwright.surge.decisions.spread import PlaceSpread, Rank, Spread, check_draws, spread
from boardwright.surge.decisions.subject import Subject
from boardwright.surge.decisions.variants import Variant, Weighed, variants, weighed

__all__ = [
    "Cleared",
    "PlaceBand",
    "PlaceSpread",
    "Rank",
    "Reach",
    "ReachPoint",
    "SpdLoad",
    "Spread",
    "Subject",
    "Tried",
    "Variant",
    "Weighed",
    "bands_of",
    "check_draws",
    "cleared",
    "reaches",
    "spread",
    "variants",
    "weighed",
]
