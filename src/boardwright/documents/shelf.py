"""The shelf of documents: every module of this package that has a title, found by itself."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from types import ModuleType

from boardwright.design import Design
from boardwright.documents.readings.taken import NOTHING_YET, OnSite

_NAMES = (
    "design_file",
    "board_drawing",
    "cover_drawing",
    "single_line",
    "wiring_diagram",
    "board_dxf",
    "ways",
    "findings",
    "wiring_table",
    "wiring_csv",
    "conductor_kit",
    "steps",
    "materials",
    "surge_chart",
    "surge_choices",
    "spd_duty",
    "decline",
    "schemes_page",
    "pack",
)
"""Order on the shelf; a module not named here stands behind these, by its name."""


@dataclass(frozen=True, slots=True)
class Document:
    """One document: its name on the command line, its title, its file, its maker."""

    name: str
    title: str
    file: str
    build: Callable[..., str | bytes]
    takes_readings: bool = False
    on_request: bool = False

    def made(self, design: Design, site: OnSite = NOTHING_YET) -> str | bytes:
        """Return the document, with what the site adds where it has a place for that."""
        return self.build(design, site) if self.takes_readings else self.build(design)

    @property
    def is_text(self) -> bool:
        """Tell whether the document can be printed on a terminal."""
        return not self.file.endswith(".pdf")


def shelf() -> tuple[Document, ...]:
    """Return every document that a plan writes, in the order in which they are shown."""
    return tuple(document for document in whole_shelf() if not document.on_request)


def whole_shelf() -> tuple[Document, ...]:
    """Return every document, those as well that take long and are made when asked for."""
    package = importlib.import_module(__package__ or "boardwright.documents")
    modules = (
        importlib.import_module(info.name)
        for info in pkgutil.walk_packages(package.__path__, f"{package.__name__}.")
    )
    papers = (_document(module) for module in modules if hasattr(module, "TITLE"))
    return tuple(sorted(papers, key=_place))


def _document(module: ModuleType) -> Document:
    return Document(
        name=module.__name__.rpartition(".")[2].replace("_", "-"),
        title=module.TITLE,
        file=module.FILE,
        build=module.build,
        takes_readings=getattr(module, "TAKES_READINGS", False),
        on_request=getattr(module, "ON_REQUEST", False),
    )


def _place(document: Document) -> tuple[int, str]:
    name = document.name.replace("-", "_")
    return (_NAMES.index(name) if name in _NAMES else len(_NAMES), name)
