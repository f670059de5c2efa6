"""One hash over every figure of an edition, so that a design can say what it was worked with."""

from __future__ import annotations

import hashlib

from boardwright.standards.edition import Edition


def digest_of(edition: Edition) -> str:
    """Return a hash of all entries and tables, pedigree and overrides included."""
    running = hashlib.sha256(f"{edition.name}\n{edition.title}\n".encode())
    for key in sorted(edition.entries):
        running.update(f"{edition.entries[key]!r}\n".encode())
    for key in sorted(edition.tables):
        table = edition.tables[key]
        # A set has no order of its own; the hash must.
        doubtful = sorted(table.memory_cells)
        running.update(f"{key} {table.unit} {table.clause} {table.source}\n".encode())
        running.update(f"{table.known} {table.carried} {doubtful}\n".encode())
        running.update(f"{table.rows!r} {dict(table.confirmed_cells)!r}\n".encode())
    return running.hexdigest()
