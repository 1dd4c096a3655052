"""python -m service.workshop.answer_sizes: how large answers are, over every golden visit and sample.

Median and largest, in bytes, of each size that can be asked for, as they are and compressed.
"""

from __future__ import annotations

import statistics

from service.schemas.sizes import SIZES
from service.workshop.specification.asking import quietly
from service.workshop.specification.reading_uses import posted_visits

ENDPOINT = "/v1/assessment"


def main() -> int:
    """Print one line a size."""
    visits = [visit for _, visit in posted_visits()]
    print(f"{len(visits)} visits, {ENDPOINT}: bytes, median and largest; compressed, median and largest")
    for size in SIZES:
        plain, small = _lengths(visits, size, "identity"), _lengths(visits, size, "gzip")
        said = (statistics.median(plain), max(plain), statistics.median(small), max(small))
        print(f"{size:8}" + "".join(f"{number:10,.0f}" for number in said))
    return 0


def _lengths(visits: list[dict[str, object]], size: str, encoding: str) -> list[int]:
    """Bytes of each answer; what is refused has none."""
    headers = {"Accept-Encoding": encoding}
    answers = (quietly("POST", f"{ENDPOINT}?size={size}", json=visit, headers=headers) for visit in visits)
    return [len(answer.get_data()) for answer in answers if answer.status_code == 200]


if __name__ == "__main__":
    raise SystemExit(main())
