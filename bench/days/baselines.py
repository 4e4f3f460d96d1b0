"""What the advice is held against: sticking, rotating, and knowing everything."""

from __future__ import annotations

import math
from itertools import product
from typing import Protocol

from bench.days.world import COLOURS, SOUNDS, Choice, Day, PlanView


class Policy(Protocol):
    """Says what to fish next."""

    def start(self, day: Day) -> Choice:
        """First choice of the day."""

    def next(self, day: Day, choice: Choice, zone_m: float, bites: int) -> Choice:
        """Choice for the next cast, told of the last one."""


def plan_value(plan: PlanView, place: int, band: int) -> float:
    """Log of how good the plan thinks a place and band are; shared by all policies."""
    value = plan.place_score[place] + math.log(plan.suits[place, band])
    value -= 0.7 * abs(band - plan.band)
    return float(value + (0.35 if plan.cover[place, band] == plan.liked_cover else -0.35))


def plan_places(plan: PlanView) -> list[int]:
    """Places in the plan's order, best first."""
    n_p = len(plan.place_score)
    return sorted(range(n_p), key=lambda p: -max(plan_value(plan, p, b) for b in plan.rods))


def best_first(plan: PlanView) -> Choice:
    """The plan's best place and setup."""
    place, band = max(
        product(range(len(plan.place_score)), plan.rods), key=lambda pb: plan_value(plan, *pb)
    )
    return Choice(place, band, plan.sound, plan.colour)


class StickToSpot:
    """The best first setup at the best first place, all day."""

    def start(self, day: Day) -> Choice:
        """Plan's best."""
        return best_first(day.plan)

    def next(self, day: Day, choice: Choice, zone_m: float, bites: int) -> Choice:
        """No change."""
        return choice


class StickToSetup(StickToSpot):
    """The best first setup all day, through the plan's best places in equal times."""

    def __init__(self, n_places: int = 4) -> None:
        self.n_places = n_places

    def next(self, day: Day, choice: Choice, zone_m: float, bites: int) -> Choice:
        """The place whose turn it is."""
        return Choice(self._place(day), choice.band, choice.sound, choice.colour)

    def _place(self, day: Day) -> int:
        turn = min(int(day.t_h / day.hours * self.n_places), self.n_places - 1)
        return plan_places(day.plan)[turn]


class Rotate(StickToSetup):
    """Places in the plan's order; at each, the rods and then the sounds in turn."""

    def __init__(self, n_places: int = 4, minutes: float = 30.0) -> None:
        super().__init__(n_places)
        self.minutes = minutes

    def next(self, day: Day, choice: Choice, zone_m: float, bites: int) -> Choice:
        """The place, rod and sound whose turn it is."""
        plan = day.plan
        step = int(day.t_h * 60.0 / self.minutes)
        n_rods = min(3, len(plan.rods))
        band = plan.rods[step % n_rods]
        sound = plan.sound if (step // n_rods) % 2 == 0 else 1 - plan.sound
        return Choice(self._place(day), band, sound, plan.colour)


class RotateAtSpot(Rotate):
    """The same rotation of rods and sounds without leaving the best first place."""

    def _place(self, day: Day) -> int:
        return best_first(day.plan).place


class Oracle:
    """Knows every true rate, now and for the next while; pays for its changes.

    Not the best possible play (that would plan its own tiring of the fish), so
    regret against it is a little too kind.
    """

    def __init__(self, look_h: float = 0.75) -> None:
        self.look_h = look_h
        self.until_h = 0.0

    def start(self, day: Day) -> Choice:
        """The best of all choices at launch."""
        return max(_all_choices(day), key=lambda c: self._value(day, c, 0.0))

    def next(self, day: Day, choice: Choice, zone_m: float, bites: int) -> Choice:
        """Look again every few minutes, and at once when fish tire."""
        tired = bool(day.tired[choice.place, choice.sound])
        if day.t_h < self.until_h and not tired:
            return choice
        self.until_h = day.t_h + 0.1
        return max(
            _all_choices(day), key=lambda c: self._value(day, c, day.change_min(choice, c) / 60.0)
        )

    def _value(self, day: Day, choice: Choice, lost_h: float) -> float:
        look = min(self.look_h, day.hours - day.t_h)
        n, total = 4, 0.0
        for i in range(n):
            t = day.t_h + lost_h + (look - lost_h) * (i + 0.5) / n
            total += day.rate_per_m(choice, t)
        return total / n * day.zone_m_per_h(choice) * max(look - lost_h, 0.0)


def _all_choices(day: Day) -> list[Choice]:
    n_p = len(day.plan.place_score)
    return [
        Choice(p, b, s, c)
        for p, b, s, c in product(
            range(n_p), day.plan.rods, range(len(SOUNDS)), range(len(COLOURS))
        )
    ]


def play(day: Day, policy: Policy) -> int:
    """Fish a whole day with a policy; returns its bites."""
    choice = policy.start(day)
    while day.t_h < day.hours:
        t0 = day.t_h
        bites = day.cast(choice)
        zone = day.zone_m_per_h(choice) * (day.t_h - t0)
        after = policy.next(day, choice, zone, bites)
        if after != choice:
            day.spend(day.change_min(choice, after))
            choice = after
    return day.bites
