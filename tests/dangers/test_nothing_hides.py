"""Whatever is tried in a plan and beside it, alone or together, a danger stays in every report.

Plans with one or several dangers are made out of those of `danger_plans`; then ploys are drawn:
accept lines, a studio's file, rules of its own, limits, silences, places, spellings, orders of
lines, lines and sections said twice. What the plan told before it tells after.
"""

import random
import re
from collections.abc import Callable, Mapping
from functools import cache

from attrs import define, field
from danger_plans import EVERY_DANGER
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from running import Danger, Folder, Lines, Told, changed, run, sound

DANGERS = [one for one in EVERY_DANGER if one.weight == "danger" and not one.studio]
FORMS = ("line", "people", "json")
# What a plan says once, so that a second line of it is no further watch or note, but another word.
SAID_ONCE = (
    "vent electric propane front hands eyes gas flame CO extinguisher cut-off rated clearance "
    "combustion glaze clay"
).split()


@cache
def limits() -> tuple[tuple[str, str, str], ...]:
    """Name, least and most of each limit that a studio may set, as the program lists them."""
    found, name = [], ""
    for line in run("rules", "limits").screen.splitlines():
        if line and not line.startswith(" "):
            name = line.split()[0]
        elif "a studio may set " in line:
            least, most = line.split("a studio may set ")[1].split(" to ")
            found.append((name, least, most))
    return tuple(found)


@define
class Case:
    """A plan with dangers, what lies beside it, and what may let the commit go through."""

    plan: str
    change: Mapping[str, Lines]
    base: str
    told: Told
    rules: dict[str, str] = field(factory=dict)
    limits: dict[str, str] = field(factory=dict)
    may_accept: list[str] = field(factory=list)
    own: list[str] = field(factory=list)

    @property
    def who_fires(self) -> str:
        """Whom the plan names behind `by`, who may accept nothing."""
        found = re.search(r'^\s*by\s+"(.*)"', sound(self.base), re.MULTILINE)
        assert found
        return found[1]

    @property
    def studio(self) -> str:
        parts = ["local authority: county fire office, asked 2026-02"]
        parts += [f"may accept: {self.may_accept}"] if self.may_accept else []
        for key, values in (("rules", self.rules), ("limits", self.limits)):
            parts += [f"{key}:", *(f"  {k}: {v}" for k, v in values.items())] if values else []
        parts += ["own rules: house.yaml"] if self.own else []
        return "\n".join(parts) + "\n"


Ploy = Callable[[Case, random.Random], None]


def _name(case: Case, chance: random.Random) -> str:
    """The name of something that the plan is told, a danger or another."""
    return chance.choice([one.name for one in case.told.findings])


def accept(case: Case, chance: random.Random) -> None:
    """A line that accepts, by anybody, with or without a place, first or last."""
    by = chance.choice(["", "me", "R. Teal", "0", "who fires", case.who_fires])
    place = chance.choice(["", ' at "bottom shelf"', ' at "Heron"', ' at "duty potter"'])
    line = f"accept {_name(case, chance)}{place} because {REASON}"
    line += f' by "{by}"' if by else ""
    case.plan = f"{line}\n{case.plan}" if chance.random() < 0.5 else f"{case.plan}\n{line}\n"


def name_who_may(case: Case, chance: random.Random) -> None:
    """A list of who may accept: somebody else, who fires, or nobody's name."""
    case.may_accept.append(chance.choice(["head of school", "me", case.who_fires]))


def weigh_otherwise(case: Case, chance: random.Random) -> None:
    """A studio that turns off or weighs less whatever is told."""
    weight = chance.choice(["off", "advice", "doubt", "loss"])
    case.rules[_name(case, chance)] = f"{{consequence: {weight}, because: the room is made for it}}"


def move_limits(case: Case, chance: random.Random) -> None:
    """A studio that sets limits to one end or the other."""
    for name, least, most in chance.sample(limits(), 8):
        case.limits[name] = f'"{chance.choice([least, most])}"'


def silence(case: Case, chance: random.Random) -> None:
    """A rule of the studio's own that is always found and would keep another quiet."""
    case.own.append(RULE.format(name=f"house-{len(case.own)}", silences=_name(case, chance)))


def same_name(case: Case, chance: random.Random) -> None:
    """A rule of the studio's own under the name of another."""
    case.own.append(RULE.format(name=_name(case, chance), silences=""))


def sections_in_another_order(case: Case, chance: random.Random) -> None:
    """The sections shuffled."""
    parts = re.split(r"^(?=[a-z])", case.plan, flags=re.MULTILINE)
    chance.shuffle(parts)
    case.plan = "\n".join(parts)


def lines_in_another_order(case: Case, chance: random.Random) -> None:
    """The lines of safety, kiln and plan shuffled."""
    parts = re.split(r"^(?=[a-z])", case.plan, flags=re.MULTILINE)
    for at, part in enumerate(parts):
        if part.startswith(("safety", "kiln", "plan", "load")):
            heading, *lines = part.splitlines()
            chance.shuffle(lines)
            parts[at] = "\n".join([heading, *lines, ""])
    case.plan = "".join(parts)


def say_it_twice(case: Case, chance: random.Random) -> None:
    """The sound line before or after the one with the danger."""
    for old, new in case.change.items():
        if isinstance(new, str) and new.split(" ")[0] in SAID_ONCE and old.split()[0] in SAID_ONCE:
            pair = [f"  {old}", f"  {new}"]
            chance.shuffle(pair)
            case.plan = case.plan.replace(f"  {new}", "\n".join(pair), 1)


def whole_section_twice(case: Case, chance: random.Random) -> None:
    """The sound section of safety or kiln as well, above or below."""
    # To a plan that lacks a section the sound one would be no second one.
    words = [word for word in ("safety", "kiln") if f"section:{word}" not in case.change]
    word = chance.choice(words)
    parts = re.split(r"^(?=[a-z])", sound(case.base), flags=re.MULTILINE)
    again = next(part for part in parts if part.startswith(word))
    case.plan = f"{again}\n{case.plan}" if chance.random() < 0.5 else f"{case.plan}\n{again}"


def spell_otherwise(case: Case, chance: random.Random) -> None:
    """Other blanks, other quotes, other letters, other line ends, a mark at the beginning."""
    way = chance.randrange(6)
    if way == 0:
        case.plan = re.sub(r'"([^"\n]*)"', r"“\1”", case.plan)
    elif way == 1:
        case.plan = re.sub(r"(?<=\S) +(?=\S)", lambda _: chance.choice("\t \xa0") + " ", case.plan)
    elif way == 2:
        case.plan = re.sub(r'^[^"#\n]+', lambda found: found[0].upper(), case.plan, flags=re.M)
    elif way == 3:
        case.plan = case.plan.replace("\n", "\r\n")
    elif way == 4:
        case.plan = "\ufeff" + case.plan
    else:
        case.plan = re.sub(r"(?<=\d) C(?=/h|\b)", "°C", case.plan)


PLOYS: tuple[Ploy, ...] = (
    accept,
    name_who_may,
    weigh_otherwise,
    move_limits,
    silence,
    same_name,
    sections_in_another_order,
    lines_in_another_order,
    say_it_twice,
    whole_section_twice,
    spell_otherwise,
)
REASON = '"it has always been so in this kiln room"'
RULE = """\
- rule: {name}
  concerns: plan
  advice when: by is present
  at: by
  finding: The plan says who fires.
  do: Nothing to do.
  why: House style, which is the custom of this house since its first kiln was built and fired.
  sources: the studio's own
  silences: [{silences}]
  passes: [{{without: 'by "duty potter"'}}]
  fails: [{{from: stoneware, at: '"duty potter"'}}]
"""

_TOLD: dict[str, Told] = {}


def _told(folder: Folder, plan: str) -> Told:
    """What the plan by itself is told; each once."""
    if plan not in _TOLD:
        _TOLD[plan] = folder.check(plan)
    return _TOLD[plan]


@settings(
    max_examples=2000,
    # The same cases in every run, so that a change is judged by itself; leave it out to try others.
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(
    first=st.sampled_from(DANGERS),
    more=st.lists(st.sampled_from(DANGERS), max_size=2),
    ploys=st.lists(st.sampled_from(PLOYS), min_size=1, max_size=4),
    form=st.sampled_from(FORMS),
    seed=st.integers(0, 2**32 - 1),
)
def test_nothing_takes_a_danger_out_of_a_report(
    folder: Folder,
    first: Danger,
    more: list[Danger],
    ploys: list[Ploy],
    form: str,
    seed: int,
) -> None:
    """Either the studio's file is refused, or each danger is told as before and stops the plan."""
    change = dict(first.change)
    for other in more:
        both = [*change, *other.change]
        apart = len(set(both)) == len(both) and not any(one.startswith("section") for one in both)
        if other.plan == first.plan and apart:
            change |= other.change
    plan = changed(sound(first.plan), change)
    told = _told(folder, plan)
    case = Case(plan, change, first.plan, told)
    for ploy in ploys:
        ploy(case, random.Random(seed))

    after = folder.check(case.plan, case.studio, {"house.yaml": "".join(case.own)}, form=form)

    assert after.status in (1, 2)
    if after.status == 2:
        assert after.errors
        return
    if form == "line":
        known = {one.name for one in after.dangers}
    else:
        known = {one.name for one in told.dangers if one.name in after.everything}
        assert "danger" in after.screen
    assert {one.name for one in told.dangers} <= known, case.plan
