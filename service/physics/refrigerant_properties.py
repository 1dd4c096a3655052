"""The thermodynamic properties of one refrigerant, away from pressure and temperature of saturation."""

from __future__ import annotations

from service.physics.saturated_properties import SaturatedProperties
from service.physics.superheated_vapour import SuperheatedVapour
from service.results.record import Record


class RefrigerantProperties(Record, eq=False):
    """Saturated liquid and vapour, and superheated vapour, on one reference state."""

    saturated: SaturatedProperties
    superheated: SuperheatedVapour
