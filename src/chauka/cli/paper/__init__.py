"""How each answer is laid out as plain text, at most a hundred columns wide."""
