"""A frozen dataclass with some members changed."""

from collections.abc import Callable, Hashable
from dataclasses import fields
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar

Instance = TypeVar("Instance")


def changed(instance: Instance, **members: Any) -> Instance:
    """As `dataclasses.replace`, for a class of two members and more.

    It reads all members at once: a case has twenty of them and is changed at every stage.
    """
    of: type = instance.__class__
    names, values_of = _members(of)
    return instance.__class__(**dict(zip(names, values_of(instance), strict=True)) | members)


@cache
def _members(of: Hashable) -> tuple[tuple[str, ...], Callable[[Any], tuple[Any, ...]]]:
    names = tuple(item.name for item in fields(of) if item.init)  # type: ignore[arg-type]
    return names, attrgetter(*names)
