"""The thermodynamic properties of one refrigerant, away from pressure and temperature of saturation."""

from __future__ import annotations

from dataclasses import dataclass

from service.physics.saturated_properties import SaturatedProperties
from service.physics.superheated_vapour import SuperheatedVapour


@dataclass(frozen=True, slots=True, eq=False)
class RefrigerantProperties:
    """Saturated liquid and vapour, and superheated vapour, on one reference state."""

    saturated: SaturatedProperties
    superheated: SuperheatedVapour
