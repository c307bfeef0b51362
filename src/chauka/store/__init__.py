"""The book on disk: rows for the nouns, a ledger that only grows, backup, dump and restore.

`opening.open_book` comes first; the other modules need it (or any Django set up with
`chauka.site.settings`) before they are imported. Importing this package alone loads no framework.
"""
