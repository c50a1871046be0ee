"""The command line, top floor of the house."""

import sys
from collections.abc import Sequence

from guardcone.commands.arguments import read_arguments
from guardcone.commands.output import CannotWork, Output

__all__ = ["main"]

FOUND_NOTHING, FOUND_SOMETHING, COULD_NOT_WORK = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run guardcone; gives the exit status.

    0: nothing at or above the chosen consequence. 1: something. 2: the program could not do its
    work, and said why on the error output.
    """
    chosen = read_arguments(sys.argv[1:] if arguments is None else arguments)
    output = Output.of_terminal(chosen.colour)
    try:
        status: int = chosen.run(chosen, output)
        output.flush()
    except CannotWork as reason:
        output.flush()
        sys.stderr.write(f"guardcone: {reason}\n")
        return COULD_NOT_WORK
    except BrokenPipeError:
        # Whoever read the output has seen enough; closing quietly is what they expect.
        output.give_up()
        return COULD_NOT_WORK
    except OSError as error:
        output.give_up()
        sys.stderr.write(f"guardcone: the report could not be written: {error.strerror}\n")
        return COULD_NOT_WORK
    return status
