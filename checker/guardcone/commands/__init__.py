"""The command line, top floor of the house."""

import gc
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import NoReturn

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
    alone = arguments is None and _is_the_program()
    if alone:
        # What is loaded is never garbage: to look for some would be a tenth of a check.
        gc.disable()
    from guardcone.commands.command_line import run

    status = run(words)
    if alone:
        _leave(status)
    return status


def _is_the_program() -> bool:
    """True where the process is guardcone's own, and no other program has called it."""
    file = getattr(sys.modules.get("__main__"), "__file__", None) or ""
    own = ("guardcone", "guardcone.exe")
    return os.path.basename(file) in own or os.path.basename(os.path.dirname(file)) in own


def _leave(status: int) -> NoReturn:
    """End the process: the system takes back at once what would be tidied up piece by piece."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):
            stream.flush()
    os._exit(status)
