"""The surge study: waveforms, elements, network, solver, and what reaches the equipment."""

from boardwright.surge.assumptions import Assumptions, load_assumptions
from boardwright.surge.build import network_of
from boardwright.surge.home import (
    ConnectedAppliance,
    HomeSurge,
    SpdAsWired,
    SpdConnection,
    SurgeCircuit,
    SurgeEarthing,
)
from boardwright.surge.network import SurgeNetwork, read_network
from boardwright.surge.solver import Outcome, Solution, solve
from boardwright.surge.study import STANDARD_SURGE, LeadRule, NamedSurge, SurgeStudy, study

__all__ = [
    "STANDARD_SURGE",
    "Assumptions",
    "ConnectedAppliance",
    "HomeSurge",
    "LeadRule",
    "NamedSurge",
    "Outcome",
    "Solution",
    "SpdAsWired",
    "SpdConnection",
    "SurgeCircuit",
    "SurgeEarthing",
    "SurgeNetwork",
    "SurgeStudy",
    "load_assumptions",
    "network_of",
    "read_network",
    "solve",
    "study",
]
