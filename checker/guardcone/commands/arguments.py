"""The words of the command line are read."""

import argparse
from collections.abc import Sequence
from importlib import metadata
from typing import NoReturn

from guardcone.commands import check, forecast, rules, start, tidy, why
from guardcone.reports.page import one_line

__all__ = ["read_arguments"]

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


def read_arguments(arguments: Sequence[str]) -> argparse.Namespace:
    """The arguments, with `run` as the function of the command; exits 2 where they are wrong."""
    parser = _Parser("guardcone", description=_DESCRIPTION, epilog=_STATUS)
    version = metadata.version("guardcone")
    parser.add_argument("--version", action="version", version=f"guardcone {version}")
    parser.add_argument(
        "--colour",
        choices=("auto", "always", "never"),
        default="auto",
        help="colours in reports (default: auto, on a terminal unless NO_COLOR is set)",
    )
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for command in (check, forecast, why, rules, start, tidy):
        own = commands.add_parser(
            command.NAME, help=command.HELP, description=command.HELP, epilog=_STATUS
        )
        command.add_arguments(own)
        own.set_defaults(run=command.run)
    return parser.parse_args(list(arguments))
