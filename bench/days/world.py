"""Simulated days on the water with a known truth.

The truth of a day is drawn from `settings.toml`; nothing here knows how the
advice decides. Time runs in casts. What a policy may see: what it fished, for
how long, and the bites.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
SOUNDS = ("rattling", "silent")
COLOURS = ("natural", "light")
COVERS = ("edge", "flat", "drop", "open_water")


@dataclass(frozen=True, slots=True)
class Choice:
    """What is fished: a place, and a lure by its depth band, sound and colour."""

    place: int
    band: int
    sound: int
    colour: int


@dataclass(frozen=True, slots=True)
class PlanView:
    """What the angler knows at launch: the outlook, right or wrong."""

    place_score: FloatArray
    band: int
    sound: int
    colour: int
    liked_cover: int
    rods: tuple[int, ...]
    cover: npt.NDArray[np.int64]
    suits: FloatArray
    move_min: FloatArray


@dataclass(slots=True)
class Day:
    """One day's truth and the state of its fish."""

    kind: str
    world: dict[str, Any]
    spec: dict[str, Any]
    rng: np.random.Generator
    plan: PlanView
    base_per_m: float
    log_place: list[tuple[float, FloatArray]]
    true_band: list[tuple[float, float]]
    liked: list[tuple[float, int, int, float, float]]
    liked_cover: int
    window: tuple[float, float] | None
    capacity: FloatArray
    caught: FloatArray
    tired: npt.NDArray[np.bool_]
    burst: float = 1.0
    burst_until_h: float = 0.0
    t_h: float = 0.0
    bites: int = 0

    @property
    def hours(self) -> float:
        """Length of the day [h]."""
        return float(self.world["hours"])

    def zone_m_per_h(self, choice: Choice) -> float:
        """Zone fished per hour with a choice, known to the angler from physics [m/h]."""
        w = self.world
        suits = self.plan.suits[choice.place, choice.band]
        return float(w["casts_per_h"] * w["zone_m_per_cast"] * suits)

    def rate_per_m(self, choice: Choice, t_h: float) -> float:
        """True expected bites per metre of zone, bursts left out [1/m]."""
        w = self.world
        place = _at(self.log_place, t_h)
        band = _at(self.true_band, t_h)
        _, sound, colour, other_sound, other_colour = _last(self.liked, t_h)
        off = (choice.band - band) / w["depth_width_bands"]
        depth = max(math.exp(-0.5 * off * off), w["depth_floor"])
        cover_here = self.plan.cover[choice.place, choice.band]
        rate = self.base_per_m * math.exp(place[choice.place]) * depth
        rate *= 1.0 if cover_here == self.liked_cover else w["wrong_cover"]
        rate *= 1.0 if choice.sound == sound else other_sound
        rate *= 1.0 if choice.colour == colour else other_colour
        if self.tired[choice.place, choice.sound]:
            rate *= self.spec["tired_share"]
        if self.window is not None and not self.window[0] <= t_h < self.window[1]:
            rate *= self.spec["window_low"]
        return rate

    def _tire(self, choice: Choice, n: int, dt_h: float) -> None:
        """Count fish against what a school stands; away from it, let it forget."""
        away = np.arange(self.caught.shape[0]) != choice.place
        self.caught[away] *= math.exp(-dt_h / self.world["recover_h"])
        self.caught[choice.place, choice.sound] += n
        second = bool(self.tired[choice.place, 1 - choice.sound])
        stands = self.capacity[choice.place, 1 if second else 0]
        if self.caught[choice.place, choice.sound] >= stands:
            self.tired[choice.place, choice.sound] = True
        # Rested when half of the count is forgotten: about 0.7 of the recovery time.
        self.tired[self.caught < 0.5 * self.capacity[:, :1]] = False

    def change_min(self, old: Choice, new: Choice) -> float:
        """Minutes lost by going from one choice to another [min]."""
        minutes = 0.0
        if new.place != old.place:
            minutes += float(self.plan.move_min[old.place, new.place])
        if new.band != old.band:
            minutes += self.world["rod_min"]
        if (new.sound, new.colour) != (old.sound, old.colour):
            minutes += self.world["snap_min"]
        return minutes

    def cast(self, choice: Choice) -> int:
        """Make one cast; returns its bites."""
        dt_h = 1.0 / self.world["casts_per_h"]
        if self.t_h >= self.burst_until_h:
            cv = self.world["cluster_cv"]
            self.burst = float(self.rng.gamma(1.0 / cv**2, cv**2)) if cv > 0.0 else 1.0
            self.burst_until_h = self.t_h + self.world["cluster_min"] / 60.0
        mean = self.rate_per_m(choice, self.t_h) * self.zone_m_per_h(choice) * dt_h
        n = int(self.rng.poisson(mean * self.burst))
        self._tire(choice, n, dt_h)
        self.t_h += dt_h
        self.bites += n
        return n

    def spend(self, minutes: float) -> None:
        """Let time pass without fishing.

        Parameters
        ----------
        minutes : float
            Time lost [min].
        """
        self.t_h += minutes / 60.0


def load_settings(path: Path | None = None) -> dict[str, Any]:
    """Read a settings file; the committed one unless told."""
    path = path or Path(__file__).with_name("settings.toml")
    with path.open("rb") as file:
        return tomllib.load(file)


def draw_day(settings: dict[str, Any], kind: str, seed: int) -> Day:
    """Draw one day of a kind."""
    rng = np.random.default_rng([seed, sum(map(ord, kind))])
    world: dict[str, Any] = settings["world"]
    spec: dict[str, Any] = {**settings["default"], **settings["kind"][kind]}
    n_p, n_b = int(world["places"]), int(world["bands"])
    band = int(rng.integers(1, n_b - 1))
    liked_sound, liked_colour = int(rng.integers(2)), int(rng.integers(2))
    cover = rng.integers(0, len(COVERS), (n_p, n_b))
    liked_cover = int(rng.integers(len(COVERS)))
    suits = _draw_suits(rng, n_p, n_b)
    log_place = _draw_places(rng, spec, world)
    z = rng.normal(0.0, world["place_sd"], n_p)
    skill = spec["plan_skill"]
    score = skill * log_place[0][1] + math.sqrt(max(1.0 - skill**2, 0.0)) * z
    plan_band = _plan_band(rng, spec, band, n_b)
    plan_sound = liked_sound if rng.random() < spec["plan_sound_right"] else 1 - liked_sound
    plan_colour = liked_colour if rng.random() < spec["plan_colour_right"] else 1 - liked_colour
    right = rng.random() < spec["plan_cover_right"]
    plan_cover = liked_cover if right else int(rng.integers(len(COVERS)))
    best = int(np.argmax(log_place[0][1]))
    # The best place must be fishable at the fish's depth, or the kind's rate means nothing.
    suits[best, band], cover[best, band] = 1.0, liked_cover
    steady_zone = world["casts_per_h"] * world["zone_m_per_cast"]
    best_rate = rng.uniform(*spec["best_bites_per_h"])
    base = best_rate / steady_zone / math.exp(float(log_place[0][1][best]))
    move = rng.uniform(*world["move_min"], (n_p, n_p))
    plan = PlanView(
        place_score=score,
        band=plan_band,
        sound=plan_sound,
        colour=plan_colour,
        liked_cover=plan_cover,
        rods=_rods(plan_band, n_b, int(world["rods"])),
        cover=cover,
        suits=suits,
        move_min=(move + move.T) / 2.0,
    )
    capacity = np.column_stack(
        [rng.uniform(*spec["tire_fish"], n_p), rng.uniform(*spec["tire_second_fish"], n_p)]
    )
    return Day(
        kind=kind,
        world=world,
        spec=spec,
        rng=rng,
        plan=plan,
        base_per_m=base,
        log_place=log_place,
        true_band=_draw_bands(rng, spec, band, n_b, float(world["hours"])),
        liked=_draw_taste(rng, spec, world, liked_sound, liked_colour),
        liked_cover=liked_cover,
        window=_draw_window(rng, spec),
        capacity=capacity,
        caught=np.zeros((n_p, 2)),
        tired=np.zeros((n_p, 2), dtype=bool),
    )


def _draw_suits(rng: np.random.Generator, n_p: int, n_b: int) -> FloatArray:
    """Share of a full zone each place gives a lure of each band: none to all of it."""
    return np.asarray(rng.choice([0.15, 0.5, 1.0], (n_p, n_b), p=[0.3, 0.3, 0.4]))


def _draw_places(
    rng: np.random.Generator, spec: dict[str, Any], world: dict[str, Any]
) -> list[tuple[float, FloatArray]]:
    n_p, sd = int(world["places"]), float(world["place_sd"])
    table = [(0.0, rng.normal(0.0, sd, n_p))]
    every = float(spec["place_redraw_h"])
    t = 0.0
    while every > 0.0:
        t += float(rng.uniform(0.5, 1.5)) * every
        if t >= world["hours"]:
            break
        # The same fish stand elsewhere: the values are dealt out anew.
        table.append((t, rng.permutation(table[0][1])))
    return table


def _draw_bands(
    rng: np.random.Generator, spec: dict[str, Any], band: int, n_b: int, hours: float
) -> list[tuple[float, float]]:
    table = [(0.0, float(band))]
    low, high = spec["depth_shifts"]
    times = np.sort(rng.uniform(1.5, hours - 1.5, int(rng.integers(low, high + 1))))
    for t in times:
        size = int(rng.integers(spec["depth_shift_bands"][0], spec["depth_shift_bands"][1] + 1))
        here = table[-1][1]
        up, down = here - size, here + size
        allowed = [b for b in (up, down) if 0 <= b < n_b] or [float(n_b // 2)]
        table.append((float(t), float(rng.choice(allowed))))
    return table


def _draw_taste(
    rng: np.random.Generator, spec: dict[str, Any], world: dict[str, Any], sound: int, colour: int
) -> list[tuple[float, int, int, float, float]]:
    table = [(0.0, sound, colour, float(world["other_sound"]), float(world["other_colour"]))]
    if spec["taste_flip"]:
        t = float(rng.uniform(*spec["taste_flip_h"]))
        other = float(spec["flip_other"])
        table.append((t, 1 - sound, 1 - colour, other, other))
    return table


def _draw_window(rng: np.random.Generator, spec: dict[str, Any]) -> tuple[float, float] | None:
    if not spec["window"]:
        return None
    start = float(rng.uniform(*spec["window_h"]))
    return start, start + float(rng.uniform(*spec["window_long_h"]))


def _plan_band(rng: np.random.Generator, spec: dict[str, Any], band: int, n_b: int) -> int:
    low, high = spec["plan_band_offset"]
    size = int(rng.integers(low, high + 1))
    allowed = [b for b in (band - size, band + size) if 0 <= b < n_b]
    return int(rng.choice(allowed)) if allowed else band


def _rods(band: int, n_b: int, n_rods: int) -> tuple[int, ...]:
    """Bands on deck: the plan's own, then its neighbours outward."""
    by_distance = sorted(range(n_b), key=lambda b: (abs(b - band), b))
    return tuple(by_distance[:n_rods])


def _at(table: list[tuple[float, Any]], t_h: float) -> Any:
    value = table[0][1]
    for start, item in table:
        if start <= t_h:
            value = item
    return value


def _last(table: list[tuple[float, int, int, float, float]], t_h: float) -> Any:
    row = table[0]
    for item in table:
        if item[0] <= t_h:
            row = item
    return row
