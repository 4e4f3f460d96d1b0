"""The card for the boat: one sheet of PDF, both sides at most, for wet hands and sun.

Black on white and large, because ink runs and glare takes colour away. What
does not fit on two sides is counted and said, never shrunk.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from leadsman.output.picture import write_atomically
from leadsman.output.plan_card_types import (
    USUAL_CAUTIONS,
    PassEntry,
    PlanCard,
    RodEntry,
)
from leadsman.output.text_setting import FONT, clean, join_units

if TYPE_CHECKING:
    from fpdf import FPDF

__all__ = ["USUAL_CAUTIONS", "PassEntry", "PlanCard", "RodEntry", "plan_card_pdf", "save_plan_card"]

MARGIN_MM = 11.0
"""Printers leave out up to about 6 mm at the edge; common practice, no source [mm]."""
PT_MM = 25.4 / 72.0
"""Millimetres per point [mm pt-1]."""
HEAD_PT, BIG_PT, TEXT_PT, SMALL_PT = 19.0, 17.0, 13.0, 10.5
"""Type of the headline, of times and depths, of words, of cautions [pt]."""
GAUGE_MM = 62.0
"""Width of the drawn depth ladder [mm]."""
ROW_GAP_MM = 2.2
"""Room between rows [mm]."""
COMPASS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
"""Eight points of the compass, clockwise from north [-]."""


def save_plan_card(card: PlanCard, path: str | Path) -> Path:
    """Write the card as PDF, whole or not at all.

    Parameters
    ----------
    card : PlanCard
        The card [-].
    path : str or pathlib.Path
        Where to [-].

    Returns
    -------
    pathlib.Path
        The file written [-].

    Raises
    ------
    InputError
        The file cannot be written.
    """
    target = Path(path)
    write_atomically(target, plan_card_pdf(card))
    return target


def plan_card_pdf(card: PlanCard) -> bytes:
    """The card as the bytes of a PDF of one or two pages, the same each time.

    Parameters
    ----------
    card : PlanCard
        The card [-].
    """
    sheet = _Sheet(card)
    sheet.head()
    sheet.rods()
    sheet.passes()
    sheet.cautions()
    return sheet.bytes()


def compass_words(heading_rad: float) -> str:
    """A heading as a person says it, ``"NW 315°"``.

    Parameters
    ----------
    heading_rad : float
        Heading, clockwise from true north [rad].
    """
    degrees = math.degrees(heading_rad) % 360.0
    return f"{COMPASS[round(degrees / 45.0) % 8]} {round(degrees) % 360}°"


class _Sheet:
    """Fills one sheet of paper from the top, turning it over once."""

    def __init__(self, card: PlanCard) -> None:
        self.card = card
        self.pdf = _new_pdf(card)
        self.width = float(self.pdf.epw)
        self.bottom = float(self.pdf.h) - MARGIN_MM
        self.y = MARGIN_MM
        self.turned = False
        self.cautioned = False
        self.cautions_mm = self._cautions_height()

    def bytes(self) -> bytes:
        return bytes(self.pdf.output())

    # -- setting type ------------------------------------------------------------

    def font(self, size_pt: float, bold: bool = False) -> None:
        self.pdf.set_font("card", "B" if bold else "", size_pt)

    def put(
        self, x: float, y: float, text: str, size_pt: float, bold: bool = False, room: float = 0.0
    ) -> float:
        """Set one line with its top at y, cut to the room; gives its width [mm]."""
        self.font(size_pt, bold)
        words = clean(text)
        if room > 0.0:
            words = self.cut(words, room)
        self.pdf.text(x, y + 0.95 * size_pt * PT_MM, words)
        return float(self.pdf.get_string_width(words))

    def cut(self, words: str, room: float) -> str:
        """Words cut to a width in the font that is set."""
        if self.pdf.get_string_width(words) <= room:
            return words
        while words and self.pdf.get_string_width(words + "…") > room:
            words = words[:-1]
        return words.rstrip() + "…"

    def wrap(self, text: str, size_pt: float, bold: bool, room: float, most: int = 3) -> list[str]:
        """Words broken into lines that fit."""
        self.font(size_pt, bold)
        lines: list[str] = []
        line = ""
        for word in join_units(clean(text)).split(" "):
            longer = f"{line} {word}".strip(" ")
            if self.pdf.get_string_width(longer) <= room:
                line = longer
            else:
                lines += [line] if line else []
                line = self.cut(word, room)
        lines += [line] if line else []
        if len(lines) > most:
            last = self.cut(" ".join(lines[most - 1 :]) + " …", room)
            lines = [*lines[: most - 1], last]
        return lines

    def rule(self, thickness_mm: float = 0.3) -> None:
        self.pdf.set_line_width(thickness_mm)
        self.pdf.line(MARGIN_MM, self.y, MARGIN_MM + self.width, self.y)

    def turn_over(self) -> None:
        self.pdf.add_page()
        self.turned = True
        self.y = MARGIN_MM
        head = f"{self.card.lake}, {_day(self.card)}"
        self.put(MARGIN_MM, self.y, head, TEXT_PT, False, self.width)
        self.y += 7.5
        self._stop_bar()

    # -- parts -------------------------------------------------------------------

    def head(self) -> None:
        card = self.card
        words = f"{card.lake}, {_day(card)}"
        self.put(MARGIN_MM, self.y, words, TEXT_PT, False, self.width)
        self.y += 6.5
        for line in self.wrap(card.headline, HEAD_PT, True, self.width):
            self.put(MARGIN_MM, self.y, line, HEAD_PT, True)
            self.y += HEAD_PT * PT_MM * 1.25
        self.y += 1.5
        self._stop_bar()

    def _stop_bar(self) -> None:
        if self.card.stop is not None:
            self._bar(f"STOP {self.card.stop:%H:%M}", self.card.stop_note)

    def _bar(self, big: str, rest: str) -> None:
        """A black bar: what must not be missed."""
        height = 9.5
        self.pdf.set_fill_color(0)
        self.pdf.rect(MARGIN_MM, self.y, self.width, height, style="F")
        self.pdf.set_text_color(255)
        used = self.put(MARGIN_MM + 3.0, self.y + 1.6, big, BIG_PT, True)
        room = self.width - used - 11.0
        self.put(MARGIN_MM + 8.0 + used, self.y + 2.5, rest, TEXT_PT, False, room)
        self.pdf.set_text_color(0)
        self.y += height + 3.0

    def rods(self) -> None:
        deepest = max(rod.high_m for rod in self.card.rods)
        self.rule(0.8)
        self.y += ROW_GAP_MM
        for rod in self.card.rods:
            if not self.turned and self.y + self._rod_height(rod) > self.bottom:
                self.turn_over()
            self._rod(rod, deepest)
            self.rule()
            self.y += ROW_GAP_MM

    def _rod_lines(self, rod: RodEntry) -> tuple[list[str], list[str], list[str]]:
        """Lines of what it is for, how it is fished, and what to snap on."""
        room, wide = self.width - 18.0 - GAUGE_MM, self.width - 14.0
        covers = self.wrap(f"For {rod.covers}", TEXT_PT, False, room, 2)
        how = self.wrap(rod.how, TEXT_PT, True, wide, 2) if rod.how else []
        snaps = self.wrap("Snap on: " + "; ".join(rod.snaps), TEXT_PT, False, wide, 2)
        return covers, how, snaps if rod.snaps else []

    def _rod_height(self, rod: RodEntry) -> float:
        covers, how, snaps = self._rod_lines(rod)
        words = 13.2 + 5.6 * len(covers)
        return max(words, 21.0) + 5.6 * (len(how) + len(snaps)) + 0.8 + ROW_GAP_MM

    def _rod(self, rod: RodEntry, deepest_m: float) -> None:
        left = MARGIN_MM + 14.0
        room = self.width - 14.0 - GAUGE_MM - 4.0
        self._rod_number(MARGIN_MM, self.y, rod.number, 10.0)
        top = self.y
        self.put(left, self.y, rod.lure, BIG_PT, True, room)
        self.y += 7.4
        self.put(left, self.y, rod.line, TEXT_PT, False, room)
        self.y += 5.8
        covers, how, snaps = self._rod_lines(rod)
        for line in covers:
            self.put(left, self.y, line, TEXT_PT)
            self.y += 5.6
        self.y = max(self.y, self._gauge(rod, top, deepest_m))
        for lines, bold in ((how, True), (snaps, False)):
            for line in lines:
                self.put(left, self.y, line, TEXT_PT, bold)
                self.y += 5.6
        self.y += 0.8

    def _rod_number(self, x: float, y: float, number: int, size: float) -> None:
        self.pdf.set_fill_color(0)
        self.pdf.rect(x, y, size, size, style="F")
        self.pdf.set_text_color(255)
        self.font(BIG_PT, True)
        width = self.pdf.get_string_width(str(number))
        self.pdf.text(x + 0.5 * (size - width), y + 0.5 * size + 0.36 * BIG_PT * PT_MM, str(number))
        self.pdf.set_text_color(0)

    def _gauge(self, rod: RodEntry, top: float, deepest_m: float) -> float:
        """Depths the rod covers, in numbers and on a ladder; gives its foot [mm]."""
        depth = self.card.units.depth
        left = MARGIN_MM + self.width - GAUGE_MM
        low, high = (_plain_depth(depth.value(m)) for m in (rod.low_m, rod.high_m))
        number = low if low == high else f"{low}–{high}"
        used = self.put(left, top, number, BIG_PT + 3.0, True)
        self.put(left + used + 1.5, top + 2.4, f"{depth.unit} deep", TEXT_PT)
        step = 5.0 if depth.unit == "ft" else 2.0
        end = max(math.ceil(depth.value(deepest_m) / step + 1e-9), 1) * step
        scale = (GAUGE_MM - 4.0) / end
        y = top + 10.0
        self.pdf.set_line_width(0.3)
        self.pdf.line(left, y + 4.0, left + end * scale, y + 4.0)
        bar = max((depth.value(rod.high_m) - depth.value(rod.low_m)) * scale, 1.2)
        self.pdf.set_fill_color(0)
        self.pdf.rect(left + depth.value(rod.low_m) * scale, y, bar, 4.0, style="F")
        every = 1 if end / step <= 6 else 2
        for i in range(int(end / step) + 1):
            x = left + i * step * scale
            self.pdf.line(x, y + 4.0, x, y + 5.4)
            if i % every == 0:
                words = f"{i * step:g}"
                self.font(SMALL_PT)
                width = self.pdf.get_string_width(words)
                self.put(x - 0.5 * width, y + 5.6, words, SMALL_PT)
        return y + 11.0

    def passes(self) -> None:
        """All on this side if they fit, else all on the back, else on both."""
        entries = self.card.passes
        if not entries:
            return
        total = sum(self._pass_height(entry) for entry in entries)
        here = self.bottom - self.cautions_mm - self.y
        back = self.bottom - MARGIN_MM - 7.5 - (12.5 if self.card.stop else 0.0)
        if not self.turned and here < total <= back:
            self.cautions()
            self.turn_over()
        else:
            self.rule(0.8)
            self.y += ROW_GAP_MM
        fits = self.y + total <= self._foot()
        for i, entry in enumerate(entries):
            if self.y + self._pass_height(entry) > self._foot(fits):
                if self.turned:
                    self._say_rest(len(entries) - i)
                    return
                self.turn_over()
            self._pass(entry)

    def _foot(self, fits: bool = True) -> float:
        """How far down passes may reach: the last side keeps room for what must stand there."""
        room = 0.0 if self.cautioned else self.cautions_mm
        if self.turned:
            return self.bottom - room - (0.0 if fits else 6.0)
        return self.bottom - room if fits else self.bottom

    def _say_rest(self, count: int) -> None:
        words = f"{count} more {'pass' if count == 1 else 'passes'}: see the report."
        self.put(MARGIN_MM, self.y, words, TEXT_PT, True)
        self.y += 6.0

    def _details(self, entry: PassEntry) -> str:
        parts = [entry.boat]
        if entry.heading_rad is not None:
            parts.append(f"cast {compass_words(entry.heading_rad)}")
        if entry.zone_m is not None:
            parts.append(f"{self.card.units.distance.text(entry.zone_m)} in the zone")
        parts.append(entry.note)
        return ", ".join(part for part in parts if part)

    def _pass_height(self, entry: PassEntry) -> float:
        details = self._details(entry)
        lines = self.wrap(details, TEXT_PT, False, self.width - 43.0, 2) if details else []
        return 8.4 + 5.6 * len(lines) + ROW_GAP_MM

    def _pass(self, entry: PassEntry) -> None:
        left = MARGIN_MM + 43.0
        self.put(MARGIN_MM, self.y, f"{entry.start:%H:%M}", BIG_PT, True)
        self.put(MARGIN_MM, self.y + 7.0, f"to {entry.end:%H:%M}", TEXT_PT)
        self._rod_number(MARGIN_MM + 28.0, self.y, entry.rod, 9.0)
        self.put(left, self.y, entry.place, BIG_PT, True, self.width - 43.0)
        self.y += 7.4
        details = self._details(entry)
        for line in self.wrap(details, TEXT_PT, False, self.width - 43.0, 2) if details else []:
            self.put(left, self.y, line, TEXT_PT)
            self.y += 5.6
        self.y += 1.0
        self.rule()
        self.y += ROW_GAP_MM

    def _caution_lines(self) -> list[str]:
        room = self.width - 5.0
        return [
            ("• " if i == 0 else "   ") + line
            for words in self.card.cautions
            for i, line in enumerate(self.wrap(words, SMALL_PT, False, room, 2))
        ]

    def _cautions_height(self) -> float:
        return 4.8 * len(self._caution_lines()) + 4.0

    def cautions(self) -> None:
        """At the foot of the side, once."""
        if self.cautioned:
            return
        self.cautioned = True
        if self.y > self.bottom - self.cautions_mm:
            self.turn_over()
        y = self.y
        self.y = self.bottom - self.cautions_mm + 2.0
        self.rule(0.8)
        self.y += 1.6
        for line in self._caution_lines():
            self.put(MARGIN_MM, self.y, line, SMALL_PT)
            self.y += 4.8
        self.y = y


def _new_pdf(card: PlanCard) -> FPDF:
    import matplotlib
    from fpdf import FPDF

    pdf = FPDF(
        orientation="portrait", unit="mm", format="letter" if card.units.name == "us" else "A4"
    )
    pdf.set_auto_page_break(False)
    pdf.set_margins(MARGIN_MM, MARGIN_MM, MARGIN_MM)
    fonts = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    name = FONT.replace(" ", "")
    pdf.add_font("card", "", str(fonts / f"{name}.ttf"))
    pdf.add_font("card", "B", str(fonts / f"{name}-Bold.ttf"))
    # The day of the trip, not of printing: the same card gives the same bytes.
    stamp: Any = datetime(card.day.year, card.day.month, card.day.day, tzinfo=UTC)
    pdf.set_creation_date(stamp)
    pdf.set_title(clean(card.headline))
    pdf.set_creator("Leadsman")
    pdf.set_producer("Leadsman")
    pdf.add_page()
    return pdf


def _day(card: PlanCard) -> str:
    names = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
    return f"{names[card.day.weekday()]} {card.day.isoformat()}"


def _plain_depth(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
