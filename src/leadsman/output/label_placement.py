"""Where labels go: beside what they name, on nothing else."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the picture, y upward.

    Parameters
    ----------
    left, bottom, right, top : float
        Edges [px].
    """

    left: float
    bottom: float
    right: float
    top: float

    def overlap_px2(self, other: Box) -> float:
        """Area shared with another box [px2].

        Parameters
        ----------
        other : Box
            The other box [px].
        """
        width = min(self.right, other.right) - max(self.left, other.left)
        height = min(self.top, other.top) - max(self.bottom, other.bottom)
        return width * height if width > 0.0 and height > 0.0 else 0.0

    def holds(self, other: Box) -> bool:
        """True if another box lies wholly within this one [-].

        Parameters
        ----------
        other : Box
            The other box [px].
        """
        return (
            self.left <= other.left
            and self.right >= other.right
            and self.bottom <= other.bottom
            and self.top >= other.top
        )

    def nearest(self, x_px: float, y_px: float) -> tuple[float, float]:
        """Point of the box that is nearest to a place [px].

        Parameters
        ----------
        x_px, y_px : float
            The place [px].
        """
        return (
            min(max(x_px, self.left), self.right),
            min(max(y_px, self.bottom), self.top),
        )

    def grown(self, by_px: float) -> Box:
        """The box with a margin all round.

        Parameters
        ----------
        by_px : float
            Width of the margin [px].
        """
        return Box(self.left - by_px, self.bottom - by_px, self.right + by_px, self.top + by_px)


def boxes_along(xs_px: Sequence[float], ys_px: Sequence[float], half_width_px: float) -> list[Box]:
    """Small boxes that together cover a stroke, one a sample.

    Parameters
    ----------
    xs_px, ys_px : sequence of float, length n
        Points of the stroke, close to one another [px].
    half_width_px : float
        Half of the width of the stroke [px].
    """
    h = half_width_px
    return [Box(x - h, y - h, x + h, y + h) for x, y in zip(xs_px, ys_px, strict=True)]


class LabelPlacer:
    """Puts labels one after another where nothing else is.

    Parameters
    ----------
    bounds : Box
        Labels must lie within it [px].
    obstacles : iterable of Box
        What labels should not cover; covering little is better than much [px].
    """

    def __init__(self, bounds: Box, obstacles: Iterable[Box] = ()) -> None:
        self._bounds = bounds
        self._obstacles = np.array(
            [(box.left, box.bottom, box.right, box.top) for box in obstacles], dtype=np.float64
        ).reshape(-1, 4)
        self._labels: list[Box] = []
        self._crossable: list[Box] = []

    @property
    def labels(self) -> tuple[Box, ...]:
        """Boxes of the labels placed so far [px]."""
        return tuple(self._labels)

    def reserve(self, box: Box, crossable: bool = False) -> None:
        """Keep a place for something that is already there.

        Parameters
        ----------
        box : Box
            Its box [px].
        crossable : bool
            Leaders may cross it, labels still may not cover it [-].
        """
        (self._crossable if crossable else self._labels).append(box)

    def place(
        self,
        candidates: Iterable[Box],
        gap_px: float = 3.0,
        leader_to: tuple[float, float] | None = None,
        most_cover: float = math.inf,
    ) -> Box | None:
        """Take the first free candidate, else the one that covers least.

        A label never covers another label and never leaves the bounds: if no
        candidate can be had so, there is no place and the label is left out.

        Parameters
        ----------
        candidates : iterable of Box
            Possible boxes, best first [px].
        gap_px : float
            Least distance to other labels [px].
        leader_to : tuple of float or None
            Place that a straight leader will join to the label, crossing no
            other label [px].
        most_cover : float
            Greatest share of the label that may lie on obstacles [-].

        Returns
        -------
        Box or None
            The box taken, now reserved; None if there is no place [px].
        """
        best: Box | None = None
        least = math.inf
        for box in candidates:
            if not self._bounds.holds(box):
                continue
            room = box.grown(gap_px)
            if any(room.overlap_px2(taken) > 0.0 for taken in (*self._labels, *self._crossable)):
                continue
            leader = [] if leader_to is None else leader_boxes(box, *leader_to)
            if any(bit.overlap_px2(taken) > 0.0 for bit in leader for taken in self._labels):
                continue
            covered = self._covered_px2(box)
            area = (box.right - box.left) * (box.top - box.bottom)
            if covered < least and covered <= most_cover * area:
                best, least = box, covered
            if least == 0.0:
                break
        if best is not None:
            self._labels.append(best)
            if leader_to is not None:
                self._labels += leader_boxes(best, *leader_to)
        return best

    def _covered_px2(self, box: Box) -> float:
        """Area of obstacles under a box [px2]."""
        left, bottom, right, top = self._obstacles.T
        width = np.minimum(right, box.right) - np.maximum(left, box.left)
        height = np.minimum(top, box.top) - np.maximum(bottom, box.bottom)
        return float(np.sum(np.maximum(width, 0.0) * np.maximum(height, 0.0)))


def leader_boxes(box: Box, x_px: float, y_px: float) -> list[Box]:
    """Small boxes along the leader from a label to a place, off the label itself.

    Parameters
    ----------
    box : Box
        The label [px].
    x_px, y_px : float
        The place [px].
    """
    near_x, near_y = box.nearest(x_px, y_px)
    length = ((near_x - x_px) ** 2 + (near_y - y_px) ** 2) ** 0.5
    count = int(length // 3.0)
    shares = [(i + 0.5) / count for i in range(count)]
    return boxes_along(
        [x_px + s * (near_x - x_px) for s in shares],
        [y_px + s * (near_y - y_px) for s in shares],
        1.0,
    )


def around(
    x_px: float, y_px: float, width_px: float, height_px: float, reach_px: float
) -> list[Box]:
    """Boxes for a label near a point: above first, then beside, then below, ever further out.

    Parameters
    ----------
    x_px, y_px : float
        The point [px].
    width_px, height_px : float
        Size of the label [px].
    reach_px : float
        Greatest gap between point and label [px].
    """
    boxes = []
    gap = 6.0
    while gap <= reach_px:
        for share in (-0.5, -0.25, -0.75, 0.0, -1.0):
            left = x_px + share * width_px
            boxes.append(Box(left, y_px + gap, left + width_px, y_px + gap + height_px))
        middle = y_px - 0.5 * height_px
        for left in (x_px + gap, x_px - gap - width_px):
            boxes.append(Box(left, middle, left + width_px, middle + height_px))
        for share in (-0.5, -0.25, -0.75, 0.0, -1.0):
            left = x_px + share * width_px
            boxes.append(Box(left, y_px - gap - height_px, left + width_px, y_px - gap))
        gap += 8.0
    return boxes
