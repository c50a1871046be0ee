"""What the words of the command line ask for, and what is told of all that goes wrong."""

import argparse
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from shlex import quote
from typing import NoReturn

from guardcone import __version__
from guardcone.commands.output import CannotWork, Output, write_error
from guardcone.language.nearest import did_you_mean
from guardcone.reports.page import one_line

__all__ = ["run"]

COULD_NOT_WORK, STOPPED_AT_THE_KEYBOARD = 2, 130
# Each is a module of this room.
COMMANDS = ("check", "forecast", "why", "rules", "cones", "start", "tidy")


def run(arguments: Sequence[str]) -> int:
    """Run the command that the words name; gives the exit status, as `main` says."""
    try:
        chosen = _read(arguments)
        output = Output.of_terminal(chosen.colour)
        try:
            return int(chosen.run(chosen, output))
        finally:
            # What there is comes before the reason why there is no more.
            output.flush()
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
        import traceback

        place = traceback.extract_tb(fault.__traceback__)[-1]
        where = f"{Path(place.filename).name}, line {place.lineno}"
        write_error(
            f"guardcone: a fault of guardcone itself, so its work is not done: "
            f"{one_line(f'{type(fault).__name__}: {fault}')} ({where})"
        )
    return COULD_NOT_WORK


_DESCRIPTION = (
    "Checks kiln-firing plans written in plain text: cones, clay and glaze ranges, schedule and "
    "safety steps. Local codes, makers' manuals and licensed trades come first."
)
_STATUS = (
    "Exit status: 0 nothing at or above the chosen consequence, 1 something, "
    "2 the program could not do its work."
)


class _Parser(argparse.ArgumentParser):
    """Refuses words without repeating what would act on a terminal."""

    def error(self, message: str) -> NoReturn:
        super().error(one_line(message))


def _read(arguments: Sequence[str]) -> argparse.Namespace:
    """The arguments, with `run` as the function of the command; exits 2 where they are wrong."""
    parser = _Parser("guardcone", description=_DESCRIPTION, epilog=_STATUS)
    parser.add_argument("--version", action="version", version=f"guardcone {__version__}")
    parser.add_argument(
        "--colour",
        choices=("auto", "always", "never"),
        default="auto",
        help="colours in reports (default: auto, on a terminal unless NO_COLOR is set)",
    )
    # Told by what the words begin with, argparse need not lay out a page to find it.
    commands = parser.add_subparsers(
        title="commands", metavar="COMMAND", required=True, prog="guardcone"
    )
    # The word behind `--colour` is none of a command.
    pairs = zip(("", *arguments), arguments, strict=False)
    words = (one for before, one in pairs if before != "--colour" and not one.startswith("-"))
    word = next(words, None)
    if word not in COMMANDS and (word or not arguments):
        raise CannotWork(_what_to_type(word))
    # What another command needs is not loaded.
    for name in [one for one in arguments[:1] if one in COMMANDS] or COMMANDS:
        command = import_module(f"guardcone.commands.{name}")
        told = command.HELP
        own = commands.add_parser(name, help=told, description=told, epilog=_STATUS)
        command.add_arguments(own)
        own.set_defaults(run=command.run)
    chosen, left = parser.parse_known_args(list(arguments))
    if left and (not hasattr(chosen, "words") or any(one.startswith("-") for one in left)):
        parser.error(f"unrecognized arguments: {' '.join(left)}")
    if left:  # words may stand behind an option, too
        chosen.words += left
    return chosen


def _what_to_type(word: str | None) -> str:
    """What a person may type who typed no command, or something that is none."""
    plan, told = "NAME.firing", "What is to be done?"
    if word and (word.endswith(".firing") or Path(word).exists()):
        plan = quote(word)
        told = f"What is to be done with {plan}?"
    elif word:
        told = f"{word!r} is no command. {did_you_mean(word, COMMANDS).capitalize()}"
    offered = {
        f"guardcone check {plan}": "what is wrong in a plan",
        f"guardcone forecast {plan}": "what the firing will do",
        "guardcone start glaze cone 6 NAME.firing": "a new plan to fill in",
        "guardcone --help": "all commands",
    }
    width = max(map(len, offered))
    lines = (f"  {line:{width}}  {what}" for line, what in offered.items())
    return "\n".join((one_line(told.strip()), *map(one_line, lines)))
