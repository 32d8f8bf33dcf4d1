"""The warnings as a family: each goes by a code, under which a reason may be given."""

import re
from pathlib import Path

from studio.craft import caveats
from studio.craft.caveats import CAVEAT_CODES


def test_the_codes_are_those_that_some_warning_is_made_with() -> None:
    craft = Path(str(caveats.__file__)).parent
    sources = [path.read_text("utf-8") for path in craft.glob("*.py")]
    made = [code for source in sources for code in re.findall(r'\bCaveat\(\s*"([a-z-]+)"', source)]
    assert len(made) == sum(len(re.findall(r"\bCaveat\((?!\))", source)) for source in sources)
    assert set(made) == CAVEAT_CODES
