"""What a passed procedure rests on beside its readings, from data/pass_conditions."""

from functools import cache

from service.knowledge.rows import by_code


@cache
def conditions(procedure: str) -> tuple[str, ...]:
    """JSON Pointers of the request's members, in order. Raises: KeyError for an unknown procedure."""
    return tuple(by_code("pass_conditions", rests_on=True)[procedure]["rests_on"])
