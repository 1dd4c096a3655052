"""What the dispatcher and the customer are told before anybody is there."""

from collections.abc import Sequence

from service.reasoning.causes import NONE_FOUND
from service.reasoning.notes import hold_sentences
from service.reasoning.shares import percent
from service.results.answer import Cause, Hold, Sentence
from service.results.visit import Visit

NAMED = 3
# What to tell the customer to do meanwhile, by symptom, gravest first; each begins with leaving the unit off.
# Common practice, no source.
ADVICE = {
    "burnt_smell": "advice.burnt-smell",
    "breaker_trips": "advice.breaker",
    "refrigerant_smell_or_hiss": "advice.hiss",
    "hums_no_start": "advice.hum",
    "outdoor_fan_stopped": "advice.fan",
    "indoor_fan_stopped": "advice.blower",
    "water_leak": "advice.water",
    "ice_on_line": "advice.ice",
    "will_not_shut_off": "advice.will-not-shut-off",
}


def off_is_advised(visit: Visit) -> bool:
    """True where running on would do harm: the unit stays off until somebody has looked."""
    return any(symptom in ADVICE for symptom in visit.complaint.symptoms)


def intake_summary(holds: Sequence[Hold], causes: Sequence[Cause], permission: str) -> tuple[Sentence, ...]:
    """For the dispatcher: holds, the likeliest causes, and whether it may run."""
    likely = [cause for cause in causes if cause.code != NONE_FOUND][:NAMED]
    return (
        *hold_sentences(holds),
        Sentence("note.before-reading"),
        *(
            Sentence("note.likely", {"cause": cause.code, "percent": percent(cause.probability)})
            for cause in likely
        ),
        Sentence(f"summary.{permission}"),
    )


def intake_customer_note(visit: Visit, permission: str) -> tuple[Sentence, ...]:
    """For the customer: what to do until somebody comes; no cause is named, because none has been read."""
    advice = [Sentence(code) for symptom, code in ADVICE.items() if symptom in visit.complaint.symptoms]
    said = [Sentence("customer.intake")]
    if not advice:
        allowed = "customer.keep_off" if permission == "keep_off" else "customer.may_run_watched"
        said.append(Sentence(allowed))
    if visit.complaint.people_at_risk:
        advice.append(Sentence("advice.heat"))
    return (*said, *advice)
