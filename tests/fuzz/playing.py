"""Playing requests made from the description against the app, and looking at every answer."""

from collections import Counter
from enum import StrEnum
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import httpx
import requests
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis import Case, GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from studio.craft.roles import Role
from tests.fuzz.answers import rights_of, told_too_much
from tests.fuzz.book import Studio, base_url, close_studio, open_studio
from tests.fuzz.description import Operation, closed, rights
from tests.fuzz.meant import meant, nearly_as_meant
from tests.postgresql.server import Server

AS_DESCRIBED = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
]
_BEFORE_THE_DOOR = {404, 405, 413}
"""No such address, no such way, too much: said before anybody asks who it is."""


class Way(StrEnum):
    """How the requests are made."""

    AS_DESCRIBED = "as described"
    NOT_AS_DESCRIBED = "not as described"
    NEARLY_AS_MEANT = "nearly as meant"


class Play:
    """The description as it stands over one studio; counts the answers by operation and status."""

    def __init__(self, home: Path, server: Server | None = None) -> None:
        self.studio: Studio = open_studio(home, server)
        self.seen: Counter[tuple[Operation, Role | None, int]] = Counter()
        self.document = closed()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        close_studio(self.studio)

    @cached_property
    def _schema(self) -> Any:
        schema = schemathesis.openapi.from_dict(self.document)
        schema.config.generation.update(with_security_parameters=False)
        return schema

    def play(
        self,
        operation: Operation,
        role: Role | None,
        way: Way,
        *,
        most: int,
        is_ever_new: bool = False,
    ) -> None:
        """Send up to `most` requests and look at every answer.

        The same ones every time, unless they are to be ever new. Raises what Schemathesis or an assertion
        found, with the smallest request that shows it.
        """

        @settings(
            max_examples=most, derandomize=not is_ever_new, database=None, deadline=None,
            suppress_health_check=list(HealthCheck), phases=[Phase.generate, Phase.shrink],
        )  # fmt: skip
        @given(self._cases(operation, way))
        def one(case: Case[Any]) -> None:
            self._look_at(case, operation, role)

        self.studio.as_made()  # what only reads need not have it put back each time
        one()

    def _cases(self, operation: Operation, way: Way) -> st.SearchStrategy[Case[Any]]:
        path, method = operation
        described = self._schema[path][method]
        if way is Way.NOT_AS_DESCRIBED:
            cases: st.SearchStrategy[Case[Any]] = described.as_strategy(
                generation_mode=GenerationMode.NEGATIVE
            )
            return cases
        cases = described.as_strategy(generation_mode=GenerationMode.POSITIVE)
        if way is Way.AS_DESCRIBED:
            return cases
        return nearly_as_meant(cases, meant(operation, self.studio.known))

    def _look_at(self, case: Case[Any], operation: Operation, role: Role | None) -> None:
        if operation[1] != "get":
            self.studio.as_made()
        answer = self.studio.send(_request(case, self.studio.tokens[role]))
        self.seen[operation, role, answer.status_code] += 1
        case.validate_response(answer, checks=AS_DESCRIBED)
        lacks = rights(self.document, operation) - rights_of(role)
        if lacks and answer.status_code not in _BEFORE_THE_DOOR:
            assert answer.status_code == (401 if role is None else 403), answer.text
        if not lacks:
            assert answer.status_code != 401, answer.text
        assert told_too_much(answer, role, self.studio.known) == set(), answer.text


def _request(case: Case[Any], token: str) -> httpx.Request:
    """The case as a request over the wire, with the token of who asks."""
    given_case = case.as_transport_kwargs(base_url=base_url())
    wire = requests.Request(**given_case).prepare()
    headers = [(_bytes(name), _bytes(value)) for name, value in wire.headers.items()]
    kept = [(name, value) for name, value in headers if name.lower() != b"authorization"]
    body = wire.body.encode() if isinstance(wire.body, str) else wire.body
    assert body is None or isinstance(body, bytes)
    return httpx.Request(
        str(wire.method),
        str(wire.url),
        headers=[*kept, (b"authorization", f"Bearer {token}".encode())],
        content=body,
    )


def _bytes(text: str | bytes) -> bytes:
    return text if isinstance(text, bytes) else text.encode("latin-1")
