"""`python -m cutonce` is the command line."""

from cutonce.cli import main

main()
