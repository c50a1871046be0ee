"""A file is replaced whole or not at all."""

import os
import stat
from pathlib import Path

import pytest

from guardcone.files import write_whole

OLD, NEW = "old\n", 'plan "Grès 5½"\n'

needs_posix = pytest.mark.skipif(
    os.name != "posix", reason="permissions and links of POSIX systems"
)
not_for_root = pytest.mark.skipif(
    getattr(os, "geteuid", lambda: 1)() == 0, reason="an administrator may write every file"
)


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "mugs.firing"
    path.write_bytes(OLD.encode())
    return path


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_the_new_text_takes_the_place_of_the_old(plan: Path) -> None:
    """The file holds the new text as UTF-8 with its own line ends, and no other file is left."""
    write_whole(plan, NEW)

    assert plan.read_bytes() == NEW.encode("utf-8")
    assert names(plan.parent) == ["mugs.firing"]


def test_a_file_that_is_not_there_yet_is_made(tmp_path: Path) -> None:
    """A new file has the permissions that any new file of this user gets."""
    (tmp_path / "any").touch()
    write_whole(tmp_path / "new.firing", NEW)

    assert (tmp_path / "new.firing").read_bytes() == NEW.encode("utf-8")
    assert (tmp_path / "new.firing").stat().st_mode == (tmp_path / "any").stat().st_mode


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failure_half_way_leaves_the_old_text(
    plan: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    """If the disk fails before the new text stands, the old one does, with nothing beside it."""

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(OSError, match="No space left"):
        write_whole(plan, NEW)

    assert plan.read_text() == OLD
    assert names(plan.parent) == ["mugs.firing"]


def test_breaking_off_leaves_the_old_text(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody who presses Ctrl-C while it writes finds the old file."""

    def break_off(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", break_off)
    with pytest.raises(KeyboardInterrupt):
        write_whole(plan, NEW)

    assert plan.read_text() == OLD
    assert names(plan.parent) == ["mugs.firing"]


def test_the_disk_has_the_text_before_the_name(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The text is settled on the disk before the rename, and the folder after it."""
    steps: list[str] = []
    fsync, replace = os.fsync, os.replace

    def note_fsync(handle: int) -> None:
        steps.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "text")
        fsync(handle)

    def note_replace(source: Path, target: Path) -> None:
        assert Path(source).parent == Path(target).parent
        assert Path(source).read_bytes() == NEW.encode("utf-8")
        steps.append("rename")
        replace(source, target)

    monkeypatch.setattr(os, "fsync", note_fsync)
    monkeypatch.setattr(os, "replace", note_replace)
    write_whole(plan, NEW)

    assert steps == ["text", "rename", "folder"][: 3 if hasattr(os, "O_DIRECTORY") else 2]


def test_text_that_can_not_be_saved_touches_nothing(plan: Path) -> None:
    """Half a surrogate pair is no UTF-8; the file stays."""
    with pytest.raises(UnicodeEncodeError):
        write_whole(plan, "\ud800")

    assert plan.read_text() == OLD
    assert names(plan.parent) == ["mugs.firing"]


@needs_posix
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o755])
def test_permissions_stay(plan: Path, mode: int) -> None:
    """Whoever might read or write the file may still, and nobody else, at no moment."""
    plan.chmod(mode)
    write_whole(plan, NEW)

    assert stat.S_IMODE(plan.stat().st_mode) == mode


@needs_posix
def test_a_private_file_is_private_all_the_time(
    plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The text beside the old file is never open to more people than the old file."""
    plan.chmod(0o600)
    seen: list[int] = []
    fsync = os.fsync

    def look(handle: int) -> None:
        if not stat.S_ISDIR(os.fstat(handle).st_mode):
            seen.append(stat.S_IMODE(os.fstat(handle).st_mode))
        fsync(handle)

    monkeypatch.setattr(os, "fsync", look)
    write_whole(plan, NEW)

    assert seen == [0o600]


@needs_posix
def test_a_link_stays_a_link(plan: Path, tmp_path: Path) -> None:
    """Through a symbolic link its target is replaced, in the folder where that is."""
    shared = tmp_path / "shared"
    shared.mkdir()
    link = shared / "thursday.firing"
    link.symlink_to(Path("..") / plan.name)
    write_whole(link, NEW)

    assert link.is_symlink()
    assert plan.read_bytes() == NEW.encode("utf-8")
    assert names(shared) == ["thursday.firing"]


@needs_posix
@not_for_root
def test_a_protected_file_is_not_replaced(plan: Path) -> None:
    """A file that its owner made read-only stays, though the folder would allow a rename."""
    plan.chmod(0o444)
    with pytest.raises(PermissionError):
        write_whole(plan, NEW)

    assert plan.read_text() == OLD
    assert names(plan.parent) == ["mugs.firing"]


def test_a_file_the_system_protects_is_not_replaced(
    plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the system says that the file may not be written, no rename goes round it."""
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(PermissionError):
        write_whole(plan, NEW)

    assert plan.read_text() == OLD
    assert names(plan.parent) == ["mugs.firing"]


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    """A folder is refused and keeps what is in it."""
    (tmp_path / "plans").mkdir()
    with pytest.raises(IsADirectoryError):
        write_whole(tmp_path / "plans", NEW)

    assert names(tmp_path) == ["plans"]


@needs_posix
def test_a_pipe_is_no_file(tmp_path: Path) -> None:
    """A named pipe is refused, not replaced by a file."""
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(OSError, match="not an ordinary file"):
        write_whole(tmp_path / "pipe", NEW)

    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)
    assert names(tmp_path) == ["pipe"]


def test_a_folder_that_is_missing_is_an_error(tmp_path: Path) -> None:
    """Nothing is made where the folder is not there."""
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "missing" / "mugs.firing", NEW)

    assert names(tmp_path) == []


def test_a_long_name_is_no_hindrance(tmp_path: Path) -> None:
    """The file beside it has a name that fits wherever the plan's own name does."""
    path = tmp_path / ("ö" * 120 + ".firing")
    path.write_text(OLD)
    write_whole(path, NEW)

    assert path.read_bytes() == NEW.encode("utf-8")
