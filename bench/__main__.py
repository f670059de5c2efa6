"""Run the benches that are named, or all of them."""

import sys
from importlib import import_module
from pathlib import Path

from bench.harness import write

HERE = Path(__file__).parent
NAMES = sorted(
    path.stem for path in HERE.glob("*.py") if path.stem not in {"__init__", "__main__", "harness"}
)


def main(wanted: list[str]) -> int:
    """Print each bench's ratios and keep them in bench/out; return the exit code."""
    for name in wanted:
        if name not in NAMES:
            print(f"There is no bench '{name}'; there are: {', '.join(NAMES)}.", file=sys.stderr)
            return 2
    for name in wanted or NAMES:
        bench = import_module(f"bench.{name}")
        print(bench.TITLE)
        ratios = bench.measure()
        for ratio in ratios:
            print("  " + ratio.line())
        write(ratios, HERE / "out" / f"{name}.json")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
