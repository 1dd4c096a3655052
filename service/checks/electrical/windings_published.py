"""Windings against what the maker publishes, what physics allows, and what is usual."""

from service.checks.electrical.meters import combined, ohm_error, ohm_uncertainty, ohms
from service.checks.electrical.nameplate import marked_volts
from service.checks.electrical.winding_pairs import ClosedPair, Pair, closed, pointers
from service.knowledge.limits import limit
from service.physics.motors import (
    COPPER,
    ZERO_CELSIUS,
    highest_winding_resistance,
    resistance_at,
    winding_temperature,
)
from service.results.computed import WindingsComputed
from service.results.finding import Assumption, Bounds, Confidence, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.record import replace
from service.results.visit import Visit
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

PUBLISHED = "/equipment/compressor/winding_ohms"


def check_published(visit: Visit, pairs: tuple[Pair, ...], computed: WindingsComputed) -> Checked:
    """Compare closed pairs, brought to 25 C, with published values; then the bound by locked-rotor amps.

    Source: copper 234.5 (IEEE/NEMA/UL practice); 70-80 % of published for shorted turns: common practice.
    """
    numbers = closed(pairs)
    bound = _physical_bound(visit, numbers)
    usual = _usual_range(visit, numbers) if len(numbers) == 3 else ()
    compared = _compared(visit, numbers)
    findings = (bound or compared) + usual
    return Checked(
        findings,
        _missing(visit, numbers),
        _assumed(visit, compared),
        _computed(visit, numbers, computed),
    )


def _temperature(visit: Visit) -> float | None:
    """Temperature of the windings, else of the shell [K]."""
    given = visit.electrical.windings.winding_temperature
    return given if given is not None else visit.inspection.shell_temperature


def _reference(visit: Visit) -> float:
    given = visit.equipment.compressor.winding_ohms_temperature
    return given if given is not None else limit("windings.reference-temperature").value


def _published(visit: Visit, pair: ClosedPair) -> float | None:
    """Published resistance of a named pair brought to 25 C [ohm]."""
    reading = getattr(visit.equipment.compressor.winding_ohms, pair.name, None)
    if reading is None or not reading.ohms:
        return None
    return resistance_at(reading.ohms, _reference(visit), limit("windings.reference-temperature").value)


def _at_25(visit: Visit, value: float) -> float:
    temperature = _temperature(visit)
    reference = limit("windings.reference-temperature").value
    return value if temperature is None else resistance_at(value, temperature, reference)


def _compared(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """The pair that lies furthest below what is published (W10); the sum rule cannot see shorted turns."""
    shares = {
        pair: 100.0 * _at_25(visit, pair.ohms) / expected
        for pair in numbers
        if (expected := _published(visit, pair)) is not None
    }
    if not shares:
        return ()
    lowest, highest = min(shares, key=lambda pair: shares[pair]), max(shares, key=lambda pair: shares[pair])
    high = limit("windings.published-high-percent").value
    if above(shares[highest], high) and not below(shares[lowest], limit("windings.published-low-percent").value):
        return (_share(visit, highest, shares[highest], State.REVIEW, "high"),)
    return (_low_share(visit, lowest, shares[lowest]),)


def _low_share(visit: Visit, pair: ClosedPair, share: float) -> Finding:
    fail, review = limit("windings.published-fail-percent").value, limit("windings.published-low-percent").value
    if not below(share, review):
        return _share(visit, pair, share, State.PASS)
    sure = confidence(share, _share_uncertainty(visit, pair, share), low=fail)
    proven = visit.inspection.wires_off_terminals is True and _temperature(visit) is not None
    certain = below(share, fail) and sure is Confidence.FIRM and proven
    return _share(visit, pair, share, State.FAIL if certain else State.REVIEW)


def _share(visit: Visit, pair: ClosedPair, share: float, state: State, variant: str = "") -> Finding:
    width = _share_uncertainty(visit, pair, share)
    low, high = limit("windings.published-low-percent"), limit("windings.published-high-percent")
    return report(
        "windings.published-match",
        state,
        (pair.pointer, f"{PUBLISHED}/{pair.name}"),
        measured=Quantity(share, "percent", width),
        limit=low.bounds(low=low.value, high=high.value),
        confidence=confidence(share, width, low=low.value, high=high.value),
        values={"pair": "-".join(pair.ends)},
        variant=variant,
    )


def _share_uncertainty(visit: Visit, pair: ClosedPair, share: float) -> float:
    relative = 100.0 * ohm_uncertainty(visit, pair.ohms) / (_published(visit, pair) or pair.ohms)
    unknown = share * limit("windings.temperature-not-read-percent").value / 100.0
    return combined(relative, unknown if _temperature(visit) is None else 0.0)


def _physical_bound(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """A main winding cannot read more than rated volts over locked-rotor amps."""
    amps, marked = visit.equipment.compressor.locked_rotor_amps, marked_volts(visit)
    if not amps or marked is None or len(numbers) < 3:
        return ()
    highest = highest_winding_resistance(marked[1], amps)
    main = numbers[0]
    measured = _at_25(visit, main.ohms)
    width = ohm_error(visit, measured)
    if not above(measured, highest):
        return ()
    firm = above(measured - width, highest)
    return (
        report(
            "windings.above-physical-bound",
            State.UNDECIDED if firm else State.REVIEW,
            (*pointers(numbers), "/equipment/compressor/locked_rotor_amps", "/equipment/nominal_voltage"),
            measured=Quantity(measured, "ohms", width),
            limit=Bounds("ohms", "request", limit("windings.physical-bound").cited, high=highest),
            confidence=Confidence.FIRM if firm else Confidence.BORDERLINE,
        ),
    )


def _usual_range(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """About 2 ohm, under 10 ohm: a soft cue that never fails anything."""
    highest, usual = numbers[2], limit("windings.usual-highest")
    return (
        report(
            "windings.usual-range",
            State.PASS,
            (highest.pointer,),
            measured=ohms(visit, highest.ohms),
            limit=usual.as_high(),
            variant="above" if above(highest.ohms, usual.value) else "",
        ),
    )


def _missing(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Missing, ...]:
    compared = any(_published(visit, pair) is not None for pair in numbers)
    if compared:
        return ()
    return (Missing(PUBLISHED, "windings.published"),)


def _assumed(visit: Visit, compared: tuple[Finding, ...]) -> tuple[Assumption, ...]:
    found = []
    if compared and _temperature(visit) is None:
        found.append(Assumption("windings.at-25-c", "/electrical/windings/winding_temperature"))
    if compared and visit.equipment.compressor.winding_ohms_temperature is None:
        found.append(Assumption("windings.published-at-25-c", "/equipment/compressor/winding_ohms_temperature"))
    return tuple(found)


def _computed(visit: Visit, numbers: tuple[ClosedPair, ...], computed: WindingsComputed) -> WindingsComputed:
    """Resistance of the lowest pair at 25 C, where its temperature was read; else temperature from it."""
    main = numbers[0]
    found = computed
    if _temperature(visit) is not None:
        value = _at_25(visit, main.ohms)
        found = replace(found, resistance_at_25_c=Quantity(value, "ohms", ohm_uncertainty(visit, value)))
    expected = _published(visit, main)
    if expected is not None:
        known = limit("windings.reference-temperature").value
        value = winding_temperature(main.ohms, expected, known)
        width = ohm_uncertainty(visit, main.ohms) * (known + COPPER - ZERO_CELSIUS) / expected
        found = replace(found, winding_temperature=Quantity(value, "temperature", width))
    return found
