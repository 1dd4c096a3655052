"""How a place is written: the code of a country or of a part of one (ISO 3166-1 and 3166-2), or of the Union."""

import re

PLACE = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,3})?")
