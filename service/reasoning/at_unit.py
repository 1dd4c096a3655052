"""Whether a finding rests on something that was read at the unit, or only on what was told."""

from service.results.finding import Finding

# What is no reading of the unit today: nameplate, place, instruments, what was reported, and how the unit or its
# chart reads when nothing is wrong.
UNREAD = ("/equipment", "/site", "/instruments", "/complaint", "/baseline", "/printed_normals")
PROVEN_DEAD = "/isolation"


def rests_on_readings(item: Finding) -> bool:
    """Whether a finding rests on something that was read at the unit.

    How dead was proven tells nothing of the unit, nor does that it was proven before the reading that it names.
    """
    if any(pointer.startswith(PROVEN_DEAD) for pointer in item.evidence):
        return False
    return any(not pointer.startswith(UNREAD) for pointer in item.evidence)


def is_seen(item: Finding) -> bool:
    """Whether a finding rests on what eye or hand found alone."""
    return bool(item.evidence) and all(pointer.startswith("/inspection/") for pointer in item.evidence)
