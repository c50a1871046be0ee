"""A danger stands until it is mended, or until somebody answers for it who does not fire."""

import pytest
from running import Folder, changed, run, sound

VENT = "vent downdraft, on throughout"
MAY = 'may accept: ["studio manager", "R. Teal"]\n'
REASON = '"the hood over this kiln always draws by itself"'
SECTIONS = ("plan", "kiln", "target", "witness", "load", "schedule", "safety")


def vent_off(accept: str, by: str = "duty potter") -> str:
    """A plan that fires with its vent off, and a line that would let that stand."""
    lines = {VENT: "vent off", 'by "duty potter"': f'by "{by}"' if by else ""}
    return changed(sound("electric"), lines) + f"\n{accept}\n"


def accept(folder: Folder, *, by: str) -> str:
    """The line that accepts the one danger of the plan, by its name in the report."""
    (danger,) = folder.check(vent_off("")).dangers
    return f"accept {danger.name} because {REASON}{by}"


def test_somebody_whom_the_studio_names_may_accept(folder: Folder) -> None:
    """Then the commit goes through, and the danger is told all the same, with who answers."""
    plan = vent_off(accept(folder, by=' by "Studio  Manager"'))

    told = folder.check(plan, MAY)
    people = folder.check(plan, MAY, form="people")

    assert told.status == people.status == 0
    assert [one.text for one in told.dangers] == [folder.check(vent_off("")).dangers[0].text]
    assert told.dangers[0].name in people.screen
    assert "danger" in people.screen
    assert "Studio Manager" in people.everything


@pytest.mark.parametrize(
    ("by", "studio"),
    [
        (' by "studio manager"', None),
        (' by "studio manager"', "local authority: county fire office\n"),
        ("", MAY),
        (' by "head of department"', MAY),
        (' by "studio"', MAY),
        *((f' by "{name}"', MAY) for name in ("me", "myself", "not me", "I", "0", "007")),
        *((f' by "{name}"', MAY) for name in ("?", "-", "x", "tbd", "n/a", "somebody", "nobody")),
        *((f' by "{name}"', MAY) for name in ("the person who fires", "whoever fires", "them")),
    ],
)
def test_nobody_else_may(folder: Folder, by: str, studio: str | None) -> None:
    """Without such a list, or without a name that is on it, no danger can be accepted."""
    told = folder.check(vent_off(accept(folder, by=by)), studio)

    assert len(told.dangers) == 1
    assert told.status == 1


@pytest.mark.parametrize(
    "fires",
    [
        "studio manager",
        "Studio Manager",
        "the studio manager",
        "duty potter and studio manager",
        "studio manager, with the class",
        "",
        "?",
    ],
)
def test_never_who_fires(folder: Folder, fires: str) -> None:
    """Whoever fires has every reason to go on; and where nobody is named it may be anybody."""
    line = accept(folder, by=' by "studio manager"')

    told = folder.check(vent_off(line, by=fires), MAY)

    assert len(told.dangers) == 1
    assert told.status == 1


@pytest.mark.parametrize("name", ["me", "anybody", "everyone", "7", "?", "tbd", "who fires"])
def test_the_list_names_people(folder: Folder, name: str) -> None:
    """A studio can't let anybody at all accept a danger: its file is refused, at its place."""
    told = folder.check(vent_off(""), f'may accept: ["{name}"]\n')

    assert told.status == 2
    assert "studio.yaml:1:" in told.errors


@pytest.mark.parametrize("section", SECTIONS)
def test_a_missing_section_can_not_be_accepted(folder: Folder, section: str) -> None:
    """What is not written down nobody has looked at, so nobody can answer for it."""
    lines = {f"section:{section}": ""}
    plan = changed(sound("electric"), lines)
    found = folder.check(plan)
    accepts = [f'accept {one.name} because {REASON} by "R. Teal"' for one in found.findings]

    told = folder.check(plan + "\n".join(["", *dict.fromkeys(accepts), ""]), MAY)
    missing = next(one for one in found.findings if _speaks_of(section, one.text))

    assert missing.text in [one.text for one in told.findings]
    assert section == "plan" or told.status == 1


def _speaks_of(section: str, text: str) -> bool:
    words = {
        "plan": "begin with its name",
        "kiln": "in which kiln",
        "target": "is to reach",
        "witness": "no witness set",
        "load": "what ware",
        "schedule": "no schedule",
        "safety": "people and the building",
    }
    return words[section] in text


def test_without_a_safety_section_each_danger_speaks(folder: Folder) -> None:
    """No line about safety hides nothing: vent, watch and cut-off are told one by one."""
    told = folder.check(changed(sound("electric"), {"section:safety": ""}))
    dangers = " ".join(one.text for one in told.dangers)
    all_of_it = " ".join(one.text for one in told.findings)

    assert "vent" in dangers
    assert "watch" in dangers
    assert "people and the building" in dangers
    assert "stops the kiln" in all_of_it


def test_accepting_one_danger_hides_no_other(folder: Folder) -> None:
    """Each of several dangers at one line, or about one thing, is accepted by itself."""
    glaze = 'glaze "Reed ash" matures cone 8 to cone 10, stiff'
    lines = {VENT: "vent off", glaze: f"{glaze}, contains manganese"}
    watch = {'watch "duty potter" from 16:00 to end': "watch nobody"}
    plan = changed(sound("electric"), {**lines, **watch})
    dangers = folder.check(plan).dangers

    assert len(dangers) >= 3
    for one in dangers:
        line = f'accept {one.name} because {REASON} by "R. Teal"'
        told = folder.check(f"{plan}\n{line}\n", MAY)
        assert sorted(told.dangers, key=str) == sorted(dangers, key=str)
        assert told.status == 1


def test_from_standard_input_too(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan that is piped in is held to the studio of the folder it is checked in."""
    monkeypatch.chdir(folder.path)
    plan = vent_off(accept(folder, by=' by "R. Teal"'))
    (folder.path / "studio.yaml").write_text(MAY)

    assert run("check", "-", "--form", "line", typed=plan).status == 0
    (folder.path / "studio.yaml").unlink()
    assert run("check", "-", "--form", "line", typed=plan).status == 1
