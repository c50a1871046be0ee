"""The command line, top floor of the house."""

import sys
import traceback
from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path

from guardcone.commands.arguments import read_arguments
from guardcone.commands.output import CannotWork, Output, write_error
from guardcone.reports.page import one_line

__all__ = ["main"]

FOUND_NOTHING, FOUND_SOMETHING, COULD_NOT_WORK = 0, 1, 2
STOPPED_AT_THE_KEYBOARD = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run guardcone; gives the exit status.

    0: nothing at or above the chosen consequence. 1: something. 2: the program could not do its
    work, and said why on the error output. 130: somebody stopped it at the keyboard.
    """
    try:
        chosen = read_arguments(sys.argv[1:] if arguments is None else arguments)
        return _run(chosen, Output.of_terminal(chosen.colour))
    except CannotWork as reason:
        write_error(f"guardcone: {reason}")
    except BrokenPipeError:
        # Whoever read the output has seen enough; closing quietly is what they expect.
        pass
    except KeyboardInterrupt:
        write_error("guardcone: stopped at the keyboard; the work is not done")
        return STOPPED_AT_THE_KEYBOARD
    except Exception as fault:
        # Whatever went wrong in here, it must not look like an answer about a plan.
        place = traceback.extract_tb(fault.__traceback__)[-1]
        where = f"{Path(place.filename).name}, line {place.lineno}"
        write_error(
            f"guardcone: a fault of guardcone itself, so its work is not done: "
            f"{one_line(f'{type(fault).__name__}: {fault}')} ({where})"
        )
    return COULD_NOT_WORK


def _run(chosen: Namespace, output: Output) -> int:
    try:
        status: int = chosen.run(chosen, output)
    finally:
        # What there is comes before the reason why there is no more.
        output.flush()
    return status
