"""`python -m sidehill`, the same as the `sidehill` command."""

from sidehill.cli.main import main

if __name__ == "__main__":
    main()
