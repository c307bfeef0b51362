"""The HTTP API: the main job in JSON for a program of one's own; thin over the same services as the pages."""
