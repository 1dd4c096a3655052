"""Where the unit stands, and how good the instruments are."""

from service.results.declare import choice, member
from service.results.record import Record
from service.results.visit.ranges import HIGHEST_ELEVATION, LOWEST_ELEVATION, difference, percent


class Site(Record):
    """The place; it sets the site pressure that gauge pressures are read against."""

    label: str | None = member(
        "text", "The place in the caller's words; printed on the job note and nowhere else.", length=100
    )
    elevation: float | None = member(
        "length", "Height above sea level.", low=LOWEST_ELEVATION, high=HIGHEST_ELEVATION
    )
    barometric_pressure: float | None = member(
        "absolute_pressure",
        "Absolute air pressure at the site, in the pressure unit read as absolute whatever the gauge unit; "
        "overrides elevation.",
        low=50e3,
        high=115e3,
    )
    jurisdiction: str | None = member(
        "place",
        "Whose rules hold here: the code of a country or of a part of it (ISO 3166), as US, US-CA or FR, or EU. "
        "The service's default when absent; where no rules are held, nothing is said of the law.",
        length=6,
    )
    equipment_location: str | None = choice(
        "Where the outdoor or packaged unit stands.", "ground", "roof", "attic", "indoors"
    )


class Instruments(Record):
    """Accuracy of the instruments, a 95% half-width (k = 2); GET /v1/sources has the defaults (`instruments.`)."""

    pressure_accuracy: float | None = member(
        "pressure_difference", "Accuracy of the pressure gauges.", low=0.0, high=700e3
    )
    pressure_resolution: float | None = member(
        "pressure_difference", "Smallest step that the pressure gauge shows.", low=0.0, high=200e3
    )
    vacuum_resolution: float | None = member(
        "vacuum", "Smallest step that the vacuum gauge shows.", low=0.0, high=10e3
    )
    vacuum_maximum: float | None = member(
        "vacuum",
        "Highest pressure that the vacuum gauge can show; it stands there when there is more.",
        low=1.0,
        high=120e3,
    )
    temperature_accuracy: float | None = difference("Accuracy of the thermometers and pipe clamps.")
    humidity_accuracy: float | None = member(
        "humidity", "Accuracy of the humidity probe in percent of relative humidity.", low=0.0, high=0.5
    )
    electrical_accuracy_percent: float | None = percent("Accuracy of the multimeter in percent of reading.", 50.0)
    airflow_accuracy_percent: float | None = percent(
        "Accuracy of the airflow reading in percent of reading.", 50.0
    )
    capacitance_accuracy_percent: float | None = percent(
        "Accuracy of the capacitance reading in percent of reading.", 50.0
    )
