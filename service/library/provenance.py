"""What is running: service, contract, one edition of everything that shapes an answer, origin of the tables.

Two services of the same edition give the same bytes, and two that could differ never carry the same name: the
edition is a digest over every file of the package that is at work while serving (code, knowledge, texts, tables,
pages), over the rules of a deployer and the default place, over the versions of the libraries that compute and
write, and over the version of the contract.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from functools import cache
from importlib import metadata, resources
from importlib.resources.abc import Traversable
from typing import Any

from packaging.version import Version

from service.knowledge.cycle_priors import cycle_priors
from service.knowledge.limits import limit
from service.knowledge.refrigerant_rows import refrigerant_data
from service.knowledge.rule_book import book
from service.results.answer import Answer, Simulated
from service.results.contract import CONTRACT
from service.results.provenance import Provenance
from service.results.record import replace
from service.results.visit import Visit
from service.schemas.writing import written
from service.words.say import plain_speaker

SUFFIXES = (".py", ".yaml", ".json", ".npz", ".md", ".html", ".css", ".js")
"""What a package holds that can change an answer; what an interpreter leaves beside it cannot."""
OFFLINE = frozenset({"__pycache__", "workshop"})
"""Folders that no request ever reaches; the imports are held by the layers of pyproject.toml."""
LIBRARIES = ("flask", "marshmallow", "matplotlib", "numpy", "orjson", "werkzeug")
"""Whose other version may write another digit, another header or another line of a drawing."""
DIGITS = 16


def provenance() -> Provenance:
    """The versions that every answer carries, so that it can be given again."""
    return _provenance(*_chosen())


def written_provenance() -> dict[str, Any]:
    """As every answer has it."""
    return written(provenance(), plain_speaker())


def edition() -> str:
    """The edition, sixteen hexadecimal digits; worked out once for what a process was started with."""
    return _edition(*_chosen())


def _chosen() -> tuple[str, str]:
    """What the settings chose that can change an answer: a deployer's own rules and the default place."""
    return book().digest, book().default or ""


@cache
def _provenance(rules: str, default: str) -> Provenance:
    knowledge = resources.files("service.knowledge")
    tables = _digest(_files(knowledge / "tables", ""))[:12]
    return Provenance(
        service=str(Version(CONTRACT)),  # not what pip noted: an editable checkout moves on without it
        contract=CONTRACT,
        edition=_edition(rules, default),
        knowledge=_digest([*_rows_and_texts(), ("rules", rules.encode())])[:12],
        properties=f"{refrigerant_data().property_library}, tables {tables}",
    )


def provenance_of(visit: Visit, answer: Answer) -> Provenance:
    """As `provenance`, with what this visit was reasoned with besides.

    Learnt shares; how far simulated units were believed, where they were; and what told how this very unit reads
    when nothing is wrong with it.
    """
    found, priors, simulated = provenance(), visit.priors, answer.simulated
    if priors.labels is not None:
        found = replace(found, priors=f"{priors.name}, {priors.labels} labels")
    if simulated is None:
        return found
    found = replace(found, simulated_units=_belief())
    if simulated.known_by == "baseline":
        return replace(found, baseline=_known_by(visit, simulated))
    if simulated.known_by:
        return replace(found, printed_normals=_known_by(visit, simulated))
    return found


def _known_by(visit: Visit, simulated: Simulated) -> str:
    date = visit.baseline.visit_date if visit.baseline is not None and simulated.known_by == "baseline" else None
    return ", ".join(([f"of {date}"] if date else []) + [f"{simulated.readings} readings used"])


@cache
def _belief() -> str:
    """How far simulated likelihoods are believed, and the set that says so."""
    table = cycle_priors()
    most = limit("simulated.most-share").value
    return (
        f"temperature 1 or ({table.fit_readings:g} + squared distance) / "
        f"({table.fit_readings:g} + {table.fit_usual:g} a reading), "
        f"{table.unmodelled:g} left at the prior, at most {most:g}; fitted on {table.fitted_on}"
    )


@cache
def _edition(rules: str, default: str) -> str:
    versions = ((name, metadata.version(name).encode()) for name in LIBRARIES)
    package = _digest(_files(resources.files("service"), ""))
    chosen = [("rules", rules.encode()), ("default jurisdiction", default.encode())]
    return _digest([*versions, *chosen, ("contract", CONTRACT.encode()), ("package", package.encode())])[:DIGITS]


def digest_of_package(package: str) -> str:
    """Sixteen hexadecimal digits over a package's files: for what works offline, which the edition leaves out."""
    return _digest(_files(resources.files(package), ""))[:DIGITS]


def _digest(files: Iterator[tuple[str, bytes]] | list[tuple[str, bytes]]) -> str:
    """Hexadecimal digits over names and contents: the same only if every name and every byte is the same."""
    digest = hashlib.sha256()
    for name, content in sorted(files):
        digest.update(name.encode() + b"\0" + hashlib.sha256(content).digest())
    return digest.hexdigest()


def _rows_and_texts() -> Iterator[tuple[str, bytes]]:
    """The files that rows stand in, with what they say."""
    for name in ("data", "topics"):
        yield from _files(resources.files("service.knowledge") / name, f"{name}/")


def _files(folder: Traversable, prefix: str) -> Iterator[tuple[str, bytes]]:
    for entry in folder.iterdir():
        if entry.is_dir():
            if entry.name not in OFFLINE:
                yield from _files(entry, f"{prefix}{entry.name}/")
        elif entry.name.endswith(SUFFIXES):
            yield prefix + entry.name, entry.read_bytes()
