"""Finds the documents people read (grammar and rule book), installed or in a checkout."""

import csv
from functools import cache
from pathlib import Path

__all__ = ["document_path", "document_rows", "document_text"]

_PACKAGE = Path(__file__).resolve().parent


@cache
def _folder(name: str) -> Path:
    """The folder `grammar` or `rules`: inside the installed package, else beside `checker/`."""
    for base in (_PACKAGE, _PACKAGE.parent.parent):
        candidate = base / name
        if candidate.is_dir():
            return candidate
    raise FileNotFoundError(
        f"guardcone's own folder {name!r} is missing from this installation; install guardcone anew"
    )


def document_path(folder: str, *parts: str) -> Path:
    """Path of a document, for instance ``document_path("rules", "tables", "cones.csv")``.

    Raises FileNotFoundError where the installation lacks the folder or the document.
    """
    path = _folder(folder).joinpath(*parts)
    if not path.exists():
        raise FileNotFoundError(f"guardcone's own document {'/'.join((folder, *parts))} is missing")
    return path


def document_text(folder: str, *parts: str) -> str:
    """Text (UTF-8) of a document; raises FileNotFoundError like `document_path`."""
    return document_path(folder, *parts).read_text(encoding="utf-8")


@cache
def document_rows(folder: str, *parts: str) -> tuple[dict[str, str], ...]:
    """The rows of a table in CSV, as text; raises FileNotFoundError like `document_path`."""
    with document_path(folder, *parts).open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))
