"""Which pictures a visit gives: its pressure-enthalpy chart, and its readings against what was expected."""

from collections.abc import Sequence

from service.report.compared import Compared, compared
from service.report.comparison import comparison_lines, comparison_picture, expected_words
from service.report.note import Picture
from service.report.pressure_enthalpy import chart_lines, pressure_enthalpy_chart
from service.report.trace import CycleTrace, trace_expected, trace_running
from service.results.answer import Answer
from service.results.expected import ExpectedReadings
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.refrigerant_held import refrigerant_held
from service.words.say import Speaker


def note_pictures(
    visit: Visit, answer: Answer, expected: ExpectedReadings, speaker: Speaker
) -> tuple[Picture, ...]:
    """The pictures of a job note: no chart where no pressure was read, no comparison where nothing has a limit."""
    running = visit.running
    pressures = (running.suction_pressure, running.liquid_pressure, running.discharge_pressure)
    chart = (chart_picture(visit, expected, speaker),) if any(item is not None for item in pressures) else ()
    rows = compared(visit, answer.findings, expected, speaker)
    return (*chart, *((_comparison(rows, speaker),) if rows else ()))


def note_table(visit: Visit, answer: Answer, expected: ExpectedReadings, speaker: Speaker) -> list[dict[str, str]]:
    """The readings in the caller's units beside what was expected of them, as the rows of a table."""
    return [
        {
            "title": row.title,
            "value": speaker.say(Quantity(row.value, row.kind)),
            "expected": expected_words(row, speaker),
        }
        for row in compared(visit, answer.findings, expected, speaker)
    ]


def chart_picture(visit: Visit, expected: ExpectedReadings, speaker: Speaker) -> Picture:
    """The pressure-enthalpy chart of a visit.

    expected: what a sound unit would read here and now; empty where that is not known.
    """
    refrigerant = refrigerant_held(visit)
    cycle, sound = CycleTrace({}, None, None), None
    if refrigerant is not None:
        cycle, sound = trace_running(refrigerant, visit.running), trace_expected(refrigerant, expected.running)
    return Picture(
        pressure_enthalpy_chart(refrigerant, cycle, sound, speaker),
        speaker.text("report", "chart.title"),
        " ".join(chart_lines(refrigerant, cycle, sound, speaker)),
    )


def _comparison(rows: Sequence[Compared], speaker: Speaker) -> Picture:
    return Picture(
        comparison_picture(rows, speaker),
        speaker.text("report", "comparison.title"),
        " ".join(comparison_lines(rows, speaker)),
    )
