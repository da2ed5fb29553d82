"""Where every point goes: even spacing, clearances, noggins."""
