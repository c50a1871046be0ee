"""Finds the plans for which a commit changes something, though they are not in it.

Git is asked: a hook is told of no file that goes, and of no file of rules.
"""

import os
import subprocess
from collections.abc import Iterator

from attrs import frozen

from guardcone.commands.output import CannotWork
from guardcone.commands.plan_files import Unread, plans_in, studio_of
from guardcone.language import ENDING
from guardcone.reports.page import one_line
from guardcone.rulebook.studio_names import STUDIO_FILE
from guardcone.rulebook.studio_search import Studios

__all__ = ["Commit"]


@frozen(repr=False)
class Commit:
    """The files that a commit changes, those it takes away among them, and all that it leaves.

    Each is named as from this folder, and none is outside it.
    """

    changed: frozenset[str]
    files: frozenset[str]

    @classmethod
    def here(cls) -> "Commit":
        """The commit that is being made; CannotWork where git can't tell.

        Where the pre-commit framework is asked about a stretch of history, it names its ends.
        """
        since, until = (os.environ.get(f"PRE_COMMIT_{end}_REF") for end in ("FROM", "TO"))
        what = f"{since}...{until}" if since and until else "--cached"
        changed = _git("diff", "--relative", "--name-only", "--no-renames", "--no-ext-diff", what)
        return cls(changed, _git("ls-files"))

    def plans_that_lean(self, found: Studios, unread: Unread) -> list[str]:
        """The plans of the commit for which a studio's file is otherwise than before it.

        It may be new, changed or gone, or one of its files of rules may be.
        """
        of_studios = map(_folder, filter(_is_studio_file, self.changed))
        folders = sorted({*of_studios, *self._folders_of_rules(found, unread)})
        plans = (
            plan for folder in folders if os.path.isdir(folder) for plan in plans_in(folder, unread)
        )
        return [plan for plan in plans if plan in self.files]

    def _folders_of_rules(self, found: Studios, unread: Unread) -> Iterator[str]:
        """The folders of studios whose own rules stand in a changed file, of whatever name."""
        if all(name.endswith(ENDING) or _is_studio_file(name) for name in self.changed):
            return
        for name in sorted(filter(_is_studio_file, self.files)):
            with unread.goes_on():
                own = studio_of(name, found).book.own_files
                if self.changed.intersection(map(os.path.normpath, own)):
                    yield _folder(name)


def _is_studio_file(name: str) -> bool:
    # Where capital and small letters are the same in names of files, it may be in capitals.
    return os.path.basename(name).lower() == STUDIO_FILE


def _folder(name: str) -> str:
    return os.path.dirname(name) or "."


def _git(*words: str) -> frozenset[str]:
    """The names of files that git gives in answer."""
    try:
        done = subprocess.run(["git", *words, "-z", "--"], capture_output=True, check=True)
    except (OSError, subprocess.CalledProcessError) as error:
        said = error.stderr.decode(errors="replace") if hasattr(error, "stderr") else str(error)
        raise CannotWork(
            one_line(f"git can't tell what the commit changes: {said.strip()}")
        ) from error
    return frozenset(os.fsdecode(name) for name in done.stdout.split(b"\0") if name)
