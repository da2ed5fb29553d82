"""Rooms, walls, studs, bays and joists as geometry, worked out from the job alone."""
