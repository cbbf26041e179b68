"""Reads our own charts back: SVG to its boxes, its words and what is said of it."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # our own SVG
from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of a chart: its class, left edge and width in percent, top and height in px."""

    kind: str
    x: float
    width: float
    y: int
    height: int
    fill: str
    said: str  # its title

    @property
    def right(self) -> float:
        """Its right edge in percent."""
        return self.x + self.width


def read(drawn: Markup) -> ET.Element:
    """The chart's SVG, read."""
    return ET.fromstring(str(drawn))  # noqa: S314 - our own SVG


def boxes(svg: ET.Element, kind: str) -> list[Box]:
    """The boxes of one kind; the samples inside patterns are none."""
    return [box for box in _boxes(svg) if box.kind.split()[0] == kind]


def _boxes(svg: ET.Element) -> Iterator[Box]:
    for rect in svg.iter("rect"):
        if rect.get("class") != "hatch-paper":
            yield Box(
                kind=rect.attrib["class"],
                x=float(rect.attrib["x"].rstrip("%")),
                width=float(rect.attrib["width"].rstrip("%")),
                y=int(rect.attrib["y"]),
                height=int(rect.attrib["height"]),
                fill=rect.get("fill", ""),
                said=rect.findtext("title") or "",
            )


def words(svg: ET.Element, kind: str) -> list[str]:
    """The words of one kind, in the order in which they stand."""
    texts = (text for text in svg.iter("text") if text.attrib["class"] == kind)
    return ["".join(text.itertext()) for text in texts]


def told(svg: ET.Element) -> tuple[str, str]:
    """The title and the description that stand for the whole chart."""
    texts = {node.attrib["id"]: node.text or "" for node in svg if "id" in node.attrib}
    return texts[svg.attrib["aria-labelledby"]], texts[svg.attrib["aria-describedby"]]
