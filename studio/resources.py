"""Where templates, static files and migrations lie, in a checkout and in an installed wheel."""

from importlib.util import find_spec
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_FAMILIES = {
    "font_source_sans_pro": ("SourceSansPro-Regular.ttf", "SourceSansPro-Semibold.ttf"),
    "font_source_serif_pro": ("SourceSerifPro-Regular.ttf",),
}
"""The cuts in use: Source Sans in two weights for text and figures, Source Serif in one for names."""


def templates_dir() -> Path:
    """The folder of the page and paper templates."""
    return _folder("templates")


def static_dir() -> Path:
    """The folder of style sheets, scripts and pictures."""
    return _folder("static")


def migrations_dir() -> Path:
    """The folder of the book's migrations."""
    return _folder("migrations")


def font_files() -> tuple[Path, ...]:
    """The font files that screen and papers share, from their packages."""
    found = []
    for package, names in _FAMILIES.items():
        spec = find_spec(package)
        if spec is None or spec.origin is None:
            raise FileNotFoundError(f"the package {package} is not installed")
        found += [Path(spec.origin).parent / "files" / name for name in names]
    return tuple(found)


def _folder(name: str) -> Path:
    """The folder beside the package's files in a wheel, or beside the package in a checkout."""
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name
