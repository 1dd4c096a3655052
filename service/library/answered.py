"""What comes of one document: an answer, a refusal, or a failure of ours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from service.library.provenance import provenance_of
from service.results.answer import Answer
from service.results.refusal import Refusal
from service.results.visit import Visit
from service.schemas.dump import dump
from service.words.say import Speaker


@dataclass(frozen=True, slots=True)
class Assessed:
    """A document that was judged: the visit as it was read, SI inside, and the answer in codes and SI."""

    visit: Visit
    answer: Answer

    def document(self, language: str = "en") -> dict[str, Any]:
        """The answer as `POST /v1/assessment` gives it: the visit's units, texts in `language` (`en` or `es`)."""
        speaker = Speaker(self.visit.units, self.visit.site_pressure, language)
        return dump(self.answer, speaker, provenance_of(self.visit), self.visit.reference)


@dataclass(frozen=True, slots=True)
class Refused:
    """A document that cannot be judged; `refusal.errors` names every member that is wrong, by JSON Pointer."""

    refusal: Refusal


@dataclass(frozen=True, slots=True)
class Failed:
    """A document that was acceptable and could not be judged: a defect of this package, not of the caller."""

    error: Exception


Answered = Assessed | Refused | Failed
