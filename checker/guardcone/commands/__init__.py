"""The command line, top floor of the house."""

import sys
from collections.abc import Sequence

from guardcone import __version__

__all__ = ["main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run guardcone; gives the exit status.

    0: nothing at or above the chosen consequence. 1: something. 2: the program could not do its
    work, and said why on the error output. 130: somebody stopped it at the keyboard.
    """
    words = sys.argv[1:] if arguments is None else list(arguments)
    if words == ["--version"] and sys.stdout is not None:
        # Other programs ask for it at every turn, and nothing else is needed to tell it.
        sys.stdout.write(f"guardcone {__version__}\n")
        return 0
    from guardcone.commands.command_line import run

    return run(words)
