"""The visit document: one record a part, every member declared once."""

from service.results.visit.document import Visit
from service.results.visit.unit_known import Baseline, PrintedNormals

__all__ = ["Baseline", "PrintedNormals", "Visit"]
