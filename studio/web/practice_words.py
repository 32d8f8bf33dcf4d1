"""How figures of the practice and their changes read: 'One saw cut: 0.31 to 0.28 mm'."""

from collections.abc import Mapping
from typing import Any

from studio.craft.designs import Profile
from studio.craft.practice_figures import Choice, Figure, figures
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.units import figure_words


def changes_words(changes: Mapping[str, tuple[Any, Any]]) -> tuple[str, ...]:
    """Changed figures as the history tells them: 'One saw cut: 0.31 to 0.28 mm'."""
    by_path = {figure.path: figure for figure in figures()}
    words = []
    for path, (old, new) in changes.items():
        figure = by_path.get(path)
        if isinstance(figure, Figure):
            words.append(f"{figure.label}: {number_words(old)} to {number_words(new)} {figure.unit}")
        elif isinstance(figure, Choice):
            words.append(
                f"{figure.label}: {figure.words.get(str(old), old)} to {figure.words.get(str(new), new)}"
            )
        elif path == "fit_rule" or path.startswith("fit_by_profile."):
            key = "" if path == "fit_rule" else f", {PROFILE_NAMES[Profile(path.partition('.')[2])]}"
            words.append(f"Fit{key}: {_rule_words(new)}; it was {_rule_words(old)}")
        else:
            words.append(f"{path}: {old} to {new}")
    return tuple(words)


def number_words(value: Any) -> str:
    """A figure without idle zeros, its minus as it is printed; 'none' for what is none."""
    return figure_words(value, 3).replace("-", "−") if isinstance(value, int | float) else "none"


def _rule_words(rows: Any) -> str:
    if not rows:
        return "as the others"
    told = [
        f"to {number_words(row['up_to_mm'])} mm {_signed(row['add_mm'])}"
        for row in rows
        if row["up_to_mm"] is not None
    ]
    return ", ".join([*told, f"wider {_signed(rows[-1]['add_mm'])}"])


def _signed(value: float) -> str:
    return f"+{number_words(value)}" if value > 0 else number_words(value)
