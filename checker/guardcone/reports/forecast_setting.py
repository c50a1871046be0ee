"""What to set, in words: as written or changed, what comes of it, and within which window."""

from collections.abc import Iterator, Sequence

from guardcone.firing.inverse import Answer
from guardcone.firing.tables import usual
from guardcone.firing.uncertainty import likelihood
from guardcone.outlook.records import Advice
from guardcone.reports.forecast_words import Units, text_of

__all__ = ["NO_HOLD", "as_written", "to_set", "too_close", "window_row"]

NO_HOLD = 1e-6  # hours
# The guard points there where it is half-way down.
_HALF_WAY = usual("guard_limit_clock")
_TOO_HOT = ("guard bends", "guard goes")
# A forecast good to less than a cone is worth a word wherever a setting is told.
_WIDE = usual("degrees_per_cone")


def as_written(advice: Advice) -> str:
    """How a target and its guard fare as written, and the target in all sets where that differs."""
    word = advice.target_likelihood or ""
    return text_of(f"outcome: {advice.as_written}").format(
        target=advice.target,
        guard=advice.guard,
        target_word=word + _in_all(advice, word, advice.chance_all_down),
        guard_word=advice.guard_likelihood,
        goes_word=advice.guard_down_likelihood,
    )


def _in_all(advice: Advice, word: str, all_down: float | None) -> str:
    """` (unlikely in all 3 sets)`, where the target fares otherwise in all of them."""
    if all_down is None or advice.sets < 2 or word.startswith(f"{likelihood(all_down)} "):
        return ""
    return f" ({likelihood(all_down)} in {_every(advice)} sets)"


def _every(advice: Advice) -> str:
    return "both" if advice.sets == 2 else f"all {advice.sets}"


def to_set(advice: Advice, units: Units, spread: float) -> str:
    """What to set, and what comes of it if not as written; `spread` is the kiln's in °C."""
    program = _program(advice, units)
    fit = "guard stands" if advice.guard else "target down"
    if advice.as_written == fit and not advice.hindered:
        return _sentences(f"{program}, as written", *_doubts(advice, units, spread))
    changes = [one for one in advice.settings if one.outcome == fit][:2]
    if not changes and advice.as_written == "guard leans" and not advice.hindered:
        best = text_of("set: leans as written")
        close, doubts = too_close(advice), _doubts(advice, units, spread)
        return _sentences(f"{program}, as written", best, close, *doubts)
    changes = changes or [one for one in advice.settings if one.outcome == "guard leans"][:1]
    if changes:
        close = too_close(advice) if changes[0].outcome == "guard leans" else ""
        doubts = _doubts(advice, units, spread, changes)
        return _sentences(*_changed(advice, units, changes), close, *doubts)
    if advice.hindered:
        return text_of(f"set: {advice.hindered}")
    if advice.whatever_the_guard_does and advice.as_written not in _TOO_HOT:
        change = _program(advice, units, advice.whatever_the_guard_does[0])
        return _sentences(change, text_of("set: guard goes too"), too_close(advice, _HALF_WAY))
    name = "nothing spares it" if advice.whatever_the_guard_does else "nothing mends it"
    close = too_close(advice, _HALF_WAY) if advice.whatever_the_guard_does else ""
    return _sentences(text_of(f"set: {name}"), close)


def _sentences(*told: str) -> str:
    return " ".join(one if one.endswith(".") else f"{one}." for one in told if one)


def _changed(advice: Advice, units: Units, changes: list[Answer]) -> list[str]:
    """The settings and what comes of them, told once where it is the same for each."""
    programs = [_program(advice, units, one) for one in changes]
    fates = [_fate(advice, one) for one in changes]
    if len(set(fates)) == 1:
        return ["; or ".join(programs), fates[0]]
    told = [f"{program}. {fate}" for program, fate in zip(programs, fates, strict=True)]
    return [" Or ".join(told)]


def _fate(advice: Advice, change: Answer) -> str:
    """How target and guard fare if that is set."""
    word = "" if change.chance_down is None else f"{likelihood(change.chance_down)} to go down"
    stands = None if change.guard_stands is None else f"{likelihood(change.guard_stands)} to stand"
    return text_of(f"then: {change.outcome}").format(
        target=advice.target,
        guard=advice.guard,
        target_word=word + _in_all(advice, word, change.all_down),
        guard_word=stands,
    )


def too_close(advice: Advice, clock: float = 0.0) -> str:
    """That the cones lie too close together, where the guard has come so far with its target."""
    gap = advice.gap_clock
    return text_of("set: too close") if gap is not None and gap > clock else ""


def _doubts(
    advice: Advice, units: Units, spread: float, changes: Sequence[Answer] = ()
) -> Iterator[str]:
    """What stands against relying on it: the spread of the kiln, and a forecast in wide doubt."""
    now = changes[0].all_down if changes else advice.chance_all_down
    best = advice.likeliest
    told = [(one.kind, one.value) for one in changes]
    doubtful = now is not None and now < 0.5
    if doubtful and best and best.all_down is not None and (best.kind, best.value) not in told:
        name = "never on all shelves" if best.all_down < 0.5 else "more on all shelves"
        if advice.guard is None:
            name = "more heat on all shelves"
        yield text_of(f"set: {name}").format(
            every=_every(advice),
            spread=units.difference(spread),
            word=likelihood(best.all_down),
            guard="all but half-way" if best.outcome == "guard leans" else "about to lean",
            program=_program(advice, units, best),
        )
    doubt = advice.forecast_good_to_by
    if doubt is not None and doubt > _WIDE:
        yield text_of("set: wide doubt").format(doubt=units.difference(doubt))
        return
    error = advice.thermocouple_good_to_by
    for one in changes:
        if one.kind != "peak" or one.value is None or one.written is None or error is None:
            continue
        if (apart := abs(one.value - one.written)) <= error:
            yield text_of("set: within the thermocouple").format(
                apart=units.difference(apart), error=units.difference(error)
            )


def _program(advice: Advice, units: Units, change: Answer | None = None) -> str:
    """`60 °C/h to 1245 °C (not 1252 °C), hold 10 min`: what a controller or a person needs."""
    written: dict[str, float | None] = {one.kind: one.written for one in advice.settings}

    def told(kind: str) -> str:
        before = written.get(kind)
        if change is None or change.kind != kind or change.value is None:
            return "" if before is None else _setting(kind, before, units)
        text = _setting(kind, change.value, units)
        instead = "" if before is None else _setting(kind, before, units)
        if instead == "no hold":
            return f"{text} (none is written)"
        return f"{text} (not {instead})" if instead not in ("", text) else text

    hold = told("hold")
    hold = hold if not hold or hold.startswith("no hold") else f"hold {hold}"
    other = f"the other hold {told('other_hold')}" if change and change.kind == "other_hold" else ""
    climb = f"{told('rate')} to {told('peak')}".strip()
    return ", ".join(filter(None, [climb, hold, other]))


def _setting(kind: str, value: float, units: Units) -> str:
    """A peak, a hold or a rate, as it is set or written."""
    if kind == "peak":
        return units.temperature(value, 1)
    if kind == "rate":
        return units.rate(value, exact=True)
    return units.duration(value) if value > NO_HOLD else "no hold"


# -- its window ---------------------------------------------------------------------------------

_NAMES = {
    "peak": "peak",
    "hold": "hold there",
    "rate": "last climb",
    "other_hold": "the other hold",
}
_STEPS = {"peak": "degree", "rate": "degree an hour"}


def window_row(one: Answer, units: Units) -> list[str]:
    """What may be set, the setting, and within which window; or why there is none."""
    name = _NAMES[one.kind]
    if one.value is None:
        return [name, "none", one.reason]
    return [name, _setting(one.kind, one.value, units), "; ".join(_window(one, one.value, units))]


def _window(one: Answer, value: float, units: Units) -> Iterator[str]:
    if one.written is not None:
        kept = abs(value - one.written) < NO_HOLD
        yield "as written" if kept else f"instead of {_setting(one.kind, one.written, units)}"
    if one.first is not None and one.last is not None:
        least, most = (_setting(one.kind, end, units) for end in (one.first, one.last))
        if least == most:
            yield f"no other whole {_STEPS.get(one.kind, 'minute')}"
        elif one.outcome == "target down":  # the guard sets no end to it
            yield f"{most} or slower" if one.kind == "rate" else _or_more(least)
        elif least == "no hold":
            yield f"anything up to {most}"
        else:
            yield f"from {least} to {most}"
    if one.outcome == "guard leans":
        yield "the guard leans"


def _or_more(least: str) -> str:
    return "or any other" if least == "no hold" else f"{least} or more"
