"""The command line: parse, call the studio, show.

Exit status: 0 fine, 1 a finding of severity stop or pieces that do not fit her cloth, 2 bad input.
"""

from __future__ import annotations

import sys

from cutonce.errors import Problem


def main() -> None:
    """Run the command; a problem becomes one clear line on the error stream and exit status 2."""
    import click

    from cutonce.cli.commands import cli

    try:
        status = cli.main(prog_name="cutonce", standalone_mode=False)
    except Problem as problem:
        raise _ended(str(problem), 2) from None
    except click.UsageError as problem:
        path = problem.ctx.command_path if problem.ctx else "cutonce"
        what = problem.format_message().rstrip(".")
        raise _ended(f"{what[:1].lower()}{what[1:]} ('{path} --help' says how)", 2) from None
    except click.Abort:
        raise _ended("stopped", 130) from None
    raise SystemExit(status or 0)


def _ended(line: str, status: int) -> SystemExit:
    sys.stderr.write(f"cutonce: {' '.join(line.split())}\n")
    return SystemExit(status)
