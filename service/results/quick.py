"""Frozen dataclasses that are made fast.

A frozen dataclass sets each member through `object.__setattr__`, which costs three times a plain assignment, and
an answer is made of hundreds of them: a fifth of the time of an assessment. Here an instance begins as its
unfrozen twin with the same slots, is filled by plain assignments, and then becomes what it is declared to be.
Whoever holds it holds a frozen instance.
"""

from dataclasses import MISSING, Field, fields
from typing import Any, TypeVar

Class = TypeVar("Class", bound=type)


def quick(of: Class) -> Class:
    """Make the instances of a frozen dataclass fast; stands above `@dataclass(frozen=True, slots=True)`.

    Raises: TypeError for a dataclass that inherits from another or has a `__post_init__`: neither is foreseen.
    """
    changed: Any = of
    if of.__bases__ != (object,) or hasattr(of, "__post_init__"):
        raise TypeError(f"{of.__name__} cannot be made quickly")
    twin = type(of.__name__, (), {"__slots__": changed.__slots__})
    known: dict[str, Any] = {"_new": object.__new__, "_twin": twin, "_absent": MISSING}
    # As dataclass itself makes its methods: from the declarations alone.
    exec(_source(fields(of), known), known)
    made = known["__new__"]
    made.__qualname__, made.__module__ = f"{of.__qualname__}.__new__", of.__module__
    made.__annotations__ = dict(changed.__init__.__annotations__)
    changed.__new__, changed.__reduce__ = made, _reduce
    changed.__init_subclass__ = classmethod(_refuse_subclass)
    del changed.__init__
    return of


def _refuse_subclass(of: type) -> None:
    """A subclass would have members that its twin's slots do not hold."""
    raise TypeError(f"{of.__name__} inherits from a dataclass that is made quickly")


def _source(members: tuple[Field[Any], ...], known: dict[str, Any]) -> str:
    """The text of `__new__`; what it needs of defaults is put into `known`."""
    head, body = ["cls"], []
    for member in members:
        name = member.name
        if member.default_factory is not MISSING:
            known[f"_make_{name}"] = member.default_factory
            given = f"_make_{name}() if {name} is _absent else {name}" if member.init else f"_make_{name}()"
            head += [f"{name}=_absent"] if member.init else []
        else:
            known[f"_default_{name}"] = member.default
            given = name
            head += [name if member.default is MISSING else f"{name}=_default_{name}"]
        body.append(f"    self.{name} = {given}\n")
    begin, end = "    self = _new(_twin)\n", "    self.__class__ = cls\n    return self\n"
    return f"def __new__({', '.join(head)}):\n{begin}{''.join(body)}{end}"


def _reduce(self: Any) -> tuple[type, tuple[Any, ...]]:
    """For copies and pickles, which would otherwise begin without members."""
    return self.__class__, tuple(getattr(self, member.name) for member in fields(self) if member.init)
