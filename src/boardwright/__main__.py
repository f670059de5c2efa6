"""Run the program as ``python -m boardwright``."""

from boardwright.cli import main

if __name__ == "__main__":
    main()
