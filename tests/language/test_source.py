"""The file as somebody saved it: line ends, blanks and comments are fine, other files are not."""

import os
import threading
from pathlib import Path

import pytest

from guardcone.language import (
    MAXIMUM_BYTES,
    SourceText,
    UnreadablePlan,
    load_source,
    read_statements,
    split_lines,
)
from guardcone.plan import read_plan

SOUND = """\
# Heron, Thursday class
plan "Thursday stoneware"
  by "duty potter"

schedule
  climb 60 C/h to 95 C   # candling
  hold 2 h
"""


def saved(folder: Path, content: bytes) -> Path:
    path = folder / "thursday.firing"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (SOUND.encode(), "as it should be"),
        (SOUND.replace("\n", "\r\n").encode(), "CRLF"),
        (SOUND.replace("\n", "\r").encode(), "lone CR"),
        (b"\xef\xbb\xbf" + SOUND.encode(), "byte order mark"),
        (SOUND.rstrip("\n").encode(), "no final newline"),
        ((SOUND + "\n\n\n").encode(), "blank lines at the end"),
        (SOUND.replace("\n", "   \t\n").encode(), "trailing blanks"),
        (SOUND.replace("  ", "\t").encode(), "tabs"),
        (SOUND.replace(" ", "\u00a0").encode(), "no-break spaces"),
        (SOUND.replace(" h", "\u2009\u202fh").encode(), "thin blanks"),
        (SOUND.replace('"Thursday stoneware"', "“Thursday stoneware”").encode(), "curly quotes"),
        (SOUND.replace('"Thursday stoneware"', "„Thursday stoneware“").encode(), "low quotes"),
        (SOUND.replace('"Thursday stoneware"', '"Thursday stoneware”').encode(), "mixed quotes"),
        (SOUND.replace("schedule", "\f\nschedule\v").encode(), "form feed"),
        (SOUND.replace("schedule", "\u200bschedule\ufeff").encode(), "marks without width"),
        (SOUND.upper().encode().replace(b"THURSDAY STONEWARE", b"Thursday stoneware"), "capitals"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_plan_is_read_however_it_was_saved(tmp_path: Path, content: bytes, why: str) -> None:
    """Line ends, blanks and quotes of every editor give the same plan, without a fault."""
    plan = read_plan(load_source(saved(tmp_path, content)))
    assert plan.faults == (), why
    assert plan.name is not None
    assert plan.name.value == "Thursday stoneware"
    assert plan.schedule is not None
    assert [segment.kind for segment in plan.schedule.segments] == ["climb", "hold"]


@pytest.mark.parametrize(
    "content", [b"", b"\n", b"\xef\xbb\xbf", b"\r\n\r\n", b"# only a remark\n"]
)
def test_an_empty_file_is_an_empty_plan(tmp_path: Path, content: bytes) -> None:
    """Nothing in it is no fault of the text; that much is missing is for the rules to say."""
    plan = read_plan(load_source(saved(tmp_path, content)))
    assert (plan.faults, plan.name, plan.schedule) == ((), None, None)


@pytest.mark.parametrize(
    ("line", "code", "comment"),
    [
        ("hold 2 h # to dry", "hold 2 h", "# to dry"),
        ("hold 2 h#to dry", "hold 2 h", "#to dry"),
        ('note "shelf #3" # top', 'note "shelf #3"', "# top"),
        ("note “shelf #3” # top", "note “shelf #3”", "# top"),
        ("# all of it", "", "# all of it"),
        ('wall 1/4" # thin', 'wall 1/4"', "# thin"),
        ('wall ¼" # thin', 'wall ¼"', "# thin"),
        ("   ", "", ""),
    ],
)
def test_a_comment_begins_at_a_sign_outside_quotes(line: str, code: str, comment: str) -> None:
    """A # within a name is part of it, and an inch sign opens no name."""
    (read,) = split_lines(line)
    assert (read.code, read.comment) == (code, comment)


def test_only_line_ends_end_a_line() -> None:
    """Form feed, vertical tab and the line separators of Unicode leave the line numbers alone."""
    assert len(split_lines("a\x0bb\x0cc\x1cd\x85e\u2028f\u2029g")) == 1
    assert [line.text for line in split_lines("a\nb\r\nc\rd\n\ne")] == ["a", "b", "c", "d", "", "e"]


# -- no plan at all -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        ("café".encode("latin-1"), "is not UTF-8 text: line 1 has the byte 0xe9; save it as UTF-8"),
        (b'plan "x"\n\n\xff', "is not UTF-8 text: line 3 has the byte 0xff; save it as UTF-8"),
        (b"plan\r\rclimb \xff", "is not UTF-8 text: line 3 has the byte 0xff; save it as UTF-8"),
        (SOUND.encode("utf-16"), "is UTF-16 text; save it as UTF-8"),
        (SOUND.encode("utf-16-le"), "is not text: line 1 has a zero byte"),
        (b"plan\n\0", "is not text: line 2 has a zero byte"),
        (b"PK\x03\x04\x14\0\0\0", "is not text: line 1 has a zero byte"),
        (
            b"#" * (MAXIMUM_BYTES + 1),
            "is too large to be a plan: the limit is 10 MB (10,000,000 bytes)",
        ),
    ],
    ids=["latin-1", "byte", "byte-after-cr", "utf-16", "utf-16-le", "zero", "zip", "too-large"],
)
def test_a_file_that_is_no_text(tmp_path: Path, content: bytes, reason: str) -> None:
    """Bytes that are no UTF-8 text, and files past the limit, are refused with the reason."""
    path = saved(tmp_path, content)
    with pytest.raises(UnreadablePlan) as caught:
        load_source(path)
    assert str(caught.value) == f"{path} {reason}"


def test_a_plan_of_just_the_limit_is_read(tmp_path: Path) -> None:
    """The limit itself is still a plan."""
    path = saved(tmp_path, b"#" * MAXIMUM_BYTES)
    assert len(load_source(path).lines) == 1


def test_a_folder(tmp_path: Path) -> None:
    """A folder is named as such."""
    with pytest.raises(UnreadablePlan) as caught:
        load_source(tmp_path)
    assert str(caught.value) == f"{tmp_path} is a folder, not a plan"


def test_a_missing_file(tmp_path: Path) -> None:
    """A file that is not there."""
    path = tmp_path / "friday.firing"
    with pytest.raises(UnreadablePlan) as caught:
        load_source(path)
    assert str(caught.value) == f"{path} can't be read: no such file or directory"


def test_a_device() -> None:
    """A device never ends, or is always empty: neither is a plan."""
    with pytest.raises(UnreadablePlan) as caught:
        load_source(Path(os.devnull))
    assert str(caught.value) == f"{os.devnull} is a device or socket, not a plan"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with a name here")
def test_a_pipe(tmp_path: Path) -> None:
    """A pipe is read like a file, so that `<(...)` of a shell works."""
    path = tmp_path / "pipe"
    os.mkfifo(path)
    writer = threading.Thread(target=path.write_bytes, args=(SOUND.encode(),))
    writer.start()
    assert load_source(path).lines == split_lines(SOUND)
    writer.join()


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root reads all files")
def test_no_permission(tmp_path: Path) -> None:
    """A file that may not be read."""
    path = saved(tmp_path, SOUND.encode())
    path.chmod(0)
    with pytest.raises(UnreadablePlan) as caught:
        load_source(path)
    assert str(caught.value) == f"{path} can't be read: permission denied"


def test_a_name_that_is_no_path() -> None:
    """A path with a zero byte in it is refused, not a traceback."""
    with pytest.raises(UnreadablePlan):
        load_source(Path("thursday\0.firing"))


def test_the_name_in_findings_is_the_one_that_was_given(tmp_path: Path) -> None:
    """Findings call the file what the person called it."""
    source = load_source(saved(tmp_path, SOUND.encode()))
    assert source.name == str(tmp_path / "thursday.firing")
    assert read_statements(SourceText("standard input", source.lines)).source.name == (
        "standard input"
    )
