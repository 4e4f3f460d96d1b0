"""The command line: words in, one answer out. No computing here."""

from __future__ import annotations

import os
import sys
from typing import NoReturn

from leadsman.errors import InputError

EXIT_BAD_INPUT = 2
EXIT_FAULT = 1


def main() -> NoReturn:
    """Run the command line and exit with 0, 2 (bad input) or 1 (a fault of ours)."""
    sys.exit(run(sys.argv[1:]))


def run(arguments: list[str]) -> int:
    """Run one command and give its exit code.

    Parameters
    ----------
    arguments : list of str
        Words after the program's name [-].
    """
    try:
        from typer.main import get_command

        from leadsman.cli.app import app

        # In its standalone mode the library words usage errors itself and exits with 2.
        get_command(app).main(args=arguments, prog_name="leadsman")
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else EXIT_BAD_INPUT
    except InputError as error:
        _say(error.message)
        return EXIT_BAD_INPUT
    except BrokenPipeError:
        # The reader of our output went away, as `| head` does.
        sys.stdout = open(os.devnull, "w")  # noqa: PTH123, SIM115  # must outlive this frame
        return 0
    except Exception as error:
        if os.environ.get("LEADSMAN_DEBUG"):
            raise
        _say(
            f"A fault in Leadsman, not in what you gave it: {type(error).__name__}: {error}. "
            "Nothing was changed. Run again with LEADSMAN_DEBUG=1 to see where, and report it."
        )
        return EXIT_FAULT
    return 0


def _say(message: str) -> None:
    print(message, file=sys.stderr)
