"""Wrong inputs for every reader: only errors of chauka's own may come out, and nothing may hang or be changed."""
