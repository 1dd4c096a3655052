"""The visit document: one frozen dataclass a part, every member declared once."""

from service.results.visit.document import Baseline, Visit

__all__ = ["Baseline", "Visit"]
