"""Where the command `shankwright` begins, and `python -m studio` with it."""

import gc

LOADING = (50_000, 20, 20)
"""How rarely the collector looks while the program is loaded: nearly all of that stays, and as often as it
looks by itself it would cost a tenth of the start."""


def main() -> None:
    """Load the program and run the command that was given."""
    gc.set_threshold(*LOADING)
    from studio.cli import main as run  # noqa: PLC0415  what is said above holds for this very import

    run()


if __name__ == "__main__":
    main()
