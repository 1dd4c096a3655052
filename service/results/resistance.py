"""A resistance as a meter shows it: a number, or over the meter's limit (OL)."""

from service.results.record import Record


class Resistance(Record):
    """ohms: [ohm], zero or more; None when the meter showed over-limit."""

    ohms: float | None

    @property
    def over_limit(self) -> bool:
        """True when the meter showed OL: no continuity within its range."""
        return self.ohms is None
