"""Replaces a file whole or not at all."""

import errno
import os
import stat
from contextlib import suppress
from pathlib import Path

__all__ = ["write_whole"]


def write_whole(path: Path, text: str) -> None:
    """Put `text` (UTF-8, line ends as they are) in place of what the file at `path` holds.

    Whoever reads the file, even after a power cut, finds the old text or the new, never a part. A
    symbolic link stays and its target is replaced. Permissions are kept, and owner and group where
    the system lets them be; a hard link to the old text keeps the old text.

    Raises OSError, with the old file untouched and nothing left beside it, where the file may not
    be written, is no ordinary file, or the disk is full; UnicodeEncodeError where `text` can't be
    UTF-8.
    """
    content = text.encode("utf-8")
    target = Path(os.path.realpath(path))
    old = _status(target)
    beside = target.with_name(f".{target.name[:40]}.{os.urandom(8).hex()}.new")
    # Nobody may read the new text who might not read the old; a new file is made as usual.
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600 if old else 0o666)
    try:
        with open(handle, "wb") as file:
            if old:
                _keep_owner_and_mode(beside, old)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, target)
    except BaseException:
        with suppress(FileNotFoundError):
            beside.unlink()
        raise
    _settle_folder(target.parent)


def _status(target: Path) -> os.stat_result | None:
    """The status of the file to be replaced; None if there is none yet."""
    try:
        status = target.stat()
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(status.st_mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(target))
    if not stat.S_ISREG(status.st_mode):
        raise OSError(errno.EINVAL, "not an ordinary file", str(target))
    # A rename would not ask: somebody protected this file.
    if not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(target))
    return status


def _keep_owner_and_mode(beside: Path, old: os.stat_result) -> None:
    new = beside.stat()
    if hasattr(os, "chown") and (new.st_uid, new.st_gid) != (old.st_uid, old.st_gid):
        # Only an administrator may give a file away; a plan of the writer's own is as good.
        with suppress(PermissionError):
            os.chown(beside, old.st_uid, old.st_gid)
    beside.chmod(stat.S_IMODE(old.st_mode))


def _settle_folder(folder: Path) -> None:
    """Make the new name of the file outlast a power cut, where the system can."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    # The new text is in place; a folder that can't be settled takes nothing of it back.
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
