"""Who does something in the book."""

from dataclasses import dataclass

from studio.craft.roles import Role


@dataclass(frozen=True, slots=True)
class Actor:
    """Who does something: a person (`id` is the user's), a token (`token_id`), or the program itself."""

    id: int | None
    name: str
    role: Role
    token_id: int | None = None

    @property
    def key(self) -> str:
        """One word per actor, such as 'user 3': what an idempotency key belongs to."""
        if self.id is not None:
            return f"user {self.id}"
        return f"token {self.token_id}" if self.token_id is not None else f"program {self.name}"


PROGRAM = Actor(None, "shankwright", Role.OWNER)
"""What the command line does is done in this name."""
