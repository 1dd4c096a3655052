"""Request and computed members of the recovery."""

from service.results.computed import quantity
from service.results.declare import flag, member, parts
from service.results.procedures.request import ProcedureRequest
from service.results.procedures.rests_on import RestsOn
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.visit.ranges import mass, pressure, temperature


class RecoveryRequest(ProcedureRequest):
    """Into which cylinder, and how far down?"""

    visit_date: str | None = member("date", "Date of the visit, ISO 8601; a test date is judged by it.")
    refrigerant: str | None = member(
        "text", "ASHRAE 34 designation to be recovered; the equipment's when absent.", length=24
    )
    water_capacity: float | None = member(
        "mass", "Water capacity (WC) stamped on the cylinder.", low=0.01, high=2000.0
    )
    tare: float | None = mass("Tare weight (TW) stamped on the cylinder.")
    gross: float | None = mass("What the cylinder weighs now.")
    expected_charge: float | None = mass("Refrigerant to be recovered; the factory charge when absent.")
    full_charge: float | None = mass("Full charge of the appliance; the factory charge when absent.")
    cylinder_contents: str | None = member(
        "text", "What the cylinder holds now: empty, a designation, mixed, or unknown.", length=24
    )
    cylinder_test_date: str | None = member("date", "Last test date stamped on the cylinder, ISO 8601.")
    cylinder_test_due: str | None = member(
        "date", "Last day the cylinder's test holds, where it is known; five years from the test date when absent."
    )
    cylinder_service_pressure: float | None = pressure(
        "Service pressure stamped on the cylinder: 400 psig for DOT-4BA400."
    )
    flammable_suitable: bool | None = flag(
        "Cylinder and valve are marked for flammable refrigerant: left-hand fitting, relief valve, red band."
    )
    ambient_temperature: float | None = temperature("Temperature where the cylinder stands.")
    small_appliance: bool | None = flag("Factory-sealed appliance of 5 lb (2.3 kg) or less (40 CFR 82.152).")
    compressor_runs: bool | None = flag("The appliance's compressor runs.")
    disposal: bool | None = flag("The appliance is disposed of, not repaired.")
    recovery_machine_before_1993: bool | None = flag("Recovery machine made before 15 November 1993.")


class RecoveryComputed(Record):
    """What the cylinder takes and how far the appliance is drawn down."""

    liquid_limit: Quantity | None = quantity("mass", "Most refrigerant this cylinder may hold.")
    room_left: Quantity | None = quantity("mass", "What it still takes.")
    stop_at_gross: Quantity | None = quantity("mass", "Scale reading at which to stop.")
    cylinders_needed: Quantity | None = quantity("count", "Cylinders of this size, the one at hand included.")
    required_vacuum: Quantity | None = quantity("pressure", "Pressure the appliance is drawn down to.")
    required_recovery_percent: Quantity | None = quantity(
        "percent", "Share to be recovered from a small appliance."
    )
    reference_temperature: Quantity | None = quantity("temperature", "Liquid temperature the limit is made for.")
    transport: str | None = member(
        "text", "UN number, proper shipping name and hazard division for the cylinder's label and papers."
    )
    rests_on: tuple[RestsOn, ...] = parts(
        RestsOn, "What using this cylinder rests on; empty where it may not be used yet.", 40
    )
