"""What is served to people, and the contract document for programs; files of this folder, read once."""

from functools import cache
from importlib import resources


@cache
def page_file(name: str) -> bytes:
    """The bytes of a file of this folder. Raises: FileNotFoundError."""
    return (resources.files(__package__) / name).read_bytes()
