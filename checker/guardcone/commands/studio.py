"""The studio's own file is taken, or its faults are told."""

from guardcone.commands.output import CannotWork
from guardcone.rulebook.library import BrokenBook
from guardcone.rulebook.studio import Studio, StudioFaults
from guardcone.rulebook.studio_search import Studios

__all__ = ["studio_of"]


def studio_of(plan: str, studios: Studios) -> Studio:
    """The studio whose file applies to a plan or a folder.

    Raises CannotWork with every fault of that file, or of the rule book, one on a line.
    """
    try:
        studio = studios.of(plan)
    except BrokenBook as broken:
        raise CannotWork(f"the rule book has faults\n{broken}") from broken
    if isinstance(studio, StudioFaults):
        faults = "\n".join(str(fault) for fault in studio.faults)
        raise CannotWork(f"the studio's own file has faults\n{faults}")
    return studio
