"""The entry point: finds the command, and turns every ending into an exit status.

0: done. 2: the input, the command line or a place to write to was not taken. 130: interrupted
(Ctrl-C). 1: whoever read the output went away, or Breakwright itself is at fault.
"""

import importlib
import io
import os
import sys
from collections.abc import Sequence

import click

from breakwright.cli.extras import missing_words
from breakwright.cli.trouble import say_problems, say_trouble
from breakwright.model.errors import BreakwrightError, InputRefused
from breakwright.version import VERSION

__all__ = ["breakwright", "main", "run"]

BAD_INPUT = 2
INTERRUPTED = 130
READER_WENT_AWAY = 1

# Name -> the module whose ``command`` it is; loaded when it is asked for.
_COMMANDS = {
    "answer": "breakwright.cli.answer",
    "check": "breakwright.cli.check",
    "demo": "breakwright.cli.demo",
    "predict": "breakwright.cli.predict",
    "rig": "breakwright.cli.rig",
    "scales": "breakwright.cli.scales",
    "plan": "breakwright.cli.plan",
    "serve": "breakwright.web.serve",
    "listen": "breakwright.cli.listen",
    "read": "breakwright.cli.read",
    "export": "breakwright.cli.export",
    "import": "breakwright.cli.import_",
    "backup": "breakwright.cli.backup",
}


class _Commands(click.Group):
    """Loads a command's module only when the command is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(_COMMANDS)

    def get_command(
        self,
        ctx: click.Context,  # noqa: ARG002
        cmd_name: str,
    ) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        module = importlib.import_module(_COMMANDS[cmd_name])
        command: click.Command = module.command
        return command


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(VERSION, message="breakwright %(version)s")
def breakwright() -> None:
    """From breaking loads to an honest answer: how much stronger, how sure, what not to conclude.

    Begin with the demo study, or with a sheet of your own that has the columns group and load:

    \b
        breakwright demo
        breakwright answer my-sheet.csv --report my-report.html

    Before the first cut, with a study.toml that describes the rig:

    \b
        breakwright plan my-study --report my-plan.html

    At the bench, in the browser of this machine or of a phone:

    \b
        breakwright serve --demo --open
    """


def run(arguments: Sequence[str]) -> int:
    """Run one command line and return its exit status."""
    try:
        status = breakwright.main(
            args=list(arguments), prog_name="breakwright", standalone_mode=False
        )
        sys.stdout.flush()
    except InputRefused as refused:
        say_problems(refused.problems)
        return BAD_INPUT
    except BreakwrightError as refused:
        say_trouble(str(refused))
        return BAD_INPUT
    except ModuleNotFoundError as absent:
        words = missing_words(absent.name)
        if words is None:
            raise
        say_trouble(words)
        return BAD_INPUT
    except click.ClickException as wrong:
        wrong.show()
        return BAD_INPUT
    except (click.Abort, KeyboardInterrupt):
        say_trouble("interrupted; nothing was left half-written")
        return INTERRUPTED
    except BrokenPipeError:
        # Nobody reads any more. Python would complain once again on its way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return READER_WENT_AWAY
    except OSError as failed:
        say_trouble(f"{failed.filename or 'a file'}: {failed.strerror or failed}")
        return BAD_INPUT
    return status if isinstance(status, int) else 0


def main() -> None:
    """Run the command line of this process."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal of an older encoding gets a '?' for a sign it lacks, not a crash.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    sys.exit(run(sys.argv[1:]))
