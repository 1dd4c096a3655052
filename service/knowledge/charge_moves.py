"""Words of the rows for verdicts on charge that a finding forbids, and the directions each of them covers."""

DIRECTIONS = {"any": ("add", "remove", "none"), "move": ("add", "remove"), "add": ("add",), "remove": ("remove",)}
MOVES = DIRECTIONS["move"]
