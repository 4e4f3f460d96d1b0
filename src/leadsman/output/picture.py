"""How pictures are drawn and saved, the same bytes on every machine.

matplotlib is imported within the functions, so that a command that draws
nothing does not wait for it. Only its object interface is used, never pyplot.
"""

from __future__ import annotations

import io
import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from leadsman.atomic_write import write_bytes_atomic
from leadsman.errors import InputError
from leadsman.output.text_setting import FONT

if TYPE_CHECKING:
    from matplotlib.figure import Figure

PNG_DPI = 192.0
"""Two dots for each reference pixel, for sharp screens and for print [in-1]."""

_SVG_FONT = f"font-family: '{FONT}'".encode()
_SVG_FONTS = f"font-family: '{FONT}', Verdana, Arial, sans-serif".encode()
_RC_LOCK = threading.RLock()
_RC = {
    "font.family": [FONT],
    "svg.fonttype": "none",  # real text: can be searched, read aloud, enlarged
    "svg.hashsalt": "leadsman",
    "text.parse_math": False,  # a lure may be called "$5 special"
    "text.usetex": False,
    "text.hinting": "no_hinting",  # widths as measured, at every resolution
    "axes.unicode_minus": True,
    "path.simplify": True,
    "path.simplify_threshold": 0.25,
    "hatch.linewidth": 0.8,
}


@contextmanager
def house_style() -> Iterator[None]:
    """Settings under which every picture is drawn and saved.

    The user's own matplotlib settings do not leak in, and none leak out.
    matplotlib's settings are global, so one thread draws at a time.
    """
    import matplotlib

    with _RC_LOCK, matplotlib.rc_context(), warnings.catch_warnings():
        # A name in another script has no letters in our font: a viewer of the SVG finds them.
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        matplotlib.rcParams.update(
            {
                name: matplotlib.rcParamsDefault[name]
                for name in matplotlib.rcParamsDefault
                if name.split(".")[0]
                in {"axes", "lines", "patch", "text", "font", "xtick", "ytick", "savefig", "svg"}
                and not name.endswith("directory")
            }
        )
        matplotlib.rcParams.update(cast(Any, _RC))
        yield


def save_picture(figure: Figure, path: str | Path, dpi: float = PNG_DPI) -> Path:
    """Write a picture as SVG or PNG, whole or not at all.

    The same picture gives the same bytes: no date, no random names.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        The picture [-].
    path : str or pathlib.Path
        Where to; the ending ``.svg`` or ``.png`` decides the format [-].
    dpi : float
        Dots per inch of a PNG; 96 gives the stated width in pixels [in-1].

    Returns
    -------
    pathlib.Path
        The file written [-].

    Raises
    ------
    InputError
        The ending is another, or the file cannot be written.
    """
    target = Path(path)
    kind = target.suffix.lower()
    if kind not in {".svg", ".png"}:
        raise InputError(
            f"cannot draw a picture as '{target.suffix}'",
            target,
            "Use a name ending in .svg or .png",
        )
    write_atomically(target, picture_bytes(figure, "svg" if kind == ".svg" else "png", dpi))
    return target


def picture_bytes(figure: Figure, kind: str, dpi: float = PNG_DPI) -> bytes:
    """A picture as the bytes of an SVG or PNG file.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        The picture [-].
    kind : str
        ``"svg"`` or ``"png"`` [-].
    dpi : float
        Dots per inch of a PNG, and of the ground of a map within an SVG [in-1].

    Raises
    ------
    ValueError
        Another kind.
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.backends.backend_svg import FigureCanvasSVG

    buffer = io.BytesIO()
    _number_names(figure)
    was = figure.dpi
    with house_style():
        try:
            figure.dpi = dpi  # of a PNG, and of the ground of a map within an SVG
            if kind == "svg":
                meta = {"Date": None, "Creator": "Leadsman", "Title": str(figure.get_label())}
                FigureCanvasSVG(figure).print_svg(buffer, metadata=meta)  # type: ignore[no-untyped-call]
            elif kind == "png":
                FigureCanvasAgg(figure).print_png(buffer, metadata={"Software": None})  # type: ignore[no-untyped-call]
            else:
                raise ValueError(f"unknown kind of picture {kind!r}")
        finally:
            figure.dpi = was
    return buffer.getvalue().replace(_SVG_FONT, _SVG_FONTS)


def _number_names(figure: Figure) -> None:
    """Make the names of drawn things unique, as ids in a document must be."""
    seen: dict[str, int] = {}
    for artist in figure.findobj():
        name = artist.get_gid()
        if name is None:
            continue
        stem = name.split("--")[0]
        seen[stem] = seen.get(stem, 0) + 1
        artist.set_gid(stem if seen[stem] == 1 else f"{stem}--{seen[stem]}")


def write_atomically(target: Path, data: bytes) -> None:
    """Write a file whole or not at all.

    Parameters
    ----------
    target : pathlib.Path
        The file [-].
    data : bytes
        Its content [-].

    Raises
    ------
    InputError
        The file cannot be written there.
    """
    try:
        write_bytes_atomic(target, data)
    except OSError as error:
        reason = error.strerror or str(error)
        raise InputError(
            f"cannot be written ({reason})", target, "Choose a folder that exists and is yours"
        ) from error
