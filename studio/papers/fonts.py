"""The fonts of every paper: Source Sans Pro and Source Serif Pro, from their own packages.

They are made known to fontconfig once a process, by a private configuration that adds the packages' folders
to whatever the machine has (a machine's Noto fonts print names in other scripts). So every machine prints the
same, and no paper carries an `@font-face`, which would cost time in each render.
"""

import ctypes
import os
import tempfile
import threading
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from xml.sax.saxutils import escape

import font_source_sans_pro  # type: ignore[import-untyped]  # the package carries no types
import font_source_serif_pro  # type: ignore[import-untyped]  # as above

STAND_IN = "?"
"""What is printed in place of a character that no font has."""

_ENVIRONMENT = threading.RLock()
_FOLDERS = (Path(font_source_sans_pro.font_directory), Path(font_source_serif_pro.font_directory))
# Italics of the packages are an older cut without arrows and small caps and with narrower digits; the
# CFF files are the TrueType ones again. Of two files with one name fontconfig picks by chance.
_LEFT_OUT = ("*.otf", "*It.ttf")
_SYSTEM_FILES = (
    "/etc/fonts/fonts.conf",
    "/opt/homebrew/etc/fonts/fonts.conf",
    "/usr/local/etc/fonts/fonts.conf",
)
_LIBRARIES = ("libfontconfig.so.1", "libfontconfig.1.dylib", "/opt/homebrew/lib/libfontconfig.1.dylib")
_SCALABLE = (b"TrueType", b"CFF")  # the formats that text layout takes; bitmap fonts are passed over


def _configuration() -> str:
    """The private fontconfig configuration, as its XML text."""
    given = os.environ.get("FONTCONFIG_FILE")
    lines = [
        f'<include ignore_missing="yes">{escape(file)}</include>'
        for file in ((given,) if given else _SYSTEM_FILES)
    ]
    for folder in _FOLDERS:
        lines.append(f"<dir>{escape(str(folder))}</dir>")
        lines += [
            f"<selectfont><rejectfont><glob>{escape(str(folder / left_out))}</glob></rejectfont></selectfont>"
            for left_out in _LEFT_OUT
        ]
    return "\n".join(
        (
            '<?xml version="1.0"?>',
            '<!DOCTYPE fontconfig SYSTEM "fonts.dtd">',
            "<fontconfig>",
            *lines,
            "</fontconfig>",
        )
    )


@contextmanager
def private_fonts() -> Iterator[None]:
    """While open, whoever asks fontconfig for the machine's fonts is given the papers' fonts too.

    Fontconfig reads the variable `FONTCONFIG_FILE` when a configuration is loaded and not afterwards, so it
    is set for that moment only and children of this process do not inherit it. One thread at a time.
    """
    with _ENVIRONMENT, tempfile.TemporaryDirectory(prefix="shankwright-fonts-") as folder:
        before = os.environ.get("FONTCONFIG_FILE")
        file = Path(folder) / "fonts.conf"
        file.write_text(_configuration(), encoding="utf-8")
        os.environ["FONTCONFIG_FILE"] = str(file)
        try:
            yield
        finally:
            if before is None:
                del os.environ["FONTCONFIG_FILE"]
            else:
                os.environ["FONTCONFIG_FILE"] = before


class _FontSet(ctypes.Structure):
    """A list of fonts as fontconfig gives it."""

    _fields_ = (("count", ctypes.c_int), ("room", ctypes.c_int), ("fonts", ctypes.POINTER(ctypes.c_void_p)))


def _fontconfig() -> ctypes.CDLL:
    for name in _LIBRARIES[:-1]:
        try:
            return ctypes.CDLL(name)
        except OSError:
            continue
    return ctypes.CDLL(_LIBRARIES[-1])


def _coverage() -> tuple[ctypes.CDLL, ctypes.c_void_p]:
    """As `_read_coverage`, which is done once, however many threads ask."""
    with _ENVIRONMENT:
        return _read_coverage()


@cache
def _read_coverage() -> tuple[ctypes.CDLL, ctypes.c_void_p]:
    """The fontconfig library, and the set of all characters that some font of this machine has."""
    library = _fontconfig()
    library.FcInitLoadConfigAndFonts.restype = ctypes.c_void_p
    library.FcConfigGetFonts.argtypes = (ctypes.c_void_p, ctypes.c_int)
    library.FcConfigGetFonts.restype = ctypes.POINTER(_FontSet)
    library.FcPatternGetString.argtypes = (ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int, ctypes.c_void_p)
    library.FcPatternGetCharSet.argtypes = (ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int, ctypes.c_void_p)
    library.FcCharSetNew.restype = ctypes.c_void_p
    library.FcCharSetMerge.argtypes = (ctypes.c_void_p, ctypes.c_void_p, ctypes.c_void_p)
    library.FcCharSetHasChar.argtypes = (ctypes.c_void_p, ctypes.c_uint32)
    with private_fonts():
        configuration = library.FcInitLoadConfigAndFonts()
    fonts = library.FcConfigGetFonts(configuration, 0).contents
    covered = ctypes.c_void_p(library.FcCharSetNew())
    for index in range(fonts.count):
        form, characters = ctypes.c_char_p(), ctypes.c_void_p()
        is_known = library.FcPatternGetString(fonts.fonts[index], b"fontformat", 0, ctypes.byref(form)) == 0
        has_list = (
            library.FcPatternGetCharSet(fonts.fonts[index], b"charset", 0, ctypes.byref(characters)) == 0
        )
        if is_known and has_list and form.value in _SCALABLE:
            library.FcCharSetMerge(covered, characters, None)
    return library, covered


@cache
def _has_glyph(character: str) -> bool:
    if character in "\t\n\r":
        return True
    category = unicodedata.category(character)
    if category in {"Cc", "Cs", "Cn", "Co"}:
        return False
    if category == "Cf" or "\ufe00" <= character <= "\ufe0f":
        return True  # joiners and variation selectors shape their neighbours and draw nothing
    library, covered = _coverage()
    return bool(library.FcCharSetHasChar(covered, ord(character)))


def unprintable(text: str) -> tuple[str, ...]:
    """The characters of `text` that no font of this machine has, each once, in order.

    An emoji on a machine without an emoji font is one; Greek, Cyrillic and accented letters never are.
    """
    return tuple(dict.fromkeys(character for character in text if not _has_glyph(character)))


def printable(text: str) -> str:
    """`text` with `STAND_IN` for each character that no font has.

    One missing glyph in a PDF makes the text of its whole font unreadable for programs that read it aloud.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(character if _has_glyph(character) else STAND_IN for character in text)
