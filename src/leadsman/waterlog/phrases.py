"""Advice and review in plain words. Depths come in already worded, in the angler's units."""

from __future__ import annotations

from collections.abc import Callable

from leadsman.waterlog.advice import Advice, Option, Ranked
from leadsman.waterlog.review import Review

SayDepth = Callable[[int], str]

_WORK = {"straight": "reeled straight", "stop": "with stops", "snap": "snapped free"}
_COVER = {"edge": "edge", "flat": "flat", "drop": "drop", "open_water": "open water"}
_CAUSE = {
    "steady": "nothing changed; it is only a lull",
    "plan": "the plan was off from the start",
    "sound": "they tired of this sound",
    "colour": "another colour is wanted",
    "depth": "they changed depth",
    "gone": "they left this place",
    "off": "they stopped biting everywhere",
}


def change_words(ranked: Ranked, say_depth: SayDepth) -> str:
    """What to do, as an order of a few words.

    Parameters
    ----------
    ranked : Ranked
        The option [-].
    say_depth : callable
        A depth band's number in words, such as "12 to 14 ft" [-].
    """
    cell = ranked.option.cell
    words = {
        "sound": f"go to a {cell.sound} lure",
        "depth": f"fish {say_depth(cell.depth)}",
        "colour": f"change to a {cell.colour} colour",
        "work": f"work it {_WORK.get(cell.work, cell.work)}",
        "cover": f"fish the {_COVER.get(cell.cover, cell.cover)}",
        "place": f"move to {cell.place}",
    }
    if not ranked.changes:
        return "Stay with it"
    # A move comes first in words: it is what happens first.
    order = sorted(ranked.changes, key=lambda c: c != "place")
    text = ", ".join(words[c] for c in order)
    return text[0].upper() + text[1:]


def advice_words(advice: Advice, say_depth: SayDepth) -> tuple[str, ...]:
    """The advice as sentences: what to do, what it promises, why, what would change it.

    Parameters
    ----------
    advice : Advice
        The advice [-].
    say_depth : callable
        A depth band's number in words [-].
    """
    best = advice.best
    said = [change_words(best, say_depth) + "."]
    if advice.verdict == "change":
        said.append(
            f"About {best.bites_per_h:.1f} bites an hour there against "
            f"{advice.here.bites_per_h:.1f} here, {best.option.change_min:.0f} min for the change; "
            f"{_chance(best.chance_better)} that it is better."
        )
    else:
        said.append(f"About {best.bites_per_h:.1f} bites an hour expected here.")
    if advice.status == "stopped":
        said.append("It was on here and has stopped.")
    elif advice.status == "not started":
        said.append("Too few bites so far to say that it was on.")
    likely = [c for c in advice.causes if c[0] != "steady"][:1]
    if likely and likely[0][1] >= 0.3:
        cause, weight = likely[0]
        said.append(f"Most likely {_CAUSE[cause]} ({_chance(weight)}).")
    if best.least_bites > 0:
        bites = "a bite" if best.least_bites == 1 else f"{best.least_bites} bites"
        verb = "Come back" if advice.verdict == "change" else "Change"
        said.append(f"{verb} if the next {advice.trial_min:.0f} min do not bring {bites}.")
    if advice.held_back:
        said.append("There is a change to name, but you asked for quiet.")
    return tuple(said)


def review_words(review: Review, say_depth: SayDepth) -> str:
    """The day in one sentence.

    Parameters
    ----------
    review : Review
        The review [-].
    say_depth : callable
        A depth band's number in words [-].
    """
    if not review.rates:
        return "Nothing was fished by this log."
    if review.bites == 0:
        return f"No bites in {review.hours:.1f} h of fishing."
    bites = "1 bite" if review.bites == 1 else f"{review.bites} bites"
    depth = next(r for r in review.rates if r.factor == "depth")
    text = f"{bites} in {review.hours:.1f} h; best at {say_depth(int(depth.level))}"
    sounds = [r for r in review.rates if r.factor == "sound"]
    return f"{text}, {sounds[0].level} lures ahead." if len(sounds) > 1 else f"{text}."


def option_words(option: Option, say_depth: SayDepth) -> str:
    """An option in a few words for a list.

    Parameters
    ----------
    option : Option
        The option [-].
    say_depth : callable
        A depth band's number in words [-].
    """
    c = option.cell
    return f"{c.place}: {say_depth(c.depth)}, {c.sound}, {c.colour}, {_WORK.get(c.work, c.work)}"


def _chance(p: float) -> str:
    # Never 0 or 100: nothing here is that sure.
    return f"{min(max(round(20.0 * p) * 5, 5), 95)} % sure"
