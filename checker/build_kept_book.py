"""Puts the rule book, as it is kept between runs, into the wheel that hatchling builds."""

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class KeptBookHook(BuildHookInterface):  # type: ignore[type-arg]
    """Reads the documents of the project being built and adds what is kept of them."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the files; an editable install makes them itself, at its first run."""
        if version == "editable":
            return
        sys.path.insert(0, str(Path(self.root) / "checker"))
        from guardcone.kept import keep
        from guardcone.language.grammar import tables_to_keep
        from guardcone.rulebook.library import book_of_documents, parts_to_keep

        self.made = tempfile.TemporaryDirectory()
        folder = Path(self.made.name)
        keep(tables_to_keep() | parts_to_keep(book_of_documents()), folder)
        for file in folder.iterdir():
            build_data["force_include"][str(file)] = f"guardcone/compiled/{file.name}"

    def finalize(self, version: str, *_: object) -> None:
        """Clear away what was made."""
        if version != "editable":
            self.made.cleanup()
