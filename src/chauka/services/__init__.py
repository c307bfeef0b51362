"""What a cook does, one module per task: load the book, ask the engines, write in one transaction.

Each function gives back a frozen dataclass that the command line prints and the pages render. The
moment it is asked at comes in as `now`; the shells get it from `clock`.
"""
