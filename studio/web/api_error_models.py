"""What the API gives where something is to be put right, and where all is well."""

from typing import Any, Literal

from pydantic import BaseModel


class ErrorOut(BaseModel):
    """One thing to put right; `field` is its path, null for the whole."""

    field: str | None
    message: str


class ErrorsOut(BaseModel):
    """What every error looks like; a conflict adds how things stand now."""

    errors: list[ErrorOut]
    current: dict[str, Any] | None = None


class HealthOut(BaseModel):
    """That the app answers."""

    status: Literal["ok"]
