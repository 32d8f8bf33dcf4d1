"""The fields of what the API takes, only checked for their build; what they hold is read by `forms`."""

from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, ConfigDict, WithJsonSchema


def one_of(*choices: str) -> WithJsonSchema:
    """The schema of one of a list, or null."""
    return WithJsonSchema({"type": ["string", "null"], "enum": [*choices, None]})


def text_of(longest: int) -> WithJsonSchema:
    """The schema of a text of at most so many signs, or null."""
    return WithJsonSchema({"type": ["string", "null"], "maxLength": longest})


Length = Annotated[
    Any,
    WithJsonSchema(
        {
            "type": ["number", "string", "null"],
            "description": "A number in mm, or text with a unit: '6 mm', '0.25 in', '18 ga' (B&S). "
            "A comma before exactly three digits is refused as ambiguous.",
        }
    ),
]
Size = Annotated[
    Any, WithJsonSchema({"type": ["string", "number", "null"], "description": "A label: 'N½', '7.25', 54"})
]
Percent = Annotated[Any, WithJsonSchema({"type": ["number", "string", "null"]})]
Truth = Annotated[Any, WithJsonSchema({"type": ["boolean", "null"]})]
Day = Annotated[Any, WithJsonSchema({"type": ["string", "null"], "format": "date"})]
Instant = Annotated[Any, WithJsonSchema({"type": ["string", "null"], "format": "date-time"})]
Words = Annotated[Any, text_of(120)]
Note = Annotated[Any, text_of(4000)]


class In(BaseModel):
    """Something that comes in: a field we do not know is refused."""

    model_config: ClassVar[ConfigDict] = ConfigDict(extra="forbid")

    def fields(self) -> dict[str, object]:
        """The fields that were sent, by their names in JSON."""
        return self.model_dump(by_alias=True, exclude_unset=True)
