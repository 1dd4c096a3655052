"""Words per answer and first screen of the job note over the golden visits, and per note over the samples.

`python -m tests.words.lengths [en|es]` prints a line a visit, the middle of all, and the samples' notes beside
those of the first round. Of a sample the technician's part is counted: the page without the customer's section.
"""

import json
import re
import statistics
import sys
from pathlib import Path

from service.app import create_app
from tests.golden import golden_cases

SAMPLES = Path("samples/visits")
# Words of the technician's part of each sample's note at commit e298bd2, the end of the first round, counted by
# `technicians_words` on its pages.
FIRST_ROUND = {
    "en": {
        "dirty-outdoor-coil": 656,
        "grounded-winding": 1233,
        "hot-shell": 560,
        "low-charge-orifice": 724,
        "low-charge-valve": 652,
        "sound-unit": 257,
        "weak-capacitor": 491,
    },
    "es": {
        "dirty-outdoor-coil": 736,
        "grounded-winding": 1408,
        "hot-shell": 602,
        "low-charge-orifice": 810,
        "low-charge-valve": 734,
        "sound-unit": 300,
        "weak-capacitor": 558,
    },
}


def words(markup: str) -> int:
    """Words of a piece of a page, without its tags and style."""
    bare = re.sub(r"<style>.*?</style>|<[^>]+>", " ", markup, flags=re.DOTALL)
    return len(bare.split())


def first_screen(page: str) -> str:
    """What the head of the note says: may it run, what was found, what to do now, why."""
    found = re.search(r'<section class="first">.*?</section>', page, re.DOTALL)
    return found[0] if found else ""


def technicians_words(page: str) -> int:
    """Words of a note without the customer's section."""
    body = page.split("<body>")[1]
    return words(re.sub(r'<section class="customer">.*?</section>', "", body, flags=re.DOTALL))


def sampled(language: str = "en") -> dict[str, int]:
    """Words of the technician's part of the note of each sample that the first round had."""
    client = create_app().test_client()
    headers = {"Accept": "text/html", "Accept-Language": language}
    notes = {
        path.stem: client.post("/v1/assessment", json=json.loads(path.read_text()), headers=headers)
        for path in sorted(SAMPLES.glob("*.json"))
        if path.stem in FIRST_ROUND[language]
    }
    return {name: technicians_words(note.text) for name, note in notes.items()}


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
    spoken = (sys.argv[1:2] or ["en"])[0]
    before, now = FIRST_ROUND[spoken], sampled(spoken)
    for name, count in now.items():
        print(f"sample {name}: {before[name]} before, {count} now ({count / before[name]:.0%})")
    first, last = sum(before.values()), sum(now.values())
    print(f"samples: {first} before, {last} now ({last / first:.0%})")
