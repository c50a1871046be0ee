"""A person is told from nobody, from a thing, and from whoever fires."""

import pytest

from guardcone.language.meanings import (
    is_not_there,
    is_one_of,
    is_place_holder,
    is_same_person,
    is_thing,
    names_nobody,
)

NOBODY = (
    "me|my uncle|somebody from the office|myself|I|not me|0|007|?|-|x|tbd|n/a|somebody|anyone|"
    "the person who fires|who fires|J."
)
SOMEBODY = "studio manager|R. Teal|duty potter|Noone Patel|Ánna|青木|the studio owner"
THINGS = "the camera|webcam|controller|kiln sitter|app on my phone|an alarm|timer|the dog"
PEOPLE = "duty potter|kiln technician|class monitor|R. Teal, with the phone|Cameron"


@pytest.mark.parametrize("name", NOBODY.split("|"))
def test_nobody_is_named(name: str) -> None:
    """By a pronoun, a number, a place-holder, or by saying who fires in other words."""
    assert names_nobody(name)


@pytest.mark.parametrize("name", SOMEBODY.split("|"))
def test_somebody_is_named(name: str) -> None:
    """By a name or by an office."""
    assert not names_nobody(name)


@pytest.mark.parametrize("name", THINGS.split("|"))
def test_a_thing_is_no_person(name: str) -> None:
    """However well it watches."""
    assert is_thing(name)


@pytest.mark.parametrize("name", PEOPLE.split("|"))
def test_a_person_is_no_thing(name: str) -> None:
    """Also one with a thing in hand."""
    assert not is_thing(name)


def test_who_is_elsewhere_is_not_there() -> None:
    """By the plan's own words."""
    assert is_not_there("duty potter, from home")
    assert is_not_there("R. Teal by phone")
    assert is_not_there("unattended")
    assert is_not_there("nobody needed")
    assert is_not_there("neighbour looks in now and then")
    assert not is_not_there("R. Teal alone")
    assert not is_not_there("duty potter, phone in hand")


def test_a_place_holder_is_told_from_a_name() -> None:
    """What stands where a name is to come."""
    assert is_place_holder("name")
    assert is_place_holder("who watches")
    assert not is_place_holder("somebody of the class")


def test_a_name_is_known_in_any_spelling() -> None:
    """Capitals, blanks and articles make no other person."""
    assert is_one_of("The Studio  Manager", ["studio manager"])
    assert not is_one_of("studio", ["studio manager"])


@pytest.mark.parametrize(
    "fires", ["studio manager", "R. Teal and the Studio Manager", "studio manager (deputy)"]
)
def test_who_fires_is_the_same_person(fires: str) -> None:
    """Alone, among others, and with more words to the name."""
    assert is_same_person("studio manager", fires)
    assert not is_same_person("head of school", fires)
