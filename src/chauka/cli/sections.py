"""A section with several commands, of which one answers when none is named."""

from __future__ import annotations

import click


class Section(click.Group):
    """`chauka shelf` is `chauka shelf show`."""

    usual = "show"

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put the usual command in where none is named."""
        if not args or (args[0].startswith("-") and args[0] not in ctx.help_option_names):
            args = [self.usual, *args]
        return super().parse_args(ctx, args)
