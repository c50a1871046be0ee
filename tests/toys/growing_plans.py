"""Plans that grow: a sound plan with ever more lines of one kind, for steps and for clocks."""

from collections.abc import Callable

from guardcone.rulebook.library import sound_plans

__all__ = ["GROWING", "SOUND"]

SOUND = sound_plans()["stoneware"]
_SET = "  large cones\n  guide 8\n  target 9\n  guard 10\n  lean 8 degrees\n  pad pricked, dry\n"
_SET += "  seen through the lower spy hole\n  elements 60 mm away\n"
_WARE = 'of "Marsh buff" with "Reed ash", bisque, wall 6 mm, foot wiped 6 mm'


def _behind(begins: str, line: Callable[[int], str]) -> Callable[[int], str]:
    """The plan with n more lines behind the first that begins so."""

    def grown(count: int) -> str:
        before, found, rest = SOUND.partition(begins)
        line_end = rest.index("\n") + 1
        more = "".join(f"{line(number)}\n" for number in range(count))
        return before + found + rest[:line_end] + more + rest[line_end:]

    return grown


def _sets(count: int, below: str = _SET) -> str:
    more = "".join(f'witness "shelf {number}"\n{below}' for number in range(count))
    return SOUND.replace("load\n", f"{more}load\n", 1)


def _read_sets(count: int) -> str:
    said = "  guide down\n  target 5 o'clock\n  guard standing\n"
    return _sets(count) + "".join(f'reading "shelf {number}"\n{said}' for number in range(count))


def _segments(count: int) -> str:
    """One climb in so many steps, which does to the cones what the one did."""
    return _behind(
        "climb 150 C/h to 1140 C",
        lambda at: f"  climb 60 C/h to {1140 + 60 * (at + 1) / (count + 1):.3f} C",
    )(count)


# Each kind of line, and the plan with so many of them.
GROWING: dict[str, Callable[[int], str]] = {
    "remarks": lambda count: SOUND + "# a remark of the studio\n" * count,
    "notes": _behind("firing  glaze", lambda at: f'  note "shelf {at} was washed"'),
    "wares": _behind('ware  "bowls"', lambda at: f'  ware "bowls {at}" 2 {_WARE}'),
    "clays": _behind(
        'clay  "Marsh buff"',
        lambda at: f'  clay "Clay {at}" matures cone 8 to cone 10, stoneware\n'
        f'  ware "cup {at}" 1 of "Clay {at}" with "Reed ash", bisque, wall 6 mm',
    ),
    "clays that no ware uses": _behind(
        'clay  "Marsh buff"', lambda at: f'  clay "Clay {at}" matures cone 8 to cone 10'
    ),
    "glazes": _behind(
        'glaze "Reed ash"',
        lambda at: f'  glaze "Glaze {at}" matures cone 8 to cone 10, stiff\n'
        f'  ware "jar {at}" 1 of "Marsh buff" with "Glaze {at}", bisque, wall 6 mm',
    ),
    "witness sets": _sets,
    "sets that run backwards": lambda count: _sets(count, "  guide 9\n  target 9\n  guard 8\n"),
    "readings": _read_sets,
    "segments": _segments,
    "watches": lambda count: SOUND.replace(
        "  hands",
        "".join(f'  watch "potter {at}" from 16:00 to end\n' for at in range(count)) + "  hands",
        1,
    ),
    "accept lines": lambda count: SOUND + "".join(
        f'accept pad-damp at "shelf {at}" because "pads were fired last week" by "studio manager"\n'
        for at in range(count)
    ),
    "lines that can't be read": _behind("power off", lambda at: f"  sweep the floor, number {at}"),
    "misspelt lines": _behind('ware  "bowls"', lambda at: f'  waer "bowls {at}" 2 {_WARE}'),
    "lines said twice": _behind("rated", lambda _: "  rated to cone 11"),
}  # fmt: skip
