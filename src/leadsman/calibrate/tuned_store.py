"""Keep what was learned, so that a question is answered at once.

The file only spares time: it is made again from kit and observations whenever
they change, and may be deleted at any time.
"""

from __future__ import annotations

import hashlib
import io
import zipfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

import leadsman
from leadsman.atomic_write import write_bytes_atomic
from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.parameter_grid import (
    ANGLE_NODES,
    AREA_NODES,
    DRAG_NODES,
    ParameterGrid,
)
from leadsman.calibrate.posterior import DragBelief, GridBelief
from leadsman.calibrate.tune import Tuning
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.observation import Observation

FORMAT = 1
"""Raised when the meaning of the file changes [-]."""


@dataclass(frozen=True, slots=True)
class StoredTuning:
    """What was learned, as it is kept.

    Parameters
    ----------
    beliefs : dict of str to GridBelief
        By name of the lure; lures that were never observed are not in it [-].
    drag : DragBelief
        Drag of the line, shared [-].
    """

    beliefs: dict[str, GridBelief]
    drag: DragBelief


def tuning_key(kit: Kit, observations: Sequence[Observation]) -> str:
    """Fingerprint of everything that tuning depends on.

    Parameters
    ----------
    kit : Kit
        Kit [-].
    observations : sequence of Observation
        Observations [-].
    """
    parts = (FORMAT, leadsman.__version__, kit.lures, kit.lines, kit.angler, tuple(observations))
    return hashlib.sha256(repr(parts).encode("utf-8")).hexdigest()


def save_tuning(path: Path, tuning: Tuning, key: str) -> bool:
    """Keep what was learned of the lures that were observed.

    Parameters
    ----------
    path : pathlib.Path
        File to write [-].
    tuning : Tuning
        What was learned [-].
    key : str
        Its `tuning_key` [-].

    Returns
    -------
    bool
        False if it could not be written, which costs time and nothing else [-].
    """
    observed = [lure for lure in tuning.lures if lure.taught]
    arrays: dict[str, npt.NDArray[np.generic]] = {
        "key": np.array(key),
        "names": np.array([lure.lure.name for lure in observed], dtype=np.str_),
        "drag": tuning.drag.weight,
        "log_drag": np.array([tuning.drag.log_mean, tuning.drag.log_sd]),
    }
    for i, lure in enumerate(observed):
        grid = lure.belief.grid
        arrays[f"grid{i}"] = np.array(
            [grid.angle_low_rad, grid.angle_high_rad, grid.log_area_centre]
        )
        arrays[f"weight{i}"] = lure.belief.weight.astype(np.float32)
    packed = io.BytesIO()
    np.savez_compressed(packed, allow_pickle=False, **arrays)
    try:
        write_bytes_atomic(path, packed.getvalue())
    except OSError:
        return False
    return True


def load_tuning(path: Path, kit: Kit, key: str) -> StoredTuning | None:
    """What was learned before, if it is still true.

    Parameters
    ----------
    path : pathlib.Path
        File to read [-].
    kit : Kit
        Kit, for the mass and buoyancy of its lures [-].
    key : str
        The `tuning_key` of kit and observations as they are now [-].

    Returns
    -------
    StoredTuning or None
        None if there is no file, or it is of another kit, or it is damaged.
    """
    try:
        with np.load(path, allow_pickle=False) as file:
            if str(file["key"]) != key:
                return None
            beliefs: dict[str, GridBelief] = {}
            for i, name in enumerate(file["names"].tolist()):
                weight = file[f"weight{i}"].astype(np.float64)
                if weight.shape != (DRAG_NODES, ANGLE_NODES, AREA_NODES):
                    return None
                grid = ParameterGrid(*(float(x) for x in file[f"grid{i}"]))
                fit = first_fit(kit.lure(name))
                beliefs[name] = GridBelief.of(grid, weight, fit.forces, fit.buoyancy_sd_n)
            mean, sd = (float(x) for x in file["log_drag"])
            return StoredTuning(beliefs, DragBelief(mean, sd, file["drag"]))
    except (OSError, KeyError, ValueError, EOFError, TypeError, zipfile.BadZipFile, zlib.error):
        return None
