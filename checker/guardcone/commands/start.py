"""`guardcone start`, a plan begun from what a person knows, or from an older plan."""

import argparse
import os
from pathlib import Path
from shlex import quote

from guardcone.commands.output import CannotWork, Output, file_work
from guardcone.commands.plan_files import read_source, studio_of, studios
from guardcone.files import write_whole
from guardcone.language import ENDING, SourceText, read_statements, split_lines
from guardcone.language.nearest import listed, nearest
from guardcone.reports.page import one_line
from guardcone.rulebook.book import Studio
from guardcone.starting.asked import Asked, NotUnderstood, asked, begin_line
from guardcone.starting.new_plan import new_plan, unit_of
from guardcone.starting.next_plan import next_plan

HELP = "begin a plan: cones and schedule worked out, with the places that a person must fill in"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone start`."""
    parser.usage = (
        "guardcone start [KIND] [CONE] [--kiln NAME] [--in {C,F}] [NAME.firing]\n"
        "       guardcone start --from OLD.firing [NAME.firing]"
    )
    parser.add_argument(
        "words",
        nargs="*",
        metavar="WORD",
        help=f"the kind of firing, its cone, and the file to make, ending in {ENDING}: "
        f"glaze cone 6 monday{ENDING}; without a file the plan is printed",
    )
    parser.add_argument("--kiln", default="", metavar="NAME", help="a kiln of the studio's file")
    parser.add_argument("--in", dest="unit", choices=("C", "F"), help="degrees")
    parser.add_argument(
        "--from", dest="old", metavar="PLAN", help="the next firing like the one of this plan"
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the plan, or make the file; a file that is there is never overwritten."""
    if "" in chosen.words:
        raise CannotWork("the name of the plan is empty")
    try:
        said, text = _of_old_plan(chosen) if chosen.old is not None else _of_words(chosen)
    except NotUnderstood as reason:
        raise CannotWork(one_line(str(reason))) from reason
    if not said.file:
        output.write_as_it_is(text)
        return 0
    name = one_line(said.file)
    with file_work(f"{name} could not be written"):
        write_whole(Path(said.file), text)
    check = f"guardcone check {one_line(quote(said.file))}"
    output.write(f"{name}: fill in the places that say so, then run {check}\n")
    return 0


def _of_words(chosen: argparse.Namespace) -> tuple[Asked, str]:
    """What the words say, and the plan for it."""
    file = next((word for word in chosen.words if word.endswith(ENDING)), ".")
    studio = studio_of(file, studios())
    said = asked(chosen.words, studio.book)
    _refuse(said.file)
    kiln = _kiln(chosen.kiln, said, studio)
    return said, new_plan(said, studio, kiln, chosen.unit or unit_of(said, studio, kiln))


def _of_old_plan(chosen: argparse.Namespace) -> tuple[Asked, str]:
    """The file to make, and the next plan like the old one."""
    if len(chosen.words) > 1 or chosen.kiln or chosen.unit:
        raise CannotWork(
            "--from takes all from the old plan, so nothing but the file to make stands beside it: "
            f"guardcone start --from {quote(chosen.old)} NAME{ENDING}"
        )
    said = Asked(file="".join(chosen.words))
    _refuse(said.file)
    return said, next_plan(read_source(chosen.old))


def _refuse(file: str) -> None:
    """Refuse a file that no check of a folder would find, or that is there."""
    name = one_line(file)
    if file and not file.endswith(ENDING):
        raise CannotWork(f"{name} does not end in {ENDING}, so no check of a folder would find it")
    if os.path.lexists(file):
        raise CannotWork(f"{name} is there already, and is left as it is")


def _kiln(named: str, said: Asked, studio: Studio) -> str:
    """The name of the kiln as the studio has it; the only one where none is named."""
    known = list(studio.described.kilns)
    if not known:
        heading = read_statements(SourceText("", split_lines(f'kiln "{named}"')))
        if named and (heading.faults or len(heading.source.lines) > 1):
            raise CannotWork(f"no plan can name a kiln {one_line(repr(named))}")
        return named
    if not named and len(known) == 1:
        return known[0]
    found = [one for one in known if one.casefold() == named.casefold()]
    if found:
        return found[0]
    line = f"{begin_line(said)} --kiln {quote(nearest(named, known) or known[0])}"
    told = f"no kiln {named!r}, but {listed(known)}" if named else f"{listed(known)}; say which"
    raise CannotWork(one_line(f"{studio.file} has {told}: {line}"))
