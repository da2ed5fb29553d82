"""Measured quantities: how much of every part the set-out and the routes need."""
