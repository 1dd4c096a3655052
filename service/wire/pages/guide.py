"""The guide for people: holds, findings with what follows from each, causes, steps and cautions."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from service.knowledge import catalogues
from service.knowledge.catalogues import CauseRow, FindingRow, HoldRow, StepRow
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.wire.pages.guide_headings import HEADINGS
from service.wire.pages.markup import Markup, bullets, element, joined, link
from service.words.say import Speaker

_PLACEHOLDER = re.compile(r"\{(\w+)[^{}]*\}")
FOLDERS = {"cause": "causes", "step": "steps", "hold": "holds", "caution": "cautions"}


class Guide:
    """The guide in one language."""

    def __init__(self, language: str) -> None:
        self.language = language
        self.say = Speaker(Units(), STANDARD_ATMOSPHERE, language)
        self.heading = HEADINGS[language]

    def page(self) -> bytes:
        """The whole page."""
        parts = (
            ("holds", (self._hold(row) for row in catalogues.holds().values())),
            ("findings", self._areas()),
            ("causes", (self._cause(row) for row in catalogues.causes().values())),
            ("steps", (self._step(row) for row in catalogues.steps().values())),
            ("cautions", (self._caution(code) for code in catalogues.cautions())),
        )
        sections = [self._section(name, list(entries)) for name, entries in parts]
        contents = bullets(link(name, self.heading[name]) for name, _ in parts)
        return _document(self.language, self.heading, contents, sections)

    def _section(self, name: str, entries: Sequence[Markup]) -> Markup:
        return element(
            "section",
            element("h2", self.heading[name], id=name),
            element("p", self.heading[f"{name}_about"]),
            *entries,
        )

    def _links(self, codes: Iterable[str]) -> Markup:
        return bullets(link(code, self._title(code)) for code in codes)

    def _title(self, code: str) -> str:
        return self.say.title(FOLDERS[code.partition(".")[0]], code)

    def _row(self, name: str, content: str) -> Markup:
        return joined([element("dt", self.heading[name]), element("dd", content)], "") if content else Markup("")

    def _entry(self, code: str, title: str, mark: str, *content: str) -> Markup:
        head = element("h3", title, " ", element("code", code))
        return element("article", head, *content, id=code, class_=f"entry {mark}")

    def _hold(self, row: HoldRow) -> Markup:
        said = self.say.text("holds", row.code)
        facts = element(
            "dl",
            self._row("clears_when", said["clears_when"]),
            self._row("steps", self._links(row.steps)),
            self._row("cautions", self._links(row.cautions)),
        )
        mark = "critical" if row.unsafe else "warning"
        return self._entry(row.code, said["title"], mark, element("p", said["instruction"]), facts)

    def _areas(self) -> list[Markup]:
        """A table for each area of findings: the pattern, what it says, and what follows from it."""
        areas: dict[str, list[FindingRow]] = {}
        for row in catalogues.findings().values():
            areas.setdefault(row.code.partition(".")[0], []).append(row)
        return [self._area(area, rows) for area, rows in areas.items()]

    def _area(self, area: str, rows: list[FindingRow]) -> Markup:
        columns = ("finding", "says", "raises", "speaks", "steps")
        head = element("tr", *(element("th", self.heading[name], scope="col") for name in columns))
        body = [line for row in rows for line in self._finding(row)]
        caption = element("caption", area.replace("-", " ").replace("_", " "))
        table = element("table", caption, element("thead", head), element("tbody", *body))
        return element("div", table, class_="wide", tabindex="0", role="region", aria_label=area)

    def _finding(self, row: FindingRow) -> list[Markup]:
        """One line a verdict; the first names the finding."""
        said = self.say.text("findings", row.code)
        details = list(said["detail"].items())
        source = f"{row.source} ({row.basis})" if row.source else row.basis
        name = element(
            "th",
            element("strong", said["title"]),
            element("code", row.code),
            element("small", source),
            scope="row",
            id=row.code,
            rowspan=str(len(details)),
        )
        lines = [self._verdict(row, key, text) for key, text in details]
        return [element("tr", *((name,) if not index else ()), *line) for index, line in enumerate(lines)]

    def _verdict(self, row: FindingRow, key: str, text: str) -> tuple[Markup, ...]:
        state = key.partition(".")[0]
        said = joined([element("b", state, class_=f"state {state}"), _PLACEHOLDER.sub(_named, text)])
        return (
            element("td", said),
            element("td", self._links(row.raises.get(state, ()))),
            element("td", self._spoken(row.speaks.get(state, {}))),
            element("td", self._links(row.steps.get(state, ()))),
        )

    def _spoken(self, weights: Mapping[str, float]) -> Markup:
        signs = {True: self.heading["for"], False: self.heading["against"]}
        return bullets(
            joined([signs[weight > 0.0], link(code, self._title(code))]) for code, weight in weights.items()
        )

    def _cause(self, row: CauseRow) -> Markup:
        facts = element(
            "dl",
            self._row("how_often", f"{row.prior:.1%}"),
            self._row("confirm_by", self._links(row.confirm_by)),
            self._row("repair", self._links(row.repair)),
            self._row("parts", joined((self.say.title("parts", code) for code in row.parts), "; ")),
        )
        return self._entry(row.code, self._title(row.code), "", facts)

    def _step(self, row: StepRow) -> Markup:
        said = self.say.text("steps", row.code)
        facts = element(
            "dl",
            self._row("power", self.heading[f"power_{row.power}"]),
            self._row("minutes", f"{row.low:.0f} – {row.high:.0f}"),
            self._row("certificates", joined(row.certificates, ", ")),
            self._row("tools", joined((self.say.title("tools", code) for code in row.tools), "; ")),
            self._row("cautions", self._links(row.hazards)),
        )
        text = _PLACEHOLDER.sub(_named, said["text"])
        return self._entry(row.code, said["title"], "", element("p", text), facts)

    def _caution(self, code: str) -> Markup:
        row = catalogues.cautions()[code]
        return self._entry(code, self._title(code), str(row.severity), element("p", row.source or row.basis))


def _named(placeholder: re.Match[str]) -> str:
    """A value that the answer fills in."""
    return f"‹{placeholder[1].replace('_', ' ')}›"


def _document(language: str, heading: dict[str, str], contents: Markup, sections: list[Markup]) -> bytes:
    head = element(
        "head",
        Markup('<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'),
        element("title", heading["title"]),
        Markup('<link rel="stylesheet" href="/docs/files/docs.css">'),
    )
    banner = element(
        "header",
        element("a", heading["skip"], href="#content", class_="skip"),
        element("h1", heading["title"]),
        element("nav", element("a", heading["reference"], href="/docs"), aria_label="pages"),
    )
    body = element(
        "body",
        banner,
        element("nav", contents, class_="contents", aria_label=heading["contents"]),
        element("main", element("p", heading["about"]), *sections, id="content"),
        class_="guide",
    )
    return f"<!doctype html>\n{element('html', head, body, lang=language)}\n".encode()
