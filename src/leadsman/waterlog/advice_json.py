"""The advice core's inputs and answers as JSON, the same for page, pack and test vectors."""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from typing import Any

from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import Factor, RatePrior
from leadsman.errors import LogError
from leadsman.waterlog.advice import Advice, AdviceSettings, Option, Ranked
from leadsman.waterlog.change import ChangeSettings
from leadsman.waterlog.reading import Block, CauseSettings


@dataclass(frozen=True, slots=True)
class Core:
    """All that the core starts a day with.

    Parameters
    ----------
    prior : RatePrior
        What the outlook and the season's memory say [-].
    advice : AdviceSettings
        How eager the advice is [-].
    change : ChangeSettings
        The detector's weights [-].
    causes : CauseSettings
        How often things change [-].
    """

    prior: RatePrior
    advice: AdviceSettings
    change: ChangeSettings
    causes: CauseSettings


def core_to_json(core: Core) -> dict[str, Any]:
    """What the core starts with, as JSON; an endless memory is null.

    Parameters
    ----------
    core : Core
        Start of the day [-].
    """
    factors = [
        {**asdict(f), "memory_h": None if math.isinf(f.memory_h) else f.memory_h}
        for f in core.prior.factors
    ]
    return {
        "prior": {
            "log_rate": core.prior.log_rate,
            "factors": factors,
            "means": dict(core.prior.means),
        },
        "advice": asdict(core.advice),
        "change": asdict(core.change),
        "causes": asdict(core.causes),
    }


def core_from_json(data: Any) -> Core:
    """The start of a day from JSON.

    Parameters
    ----------
    data : object
        Decoded JSON of `core_to_json` [-].

    Raises
    ------
    LogError
        It is not of that form.
    """
    try:
        prior = data["prior"]
        factors = tuple(
            Factor(
                f["name"],
                f["sd"],
                math.inf if f["memory_h"] is None else f["memory_h"],
                f["band_length"],
            )
            for f in prior["factors"]
        )
        return Core(
            RatePrior(prior["log_rate"], factors, dict(prior["means"])),
            AdviceSettings(**data["advice"]),
            ChangeSettings(**data["change"]),
            CauseSettings(**data["causes"]),
        )
    except (KeyError, TypeError) as error:
        raise LogError(f"this is no start of a day ({error})", "advice") from error


def block_to_json(block: Block) -> dict[str, Any]:
    """A block as JSON.

    Parameters
    ----------
    block : Block
        Block [-].
    """
    return asdict(block)


def block_from_json(data: Any) -> Block:
    """A block from JSON.

    Parameters
    ----------
    data : object
        Decoded JSON [-].
    """
    return Block(data["t_h"], Cell(**data["cell"]), data["zone_m"], data["bites"])


def option_to_json(option: Option) -> dict[str, Any]:
    """An option as JSON.

    Parameters
    ----------
    option : Option
        Option [-].
    """
    return asdict(option)


def option_from_json(data: Any) -> Option:
    """An option from JSON.

    Parameters
    ----------
    data : object
        Decoded JSON [-].
    """
    return Option(data["name"], Cell(**data["cell"]), data["zone_m_per_h"], data["change_min"])


def advice_to_json(advice: Advice) -> dict[str, Any]:
    """An answer as JSON; options by their names.

    Parameters
    ----------
    advice : Advice
        Answer [-].
    """
    return {
        "verdict": advice.verdict,
        "best": _ranked(advice.best),
        "here": _ranked(advice.here),
        "status": advice.status,
        "causes": [[cause, weight] for cause, weight in advice.causes],
        "held_back": advice.held_back,
        "trial_min": advice.trial_min,
        "ranked": [_ranked(r) for r in advice.ranked],
    }


def _ranked(ranked: Ranked) -> dict[str, Any]:
    return {
        "option": ranked.option.name,
        "changes": list(ranked.changes),
        "gain": ranked.gain,
        "bites_per_h": ranked.bites_per_h,
        "chance_better": ranked.chance_better,
        "least_bites": ranked.least_bites,
    }
