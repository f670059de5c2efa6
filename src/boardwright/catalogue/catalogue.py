"""The catalogue as a whole: every type by its id."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from boardwright.catalogue.appliances import ApplianceType
from boardwright.catalogue.devices import DeviceType, Kind
from boardwright.catalogue.enclosures import EnclosureType


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All device, enclosure and appliance types on offer, in the order of their ids."""

    devices: Mapping[str, DeviceType]
    enclosures: Mapping[str, EnclosureType]
    appliances: Mapping[str, ApplianceType]
    digest: str = ""

    @property
    def spds(self) -> tuple[str, ...]:
        """Ids of what a job may wish for as its SPD."""
        return tuple(device.id for device in self.devices.values() if device.spd)

    @property
    def units(self) -> tuple[str, ...]:
        """Ids of what a job may wish for as its board."""
        return tuple(e.id for e in self.enclosures.values() if e.purpose == "consumer unit")

    def of_kind(self, kind: Kind) -> tuple[DeviceType, ...]:
        """Return the devices of a kind, in the order of their ids."""
        return tuple(d for d in self.devices.values() if d.kind is kind)

    def permitted(self, enclosure: EnclosureType) -> tuple[DeviceType, ...]:
        """Return the devices that the enclosure's maker allows in it."""
        return tuple(d for d in self.devices.values() if enclosure.family in d.permitted_families)
