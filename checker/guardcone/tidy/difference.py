"""What would change in a file, for people to read before it does."""

from difflib import unified_diff

from guardcone.language import split_lines

__all__ = ["difference"]


def difference(before: str, after: str, name: str) -> str:
    """What changes from `before` to `after`, in the unified format; empty if nothing does.

    Changes that no eye can see on the screen, such as line ends, are said in words above it.
    """
    if before == after:
        return ""
    lines = unified_diff(
        _lines(before), _lines(after), f"{name} (as it is)", f"{name} (as it would be)", lineterm=""
    )
    return "".join(f"{line}\n" for line in [*_unseen(before, after, name), *lines])


def _lines(text: str) -> list[str]:
    return [line.text for line in split_lines(text.lstrip("\ufeff"))]


def _unseen(before: str, after: str, name: str) -> list[str]:
    """A sentence for each change that the lines themselves do not show."""
    notes = []
    if before.startswith("\ufeff") and not after.startswith("\ufeff"):
        notes.append(f"{name}: the byte order mark at the beginning goes.")
    if "\r" in before and "\r" not in after:
        notes.append(f"{name}: every line ends in a line feed alone.")
    if before and after and not before.endswith(("\n", "\r")) and after.endswith("\n"):
        notes.append(f"{name}: the last line gets a line end.")
    trailing = sum(line != line.rstrip() for line in _lines(before))
    if trailing and not any(line != line.rstrip() for line in _lines(after)):
        what = "one line go" if trailing == 1 else f"{trailing} lines go"
        notes.append(f"{name}: blanks at the end of {what}.")
    return notes
