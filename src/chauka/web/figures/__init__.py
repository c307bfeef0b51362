"""Figures as SVG with title and description, in the page's own ink so that they print and darken with it."""
