"""The house: rooms import one way only, no circles, no file too long, nothing loose at the top."""

import ast
import subprocess
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "checker" / "guardcone"
# Ground floor first; DEVELOPERS.md has the same list.
ROOMS = (
    *(
        "span",
        "documents",
        "files",
        "kept",
        "values",
        "language",
        "plan",
        "tidy",
        "firing",
        "outlook",
    ),
    *("condition", "facts", "rulebook", "checking", "reports", "starting", "commands"),
)
TOP = {
    *("README.md", "DEVELOPERS.md", "pyproject.toml"),
    *("checker", "grammar", "rules", "tests", "sample_plans"),
}
MODULES = {
    ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__"): path
    for path in sorted(PACKAGE.rglob("*.py"))
}


def imports_of(path: Path) -> set[str]:
    """The modules of guardcone that a file imports when it is loaded."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            # `from guardcone.rulebook import typed` imports a module, not a name.
            inner = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= {name for name in inner if name in MODULES} or {node.module}
    return {name for name in found if name in MODULES and name != "guardcone"}


def test_imports_run_one_way() -> None:
    """A module imports only from its own room and from those below it."""
    # The package itself and `__main__` stand in no room; what stands in none is told below.
    floors = {module: ROOMS.index(room_of(module)) for module in MODULES if room_of(module)}
    above = [
        f"{module} imports {other}"
        for module, floor in floors.items()
        for other in imports_of(MODULES[module])
        if floors.get(other, len(ROOMS)) > floor
    ]

    assert not above, "\n".join(above)


def room_of(module: str) -> str:
    """The room of a module, the name after `guardcone`; empty for what only starts the program."""
    return "" if module in {"guardcone", "guardcone.__main__"} else module.split(".")[1]


def test_no_circles() -> None:
    """No module imports itself by way of others."""
    graph = {module: imports_of(path) - {module} for module, path in MODULES.items()}
    # The `__init__` of a room gathers what its modules offer; those name each other directly.
    graph = {module: found for module, found in graph.items() if not is_gathering(module)}

    TopologicalSorter(graph).prepare()


def is_gathering(module: str) -> bool:
    """True for the `__init__` of a room."""
    return MODULES[module].name == "__init__.py"


def test_no_long_file() -> None:
    """No file of the code or of the tests is past about 400 lines."""
    files = [*MODULES.values(), *(ROOT / "tests").rglob("*.py")]
    lines = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in files}
    long = [f"{path.relative_to(ROOT)}: {number}" for path, number in lines.items() if number > 420]

    assert not long, "\n".join(long)


def test_each_file_says_what_it_is() -> None:
    """Every module begins with a docstring."""
    bare = [
        module
        for module, path in MODULES.items()
        if not ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
    ]

    assert not bare, "\n".join(bare)


def test_developers_page_lists_the_rooms_in_order() -> None:
    """The page for contributors has the rooms in the order in which imports may run."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

    places = [
        page.index(f"`{room}/`" if (PACKAGE / room).is_dir() else f"`{room}`") for room in ROOMS
    ]

    assert places == sorted(places)


def test_nothing_loose_at_the_top() -> None:
    """The top level is the agreed one, plus dot-files that tools need."""
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    ).stdout.split()
    if not listed:
        pytest.skip("not a git checkout")

    assert {path.split("/")[0] for path in listed if not path.startswith(".")} == TOP


def test_readme_has_every_right_line_of_the_grammar() -> None:
    """Each statement of the plan language stands in the README as the grammar shows it."""
    grammar = (ROOT / "grammar" / "plan.lark").read_text(encoding="utf-8")
    readme = " ".join((ROOT / "README.md").read_text(encoding="utf-8").split())
    right = [
        line.removeprefix("//> ").strip()
        for line in grammar.splitlines()
        if line.startswith("//> ")
    ]
    headings = (
        "plan",
        "kiln",
        "witness",
        "load",
        "schedule",
        "safety",
        "reading",
        "accept",
        "target",
    )

    missing = [line for line in right if not line.startswith(headings) and line not in readme]

    assert missing == []
