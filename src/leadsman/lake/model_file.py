"""A bottom model in one compact file: written atomically, opened fast, checked when read.

Layout: a magic line, a version, a JSON header with its length, then depth and
standard error as unsigned 16-bit integers in steps of 5 mm, as differences
along rows, zlib-packed. 65535 stands for unknown. All numbers little-endian.
"""

from __future__ import annotations

import json
import struct
import zlib
from pathlib import Path

import numpy as np

from leadsman.atomic_write import write_bytes_atomic
from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel, Float32Array
from leadsman.lake.file_guard import read_bytes
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice

MAGIC = b"LEADSMAN BOTTOM\n"
VERSION = 1
STEP_M = 0.005
"""Step in which depth and error are stored [m]: 320 m fit into 16 bits."""
OFFSET_M = 10.0
"""Added before storing so that ground above the reference level fits too [m]."""
UNKNOWN = 65535
MAX_HEADER = 1_000_000
SUFFIX = ".bottom"


def save_model(model: BottomModel, path: Path) -> None:
    """Write a bottom model, replacing the file in one step.

    Parameters
    ----------
    model : BottomModel
        The model [-].
    path : pathlib.Path
        Where to [-].

    Raises
    ------
    LakeDataError
        It cannot be written.
    """
    lattice = model.lattice
    header = {
        "name": model.name, "lon0_deg": lattice.frame.lon0_deg, "lat0_deg": lattice.frame.lat0_deg,
        "x0_m": lattice.x0_m, "y0_m": lattice.y0_m, "cell_m": lattice.cell_m,
        "nx": lattice.nx, "ny": lattice.ny, "sources": list(model.sources),
        "said": list(model.said),
    }  # fmt: skip
    text = json.dumps(header).encode()
    blobs = [_packed(model.depth_m), _packed(model.se_m)]
    parts = [MAGIC, struct.pack("<HI", VERSION, len(text)), text]
    for blob in blobs:
        parts += [struct.pack("<QI", len(blob), zlib.crc32(blob)), blob]
    write_atomically(path, b"".join(parts))


def write_atomically(path: Path, data: bytes) -> None:
    """Write a file so that a reader sees the old one or the new one, never half of it.

    Parameters
    ----------
    path : pathlib.Path
        Where to [-].
    data : bytes
        Its whole content [-].

    Raises
    ------
    LakeDataError
        It cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_bytes_atomic(path, data)
    except OSError as error:
        raise LakeDataError(f"cannot be written ({error.strerror})", path) from error


def _packed(values: Float32Array) -> bytes:
    with np.errstate(invalid="ignore"):
        steps = np.rint((values + OFFSET_M) / STEP_M)
        steps = np.where(np.isfinite(steps), np.clip(steps, 0, UNKNOWN - 1), UNKNOWN)
    codes = steps.astype("<u2")
    # Neighbours differ little, so differences (mod 2^16) pack several times smaller.
    codes[:, 1:] = codes[:, 1:] - codes[:, :-1]
    return zlib.compress(codes.tobytes(), 3)


def load_model(path: Path) -> BottomModel:
    """Open a bottom model.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].

    Returns
    -------
    BottomModel
        The model, to the 5 mm it is stored in.

    Raises
    ------
    LakeDataError
        It is no such file, of another version, or damaged.
    """
    data = read_bytes(path)
    if not data.startswith(MAGIC):
        raise LakeDataError("is not a bottom model of ours", path.name, "Add the lake's data anew")
    at = len(MAGIC)
    try:
        version, size = struct.unpack_from("<HI", data, at)
        at += 6
        if version != VERSION:
            raise LakeDataError(
                f"is of version {version}, not {VERSION}", path.name, "Add the lake's data anew"
            )
        if size > MAX_HEADER:
            raise LakeDataError("has a damaged header", path.name)
        header = json.loads(data[at : at + size])
        at += size
        lattice = Lattice(
            MetricFrame(float(header["lon0_deg"]), float(header["lat0_deg"])),
            float(header["x0_m"]), float(header["y0_m"]), float(header["cell_m"]),
            int(header["nx"]), int(header["ny"]),
        )  # fmt: skip
        layers: list[Float32Array] = []
        for _ in range(2):
            length, crc = struct.unpack_from("<QI", data, at)
            at += 12
            blob = data[at : at + length]
            at += length
            if len(blob) != length or zlib.crc32(blob) != crc:
                raise LakeDataError(
                    "is cut short or damaged", path.name, "Add the lake's data anew"
                )
            layers.append(_unpacked(blob, lattice))
        return BottomModel(
            str(header["name"]), lattice, layers[0], layers[1],
            tuple(map(str, header["sources"])), tuple(map(str, header["said"])),
        )  # fmt: skip
    except (struct.error, ValueError, KeyError, TypeError, zlib.error) as error:
        raise LakeDataError(
            "is cut short or damaged", path.name, "Add the lake's data anew"
        ) from error


def _unpacked(blob: bytes, lattice: Lattice) -> Float32Array:
    wanted = lattice.nx * lattice.ny * 2
    unpack = zlib.decompressobj()
    raw = unpack.decompress(blob, wanted)  # never more than the header promises
    if len(raw) != wanted or unpack.unconsumed_tail.strip(b"\0"):
        raise ValueError("layer has another size than the lattice")
    codes = np.cumsum(np.frombuffer(raw, "<u2").reshape(lattice.shape), axis=1, dtype=np.uint16)
    values = codes.astype(np.float32)
    values *= np.float32(STEP_M)
    values -= np.float32(OFFSET_M)
    values[codes == UNKNOWN] = np.nan
    return values
