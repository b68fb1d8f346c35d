"""Reads a picture back, as a browser or a person would."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterable
from dataclasses import dataclass

from planner.findings import Finding
from planner.graph import Plan
from planner.pictures import picture
from planner.shell.drawing import render

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Drawn:
    """An SVG as parsed."""

    root: ET.Element

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the viewBox, in points."""
        _, _, width, height = map(float, self.root.attrib["viewBox"].split())
        return width, height

    @property
    def texts(self) -> list[ET.Element]:
        """Every text element, in the order of the file."""
        return list(self.root.iter(f"{SVG}text"))

    def groups(self, kind: str) -> dict[str, list[ET.Element]]:
        """The nodes or edges, by their titles."""
        found: dict[str, list[ET.Element]] = {}
        for group in self.root.iter(f"{SVG}g"):
            title = group.find(f"{SVG}title")
            if group.get("class") == kind and title is not None:
                found.setdefault(title.text or "", []).append(group)
        return found

    def words(self, node: str = "") -> str:
        """All the text of a node, or of the whole, with one space between its pieces."""
        owner = self.groups("node")[node][0] if node else self.root
        pieces = (element.text or "" for element in owner.iter(f"{SVG}text"))
        return re.sub(r"\s+", " ", " ".join(pieces)).strip()

    def letters(self, node: str = "") -> str:
        """The same without any spaces, so that it does not matter where lines are broken."""
        return "".join(self.words(node).split())


def drawn(plan: Plan, findings: Iterable[Finding] = ()) -> Drawn:
    """The plan's picture, drawn by the packaged program and parsed by the standard library."""
    return Drawn(ET.fromstring(render(picture(plan, findings), "svg")))
