"""Frozen values as plain JSON, and out of it again: one way for every value the book keeps whole.

A frozen dataclass becomes an object by its fields, a tuple a list, a mapping an object by the text of its
keys (a key of several parts joins them: 'hammered/flat'), an enumeration its value, a date its ISO text, a
decimal its digits as text. A field or a key that a later program knows and the kept text does not name takes
its default; what only the kept text names is passed over. A key of a mapping that is null is as one that is
not there.
"""

import json
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import cache
from types import MappingProxyType, NoneType, UnionType
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

Kind = TypeVar("Kind")
_JOINS = "/"


def as_plain(value: Any) -> Any:
    """`value` as plain JSON values: objects, lists, text, numbers, true, false and null.

    Raises `TypeError` for a value of no such kind. date(2026, 12, 1) gives '2026-12-01'.
    """
    if isinstance(value, Enum):
        return as_plain(value.value)
    if value is None or isinstance(value, str | bool | int | float):
        return value
    if isinstance(value, date | Decimal):
        return value.isoformat() if isinstance(value, date) else str(value)
    if isinstance(value, tuple | list):
        return [as_plain(part) for part in value]
    if isinstance(value, Mapping):
        return {_key_text(key): as_plain(part) for key, part in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: as_plain(getattr(value, field.name)) for field in fields(value)}
    raise TypeError(f"{type(value).__name__} has no plain form")


def from_plain(kind: type[Kind], plain: Any) -> Kind:
    """The value of `kind` that `as_plain` made `plain` of, or that was kept by an earlier program.

    Raises `ValueError`, `TypeError` or `KeyError` for what is none.
    """
    return cast("Kind", _read(kind, plain))


def as_json(value: Any) -> str:
    """`value` as one line of JSON, its keys in order: the same value is always the same text."""
    return json.dumps(as_plain(value), ensure_ascii=False, sort_keys=True, allow_nan=False)


def from_json(kind: type[Kind], text: str) -> Kind:
    """The value of `kind` that `as_json` made `text` of."""
    return from_plain(kind, json.loads(text))


def _key_text(key: Any) -> str:
    return _JOINS.join(_key_text(part) for part in key) if isinstance(key, tuple) else str(as_plain(key))


def _read(kind: Any, plain: Any) -> Any:
    origin = get_origin(kind)
    if origin is not None:
        return _read_made_of(origin, get_args(kind), plain)
    if is_dataclass(kind):
        return _read_fields(kind, plain)
    if issubclass(kind, Enum):
        return kind(plain)
    if issubclass(kind, date):
        return kind.fromisoformat(plain)
    if issubclass(kind, Decimal):
        return kind(_exactly(str, plain))
    return _exactly(kind, plain)


def _read_made_of(origin: Any, parts: tuple[Any, ...], plain: Any) -> Any:
    """A value of a kind that names the kinds of its parts: a union with None, a tuple, or a mapping."""
    if origin in {Union, UnionType}:
        inner = next(part for part in parts if part is not NoneType)
        return None if plain is None else _read(inner, plain)
    if origin is tuple:
        kinds = (parts[0],) * len(plain) if parts[1:] == (Ellipsis,) else parts
        return tuple(_read(part, value) for part, value in zip(kinds, plain, strict=True))
    keys, values = parts
    return MappingProxyType(
        {_read_key(keys, key): _read(values, value) for key, value in plain.items() if value is not None}
    )


def _exactly(kind: type, plain: Any) -> Any:
    if kind is float and type(plain) is int:
        return float(plain)
    if type(plain) is not kind:
        raise TypeError(f"{plain!r} is no {kind.__name__}")
    return plain


def _read_key(kind: Any, text: str) -> Any:
    if get_origin(kind) is tuple:
        return tuple(
            _read_key(part, word) for part, word in zip(get_args(kind), text.split(_JOINS), strict=True)
        )
    return kind(text)


def _read_fields(kind: Any, plain: Mapping[str, Any]) -> Any:
    kinds = _kinds(kind)
    known = {name: _read(kinds[name], value) for name, value in plain.items() if name in kinds}
    for field in fields(kind):
        kept, default = known.get(field.name), _default(field)
        if isinstance(kept, Mapping) and isinstance(default, Mapping):
            known[field.name] = MappingProxyType({**default, **kept})
    return kind(**known)


def _default(field: Any) -> Any:
    return field.default if field.default_factory is MISSING else field.default_factory()


@cache
def _kinds(kind: Any) -> Mapping[str, Any]:
    return get_type_hints(kind)
