"""What is worked out from a visit, or from a case of one, once, however often it is asked for."""

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar, cast

ABSENT = object()
Function = TypeVar("Function", bound=Callable[..., Any])


def kept(function: Function) -> Function:
    """Let a pure function of a visit (and of hashable arguments, by position) keep its result with the visit.

    A visit is frozen, and what was found goes when the visit goes. So with a case: a changed one is another.
    What is raised is not kept.
    """

    @wraps(function)
    def asked(of: Any, *arguments: Any) -> Any:
        key = (function, *arguments)
        found = of.kept.get(key, ABSENT)
        if found is ABSENT:
            found = of.kept[key] = function(of, *arguments)
        return found

    return cast(Function, asked)
