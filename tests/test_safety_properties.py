"""What must never happen: nobody is told to energise, and nothing gets permission to run,
while a winding is grounded, a terminal damaged, or dead readings stand without proven isolation."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.reasoning.assessment import assess
from service.results.visit import Visit
from service.schemas.documents import load

OHMS = st.one_of(
    st.just({"over_limit": True}),
    st.builds(lambda ohms: {"ohms": ohms}, st.sampled_from([0.0, 0.5, 0.9, 2.8, 3.7, 18.0, 5e3, 1e6])),
)
PROVEN = {
    "disconnect_locked": True,
    "meter_proved_before": True,
    "meter_proved_after": True,
    "line_to_line_volts": 0.0,
    "line1_to_ground_volts": 0.0,
    "line2_to_ground_volts": 0.0,
    "capacitor_residual_volts": 0.0,
}


def some(**members):
    return st.fixed_dictionaries({}, optional=members)


WINDINGS = some(common_run=OHMS, common_start=OHMS, run_start=OHMS)
UNNAMED = some(one_two=OHMS, two_three=OHMS, one_three=OHMS)
OTHER_PARTS = {
    "equipment": some(
        refrigerant=st.sampled_from(["R-22", "R-410A", "R-32", "R-454B", "R-290"]),
        metering_device=st.sampled_from(["fixed_orifice", "thermostatic_expansion_valve"]),
        phases=st.sampled_from([1, 3]),
        compressor=some(
            type=st.sampled_from(["scroll", "reciprocating", "rotary"]),
            drive=st.sampled_from(["single_phase", "three_phase", "inverter"]),
            rated_load_amps=st.just(16.0),
            locked_rotor_amps=st.just(96.0),
        ),
    ),
    "complaint": some(
        symptoms=st.lists(st.sampled_from(["no_start", "hums_no_start", "breaker_trips"]), unique=True)
    ),
    "running": some(
        minutes_running=st.just(20),
        suction_pressure=st.floats(20, 180),
        liquid_pressure=st.floats(150, 500),
        suction_line_temperature=st.floats(20, 90),
        liquid_line_temperature=st.floats(70, 130),
    ),
    "air": some(
        outdoor_dry_bulb=st.floats(60, 110), return_dry_bulb=st.floats(65, 85), supply_dry_bulb=st.floats(45, 80)
    ),
}


def visits(**parts):
    return st.fixed_dictionaries(parts, optional=OTHER_PARTS)


def assert_kept_off(document):
    answer = assess(load(Visit, document))
    assert answer.outcome is not None
    assert answer.outcome.run_permission == "keep_off"
    assert [step.code for step in answer.next_steps if step.power == "on"] == []
    assert answer.holds


RELAXED = settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@RELAXED
@given(
    visits(
        isolation=st.just(PROVEN),
        electrical=st.fixed_dictionaries(
            {
                "insulation": st.builds(
                    lambda terminal, ohms: {"instrument": "ohmmeter", terminal: {"ohms": ohms}},
                    st.sampled_from(
                        ["common_to_shell", "run_to_shell", "start_to_shell", "one_to_shell", "three_to_shell"]
                    ),
                    st.floats(0, 1e5),
                ),
                "windings": st.one_of(WINDINGS, UNNAMED),
            }
        ),
    )
)
def test_a_grounded_winding_is_kept_off(document):
    assert_kept_off(document)


@RELAXED
@given(
    visits(
        inspection=st.builds(lambda state: {"terminals": state}, st.sampled_from(["burnt", "oily"])),
        isolation=st.sampled_from([{}, PROVEN]),
    )
)
def test_a_damaged_terminal_is_kept_off(document):
    assert_kept_off(document)


@RELAXED
@given(
    st.sampled_from(sorted(set(PROVEN) - {"capacitor_residual_volts"})),
    visits(
        electrical=st.one_of(
            st.builds(lambda ohms: {"windings": {"common_run": ohms}}, OHMS),
            st.builds(lambda ohms: {"windings": {"one_two": ohms}}, OHMS),
            st.just({"insulation": {"instrument": "ohmmeter", "run_to_shell": {"over_limit": True}}}),
            st.just({"run_capacitors": [{"rated_microfarads": 45, "measured_microfarads": 45}]}),
            st.just({"control": {"coil_resistance": {"ohms": 12}}}),
        )
    ),
)
def test_dead_readings_without_proven_isolation_are_kept_off(left_out, document):
    isolation = {name: value for name, value in PROVEN.items() if name != left_out}
    assert_kept_off({**document, "isolation": isolation})


@RELAXED
@given(
    st.sampled_from(["line_to_line_volts", "line1_to_ground_volts", "line2_to_ground_volts"]),
    st.floats(50, 500),
    visits(),
)
def test_voltage_where_dead_was_claimed_is_unsafe(member, volts, document):
    answer = assess(load(Visit, {**document, "isolation": {**PROVEN, member: volts}}))
    assert answer.outcome is not None
    assert answer.outcome.state == "unsafe"
    assert answer.outcome.run_permission == "keep_off"
