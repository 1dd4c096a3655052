"""What is worked out from a visit once, however often it is asked for."""

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar, cast

from service.results.visit.document import Visit

ABSENT = object()
Function = TypeVar("Function", bound=Callable[..., Any])


def kept(function: Function) -> Function:
    """Let a pure function of a visit (and of hashable arguments, by position) keep its result with the visit.

    A visit is frozen, and what was found goes when the visit goes. What is raised is not kept.
    """

    @wraps(function)
    def asked(visit: Visit, *arguments: Any) -> Any:
        key = (function, *arguments)
        found = visit.kept.get(key, ABSENT)
        if found is ABSENT:
            found = visit.kept[key] = function(visit, *arguments)
        return found

    return cast(Function, asked)
