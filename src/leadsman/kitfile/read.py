"""Read a kit file into tackle."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from leadsman.errors import InputError, KitError, Where
from leadsman.kitfile.kit import Kit, find_named
from leadsman.kitfile.locate import line_of
from leadsman.kitfile.messages import dotted, toml_error, validation_error
from leadsman.kitfile.schema import (
    AnglerTable,
    ComboTable,
    KitTable,
    LineTable,
    LureTable,
    ReelTable,
    RodTable,
    range_or_none,
)
from leadsman.tackle.angler import Angler, CastRecord
from leadsman.tackle.line import Line
from leadsman.tackle.lure import DepthTest, Lure, RatedDepth
from leadsman.tackle.reel import Reel
from leadsman.tackle.rod import Rod
from leadsman.tackle.setup import Combo

MAX_BYTES = 1_000_000
"""Largest kit file that is read [byte]."""

T = TypeVar("T")
M = TypeVar("M", bound=BaseModel)


def read_kit(path: Path | str) -> Kit:
    """Read a kit file.

    Parameters
    ----------
    path : pathlib.Path or str
        The file [-].

    Raises
    ------
    KitError
        The file cannot be read or describes impossible tackle; the message
        names the file, the line and the field.
    """
    path = Path(path)
    return parse_kit(read_text(path), path)


def read_text(
    path: Path, what: str = "kit", remedy: str = "write a new kit with: leadsman kit new"
) -> str:
    """Text of a kit file, or one clear message why there is none.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    what : str
        What kind of file it should be, for the message [-].
    remedy : str
        What to do where there is none [-].

    Raises
    ------
    KitError
        It is not a readable text file of a sensible size.
    """
    shown = str(path)
    try:
        if path.is_dir():
            raise KitError(f"this is a directory, not a {what} file", shown, "Give the file in it")
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise KitError(
                f"the file is {size / 1e6:.1f} MB, too large for a {what}", shown, "Check the name"
            )
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise KitError("there is no such file", shown, f"Check the name, or {remedy}") from None
    except OSError as error:
        reason = (error.strerror or "it cannot be read").lower()
        raise KitError(f"the file cannot be opened: {reason}", shown, "Check its rights") from None
    except ValueError:
        raise KitError("this is not a possible file name", shown[:60]) from None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise KitError(
            "the file is not UTF-8 text", Where(shown, line), "Save it as UTF-8 text"
        ) from None


@lru_cache(maxsize=4)  # a page asks many times about one kit; a kit cannot be changed
def parse_kit(text: str, path: Path | None = None) -> Kit:
    """Kit from the text of a kit file.

    Parameters
    ----------
    text : str
        TOML text [-].
    path : pathlib.Path or None
        File that it came from, for messages [-].

    Raises
    ------
    KitError
        As `read_kit`.
    """
    source = str(path) if path else "kit"
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise toml_error(error, text, source) from None
    except RecursionError:
        raise KitError("tables are nested too deep for a kit", source) from None
    try:
        table = KitTable.model_validate(raw)
    except ValidationError as error:
        raise validation_error(error, text, source) from None
    if not table.lures and not table.lines:
        raise KitError(
            "the kit holds no lures and no lines",
            source,
            "Add some, or start from the demo kit with: leadsman kit new",
        )
    return _Builder(text, source).kit(table, path)


class _Builder:
    """Turns tables into tackle and puts the place into every error."""

    def __init__(self, text: str, source: str) -> None:
        self._text = text
        self._source = source

    def kit(self, table: KitTable, path: Path | None) -> Kit:
        lures = self._named("lures", table.lures, _lure)
        lines = self._named("lines", table.lines, _line)
        reels = self._named("reels", table.reels, _reel)
        rods = self._named("rods", table.rods, _rod)

        def combo(name: str, item: ComboTable) -> Combo:
            parts = {
                key: find_named(getattr(item, key), items, key, Where(field=key))
                for key, items in (("rod", rods), ("reel", reels), ("line", lines))
            }
            return Combo(name, **parts)  # type: ignore[arg-type]

        return Kit(
            lures=lures,
            lines=lines,
            reels=reels,
            rods=rods,
            combos=self._named("combos", table.combos, combo),
            angler=self._angler(table.angler),
            units=table.units,
            path=path,
        )

    def _named(
        self, kind: str, tables: Mapping[str, M], build: Callable[[str, M], T]
    ) -> tuple[T, ...]:
        seen: dict[str, str] = {}
        made: list[T] = []
        for name, table in tables.items():
            folded = name.strip().casefold()
            if folded in seen:
                raise KitError(
                    f"'{name}' and '{seen[folded]}' are the same name",
                    self._where((kind, name)),
                    "Give each its own name; case does not tell them apart",
                )
            seen[folded] = name
            made.append(self._build((kind, name), lambda t=table, n=name: build(n, t)))  # type: ignore[misc]
        return tuple(made)

    def _angler(self, table: AnglerTable) -> Angler:
        casts = tuple(
            self._build(
                ("angler", "casts", index),
                lambda c=cast: CastRecord(c.mass, c.length, c.rod, c.count),  # type: ignore[misc]
            )
            for index, cast in enumerate(table.casts)
        )
        given: dict[str, float | None] = {
            "grip_height_m": table.grip_height,
            "reel_speed_m_s": table.reel_speed,
            "usual_cast_m": table.usual_cast,
        }
        known = {key: value for key, value in given.items() if value is not None}
        return self._build(("angler",), lambda: Angler(casts=casts, **known))

    def _build(self, loc: tuple[str | int, ...], make: Callable[[], T]) -> T:
        try:
            return make()
        except InputError as error:
            field = error.where.field
            full = (*loc, field) if field and field != "name" else loc
            raise KitError(error.problem, self._where(full), error.remedy) from None

    def _where(self, loc: tuple[str | int, ...]) -> Where:
        return Where(self._source, line_of(self._text, loc), dotted(loc))


def _lure(name: str, table: LureTable) -> Lure:
    return Lure(
        name=name,
        body_length_m=table.body_length,
        lip_length_m=table.lip_length,
        lip_width_m=table.lip_width,
        mass_kg=table.mass,
        body_width_m=table.body_width,
        lip_shape=table.lip_shape,
        balance=table.balance,
        buoyancy_n=table.buoyancy,
        rated=_rated(table),
        sound=table.sound,
        colour=table.colour,
        open_hooks=table.open_hooks,
        model=table.model,
        dive_angle_rad=table.dive_angle,
        pull_area_m2=table.pull_area,
    )


def _rated(table: LureTable) -> RatedDepth | None:
    depth = range_or_none(table.rated_depth)
    test = DepthTest(
        line_material=table.rated_line_material,
        line_test_n=table.rated_line_test,
        line_diameter_m=table.rated_line_diameter,
        cast_m=table.rated_cast,
        tip_m=table.rated_tip,
    )
    if depth is not None:
        return RatedDepth(depth.low, depth.high, test)
    if test != DepthTest():
        raise KitError(
            "a test is described but not the depth that it found",
            Where(field="rated_depth"),
            "Add rated_depth or remove the rated_ fields",
        )
    return None


def _line(name: str, table: LineTable) -> Line:
    return Line(
        name=name,
        material=table.material,
        test_n=table.test,
        diameter_m=table.diameter,
        diameter_measured=table.diameter_measured,
        density_kg_m3=table.density,
        modulus_pa=table.modulus,
    )


def _reel(name: str, table: ReelTable) -> Reel:
    return Reel(
        name=name,
        take_up_full_m=table.take_up_full,
        capacity_m=table.capacity,
        capacity_diameter_m=table.capacity_diameter,
        take_up_half_m=table.take_up_half,
    )


def _rod(name: str, table: RodTable) -> Rod:
    masses = range_or_none(table.lure_mass)
    assert masses is not None  # pydantic requires it
    return Rod(name, table.length, masses.low, masses.high, table.power)
