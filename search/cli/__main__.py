"""Lets `python -m facewright.search.cli` be the command."""

from facewright.search.cli import main

if __name__ == "__main__":
    main()
