"""Nothing that lies beside a plan takes a danger out of its report, and nothing does so unseen."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from running import Folder, Told, as_json, changed, run, sound

VENT_OFF = changed(sound("electric"), {"vent downdraft, on throughout": "vent off"})
UNREADABLE = "vent off ( and"

RULE = """\
- rule: {name}
  concerns: plan
  advice when: by is present
  at: by
  finding: The plan says who fires.
  do: Nothing to do.
  why: House style, which is the custom of this house since its first kiln was built and fired.
  sources: the studio's own
  {silences}
  passes:
    - without: by "duty potter"
  fails:
    - from: stoneware
      at: {at}
"""


def rule(name: str = "house-style", silences: str = "", at: str = "'\"duty potter\"'") -> str:
    """The file of a studio's own rule that is found in every plan which says who fires."""
    return RULE.format(name=name, at=at, silences=f"silences: [{silences}]" if silences else "")


def with_rule(folder: Folder, text: str, plan: str = VENT_OFF, form: str = "line") -> Told:
    """Check a plan beside a studio's file that names one file of own rules."""
    return folder.check(plan, "own rules: house.yaml\n", {"house.yaml": text}, form=form)


# -- rules of a studio's own ----------------------------------------------------------------------


def test_an_own_rule_counts_and_is_named(folder: Folder) -> None:
    """A sound own rule is applied, and each form of report says that it was in force."""
    told = with_rule(folder, rule())

    assert [one.name for one in told.findings if one.weight == "advice"] == ["house-style"]
    assert len(told.dangers) == 1
    for form in ("line", "people", "json"):
        everything = with_rule(folder, rule(), form=form).everything
        assert "studio.yaml" in everything, form
        assert "house.yaml" in everything, form


def test_an_own_rule_silences_no_danger(folder: Folder) -> None:
    """A file that tries is refused at the place, and no plan goes through by it."""
    (danger,) = folder.check(VENT_OFF).dangers

    told = with_rule(folder, rule(silences=danger.name))

    assert told.status == 2
    assert "house.yaml:" in told.errors
    assert danger.name in told.errors


def test_an_own_rule_silences_no_fault_of_the_text(folder: Folder) -> None:
    """A line that can't be read is told whatever a studio writes."""
    plan = changed(sound("electric"), {"vent downdraft, on throughout": UNREADABLE})
    (fault,) = {one.name for one in folder.check(plan).findings}

    told = with_rule(folder, rule(silences=fault), plan)

    assert told.status == 2
    assert fault in told.errors


def test_a_danger_of_the_studio_is_silenced_by_none_of_its_rules(folder: Folder) -> None:
    """Also what the studio itself weighs as a danger stays told."""
    studio = (
        "own rules: house.yaml\n"
        "rules:\n"
        "  {name}: {{consequence: danger, because: a child was burnt here last winter}}\n"
    )
    plan = changed(sound("electric"), {"bystanders kept out": ""})
    (name,) = {one.name for one in folder.check(plan).findings}

    text = rule(silences=name)
    told = folder.check(plan, studio.format(name=name), {"house.yaml": text})

    assert [one.name for one in told.dangers] == [name]


@pytest.mark.parametrize("own", ["danger", "text fault"])
def test_an_own_rule_takes_no_name_of_the_book(folder: Folder, own: str) -> None:
    """Under the name of a danger, or of a fault of the text, no other rule may stand."""
    plans = {
        "danger": VENT_OFF,
        "text fault": changed(sound("electric"), {"vent downdraft, on throughout": UNREADABLE}),
    }
    name = folder.check(plans[own]).findings[0].name

    told = with_rule(folder, rule(name))

    assert told.status == 2
    assert "house.yaml:" in told.errors


def test_the_examples_of_an_own_rule_are_run_before_it_counts(folder: Folder) -> None:
    """A rule that does not do what it shows is refused, with the example that is wrong."""
    told = with_rule(folder, rule(at="vent downdraft"))

    assert told.status == 2
    assert "house.yaml:" in told.errors
    assert "example" in told.errors


def test_what_an_own_rule_silences_is_told(folder: Folder) -> None:
    """A studio may keep advice quiet; each form of report says which, and by what."""
    plan = changed(sound("electric"), {"bystanders kept out": ""})
    (quiet,) = folder.check(plan).findings

    for form in ("line", "people", "json"):
        told = with_rule(folder, rule(silences=quiet.name), plan, form)
        assert quiet.name in told.everything, form
        assert "silenced" in told.everything, form


# -- studio.yaml ---------------------------------------------------------------------------------


@pytest.mark.parametrize("weight", ["off", "loss", "doubt", "advice"])
def test_no_danger_is_turned_off_or_weighed_less(folder: Folder, weight: str) -> None:
    """A studio's file that tries is refused at the place."""
    (danger,) = folder.check(VENT_OFF).dangers
    studio = f"rules:\n  {danger.name}: {{consequence: {weight}, because: it is always so here}}\n"

    told = folder.check(VENT_OFF, studio)

    assert told.status == 2
    assert "studio.yaml:2:" in told.errors


def test_what_a_studio_turns_off_is_told_in_every_report(folder: Folder) -> None:
    """What is off, and why, stands in each form, also where nothing is found."""
    plan = changed(sound("electric"), {"bystanders kept out": ""})
    (quiet,) = folder.check(plan).findings
    studio = (
        f"rules:\n  {quiet.name}: {{consequence: off, because: the door has a lock of its own}}"
    )

    for form in ("line", "people", "json"):
        told = folder.check(plan, studio, form=form)
        assert told.status == 0
        assert quiet.name in told.everything, form
        assert "off" in told.everything, form
        assert "lock of its own" in told.everything, form


def test_a_moved_limit_hides_no_danger(folder: Folder) -> None:
    """A studio may ask for more than the book; for less than what makes a danger it may not."""
    plan = changed(sound("gas"), {"reduce from 950 C": "reduce from 720 C"})
    listed = run("rules", "limits").screen
    ranges = _ranges(listed)

    (danger,) = folder.check(plan).dangers
    for name, least, most in ranges:
        for value in (least, most):
            told = folder.check(plan, f'limits: {{{name}: "{value}"}}\n')
            assert danger.name in [one.name for one in told.dangers], (name, value)


def _ranges(listed: str) -> Iterator[tuple[str, str, str]]:
    """Name, least and most of each limit, as the program lists them."""
    name = ""
    for line in listed.splitlines():
        if line and not line.startswith(" "):
            name = line.split()[0]
        elif "a studio may set " in line:
            least, most = line.split("a studio may set ")[1].split(" to ")
            yield name, least, most


# -- where the studio's file is looked for ---------------------------------------------------------


def test_without_a_repository_nothing_above_the_folder_counts(folder: Folder) -> None:
    """What lies above may be anybody's."""
    (folder.path / "studio.yaml").write_text("may accept: R. Teal\n")
    below = Folder(folder.path / "plans")
    below.path.mkdir()

    assert "studio.yaml" not in below.check(VENT_OFF, form="people").everything
    (folder.path / ".git").mkdir()
    assert "studio.yaml" in below.check(VENT_OFF, form="people").everything


def test_the_search_ends_with_the_repository(folder: Folder) -> None:
    """A file above the top of the repository means something else on every machine."""
    (folder.path / "studio.yaml").write_text("may accept: R. Teal\n")
    below = Folder(folder.path / "plans")
    below.path.mkdir()
    (below.path / ".git").mkdir()

    assert "studio.yaml" not in below.check(VENT_OFF, form="people").everything


@pytest.fixture
def common() -> Iterator[Path]:
    """A folder in which anybody may write, as a temporary folder is."""
    path = Path(tempfile.mkdtemp())
    path.chmod(0o1777)
    yield path
    shutil.rmtree(path)


@pytest.mark.skipif(os.getuid() != 0, reason="only root can give a file to somebody else")
@pytest.mark.parametrize("name", ["studio.yaml", "house.yaml"])
def test_a_strangers_file_in_a_common_folder_is_refused(common: Path, name: str) -> None:
    """Somebody else could decide there what is told of this plan."""
    folder = Folder(common)
    beside = {"studio.yaml": "own rules: house.yaml\n", "house.yaml": rule()}
    for file, text in beside.items():
        (common / file).write_text(text)
    (common / "plan.firing").write_text(VENT_OFF)
    assert run("check", str(common / "plan.firing")).status == 1

    os.chown(folder.path / name, 65534, 65534)
    told = run("check", str(common / "plan.firing"))

    assert told.status == 2
    assert "somebody else" in told.errors


# -- what can't be read --------------------------------------------------------------------------


@pytest.fixture
def as_nobody() -> Iterator[Path]:
    """A folder of somebody without rights, who runs the program."""
    path = Path(tempfile.mkdtemp())
    path.chmod(0o777)
    if os.getuid() == 0:
        os.seteuid(65534)
    try:
        yield path
    finally:
        if os.getuid() == 0:
            os.seteuid(0)
        for folder, _, _ in os.walk(path):
            Path(folder).chmod(0o700)
        shutil.rmtree(path)


@pytest.mark.parametrize("mode", [0o000, 0o300, 0o400, 0o444, 0o644])
def test_a_folder_that_can_not_be_entered_is_named(as_nobody: Path, mode: int) -> None:
    """It is never passed over: the other plans are checked, and the exit status is 2."""
    (as_nobody / "a.firing").write_text(VENT_OFF)
    locked = as_nobody / "locked"
    locked.mkdir()
    (locked / "b.firing").write_text(VENT_OFF)
    locked.chmod(mode)

    told = run("check", str(as_nobody), "--form", "line")

    locked.chmod(0o700)
    assert told.status == 2
    assert "locked" in told.errors
    assert "danger" in told.screen
    assert "a.firing" in told.screen


def test_a_file_that_can_not_be_read_is_named(as_nobody: Path) -> None:
    """The other plans are checked, and the exit status is 2."""
    (as_nobody / "a.firing").write_text(VENT_OFF)
    (as_nobody / "b.firing").write_text(VENT_OFF)
    (as_nobody / "b.firing").chmod(0o000)
    (as_nobody / "c.firing").write_bytes(b"vent \xff off")
    (as_nobody / "d.firing").symlink_to("nowhere.firing")

    told = run("check", str(as_nobody), "--form", "line")

    assert told.status == 2
    assert "a.firing" in told.screen
    for name in ("b.firing", "c.firing", "d.firing"):
        assert name in told.errors


# -- nothing of a plan acts on a terminal ---------------------------------------------------------

ESCAPES = ("\033[8m", "\033[2J", "\033[30;40m", "\033]8;;x\033\\", "\x9b8m", "\x9b2J", "\r", "\b")


@pytest.mark.parametrize("colour", ["always", "never"])
@pytest.mark.parametrize("escape", ESCAPES, ids=ascii)
def test_no_escape_of_a_plan_reaches_a_terminal(folder: Folder, escape: str, colour: str) -> None:
    """What would hide, move or overwrite text is shown as what it is, in every place and form."""
    if escape == "\r":
        plan = VENT_OFF.replace("vent off", 'vent off "x\u2028y"')
    else:
        plan = VENT_OFF.replace("vent off", f"vent off # {escape}hidden")
        plan = plan.replace("Saturday stoneware", f"Saturday {escape} stoneware")
        plan = plan.replace("duty potter", f"duty {escape} potter")
    plan += f'accept pad-damp because "it stood {escape} on the warm kiln" by "{escape} R. Teal"\n'
    plain = folder.check(VENT_OFF, form="people", words=[]).screen
    for command in ("check", "forecast", "tidy"):
        (folder.path / "plan.firing").write_text(plan)
        told = run("--colour", colour, command, str(folder.path / "plan.firing"))
        for text in (told.screen, told.errors):
            ours = _without_our_colours(text) if colour == "always" else text
            assert not set("\033\x9b\b\r\x07") & set(ours), (command, ascii(ours))
            assert "[8m" not in text.replace("\ufffd[8m", "")
    assert plain


def _without_our_colours(text: str) -> str:
    for code in ("1;37;41", "1;31", "33", "2", "1", "0"):
        text = text.replace(f"\033[{code}m", "")
    return text


@pytest.mark.parametrize("words", [("check",), ("why",), ("start",), ("forecast",), ("tidy",)])
def test_no_escape_of_a_name_reaches_a_terminal(folder: Folder, words: tuple[str]) -> None:
    """The error output is cleaned as well."""
    told = run(*words, str(folder.path / "missing\033[2J.firing\x9b2J"))

    assert told.status == 2
    assert told.errors
    assert not set("\033\x9b") & set(told.errors)


def test_the_studio_in_force_is_part_of_the_json(folder: Folder) -> None:
    """A program can tell by which studio's file a plan was checked."""
    told = folder.check(VENT_OFF, "may accept: R. Teal\n", form="json")

    assert "studio.yaml" in str(as_json(told))
    assert "R. Teal" in str(as_json(told))


@pytest.mark.parametrize("form", ["people", "json"])
def test_a_forecast_names_the_studio_in_force(folder: Folder, form: str) -> None:
    """What a studio says of its kiln shapes the forecast, so it says whose words those are."""
    folder.check(VENT_OFF, "may accept: R. Teal\n")

    told = run("forecast", str(folder.path / "plan.firing"), "--form", form)

    assert "studio.yaml" in told.screen


@pytest.mark.parametrize("form", ["line", "people", "json"])
def test_what_a_studio_says_of_a_kiln_is_told_as_its_word(folder: Folder, form: str) -> None:
    """On what heats a kiln and where it stands dangers hang; each report says who said it."""
    plan = changed(sound("electric"), {"electric, front door, 230 L, 11 kW": ""})

    told = folder.check(plan, "kilns:\n  Heron: electric, indoors\n", form=form)

    assert told.status == 0
    assert "electric, indoors" in told.everything
    assert "not the plan" in told.everything
