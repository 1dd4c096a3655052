"""What stands behind a cause: readings that speak for it, a test of its own, and nothing firm against it."""

from __future__ import annotations

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.limits import limit
from service.knowledge.row_types import ByFinding, matches, matching, of_state
from service.knowledge.rows import DECIDING
from service.knowledge.told import marked
from service.reasoning.case import Case
from service.reasoning.causes import accuses, is_weighed, speaks
from service.reasoning.set_aside import contested, failures
from service.results.answer import Cause, Hold
from service.results.finding import Confidence, Finding, Severity, State
from service.results.visit.kept import kept

# Readings that the causes weigh together; site and nameplate are what they are weighed with.
RUNNING = ("/running/", "/air/", "/site/", "/equipment/", "/instruments/")


def is_read(cause: Cause) -> bool:
    """A cause that only its prior and the complaint speak for is not yet to be repaired."""
    return bool(cause.supported_by)


def is_likely(cause: Cause) -> bool:
    """A fault from the share on at which it counts as established, with readings that speak for it."""
    enough = cause.probability >= limit("reasoning.established").value
    return enough and is_read(cause) and not cause_rows()[cause.code].sound


def contends(case: Case, cause: Cause) -> bool:
    """Whether a cause stands close enough to the leading one to be asked about with it."""
    return cause.probability >= limit("reasoning.contends").value * case.lead.probability


def is_refuted(case: Case, cause: Cause) -> bool:
    """Whether the test made for this cause came out firmly against it: the readings do not agree on it then."""
    against = cause_rows()[cause.code].refuted_by
    return any(item.confidence is Confidence.FIRM for item in matching(against, case.findings))


def has_proof(case: Case, cause: Cause) -> bool:
    """Whether a test of its own stands behind the cause, where its repair asks for one on this unit."""
    return is_tested(case, cause) and not is_refuted(case, cause)


def is_tested(case: Case, cause: Cause) -> bool:
    """Whether the test of its own that its repair asks for on this unit was made and speaks for the cause."""
    proof = proof_of(case, cause)
    return not proof or bool(matching(proof, case.findings))


def suffices(case: Case, cause: Cause) -> bool:
    """Whether a likely cause is enough for a verdict: one that a test of its own tells, and was not made, needs a
    greater share.

    A unit whose make differs reads as some faults do (a small condenser as a blocked one), and only that test,
    mostly a look or a clamp, tells the two apart.
    """
    return is_tested(case, cause) or cause.probability >= limit("reasoning.fault-without-test").value


def proof_of(case: Case, cause: Cause) -> ByFinding:
    """Findings that prove the cause, where its repair asks for a test of its own on this unit; else none."""
    row = cause_rows()[cause.code]
    return {} if case.visit.equipment.metering_device in row.proof_waived_on else row.proof


def is_proven(case: Case, cause: Cause) -> bool:
    """Whether the cause is established: likely, tested, and by something firm rather than by doubts alone."""
    return is_likely(cause) and has_proof(case, cause) and is_established(case, cause)


def is_established(case: Case, cause: Cause) -> bool:
    """Whether a firm failed check, or all running readings together, name this cause.

    A compressor is not condemned by one check that rests on common practice or memory: another one has to agree.
    """
    if names(case, cause):
        return True
    telling = {item.code: finding_rows()[item.code].basis for item in _established_by(case, cause)}
    alone = not cause_rows()[cause.code].condemns or not DECIDING.isdisjoint(telling.values())
    return len(telling) > (0 if alone else 1)


def _established_by(case: Case, cause: Cause) -> tuple[Finding, ...]:
    """Failed checks that establish a fault and speak for this cause."""
    found = (item for item in failures(case) if speaks(item).get(cause.code, 0.0) > 0.0)
    return tuple(item for item in found if establishes(case, item))


@kept
def binding_holds(case: Case) -> tuple[Hold, ...]:
    """Holds that put a repair off: readings that contradict one another bind no cause that was read apart."""
    pointers = contested(case)
    apart = bool(pointers) and any(
        item.confidence is Confidence.FIRM and item.evidence and pointers.isdisjoint(item.evidence)
        for item in _established_by(case, case.lead)
    )
    return tuple(hold for hold in case.holds if not (apart and hold_rows()[hold.code].contradiction))


def binds_a_verdict(case: Case, hold: Hold) -> bool:
    """Whether a hold leaves the whole undecided. A precaution (a refrigerant that burns) owes no reading and hides
    no fault. Readings that contradict one another do not either where all the others together name a fault without
    them. Its repair still waits until they agree."""
    together = (item for item in _together(case) if item.state is State.FAIL)
    apart = any(contested(case).isdisjoint(item.evidence) for item in together)
    row = hold_rows()[hold.code]
    return row.owes and not (row.contradiction and apart)


def names(case: Case, cause: Cause) -> bool:
    """Whether all running readings together name the cause firmly."""
    return any(item.state is State.FAIL and item.values.get("cause") == cause.code for item in _together(case))


def establishes(case: Case, failed: Finding) -> bool:
    """Whether a failed check establishes a fault by itself.

    A critical one does. Others must be firm, name a cause or a step, and not rest on readings that the cycle model
    has weighed: what the model has weighed establishes no fault against it. One check of the running readings
    establishes none while all that was read together names none. Where no simulated unit reads like this one the
    model has not judged, and a test made for a cause stands.
    """
    if failed.severity is Severity.CRITICAL:
        return True
    row = finding_rows()[failed.code]
    if row.together or row.disagreement or failed.severity is Severity.INFO:
        return False
    if _abstains(case) and _is_a_proof(failed):
        return failed.confidence is Confidence.FIRM
    outvoted = is_weighed(failed, case.cycle.weighing) or (_none_named(case) and _is_of_running_readings(failed))
    telling = accuses(failed) or bool(of_state(row.steps, failed, ()))
    return failed.confidence is Confidence.FIRM and telling and not outvoted


@kept
def _together(case: Case) -> list[Finding]:
    """What all running readings together say."""
    return marked(case.findings, "together")


def _abstains(case: Case) -> bool:
    """Whether the running readings together were asked and name nothing, not even a sound unit."""
    return any(item.state is State.UNDECIDED and "cause" not in item.values for item in _together(case))


def _is_a_proof(failed: Finding) -> bool:
    """Whether this check is the test of its own of some cause; readings are repeated before a compressor goes."""
    return any(matches(row.proof, failed) and not row.condemns for row in cause_rows().values())


def _none_named(case: Case) -> bool:
    """Whether no fault leads, or the running readings together are as likely a sound unit's."""
    return cause_rows()[case.lead.code].sound or any(item.state is State.REVIEW for item in _together(case))


def _is_of_running_readings(failed: Finding) -> bool:
    return all(pointer.startswith(RUNNING) for pointer in failed.evidence)


@kept
def faults(case: Case) -> tuple[Finding, ...]:
    """Failed checks that establish a fault, gravest first."""
    found = [item for item in failures(case) if establishes(case, item)]
    return tuple(sorted(found, key=lambda item: item.severity is not Severity.CRITICAL))
