"""What is known of one refrigerant."""

from __future__ import annotations

from collections.abc import Mapping

from service.knowledge.refrigerant_rows import RefrigerantRow, Share
from service.knowledge.refrigerant_tables import refrigerant_properties
from service.physics.refrigerant_properties import RefrigerantProperties
from service.physics.saturation import SaturationCurve
from service.results.record import Record


class Refrigerant(Record, eq=False):
    """One refrigerant: everything in SI, sources by field name in `sources`.

    Attributes:
        designation: ASHRAE Standard 34, e.g. "R-410A".
        kind: pure or blend.
        composition: shares [percent of mass].
        safety_class: ASHRAE Standard 34, e.g. "A2L".
        lower_flammability_limit: [kg/m3]; None where the fluid does not propagate a flame.
        gwp_ar4, gwp_ar5: global warming potential over 100 years.
        ozone_depleting: whether a component harms the ozone layer.
        oils: oils that the system may hold: mineral, alkylbenzene, poe, pve.
        charging_phase: liquid, or either.
        pressure_class: low, medium, high or very_high as 40 CFR 82.152 has it.
        glide_at_dew_5_c: dew less bubble temperature [K] at the pressure whose dew temperature is 5 C.
        glide_at_bubble_40_c: the same where the bubble temperature is 40 C; None above the critical point.
        critical_temperature: [K].
        critical_pressure: absolute [Pa].
        cautions: codes of what to mind with this refrigerant.
        sources: where each field comes from.
        saturation: the bubble and dew lines.
        properties: liquid and vapour properties; their table is read when first asked for.
    """

    designation: str
    kind: str
    composition: tuple[Share, ...]
    safety_class: str
    lower_flammability_limit: float | None
    gwp_ar4: float
    gwp_ar5: float
    ozone_depleting: bool
    oils: tuple[str, ...]
    charging_phase: str
    pressure_class: str
    glide_at_dew_5_c: float
    glide_at_bubble_40_c: float | None
    critical_temperature: float
    critical_pressure: float
    cautions: tuple[str, ...]
    sources: Mapping[str, str]
    saturation: SaturationCurve
    row: RefrigerantRow

    @property
    def is_flammable(self) -> bool:
        """Its ASHRAE Standard 34 flammability class is above 1: it propagates a flame."""
        return self.safety_class[1:] != "1"

    @property
    def properties(self) -> RefrigerantProperties:
        """Saturated liquid and vapour and superheated vapour; read once."""
        return refrigerant_properties(self.row)
