"""Drawings as SVG: they place what the stages worked out and never compute."""
