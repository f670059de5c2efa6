"""The surge network: elements between nodes, immutable, with a JSON form read back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, ClassVar

from pydantic import ConfigDict, Field, TypeAdapter

from boardwright.core.errors import BoardwrightError, FieldError
from boardwright.surge.elements import (
    Branch,
    CoupledBranches,
    Element,
    Generator,
    Node,
    nodes_of,
)
from boardwright.surge.waveforms import STRICT

NETWORK_SCHEMA_VERSION = 1


@dataclass(frozen=True, slots=True)
class SurgeNetwork:
    """Elements between nodes; voltages are counted from the reference node."""

    reference: Node
    elements: tuple[Annotated[Element, Field(discriminator="kind")], ...]
    schema_version: int = NETWORK_SCHEMA_VERSION
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        if self.schema_version != NETWORK_SCHEMA_VERSION:
            raise FieldError("schema_version", self.schema_version, f"{NETWORK_SCHEMA_VERSION}")
        self._check_names()
        self._check_reached()
        self._check_loops()

    @property
    def nodes(self) -> tuple[Node, ...]:
        """Every node but the reference, in the order of first mention."""
        seen = dict.fromkeys(node for element in self.elements for node in nodes_of(element))
        return tuple(node for node in seen if node != self.reference)

    def _check_names(self) -> None:
        if not self.elements:
            raise FieldError("elements", [], "at least one element")
        seen: set[str] = set()
        for element in self.elements:
            if not element.name or element.name in seen:
                raise FieldError(
                    "elements.name", element.name, "a name of its own for each element"
                )
            seen.add(element.name)

    def _check_reached(self) -> None:
        # A part joined to nothing has no voltage to the reference at all.
        groups = Groups()
        for element in self.elements:
            first, *others = nodes_of(element)
            for node in others:
                groups.join(first, node)
        for node in self.nodes:
            if not groups.joined(node, self.reference):
                raise FieldError(
                    "elements",
                    str(node),
                    f"every node joined to the reference {self.reference} by some element",
                )

    def _check_loops(self) -> None:
        # In a ring of bare inductance the current would never decay and its
        # share at direct current would be anyone's guess.
        groups = Groups()
        for name, a, b in self._bare_inductances():
            if groups.joined(a, b):
                raise FieldError(
                    f"{name}.r_ohm", 0, "a resistance over 0: it closes a loop without resistance"
                )
            groups.join(a, b)

    def _bare_inductances(self) -> Iterator[tuple[str, Node, Node]]:
        for element in self.elements:
            if isinstance(element, Branch) and element.r_ohm == 0:
                yield element.name, element.a, element.b
            elif isinstance(element, CoupledBranches):
                for a, b, r_ohm in zip(element.near, element.far, element.r_ohm, strict=True):
                    if r_ohm == 0:
                        yield element.name, a, b

    def without(self, *names: str) -> SurgeNetwork:
        """Return the network with the named elements taken out."""
        kept = tuple(element for element in self.elements if element.name not in names)
        return SurgeNetwork(self.reference, kept)

    @property
    def generators(self) -> tuple[Generator, ...]:
        """The combination wave generators."""
        return tuple(element for element in self.elements if isinstance(element, Generator))

    def to_json(self) -> str:
        """Return the network as JSON, which :func:`read_network` takes back."""
        return str(_adapter().dump_json(self, indent=2).decode())


def read_network(text: str | bytes) -> SurgeNetwork:
    """Return the network a JSON text describes, or say which field is wrong."""
    from pydantic import ValidationError

    try:
        network: SurgeNetwork = _adapter().validate_json(text, strict=True)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        path = ".".join(str(part) for part in first["loc"]) or "network"
        if first["type"] == "missing":
            raise FieldError(path, None, "a value here: the field is missing") from None
        if first["type"] == "unexpected_keyword_argument":
            raise FieldError(path, first["input"], "no such field: its name is unknown") from None
        raise FieldError(path, first["input"], _expected(first["msg"])) from None
    except RecursionError:
        raise BoardwrightError("network: the JSON is nested too deeply to be a network.") from None
    return network


def _expected(message: str) -> str:
    if message.startswith("Input tag"):
        return "a kind among" + message.partition("expected tags:")[2]
    return message.removeprefix("Input should be ").replace("Invalid JSON", "valid JSON, but")


@lru_cache(maxsize=1)
def _adapter() -> TypeAdapter[SurgeNetwork]:
    return TypeAdapter(SurgeNetwork)


class Groups:
    """Nodes gathered into groups, joined two at a time."""

    def __init__(self) -> None:
        self._parent: dict[Node, Node] = {}

    def root(self, node: Node) -> Node:
        """Return the node that stands for a node's group."""
        while (parent := self._parent.get(node, node)) != node:
            node = parent
        return node

    def joined(self, a: Node, b: Node) -> bool:
        """Say whether two nodes are in one group."""
        return self.root(a) == self.root(b)

    def join(self, a: Node, b: Node) -> None:
        """Make one group of two nodes' groups."""
        self._parent[self.root(a)] = self.root(b)
