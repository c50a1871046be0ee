"""`guardcone`, and `python -m guardcone`: the command line as a program of its own."""

import gc
import os
import sys
from contextlib import suppress
from typing import NoReturn

# What is loaded is never garbage: to look for some, and to tidy up at the end what the system takes
# back anyway, would be a quarter of a check.
gc.disable()

from guardcone.commands import main  # noqa: E402

__all__ = ["run"]


def run() -> NoReturn:
    """Run the command that the arguments name, and leave with its exit status."""
    status = main()
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):
            stream.flush()
    os._exit(status)


if __name__ == "__main__":
    run()
