"""Texts that would be something else where a page, a paper or a letter forgot that they are text."""

import re
from itertools import count

from tests.long_texts import Writer

PAYLOADS = (
    "<script>alert(1)</script>",
    "<ScRiPt/src=//x.example></ScRiPt>",
    "<img/src=x/onerror=alert(1)>",
    "<svg/onload=alert(1)>",
    '"><svg/onload=alert(1)>',
    "'><svg/onload=alert(1)>",
    '"/onfocus=alert(1)/autofocus="',
    "'/onmouseover='alert(1)",
    "javascript:alert(1)",
    "data:text/html,<script>alert(1)</script>",
    "</textarea><script>alert(1)</script>",
    "</title><script>alert(1)</script>",
    "</option></select><img/src=x>",
    "<!--<a>--><![CDATA[<b>]]>",
    "{{7*7}}{%raw%}${7*7}<%=7*7%>",
    "{{config}}#{7*7}{#x#}",
    "&lt;script&gt;&#60;b&#62;&amp;quot;",
    "<iframe/srcdoc='<b>'></iframe>",
    "<base/href=//x.example><meta/http-equiv=refresh>",
    "%3Cscript%3E%00\\u003cscript\\u003e\\0",
    "/URI(http://x.example)>>/JS(app.alert(1))",
    "\\)Tj<</S/JavaScript/JS(1)>>",
    "Bcc:all@x.example%0d%0a",
)
"""Each without a space, so that it stays one word wherever it stands."""
SPLITTING = "Ines\r\nBcc: all@customers.example\r\n\r\n<b>and a body"
"""What would begin a line of its own in the head of a letter or of an answer."""


def hostile() -> Writer:
    """Writes the payloads by turns, as many as go in, each call beginning one further on."""
    turn = count()

    def write(longest: int) -> str:
        start = next(turn) % len(PAYLOADS)
        text = f"{start:02} "  # lists stand in the same order as with harmless texts
        for payload in PAYLOADS[start:] + PAYLOADS[:start]:
            if len(text) + len(payload) < longest:
                text += f"{payload} "
        return text.strip()

    return write


def harmless(write: Writer) -> Writer:
    """The same texts as words alone: every sign that could mean something to a page is a letter instead.

    An inch stays another unit than mm: a stone of that size is not reckoned with in either.
    """
    return lambda longest: re.sub(r"[^\w\s%]", "o", write(longest).replace('"', "%"))


def hostile_and_unbroken(write: Writer) -> Writer:
    """A payload and then what `write` writes, in one word."""
    turn = count()

    def written(longest: int) -> str:
        start = next(turn) % len(PAYLOADS)
        by_turns = PAYLOADS[start:] + PAYLOADS[:start]
        payload = next(payload for payload in by_turns if len(payload) < longest)
        return f"{payload}{write(longest)}"[:longest]

    return written
