"""Several workers say what one says, in the same order."""

from pathlib import Path

import pytest

from guardcone.documents import document_text

STUDIO = """\
rules:
  bystanders-unsaid: {consequence: off, because: "the kiln room is always locked"}
"""


@pytest.fixture
def folder(studio: Path) -> Path:
    """Plans of two rooms, one with a studio's file, and one that is no text."""
    sound = document_text("rules", "sound_plans", "stoneware.firing")
    for room in ("heron", "egret"):
        (studio / room).mkdir()
        for number in range(4):
            text = sound.replace("guard  10", "guard  8", number).replace(
                "Saturday", f"no. {number}"
            )
            (studio / room / f"{number}.firing").write_text(text, encoding="utf-8")
    (studio / "egret" / "studio.yaml").write_text(STUDIO, encoding="utf-8")
    (studio / "egret" / "studio.yml").write_text("", encoding="utf-8")
    (studio / "heron" / "9.firing").write_bytes(b"\xff\xfe\x00")
    return studio


@pytest.mark.parametrize("form", ["people", "line", "json"])
def test_workers_say_the_same(guardcone, folder: Path, form: str) -> None:
    """Findings, what a studio changed, what could not be read, and the exit status."""
    alone = guardcone("check", "--form", form, ".")
    several = guardcone("check", "--form", form, "--workers", "3", ".")

    assert "cone-doubled" in alone.screen
    assert "9.firing" in alone.errors
    assert str(several) == str(alone)


def test_standard_input_is_read_by_one(guardcone, folder: Path) -> None:
    """A plan that is handed in goes to no worker."""
    plan = (folder / "heron" / "1.firing").read_text(encoding="utf-8")

    said = guardcone("check", "--workers", "2", "-", "egret/0.firing", typed=plan)

    assert said.status == 1
    assert "cone-doubled" in said.screen


def test_no_worker_is_refused(guardcone) -> None:
    """There is one at least."""
    said = guardcone("check", "--workers", "0", ".")

    assert said.status == 2
    assert "--workers must be 1 or more" in said.errors
