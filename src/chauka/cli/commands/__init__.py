"""One module per section; each has a `command`."""
