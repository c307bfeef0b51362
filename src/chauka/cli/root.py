"""The command with its sections; each section is imported only when it is called."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence
from importlib import import_module

import click

from chauka import __version__
from chauka.errors import ChaukaError, InputError

SECTIONS = {
    "demo": "the whole job on the demo house, printed",
    "market": "what to buy on which market day, in packs; what was bought",
    "shelf": "what is in the house, until when and why; used, eaten, binned, added",
    "bench": "what to clean, soak, cut and boil ahead, with box labels",
    "stove": "the run sheet of one sitting",
    "table": "the plan of the coming days, with its proof",
    "page": "a dish written up for others",
    "dish": "the dish book",
    "house": "people, equipment, rules; check, dump, restore",
    "serve": "open the pages on this machine",
    "work": "plan what the pages asked for; serve starts it by itself",
}
"""In the order in which food moves through the house."""

FAULT = 3
DEBUG_VARIABLE = "CHAUKA_DEBUG"


class Sections(click.Group):
    """Knows its commands by name; loads one when it is needed, with Django set up before it."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All sections, in the order of the house."""
        return [*SECTIONS, *super().list_commands(ctx)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The section's command."""
        if cmd_name not in SECTIONS:
            return super().get_command(ctx, cmd_name)
        import_module("chauka.store.opening").point_to(None)
        command: click.Command = import_module(f"chauka.cli.commands.{cmd_name}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the sections without loading any."""
        with formatter.section("Sections"):
            formatter.write_dl([(name, SECTIONS[name]) for name in self.list_commands(ctx)])


@click.command(cls=Sections, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="chauka")
def root() -> None:
    """From market to table to page: the arithmetic of a household kitchen.

    Food moves one way through a house: market, shelf, bench, stove, table, page. `chauka demo` shows
    all of it on a made-up house; `chauka SECTION --help` tells more.
    """


def run(arguments: Sequence[str] | None) -> int:
    """Run a command line and turn every way it can end into an exit code."""
    try:
        return _click(arguments)
    except InputError as error:
        return _say(_complaints(error), 1)
    except ChaukaError as error:
        return _say([str(error)], 1)
    except BrokenPipeError:
        return _hang_up()
    except Exception as error:  # noqa: BLE001 - the outermost boundary: no traceback at a cook
        return _fault(error)


def _click(arguments: Sequence[str] | None) -> int:
    """The command's own exit code, and those of a command line that is called wrongly or stopped."""
    try:
        code = root.main(args=None if arguments is None else list(arguments), prog_name="chauka", standalone_mode=False)
    except click.exceptions.Exit as done:
        return done.exit_code
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        return _say(["Stopped. Nothing that was begun is kept by half."], 130)
    return code if isinstance(code, int) else 0


def _complaints(error: InputError) -> list[str]:
    return [
        f"{field}: {complaint}" if field else complaint
        for field, complaints in error.fields.items()
        for complaint in complaints
    ]


def _say(lines: list[str], code: int) -> int:
    for line in lines:
        click.echo(f"chauka: {line}", err=True)
    return code


def _fault(error: Exception) -> int:
    if os.environ.get(DEBUG_VARIABLE):
        traceback.print_exception(error)
    where = traceback.extract_tb(error.__traceback__)[-1]
    return _say(
        [
            f"a fault of chauka itself ({type(error).__name__}: {error}; {where.name}, line {where.lineno}).",
            f"Your book is as it was before this command. {DEBUG_VARIABLE}=1 shows more for a report.",
        ],
        FAULT,
    )


def _hang_up() -> int:
    """The reader of our output went away (`chauka … | head`): end quietly."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0
