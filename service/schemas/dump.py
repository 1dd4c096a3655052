"""An answer on its way out: SI -> the caller's units, codes -> texts; plain dictionaries in a fixed order.

The declarations of `service/results` say what is written and in which order; nothing is named here again.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from service.results.answer import Answer
from service.results.provenance import Provenance, Read
from service.results.units import TABLE, Units
from service.schemas.writing import writer_of, written
from service.words.say import Speaker

_write = writer_of(Answer)


def dump(
    answer: Answer,
    speaker: Speaker,
    provenance: Provenance,
    reference: str | None = None,
    read: Read | None = None,
) -> dict[str, Any]:
    """The answer as the contract writes it. All lists are present; unknown members are absent, never null.

    read: how much of a visit's readings the answer rests on.
    """
    body: dict[str, Any] = {} if reference is None else {"reference": reference}
    body |= _write(answer, speaker)
    if read is not None:
        body["read"] = written(read, speaker)
    body["units"] = dump_units(speaker.units)
    body["provenance"] = written(provenance, speaker)
    return body


@lru_cache(maxsize=256)
def dump_units(units: Units) -> dict[str, str]:
    """The full units object; not to be changed, it is shared."""
    return {name: getattr(units, name) for name in TABLE}
