"""Dates of a document as dates."""

from datetime import date


def day_of(written: str | None) -> date | None:
    """The day of an ISO 8601 date that has been accepted; None where it is absent."""
    return None if written is None else date.fromisoformat(written)
