"""The shapes of a batch of visits as one JSON document."""

from typing import Any

from service.results.computed import Computed
from service.results.declare import member
from service.results.provenance import Provenance
from service.results.record import Record
from service.results.visit import Visit
from service.schemas.answer_shape import answer_of
from service.schemas.item_shapes import always
from service.schemas.lists.problems import Problem
from service.schemas.sizes import SIZES

AssessmentAnswer = answer_of("AssessmentAnswer", Computed, outcome=True, sizes=SIZES, keeps=True)


class BatchRequest(Record):
    """Many visits as one document."""

    visits: tuple[Visit, ...] = member("parts", "The visits, 1 to 1000.", part=Visit, length=1000, required=True)


class BatchLineShape(Record):
    """What came of one visit of a batch: an assessment, or a problem where it was refused."""

    line: int = always("integer", "Its place in the batch, from 1.", low=1, high=100_000_000)
    reference: str | None = member("text", "The caller's `reference`, echoed.")
    status: int = always("integer", "The HTTP status that it would have had alone.", low=200, high=599)
    assessment: Any = member("object", "The answer.", part=AssessmentAnswer)
    problem: Any = member("object", "Why it was refused.", part=Problem)


class BatchAnswerShape(Record):
    """The answers of a batch, in order."""

    answers: tuple[BatchLineShape, ...] = always("parts", "One for each visit.", part=BatchLineShape)
    provenance: Any = always("object", "What gave the answers.", part=Provenance)
