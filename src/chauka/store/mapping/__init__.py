"""Rows ↔ nouns, one module per group of tables. Each writes and reads back an equal noun."""
