"""The advice as a policy: an angler who logs every bite and does as told."""

from __future__ import annotations

import math

from bench.days.baselines import best_first, plan_value
from bench.days.world import COLOURS, COVERS, SOUNDS, Choice, Day

from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import Factor
from leadsman.belief.outlook_prior import FACTORS, rate_prior
from leadsman.waterlog.advice import USUAL, AdviceSettings, Option, advise
from leadsman.waterlog.change import USUAL_CHANGE, ChangeSettings
from leadsman.waterlog.reading import USUAL_CAUSES, Block, CauseSettings, begin, observe


class Advised:
    """Log blocks of fishing, ask after each, follow the answer."""

    def __init__(
        self,
        settings: AdviceSettings = USUAL,
        change: ChangeSettings = USUAL_CHANGE,
        causes: CauseSettings = USUAL_CAUSES,
        factors: tuple[Factor, ...] = FACTORS,
        doubt: float = 0.3,
        asleep: float = 0.15,
        faith: float = 0.5,
        ask_every_min: float = 6.0,
    ) -> None:
        self.settings, self.change, self.causes = settings, change, causes
        self.factors, self.doubt, self.asleep, self.faith = factors, doubt, asleep, faith
        self.ask_h = ask_every_min / 60.0
        self.told_at_h: list[float] = [0.0]
        self.changes = 0

    def start(self, day: Day) -> Choice:
        """The plan's best, and the outlook as a prior."""
        plan = day.plan
        # The angler does not know how good the plan is; a score counts half.
        weights = {
            "place": {str(p): math.exp(self.faith * s) for p, s in enumerate(plan.place_score)},
            "depth": {str(b): math.exp(-0.7 * abs(b - plan.band)) for b in plan.rods},
            "cover": {c: 1.0 if i == plan.liked_cover else 0.6 for i, c in enumerate(COVERS)},
            "sound": {s: 1.0 if i == plan.sound else 0.75 for i, s in enumerate(SOUNDS)},
            "colour": {c: 1.0 if i == plan.colour else 0.8 for i, c in enumerate(COLOURS)},
        }
        full_zone = day.world["casts_per_h"] * day.world["zone_m_per_cast"]
        self.choice = best_first(plan)
        self.choices = [
            Choice(p, b, s, c)
            for p in range(len(plan.place_score))
            for b in plan.rods
            for s in range(len(SOUNDS))
            for c in range(len(COLOURS))
        ]
        self.cells = {c: self._cell(day, c) for c in self.choices}
        prior = rate_prior(4.0, full_zone, weights, self.factors)
        self.reading = begin(prior, self.cells.values(), self.doubt, self.asleep)
        self.zone_m, self.since_h = 0.0, 0.0
        return self.choice

    def next(self, day: Day, choice: Choice, zone_m: float, bites: int) -> Choice:
        """Follow the advice."""
        self.zone_m += zone_m
        if bites == 0 and day.t_h - self.since_h < self.ask_h:
            return choice
        self.since_h = day.t_h
        block = Block(day.t_h, self.cells[choice], self.zone_m, bites)
        self.reading = observe(self.reading, block, self.change, self.causes)
        self.zone_m = 0.0
        # With a fish just landed nobody asks what to change.
        if bites > 0:
            return choice
        advice = advise(
            self.reading,
            self._option(day, choice, choice),
            tuple(self._option(day, choice, c) for c in self._offered(day, choice)),
            day.hours - day.t_h,
            tuple(self.told_at_h),
            self.settings,
            self.change,
        )
        if advice.verdict == "stay":
            return choice
        self.told_at_h.append(day.t_h)
        self.changes += 1
        place, band, sound, colour = (int(x) for x in advice.best.option.name.split("."))
        return Choice(place, band, sound, colour)

    def _offered(self, day: Day, here: Choice) -> list[Choice]:
        """All at this place; elsewhere the plan's two best rods and the one in hand."""
        offered = []
        for choice in self.choices:
            if choice.place == here.place or (
                choice.colour == here.colour
                and choice.band
                in (
                    *self._best_rods(day, choice.place),
                    here.band,
                )
            ):
                offered.append(choice)
        return [c for c in offered if c != here]

    def _best_rods(self, day: Day, place: int) -> list[int]:
        return sorted(day.plan.rods, key=lambda band: -plan_value(day.plan, place, band))[:2]

    def _option(self, day: Day, here: Choice, choice: Choice) -> Option:
        return Option(
            f"{choice.place}.{choice.band}.{choice.sound}.{choice.colour}",
            self.cells[choice],
            day.zone_m_per_h(choice),
            day.change_min(here, choice),
        )

    def _cell(self, day: Day, c: Choice) -> Cell:
        cover = COVERS[int(day.plan.cover[c.place, c.band])]
        return Cell(str(c.place), c.band, cover, SOUNDS[c.sound], COLOURS[c.colour])
