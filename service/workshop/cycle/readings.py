"""What a technician would read at a solved unit, and where instruments placed in the field read aside."""

import numpy as np

from service.physics.arrays import Array
from service.physics.cycle import air
from service.results.record import Record
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.unit import Operation, State, Unit


class Placement(Record):
    """How far readings stand from the truth for want of contact, and how amps compare to the nameplate.

    suction_pull, liquid_pull: share [0..0.1] of the way from line to outdoor temperature; discharge_loss [K];
    duct_gain [K]; amps_at_rating: running over rated-load amps at rating A; standing_share: part of the foreign
    gas pressure left when off; standing_offset [K]; drier_span: 1 where the restriction lies inside the span that
    is measured, else 0; drier_offset [K]; nameplate offsets [K].
    """

    suction_pull: Array
    liquid_pull: Array
    discharge_loss: Array
    duct_gain: Array
    amps_at_rating: Array
    rated_power: Array
    standing_share: Array
    standing_offset: Array
    drier_span: Array
    drier_offset: Array
    nameplate_subcooling: Array
    nameplate_superheat: Array


def readings(fluid: RefrigerantFit, unit: Unit, operation: Operation, state: State, placement: Placement) -> Array:
    """Readings (n x 14) in the order of READINGS: temperatures [K], differences [K], ratios [1]."""
    outdoor = operation.outdoor
    suction = state.suction_temperature + placement.suction_pull * (outdoor - state.suction_temperature)
    liquid = state.liquid_temperature + placement.liquid_pull * (outdoor - state.liquid_temperature)
    supply = state.supply_dry_bulb + placement.duct_gain
    ratio = np.minimum(state.supply_ratio, air.saturation_ratio(supply, operation.pressure))
    drop = placement.drier_span * (state.liquid_temperature - state.drier_outlet_temperature)
    amps = placement.amps_at_rating * state.power / placement.rated_power
    return np.stack(
        [
            fluid.dew_temperature(state.suction_pressure),
            fluid.bubble_temperature(state.liquid_pressure),
            suction,
            liquid,
            state.discharge_temperature - placement.discharge_loss,
            supply,
            air.wet_bulb(supply, ratio, operation.pressure),
            state.condenser_leaving,
            unit.design.airflow * operation.indoor_flow,
            amps,
            drop + placement.drier_offset,
            _standing_excess(fluid, operation, state, placement),
            placement.nameplate_subcooling,
            placement.nameplate_superheat,
        ],
        axis=1,
    )


def _standing_excess(fluid: RefrigerantFit, operation: Operation, state: State, placement: Placement) -> Array:
    # Off, the foreign gas spreads from the outdoor coil through the whole unit and its partial pressure falls.
    pressure = fluid.bubble_pressure(operation.outdoor) + placement.standing_share * state.foreign_pressure
    return np.asarray(fluid.bubble_temperature(pressure) - operation.outdoor + placement.standing_offset)
