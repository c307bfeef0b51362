"""Measurements: ratios within one run, never a timed test."""
