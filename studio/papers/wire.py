"""How the pool and its workers speak: pickled values, each behind its length in eight bytes."""

import copyreg
import io
import pickle
from enum import StrEnum
from types import MappingProxyType
from typing import Any

LENGTH_BYTES = 8


class Outcome(StrEnum):
    """The first word of a worker's answer."""

    READY = "ready"
    MADE = "made"
    TOO_BIG = "too big"
    FAILED = "failed"


def framed(value: object) -> bytes:
    """A value as it travels. Raises what pickle raises for a value that cannot."""
    packed = io.BytesIO()
    _Packing(packed, protocol=pickle.HIGHEST_PROTOCOL).dump(value)
    data = packed.getvalue()
    return len(data).to_bytes(LENGTH_BYTES, "big") + data


def read_length(frame: bytes) -> int:
    """How many bytes follow the length."""
    return int.from_bytes(frame, "big")


def unframed(data: bytes) -> Any:
    """The value that came, without its length. Only for what our own processes send."""
    return pickle.loads(data)  # noqa: S301  a pipe between two processes of ours, open to nobody else


class _Packing(pickle.Pickler):
    """Packs views of mappings too, which reckonings hold and pickle does not know."""

    dispatch_table = copyreg.dispatch_table | {MappingProxyType: lambda view: (_view, (dict(view),))}


def _view(mapping: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(mapping)
