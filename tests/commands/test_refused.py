"""What a command is not made for is refused with exit status 2, and nothing on the screen."""

from importlib.metadata import version

import pytest

# The words, and what of them the answer names.
USAGE = {
    "--colour blue check thursday.firing": "blue",
    "--unknown check thursday.firing": "--unknown",
    "check": "PLAN-OR-FOLDER",
    "check --form xml thursday.firing": "xml",
    "check --stop-at never thursday.firing": "never",
    "check --called": "--called",
    "check --write thursday.firing": "--write",
    "forecast": "PLAN",
    "forecast --form line thursday.firing": "line",
    "forecast --teach thursday.firing": "--teach",
    "forecast thursday.firing friday.firing": "friday.firing",
    "why": "RULE",
    "why guard-missing vent-missing": "vent-missing",
    "why --form json guard-missing": "--form",
    "rules all": "all",
    "rules limits quartz-most": "quartz-most",
    "rules schema": "of",
    "rules schema plans": "plans",
    "rules test --write our_rules.yaml": "--write",
    "start --write new.firing": "--write",
    "tidy": "PLAN-OR-FOLDER",
    "tidy --form json thursday.firing": "--form",
}


@pytest.mark.parametrize("words", USAGE)
def test_words_that_the_command_does_not_know(guardcone, studio, stoneware, words: str) -> None:
    """The usage is shown with the word that is wrong or the one that is missing."""
    (studio / "thursday.firing").write_text(stoneware)

    said = guardcone(*words.split())

    assert (said.screen, said.status) == ("", 2)
    assert said.errors.startswith("usage: guardcone")
    assert USAGE[words] in said.errors.splitlines()[-1]
    assert [path.name for path in studio.iterdir()] == ["thursday.firing"]


TYPED = {
    "": "What is to be done?",
    "thursday.firing": "What is to be done with thursday.firing?",
    "chek thursday.firing": "'chek' is no command. Did you mean check?",
    "--colour never frob": "'frob' is no command.",
}


@pytest.mark.parametrize("words", TYPED)
def test_who_types_no_command_is_told_what_to_type(guardcone, studio, stoneware, words) -> None:
    """Nothing, a plan alone, a slip of the hand: the commands are shown as they are typed."""
    (studio / "thursday.firing").write_text(stoneware)

    said = guardcone(*words.split())

    assert (said.screen, said.status) == ("", 2)
    told, *commands = said.errors.splitlines()
    assert told == f"guardcone: {TYPED[words]}"
    plan = "thursday.firing" if words == "thursday.firing" else "NAME.firing"
    assert commands[0].split("  ")[1] == f"guardcone check {plan}"
    assert len(commands) == 4


REFUSED = {
    ("why", "guard-mising"): "there is no rule guard-mising; the nearest is guard-missing",
    ("why", "kiln"): "there is no rule kiln; guardcone rules lists all names",
    ("why", ""): "the name of the rule is empty",
    ("why", "guard missing"): "there is no rule guard missing; the nearest is guard-missing",
    ("rules", "test", "none.yaml"): "none.yaml can't be read: it is not there",
    ("rules", "test", "empty"): "empty can't be read: it is not a file",
    ("rules", "test", ""): "a file without a name can't be read: it is not a file",
    ("start", "new.txt"): (
        "new.txt does not end in .firing, so no check of a folder would find it"
    ),
    ("start", "empty"): (
        "'empty' is no kind of firing, which are bisque, glaze, once, overglaze, raku, candling or "
        "test, no cone, and no file that ends in .firing: guardcone start glaze cone 6 empty.firing"
    ),
    ("start", "new.firing", "other.firing"): (
        "two files are named, new.firing and other.firing: begin one at a time"
    ),
    ("start", "none/new.firing"): "none/new.firing could not be written: No such file or directory",
    ("start", "thursday.firing"): "thursday.firing is there already, and is left as it is",
    ("start", ""): "the name of the plan is empty",
    ("tidy", "empty"): "no plan found: the folder empty has no file ending in .firing",
    ("tidy", "--write", "empty"): "no plan found: the folder empty has no file ending in .firing",
    ("tidy", "none.firing"): "none.firing can't be read: no such file or directory",
    ("tidy", "none"): "none is not there; plans end in .firing",
    ("check", "empty"): "no plan found: the folder empty has no file ending in .firing",
    ("check", "none"): "none is not there; plans end in .firing",
    ("forecast", "empty"): "empty is a folder, not a plan",
    ("forecast", "none"): "none is not there; plans end in .firing",
    ("forecast", "none.firing"): "none.firing can't be read: no such file or directory",
    ("forecast", "/dev/null"): "/dev/null is a device or socket, not a plan",
}


@pytest.mark.parametrize("words", REFUSED, ids=" ".join)
def test_what_is_not_there(guardcone, studio, stoneware, words: tuple[str, ...]) -> None:
    """One line says what is missing, and no file is made or changed."""
    (studio / "thursday.firing").write_text(stoneware)
    (studio / "empty").mkdir()

    said = guardcone(*words)

    assert (said.screen, said.status) == ("", 2)
    assert said.errors == f"guardcone: {REFUSED[words]}\n"
    assert {path.name for path in studio.rglob("*")} == {"thursday.firing", "empty"}
    assert (studio / "thursday.firing").read_text() == stoneware


@pytest.mark.parametrize("command", ["check", "forecast", "tidy"])
@pytest.mark.parametrize("content", [b"plan \xff\xfe", b"\xff\xfep\0"], ids=["bytes", "UTF-16"])
def test_a_file_that_is_no_text(guardcone, studio, command: str, content: bytes) -> None:
    """It is named, and tidy leaves it byte for byte as it was."""
    (studio / "thursday.firing").write_bytes(content)

    said = guardcone(command, *(["--write"] if command == "tidy" else []), "thursday.firing")

    assert (said.screen, said.status) == ("", 2)
    assert said.errors.startswith("guardcone: thursday.firing ")
    assert said.errors.count("\n") == 1
    assert (studio / "thursday.firing").read_bytes() == content


def test_version(guardcone) -> None:
    """The version is the one of the installed distribution."""
    said = guardcone("--version")

    assert (said.screen, said.errors, said.status) == (f"guardcone {version('guardcone')}\n", "", 0)


@pytest.mark.parametrize(
    "command", ["", "check", "forecast", "why", "rules", "rules test", "start", "tidy"]
)
def test_help(guardcone, command: str) -> None:
    """Each command says how it is used, on the screen and with exit status 0."""
    said = guardcone(*command.split(), "--help")

    assert said.screen.startswith(f"usage: {' '.join(['guardcone', *command.split()])} ")
    assert (said.errors, said.status) == ("", 0)


def test_a_rule_in_capitals_and_blanks(guardcone) -> None:
    """A name copied with a blank or shouted is the name all the same."""
    assert guardcone("why", " GUARD-MISSING ") == guardcone("why", "guard-missing")


@pytest.mark.parametrize(
    "words",
    [
        *("check thursday.firing", "forecast thursday.firing", "why guard-missing", "rules"),
        *("rules limits", "rules page", "rules schema studio", "start"),
    ],
)
def test_a_faulty_studio_file(guardcone, studio, stoneware, words: str) -> None:
    """Nothing is said by half of what the studio wrote; its fault is told at its place."""
    (studio / "thursday.firing").write_text(stoneware)
    (studio / "studio.yaml").write_text("limmits: 3\n")

    said = guardcone(*words.split())

    assert (said.screen, said.status) == ("", 2)
    assert "studio.yaml:1:1: there is no key 'limmits' here (did you mean limits?)\n" in said.errors


@pytest.mark.parametrize("words", ["tidy -", "rules vocabulary", "rules schema rules"])
def test_what_asks_no_studio(guardcone, studio, stoneware, words: str) -> None:
    """A fault of studio.yaml is no hindrance to what does not depend on it."""
    said = guardcone(*words.split(), typed=stoneware)
    (studio / "studio.yaml").write_text("limmits: 3\n")

    assert guardcone(*words.split(), typed=stoneware) == said
    assert (said.errors, said.status) == ("", 0)
