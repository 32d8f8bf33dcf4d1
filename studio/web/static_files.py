"""Style sheets, scripts, pictures and fonts, under an address that changes with their content."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from starlette.responses import Response

from studio.resources import font_files, static_dir
from studio.web.errors import Declined

KINDS = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/x-icon",
    ".txt": "text/plain; charset=utf-8",
    ".woff2": "font/woff2",
    ".woff": "font/woff",
    ".ttf": "font/ttf",
    ".otf": "font/otf",
}
"""What is served, by the end of its name; anything else in the folder is not."""


@dataclass(frozen=True, slots=True)
class StaticFiles:
    """All static files, read once at the start.

    `mark` is a hash over names and contents and the first step of every address, so that what one file takes
    from another by a relative address (a font, a module) is as fresh as the file itself.
    """

    contents: Mapping[str, bytes]
    mark: str

    def url(self, name: str) -> str:
        """The address of `name` ('css/base.css'); a name that is not there raises KeyError."""
        if name not in self.contents:
            raise KeyError(name)
        return f"/static/{self.mark}/{name}"

    def answer(self, path: str) -> Response:
        """The file at `path` below /static/, kept for good where the address carries the mark; else 404."""
        mark, _, name = path.partition("/")
        is_marked = mark == self.mark
        content = self.contents.get(name if is_marked else path)
        if content is None:
            raise Declined(404, "There is nothing at this address.")
        kept = "public, max-age=31536000, immutable" if is_marked else "no-store"
        return Response(content, media_type=KINDS[Path(path).suffix.lower()], headers={"Cache-Control": kept})


def read_static_files() -> StaticFiles:
    """Everything in the static folder and the packaged fonts (as 'fonts/<name>')."""
    folder = static_dir()
    found = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.suffix.lower() in KINDS
    }
    found |= {f"fonts/{path.name}": path.read_bytes() for path in font_files()}
    hashed = hashlib.sha256()
    for name, content in sorted(found.items()):
        hashed.update(name.encode() + b"\0" + hashlib.sha256(content).digest())
    return StaticFiles(MappingProxyType(found), hashed.hexdigest()[:16])
