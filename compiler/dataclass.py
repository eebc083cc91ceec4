"""`dataclass` of the standard library, with methods that are made when they are first called, or need no making.

The library writes the text of some five methods for each class and compiles it when the class is defined. The compiler has
hundreds of classes, of which a command uses a part, and this took longer than all else that loading them does (measured). Here
`__init__` is compiled when it is first called, and the others are the same few functions for all. `fields` and `replace` of the
library work as ever.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:
    import dataclasses
    from dataclasses import MISSING, FrozenInstanceError, fields
    from operator import attrgetter

    class _Default:
        """Stands for what a field is given by its factory."""

    DEFAULT = _Default()

    def dataclass(made=None, /, **how):
        return (lambda one: _made(one, **how)) if made is None else _made(made, **how)

    def _made(made, *, frozen=False, eq=True, order=False, slots=False, kw_only=False):
        own = vars(made)
        compares, hashes = eq and "__eq__" not in own, eq and own.get("__hash__") is None and "__eq__" not in own
        if made.__doc__ is None:
            made.__doc__ = made.__name__  # else its signature is made, and stands there
        made = dataclasses.dataclass(made, init=False, repr=False, eq=order, order=order, slots=slots, kw_only=kw_only)
        made.__init__, made.__signature__ = _initialised_at_first(made), _SignatureOfInit()
        if "__repr__" not in own:
            made.__repr__ = _shown
        if compares:
            made.__eq__ = _equal
        if hashes:
            made.__hash__ = _hashed if frozen else None
        if compares or hashes:
            made.__compared__ = staticmethod(_compared(made))
        if frozen:
            made.__setattr__, made.__delattr__ = _no_setting, _no_deleting
        if frozen and slots:
            _pickled(made)
        return made

    def _initialised_at_first(made):
        def __init__(self, *given, **named):
            made.__init__ = _initialiser(made)
            made.__init__(self, *given, **named)

        return __init__

    class _SignatureOfInit:
        """What the class takes, worked out when it is asked for, as a notebook does."""

        def __get__(self, one, made):
            import inspect

            whole = inspect.signature(_initialiser(made))
            return whole.replace(parameters=list(whole.parameters.values())[1:])

    def _initialiser(made):
        """The `__init__` of a class: its fields in their order, those that are told by name alone behind a star."""
        known = {"put": object.__setattr__, "DEFAULT": DEFAULT}
        takes, named, lines = ["self"], [], []
        for one in fields(made):
            name, value = one.name, one.name
            if one.default_factory is not MISSING:
                known[f"make_{name}"] = one.default_factory
                value = f"make_{name}() if {name} is DEFAULT else {name}" if one.init else f"make_{name}()"
            elif not one.init:
                continue  # it is set elsewhere, or its default stands on the class
            if one.init:
                known[f"default_{name}"] = DEFAULT if one.default is MISSING else one.default
                optional = one.default is not MISSING or one.default_factory is not MISSING
                (named if one.kw_only else takes).append(f"{name}=default_{name}" if optional else name)
            lines.append(f"put(self, {name!r}, {value})")
        if hasattr(made, "__post_init__"):
            lines.append("self.__post_init__()")
        head = ", ".join([*takes, *(["*", *named] if named else [])])
        exec(f"def __init__({head}):\n  " + "\n  ".join(lines or ["pass"]), known)
        made_one = known["__init__"]
        made_one.__qualname__ = f"{made.__qualname__}.__init__"
        made_one.__annotations__ = {**{one.name: one.type for one in fields(made) if one.init}, "return": None}
        return made_one

    def _compared(made):
        """What of a value says whether it is equal to another, as a tuple."""
        names = [one.name for one in fields(made) if one.compare]
        if len(names) == 1:
            only = attrgetter(*names)
            return lambda value: (only(value),)
        return attrgetter(*names) if names else lambda value: ()

    def _equal(self, other):
        if other.__class__ is not self.__class__:
            return NotImplemented
        compared = self.__compared__
        return compared(self) == compared(other)

    def _hashed(self):
        return hash(self.__compared__(self))

    def _shown(self):
        shown = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(self) if one.repr)
        return f"{self.__class__.__qualname__}({shown})"

    def _no_setting(self, name, value):
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def _no_deleting(self, name):
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def _pickled(made):
        """What has slots and cannot be set is pickled as the list of its values."""
        names, put = tuple(one.name for one in fields(made)), object.__setattr__

        def __getstate__(self):
            return [getattr(self, name) for name in names]

        def __setstate__(self, state):
            for name, value in zip(names, state, strict=True):
                put(self, name, value)

        made.__getstate__, made.__setstate__ = __getstate__, __setstate__
