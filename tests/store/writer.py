"""A process of its own that saves one circuit's length again and again, and says what it did.

``python -m tests.store.writer PLACE CIRCUIT FIRST LAST``: each save is told as soon as it is
confirmed, with the lengths that the version holds.
"""

from __future__ import annotations

import sys

from boardwright.store.records import Version
from boardwright.store.store import open_store
from tests.store.home import job_of, stamp, with_length


def main(place: str, circuit: str, first: int, last: int) -> None:
    """Save every whole length from the first to the last."""
    store = open_store(place)
    print("ready", flush=True)
    if not sys.stdin.readline():
        return
    seen = store.latest("number-7")
    for length_m in range(first, last + 1):
        text = with_length(seen.text, circuit, length_m)
        kept = store.save("number-7", text, base=seen.number, stamp=stamp(length_m, who=circuit))
        assert isinstance(kept, Version)
        seen = kept
        lengths = [one.cable.length_m for one in job_of(seen.text).circuits]
        print(seen.number, *lengths, flush=True)
    store.close()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4]))
