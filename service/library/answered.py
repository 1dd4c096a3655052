"""What comes of one document: an answer, a refusal, or a failure of ours."""

from __future__ import annotations

from typing import Any

from service.library.provenance import provenance_of
from service.results.answer import Answer
from service.results.record import Record
from service.results.refusal import Refusal
from service.results.visit import Visit
from service.schemas.dump import dump
from service.schemas.read_counts import read_counts
from service.schemas.sizes import FULL, SHORT, cut, passed
from service.words.say import speaker_of


class Assessed(Record):
    """A document that was judged: the visit as it was read, SI inside, and the answer in codes and SI."""

    visit: Visit
    answer: Answer

    def document(self, language: str = "en", size: str = FULL) -> dict[str, Any]:
        """The answer as `POST /v1/assessment` gives it: the visit's units, texts in `language` (`en` or `es`).

        size: `full`, `short` or `outcome` (see service/schemas/sizes.py).
        """
        speaker = speaker_of(self.visit, language)
        counts = read_counts(self.visit, self.answer.relied_on)
        provenance = provenance_of(self.visit, self.answer)
        body = dump(cut(self.answer, size), speaker, provenance, self.visit.reference, counts)
        of_size = {"passed": passed(self.answer)} if size == SHORT else {}
        return {"size": size, **body, **of_size}


class Refused(Record):
    """A document that cannot be judged; `refusal.errors` names every member that is wrong, by JSON Pointer."""

    refusal: Refusal


class Failed(Record):
    """A document that was acceptable and could not be judged: a defect of this package, not of the caller."""

    error: Exception


Answered = Assessed | Refused | Failed
