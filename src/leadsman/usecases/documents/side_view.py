"""JSON form of the side view of a depth: what a screen draws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from leadsman.usecases.depth import DepthAnswer
from leadsman.usecases.documents.base import Document
from leadsman.usecases.documents.depth import DepthDocument, depth_document
from leadsman.usecases.pictures import side_view

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from leadsman.hydro.bottom_profile import BottomProfile
    from leadsman.output.side_view_types import SideView


class CurveForm(Document):
    """A curve over the distance from the rod tip."""

    x_m: tuple[float, ...] = Field(description="Distances from the rod tip at the start [m].")
    depth_m: tuple[float, ...] = Field(description="Depth there [m].")


class PathBandForm(Document):
    """Where the lure may run."""

    x_m: tuple[float, ...] = Field(
        description="Distances from the rod tip at the start, rising [m]."
    )
    shallow_90_m: tuple[float, ...] = Field(description="Shallow end of the 90 % band [m].")
    shallow_50_m: tuple[float, ...] = Field(description="Shallow end of the 50 % band [m].")
    deep_50_m: tuple[float, ...] = Field(description="Deep end of the 50 % band [m].")
    deep_90_m: tuple[float, ...] = Field(description="Deep end of the 90 % band [m].")


class GrassForm(Document):
    """Grass along the cast."""

    x_m: tuple[float, ...] = Field(description="Distances from the rod tip at the start [m].")
    top_depth_m: tuple[float, ...] = Field(description="Depth of its top [m].")
    density: tuple[float, ...] = Field(description="Fraction of the ground covered [-].")


class DepthCallForm(Document):
    """The depth to plan on."""

    x_m: float = Field(description="Where it is, from the rod tip at the start [m].")
    depth_m: float = Field(description="The depth [m].")
    low_m: float = Field(description="Shallow end of its 90 % band [m].")
    high_m: float = Field(description="Deep end of its 90 % band [m].")
    what: str = Field(description="What that depth is.")


class ZoneForm(Document):
    """One stretch of the retrieve in the wanted zone."""

    near_x_m: float = Field(description="End nearer to the rod tip [m].")
    far_x_m: float = Field(description="End farther from the rod tip [m].")
    length_m: float = Field(description="Zone length in it [m].")


class MarkForm(Document):
    """Something that happens at a place on the path."""

    x_m: float = Field(description="Distance from the rod tip at the start [m].")
    depth_m: float = Field(description="Depth there [m].")
    label: str = Field(description="A few words.")


class SideViewForm(Document):
    """What lies around the path: bottom, band, zone and marks."""

    bottom: CurveForm | None = Field(description="The bottom; null where none was given.")
    grass: GrassForm | None = Field(description="Grass on it.")
    band: PathBandForm | None = Field(description="Where the lure may run.")
    free: CurveForm | None = Field(description="Where it would run if nothing stopped it.")
    call: DepthCallForm | None = Field(description="The depth to plan on.")
    zones: tuple[ZoneForm, ...] = Field(description="Stretches in the zone.")
    marks: tuple[MarkForm, ...] = Field(description="Events on the path.")
    note: str = Field(description="Small words at the foot.")


class DepthPictureDocument(Document):
    """A depth and its side view."""

    schema_: str = Field(
        default="leadsman.depth-picture/1", alias="schema", description="Name and version."
    )
    answer: DepthDocument = Field(description="The depth, with its path.")
    view: SideViewForm = Field(description="What lies around the path.")
    draws: int = Field(description="Draws that the bands rest on [-].")


def depth_picture_document(answer: DepthAnswer) -> DepthPictureDocument:
    """JSON form of a depth and its side view.

    Parameters
    ----------
    answer : DepthAnswer
        The answer [-].
    """
    return DepthPictureDocument(
        answer=depth_document(answer),
        view=_view(side_view(answer), answer.bottom),
        draws=answer.band.draws,
    )


def _view(view: SideView, bottom: BottomProfile | None) -> SideViewForm:
    band, free, call = view.band, view.free, view.call
    return SideViewForm(
        bottom=_curve(bottom.x_m, bottom.depth_m) if bottom is not None else None,
        grass=_grass(bottom),
        band=None
        if band is None
        else PathBandForm(
            x_m=_numbers(band.x_m),
            shallow_90_m=_numbers(band.shallow_90_m),
            shallow_50_m=_numbers(band.shallow_50_m),
            deep_50_m=_numbers(band.deep_50_m),
            deep_90_m=_numbers(band.deep_90_m),
        ),
        free=None if free is None else _curve(free.x_m, free.depth_m),
        call=None
        if call is None
        else DepthCallForm(
            x_m=call.x_m, depth_m=call.depth_m, low_m=call.low_m, high_m=call.high_m, what=call.what
        ),
        zones=tuple(
            ZoneForm(near_x_m=z.near_x_m, far_x_m=z.far_x_m, length_m=z.length_m)
            for z in view.zones
        ),
        marks=tuple(MarkForm(x_m=m.x_m, depth_m=m.depth_m, label=m.label) for m in view.marks),
        note=view.note,
    )


def _numbers(values: npt.NDArray[np.float64]) -> tuple[float, ...]:
    return tuple(values.tolist())


def _curve(x_m: npt.NDArray[np.float64], depth_m: npt.NDArray[np.float64]) -> CurveForm:
    return CurveForm(x_m=_numbers(x_m), depth_m=_numbers(depth_m))


def _grass(bottom: BottomProfile | None) -> GrassForm | None:
    if bottom is None or bottom.grass is None:
        return None
    grass = bottom.grass
    return GrassForm(
        x_m=_numbers(grass.x_m),
        top_depth_m=_numbers(grass.top_depth_m),
        density=_numbers(grass.density),
    )
