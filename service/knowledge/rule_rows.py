"""One rule of a jurisdiction: what it is about, when it applies, where it stands, when it was looked at."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from service.results.record import Record, field
from service.results.units import POUND

UNSTATED = "unstated"
HAIR = 1e-9  # relative: a charge on the line is on it, whatever the conversion did to its last digit


class Applies(Record):
    """When a rule applies; what is empty or None does not matter. Charges in lb as the rule has them.

    components with or_gwp_above: holds one of these, or its potential (AR4) is above that.
    """

    kinds: tuple[str, ...] = ()
    classes: tuple[str, ...] = ()
    not_classes: tuple[str, ...] = ()
    refrigerants: tuple[str, ...] = ()
    components: tuple[str, ...] = ()
    or_gwp_above: float | None = None
    gwp_from: float | None = None
    ozone_depleting: bool | None = None
    solely_ozone_depleting: bool | None = None
    pressure_class: str | None = None
    pressure_classes: tuple[str, ...] = ()
    charge_from_lb: float | None = None
    charge_to_lb: float | None = None
    charge_above_lb: float | None = None
    charge_below_lb: float | None = None

    def charge(self, kilograms: float) -> bool:
        """True for a full charge [kg] within the rule's bounds; on a bound that is included it is within."""
        pounds = kilograms / POUND
        at_least = self.charge_from_lb is None or pounds >= self.charge_from_lb * (1.0 - HAIR)
        at_most = self.charge_to_lb is None or pounds <= self.charge_to_lb * (1.0 + HAIR)
        above = self.charge_above_lb is None or pounds > self.charge_above_lb * (1.0 + HAIR)
        below = self.charge_below_lb is None or pounds < self.charge_below_lb * (1.0 - HAIR)
        return at_least and at_most and above and below


class Rule(Record):
    """One row. read_as: original, copy or memory; read_on, review_by: when it was and is to be read."""

    code: str
    topic: str
    jurisdiction: str
    title: str
    clause: str
    edition: str
    says: Mapping[str, str]
    read_as: str
    read_on: date
    review_by: date
    applies_when: Applies = field(default_factory=Applies)
    thresholds: Mapping[str, Any] = field(default_factory=dict)
    valid_from: date | None = None
    valid_to: date | None = None
    amended_by: str = ""
    address: str = ""

    def in_force(self, day: date) -> bool:
        """True when the rule holds on that day."""
        return (self.valid_from is None or self.valid_from <= day) and (
            self.valid_to is None or day <= self.valid_to
        )

    @property
    def basis(self) -> str:
        """published, or from memory."""
        return "from memory" if self.read_as == "memory" else "published"

    @property
    def origin(self) -> str:
        """table for what was read, default for what is from memory."""
        return "default" if self.read_as == "memory" else "table"

    def cited(self, day: date | None = None) -> str:
        """Title and edition as an answer prints them, with the day it is to be read again; day: of the visit."""
        memory = ", from memory" if self.read_as == "memory" else ""
        late = ", not looked at since" if day is not None and day > self.review_by else ""
        return f"{self.title} ({self.edition}{memory}; to be reviewed by {self.review_by.isoformat()}{late})"
