"""Words per answer and per first screen of the job note, over the golden visits.

`python -m tests.words.lengths [en|es]` prints a line a visit and the middle of all.
"""

import re
import statistics
import sys

from service.app import create_app
from tests.golden import golden_cases


def words(markup: str) -> int:
    """Words of a piece of a page, without its tags and style."""
    bare = re.sub(r"<style>.*?</style>|<[^>]+>", " ", markup, flags=re.DOTALL)
    return len(bare.split())


def first_screen(page: str) -> str:
    """What the head of the note says: may it run, what was found, what to do now, why."""
    found = re.search(r'<section class="first">.*?</section>', page, re.DOTALL)
    return found[0] if found else ""


def measured(language: str = "en", every: int = 1) -> list[tuple[str, int, int, int]]:
    """(name, words of the note, of its first screen, of the texts of the JSON answer) of each golden visit."""
    client = create_app().test_client()
    rows = []
    cases = [(name, case) for name, case in golden_cases() if case["endpoint"] == "/v1/assessment"]
    for name, case in cases[::every]:
        headers = {"Accept-Language": language}
        page = client.post("/v1/assessment", json=case["request"], headers={**headers, "Accept": "text/html"})
        answer = client.post("/v1/assessment", json=case["request"], headers=headers).get_json()
        if page.status_code == 200:
            rows.append((name, words(page.text), words(first_screen(page.text)), _told(answer)))
    return rows


def _told(answer: object) -> int:
    """Words of every text of three words or more in an answer."""
    if isinstance(answer, dict):
        return sum(_told(value) for value in answer.values())
    if isinstance(answer, list):
        return sum(_told(value) for value in answer)
    count = len(answer.split()) if isinstance(answer, str) else 0
    return count if count >= 3 else 0


if __name__ == "__main__":
    found = measured(*sys.argv[1:2])
    for line in found:
        print("{}: note {}, first screen {}, answer {}".format(*line))
    for place, name in ((1, "note"), (2, "first screen"), (3, "answer")):
        counts = [line[place] for line in found]
        print(f"{name}: median {statistics.median(counts):.0f}, most {max(counts)}, {len(counts)} visits")
