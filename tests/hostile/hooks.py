"""What schemathesis cannot know by itself: newline-delimited JSON is sent as the text that it is."""

from typing import Any

import schemathesis


@schemathesis.serializer("application/x-ndjson")
def newline_delimited(context: Any, value: Any) -> Any:
    """The generated text, as UTF-8 where it can be."""
    return str(value).encode("utf-8", "surrogatepass")
