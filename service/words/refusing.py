"""What is said of a refused request, in one language: problem types, error codes, and what is wrong where."""

from service.results.refusal import Meaning, Phrase, Said
from service.words.locale import text
from service.words.members import label_of
from service.words.templates import pieces

PHRASES = "refusals"
PROBLEMS = "problems"
ERRORS = "error_codes"


def said(what: Said, language: str) -> str:
    """A phrase in a language; several sentences with a space between. Raises: KeyError for a code without text."""
    if isinstance(what, Phrase):
        return _filled(what, language)
    if isinstance(what, Meaning):
        return label_of(language, what.of, what.name) or what.english
    if isinstance(what, tuple):
        return " ".join(filter(None, (said(part, language) for part in what)))
    return what


def _filled(what: Phrase, language: str) -> str:
    values, parts = dict(what.values), []
    for written, name in pieces(text(language, PHRASES, what.code)):
        parts.append(written)
        if name is not None:
            parts.append(said(values[name], language))
    return "".join(parts)


def problem_title(code: str, language: str) -> str:
    """The title of a problem type."""
    found: str = text(language, PROBLEMS, code)["title"]
    return found


def problem_detail(code: str, language: str) -> str:
    """What a problem type says where nothing is known of the occurrence."""
    found: str = text(language, PROBLEMS, code)["detail"]
    return found


def error_title(code: str, language: str) -> str:
    """What a code in `errors` stands for."""
    found: str = text(language, ERRORS, code)
    return found
