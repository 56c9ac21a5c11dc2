"""The command line: parse, call the studio, show.

Exit status: 0 fine, 1 a finding of severity stop, 2 bad input.
"""

from __future__ import annotations

import sys

from cutonce.errors import Problem


def main() -> None:
    """Run the command; a problem becomes one clear line on the error stream and exit status 2."""
    from cutonce.cli.commands import cli

    try:
        cli(prog_name="cutonce")
    except Problem as problem:
        sys.stderr.write(f"cutonce: {problem}\n")
        raise SystemExit(2) from None
