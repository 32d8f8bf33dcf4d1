"""`python -m studio` does what the command `shankwright` does."""

from studio.cli import main

if __name__ == "__main__":
    main()
