"""Food, lead and cadmium are found in passing words, and not where they are denied."""

import csv
from pathlib import Path

import pytest

from guardcone.documents import document_path
from guardcone.language.claims import food_claim, is_on_throughout, lead_or_cadmium

FOOD = (
    "dinnerware safe",
    "all foodsafe",
    "safe \t for food",
    "good for tea",
    "food grade glaze",
    "SAFE TO EAT FROM",
    "the cups can hold drinks",
)
NO_FOOD = (
    "not food safe",
    "never to be called food-safe",
    "not yet tested, so not safe for eating",
    "food safety officer",
    "dog food bowls",
)
METAL = (
    "lead glaze",
    "Lead crystal",
    "glaze has lead in it",
    "lead in the old frit",
    "red lead",
    "lead bisilicate frit",
    "litharge",
    "the cadmium stain",
)
NO_METAL = (
    "lead-free",
    "no lead or cadmium",
    "unleaded",
    "without added lead",
    "cadmium-free",
    "the lead potter has the key",
    "she will lead the firing",
    "thermocouple leads",
    "this leads to cracks",
)


@pytest.mark.parametrize("text", FOOD)
def test_a_claim_of_fitness_for_food_is_found(text: str) -> None:
    """In whatever words ware is called fit for food."""
    assert food_claim(text, 1)


@pytest.mark.parametrize("text", NO_FOOD)
def test_what_claims_nothing_is_none(text: str) -> None:
    """A denial is what a plan should say."""
    assert not food_claim(text, 1)


@pytest.mark.parametrize("text", METAL)
def test_lead_and_cadmium_are_found(text: str) -> None:
    """As the metal, its oxides and frits."""
    assert lead_or_cadmium(text, 1)


@pytest.mark.parametrize("text", NO_METAL)
def test_other_leads_are_none(text: str) -> None:
    """Who leads, a cable, or words that there is none."""
    assert not lead_or_cadmium(text, 1)


def test_every_meaning_is_asked() -> None:
    """No row of the table stands there for nothing: the code asks it by its name."""
    code = Path(__file__).parents[2] / "checker" / "guardcone"
    asked = "".join(file.read_text(encoding="utf-8") for file in code.rglob("*.py"))
    with document_path("grammar", "meanings.csv").open(encoding="utf-8", newline="") as file:
        names = [row["name"] for row in csv.DictReader(file)]

    # `no glove` and `glove word` are made from `glove`, and so of a lens.
    made = {
        f"{no}{what}{word}"
        for what in ("lens", "glove")
        for no, word in (("no ", ""), ("", " word"))
    }
    assert [name for name in names if f'"{name}"' not in asked and name not in made] == []
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("words", "is_throughout"),
    [
        ("hood with fan, on throughout", True),
        ("wall fan on the whole time", True),
        ("fan, on all the way through", True),
        ("fan", False),
        ("fan, not on throughout", False),
        ("fan on throughout, off while cooling", False),
        ("fan on throughout until 600 C", False),
        ("fan on throughout if it works", False),
    ],
)
def test_a_vent_in_quotes_may_be_on_throughout(words: str, is_throughout: bool) -> None:
    """Where the words say so, and nothing beside them takes it back."""
    assert is_on_throughout(words) == is_throughout
