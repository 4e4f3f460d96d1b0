"""From what a person says of the bottom and the water to the physics' own types."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from leadsman.calibrate.input_spread import InputSpread
from leadsman.errors import TechniqueError
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.hydro.drag import DragLaw
from leadsman.lake.cast_profile import profile_from_list, profile_from_soundings
from leadsman.lake.load_soundings import load_soundings
from leadsman.usecases.questions import (
    BottomQuestion,
    GrassQuestion,
    LakeCastQuestion,
    WaterQuestion,
)
from leadsman.water import Water


@dataclass(frozen=True, slots=True)
class ResolvedBottom:
    """The bottom under a cast and how it was found.

    Parameters
    ----------
    bottom : BottomProfile or None
        The bottom; None where none was given [-].
    notes : tuple of str
        What was read, dropped and assumed [-].
    """

    bottom: BottomProfile | None
    notes: tuple[str, ...] = ()


def resolve_bottom(question: BottomQuestion, cast_m: float) -> ResolvedBottom:
    """Find the bottom under a cast.

    Parameters
    ----------
    question : BottomQuestion
        What the person said [-].
    cast_m : float
        Length of the cast [m].

    Raises
    ------
    LakeDataError
        The soundings cannot be used, or the cast leaves the water.
    """
    notes: tuple[str, ...] = ()
    if question.track is not None:
        track = question.track
        soundings, report = load_soundings(track.soundings, track.options)
        profile = profile_from_soundings(
            soundings, track.lat_deg, track.lon_deg, track.heading_deg, cast_m, track.level_m
        )
        bottom = profile.bottom
        notes = (*report.summary().splitlines(), *(f"{text}." for text in profile.said))
    elif question.lake is not None:
        return _on_lake(question, question.lake, cast_m)
    elif question.depths is not None:
        bottom = profile_from_list(question.depths, cast_m, source="--bottom")
    else:
        return ResolvedBottom(None)
    bottom = replace(bottom, friction=question.friction)
    if question.grass is not None:
        bottom = replace(bottom, grass=_grass(question.grass, bottom))
    return ResolvedBottom(bottom, notes)


def _on_lake(question: BottomQuestion, where: LakeCastQuestion, cast_m: float) -> ResolvedBottom:
    """The bottom from a lake's map; its grass ends where the lake's grass edge lies."""
    from leadsman.usecases.lake_cast import cast_on_lake, grass_on_cast
    from leadsman.usecases.lake_store import open_lake

    cast = cast_on_lake(
        open_lake(where.name, where.lakes), where.lat_deg, where.lon_deg, where.heading_deg,
        cast_m, where.level_m,
    )  # fmt: skip
    notes = [f"{text}." for text in cast.said]
    bottom = replace(cast.bottom, friction=question.friction)
    grass = question.grass
    if grass is None:
        return ResolvedBottom(bottom, tuple(notes))
    everywhere = GrassQuestion(grass.top_depth_m, grass.density)
    if grass == everywhere and cast.edge_m is not None:
        layer = grass_on_cast(cast, grass.top_depth_m, grass.density)
    else:
        layer = _grass(grass, bottom)
    return ResolvedBottom(replace(bottom, grass=layer), tuple(notes))


def _grass(grass: GrassQuestion, bottom: BottomProfile) -> GrassLayer:
    """One kind of grass between two distances, its ends one decimetre wide."""
    if not 0.0 <= grass.from_m < grass.to_m:
        raise TechniqueError("grass must begin before it ends", "--grass-from")
    if not grass.top_depth_m >= 0.0:
        raise TechniqueError("the top of grass is at or below the surface", "--grass-top")
    ramp = 0.1
    x = np.unique(
        np.array([0.0, max(grass.from_m - ramp, 0.0), grass.from_m, grass.to_m, grass.to_m + ramp])
    )
    inside = (x >= grass.from_m) & (x <= grass.to_m)
    floor = bottom.depth_at(x)
    if np.all(grass.top_depth_m >= floor[inside]):
        raise TechniqueError(
            "the top of the grass is not above the bottom anywhere",
            "--grass-top",
            "Give the depth of its top below the surface, less than the depth of the bottom",
        )
    top = np.where(inside, np.minimum(grass.top_depth_m, floor), floor)
    return GrassLayer(x, top, np.where(inside, grass.density, 0.0))


def resolve_water(question: WaterQuestion) -> tuple[Water, DragLaw]:
    """The water and the drag of the line in it.

    Parameters
    ----------
    question : WaterQuestion
        What the person said [-].
    """
    water = Water.fresh(question.temperature_c)
    if question.density_kg_m3 is not None:
        water = replace(water, density_kg_m3=question.density_kg_m3)
    drag = DragLaw(normal_constant=question.normal_constant)
    if question.tangential is not None:
        drag = replace(drag, tangential=question.tangential)
    return water, drag


def middle_drag(drag: DragLaw, spread: InputSpread) -> DragLaw:
    """The drag law at the middle of what is known; a fixed coefficient stays.

    Bands draw around the law themselves, so they take it as it was asked for.

    Parameters
    ----------
    drag : DragLaw
        As asked for [-].
    spread : InputSpread
        What is known of it, learned from observations or not [-].
    """
    if drag.normal_constant is not None:
        return drag
    return replace(drag, normal_factor=drag.normal_factor * spread.normal_centre)
