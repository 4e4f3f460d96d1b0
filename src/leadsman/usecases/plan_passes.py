"""Passes on the stretches of a day: one planner for each setup, kept through the day's trials."""

from __future__ import annotations

import math

import numpy as np

from leadsman.calibrate.input_spread import InputSpread
from leadsman.calibrate.learned import learned
from leadsman.errors import LakeDataError, PlanError
from leadsman.hydro.cast_flight import Wind, rod_reach_m
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.plan.day_stretches import DayStretch
from leadsman.plan.day_worth import SETTLE_S
from leadsman.plan.passes import PassPlanner
from leadsman.plan.passes_settings import BoatLimits, PassSettings, WindOnCasts
from leadsman.plan.passes_table import PassSetup
from leadsman.plan.passes_types import PassPlan
from leadsman.usecases.plan_rods import RodsOfDay, water_of
from leadsman.usecases.plan_types import Served
from leadsman.usecases.resolve_bottom import middle_drag, resolve_water
from leadsman.usecases.resolve_technique import cast_of
from leadsman.usecases.resolve_trip import ResolvedTrip

OFF_SHORE_M = 10.0
"""The boat is held at least this far from the shore [m]. Own choice."""


class PassesOfDay:
    """Plans passes for stretches and remembers them.

    Parameters
    ----------
    found : ResolvedTrip
        The trip [-].
    rods : RodsOfDay
        What is on the rods [-].
    """

    def __init__(self, found: ResolvedTrip, rods: RodsOfDay) -> None:
        self.found = found
        self.rods = rods
        self.made: dict[int, PassPlan] = {}
        self.refused: dict[int, str] = {}
        self._stay_s: dict[int, float] = {}
        self._planners: dict[tuple[str, str, float], PassPlanner] = {}

    def plan(self, index: int, item: DayStretch, served: Served, stay_s: float) -> PassPlan | None:
        """Pass on a stretch in the time there is; None where none can be made.

        Parameters
        ----------
        index : int
            Number of the stretch among the candidates [-].
        item : DayStretch
            The stretch [-].
        served : Served
            What is cast [-].
        stay_s : float
            Time from arriving to leaving [s].
        """
        if index in self.refused:
            return None
        if index in self.made and abs(self._stay_s[index] - stay_s) < 30.0:
            return self.made[index]
        minutes = max(stay_s - SETTLE_S, 120.0) / 60.0
        try:
            plan = self._planner(served, minutes).plan(item.line)
        except (PlanError, LakeDataError) as error:
            self.refused[index] = error.problem
            return None
        self.made[index], self._stay_s[index] = plan, stay_s
        return plan

    def _planner(self, served: Served, minutes: float) -> PassPlanner:
        key = (served.lure.name, served.line.name, served.target.depth_m)
        settings = self._settings(served, minutes)
        old = self._planners.get(key)
        if old is None:
            old = PassPlanner(self.found.lake.model, self._setup(served), settings)
            self._planners[key] = old
        old.settings = settings
        return old

    def _setup(self, served: Served) -> PassSetup:
        kit, way = self.found.kit, served.way
        key = next(
            key
            for key, option in self.rods.rig.options.items()
            if (option.lure.name, option.line.name, option.rod) == (way.lure, way.line, way.rod)
        )
        option = self.rods.rig.options[key]
        return PassSetup(
            option.lure, option.line, way.technique, kit.rods[key[0]].name, option.rod_power_n,
            way.how,
        )  # fmt: skip

    def _settings(self, served: Served, minutes: float) -> PassSettings:
        found, way = self.found, served.way
        kit = found.kit
        water, drag = resolve_water(water_of(found))
        rod_m = next(r.length_m for r in kit.rods if r.name == way.rod)
        return PassSettings(
            limit_load=found.trip.tackle.load_limit or ACCEPTABLE_LOAD,
            minutes=minutes,
            boat="hold",
            limits=BoatLimits(max(found.boat.least_depth_m, 0.5), OFF_SHORE_M),
            wind=self._wind(served),
            rod_reach_m=rod_reach_m(rod_m, kit.angler.grip_height_m, way.tip_m),
            level_m=found.trip.lake.level_m,
            water=water,
            drag=middle_drag(drag, learned(kit).spread(InputSpread())),
            units=found.units,
            thorough=False,
        )

    def _wind(self, served: Served) -> WindOnCasts | None:
        """Casts into, across and down the wind, in the ratio to the calm one."""
        found, way = self.found, served.way
        if found.wind_m_s < 0.5:
            return None
        kit, lure = found.kit, served.lure
        rod = next(r for r in kit.rods if r.name == way.rod)
        calm = cast_of(kit, lure, lure.mass_kg, rod, None, way.tip_m).m
        ratio = []
        for off in (0.25, 0.5, 0.75):
            wind = Wind.coming_from(found.wind_m_s, off * math.pi)
            ratio.append(cast_of(kit, lure, lure.mass_kg, rod, wind, way.tip_m).m / calm)
        into, across, down = (way.cast_m * r for r in ratio)
        # three lengths are as fine as a caster is sure of, and each needs a table of its own
        third = math.pi / 3.0
        angles = np.array([0.0, third, third + 1e-3, 2.0 * third, 2.0 * third + 1e-3, math.pi])
        return WindOnCasts(
            math.radians(found.wind_from_deg), found.wind_m_s, angles,
            np.array([into, into, across, across, down, down]),
        )  # fmt: skip
